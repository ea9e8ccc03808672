/**
 * "With your own numbers": what a model's page asks and answers, as data. One component (OwnPart.svelte) shows them all.
 *
 *   export const own = [part({ title: 'How strong is it', calculations: ['brine-strength'],
 *     fields: { percent: number('Salt', 15, { unit: '%', slide: [0, 26, 0.5] }) },
 *     reckon: ({ percent }) => ({ rows: [{ label: 'Salometer', value: '57 degrees', exact: 56.8, working }] }) })];
 */
import type { Working } from '$contract/common.ts';
import type { UnitSystem } from '../../units.svelte.ts';
import type { PlotAxis, PlotRule, PlotSeries } from '../../ui/plot.ts';
import type { Kind } from '../../ui/quantity.ts';

export type State = 'met' | 'not-met' | 'not-recorded';

/** When and for whom it is reckoned. */
export type OwnContext = { now: Date; zone: string; system: UnitSystem };
type Value = number | string | null;
type Shared = { label: string; hint?: string; /** Asked only then. */ when?: (values: Record<string, Value>) => boolean };
type NumberMore = Partial<Omit<Shared, 'label'>> & { kind?: Kind; unit?: string; small?: boolean; whole?: boolean; /** Least, most and step of its slider. */ slide?: readonly [number, number, number] };
export type NumberField = Shared & NumberMore & { type: 'number'; start: number };
export type MaybeNumber = Shared & NumberMore & { type: 'maybe'; start: number | null };
export type ChoiceField<T extends string = string> = Shared & { type: 'choice'; options: readonly { value: T; label: string }[]; start: T | ((context: OwnContext) => T) };
export type DayField = Shared & { type: 'day'; start: (context: OwnContext) => string };
export type MaybeDay = Shared & { type: 'maybe-day'; start: (context: OwnContext) => string };
export type LinesField = Shared & { type: 'lines'; start: string | ((context: OwnContext) => string); lines: number; optional: boolean };
export type OwnField = NumberField | MaybeNumber | ChoiceField | DayField | MaybeDay | LinesField;
type ValueOf<F> = F extends { type: 'number' } ? number : F extends { type: 'maybe' } ? number | null : F extends ChoiceField<infer T> ? T : string;
export type ValuesOf<F> = { [K in keyof F]: ValueOf<F[K]> };
export type OwnValues = Record<string, Value>;

export type OwnRow = {
  label: string;
  /** As it is shown, in the person's units. */
  value: string;
  /** The domain's own, which `value` shows. */
  exact?: number | string | null;
  /** How far off: "2.1 to 3.4 %". */
  band?: string;
  state?: State;
  working?: Working | null;
};
export type OwnPlot = { says: string; x: PlotAxis; y: PlotAxis; series: readonly PlotSeries[]; levels?: readonly PlotRule[]; moments?: readonly PlotRule[] };
export type OwnCaution = { level?: 'stop' | 'mind' | 'note'; text: string };
export type OwnAnswer = {
  /** The first one decides, and is shown large. */
  rows: OwnRow[];
  /** What it comes to, in a sentence. */
  says?: string;
  plot?: OwnPlot;
  cautions?: OwnCaution[];
};

export type OwnPart = {
  title: string;
  /** Of /api/calculations, those that it answers. */
  calculations: readonly string[];
  fields: Record<string, OwnField>;
  reckon: (values: OwnValues, context: OwnContext) => OwnAnswer;
  /** The field to stand under for one that the domain names otherwise. */
  fieldFor?: (domainField: string, values: OwnValues) => string;
  /** Takes so long that it waits until one pauses. */
  slow?: boolean;
};

type PartOf<F extends Record<string, OwnField>> = Omit<OwnPart, 'fields' | 'reckon' | 'fieldFor'> & {
  fields: F;
  reckon: (values: ValuesOf<F>, context: OwnContext) => OwnAnswer;
  fieldFor?: (domainField: string, values: ValuesOf<F>) => string;
};

/** Ties the values that `reckon` gets to the fields that ask for them. */
export const part = <F extends Record<string, OwnField>>(it: PartOf<F>): OwnPart => it as unknown as OwnPart;

export const number = (label: string, start: number, more: NumberMore = {}): NumberField => ({ type: 'number', label, start, ...more });
/** One that may stay empty. */
export const maybe = (label: string, more: NumberMore & { start?: number } = {}): MaybeNumber => ({ type: 'maybe', label, ...more, start: more.start ?? null });
export const choice = <T extends string>(label: string, words: Readonly<Record<T, string>>, start: NoInfer<T> | ((context: OwnContext) => NoInfer<T>), more: Partial<Omit<Shared, 'label'>> = {}): ChoiceField<T> =>
  ({ type: 'choice', label, options: (Object.keys(words) as T[]).map((value) => ({ value, label: words[value] })), start, ...more });
export const day = (label: string, start: (context: OwnContext) => string, more: Partial<Omit<Shared, 'label'>> = {}): DayField => ({ type: 'day', label, start, ...more });
export const maybeDay = (label: string, more: Partial<Omit<Shared, 'label'>> & { start?: (context: OwnContext) => string } = {}): MaybeDay => ({ type: 'maybe-day', label, ...more, start: more.start ?? (() => '') });
export const lines = (label: string, start: LinesField['start'], more: Partial<Omit<Shared, 'label'>> & { lines?: number; optional?: boolean } = {}): LinesField => ({ type: 'lines', label, start, lines: 6, optional: false, ...more });
