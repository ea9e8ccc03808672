import { untrack } from 'svelte';

/**
 * A value once it has rested for a moment: for what takes long to reckon and is asked for at every step of a slider.
 * Call it while a component is made. What `of` gives is compared by its text.
 */
export function settled<T>(of: () => T, ms = 250): { readonly value: T } {
  let value = $state.raw(untrack(of));
  $effect(() => {
    const next = of();
    if (JSON.stringify(next) === JSON.stringify(untrack(() => value))) return;
    const timer = setTimeout(() => (value = next), ms);
    return () => clearTimeout(timer);
  });
  return {
    get value() {
      return value;
    },
  };
}
