import { SvelteMap } from 'svelte/reactivity';
import type { Kind, PickedUnit } from './quantity.ts';

const forms = new WeakMap<Element, SvelteMap<Kind, PickedUnit>>();

/** The units picked in a form, for all of its fields. They go with the form: the next one starts in the person's own. */
export function pickedUnits(form: Element | null): SvelteMap<Kind, PickedUnit> | null {
  if (form === null) return null;
  const known = forms.get(form) ?? new SvelteMap<Kind, PickedUnit>();
  forms.set(form, known);
  return known;
}
