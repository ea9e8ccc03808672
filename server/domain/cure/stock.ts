import { within } from '../bounds.ts';
import type { Grams, Working } from '../working.ts';

export type OnHand = {
  /** Never below zero. */
  grams: Grams;
  /** By how much cures took more than was counted; above zero the count is out. */
  outByGrams: Grams;
  working: Working;
};

/**
 * What is left of an ingredient: what was counted less what cures took since. More taken than
 * was there says that the count is out; it is never less than nothing. Range: 0 to 1 t counted.
 * Throws DomainError outside. Source: arithmetic.
 */
export function onHand({ countedGrams, usedGrams }: { countedGrams: Grams; usedGrams: Grams }): OnHand {
  const counted = within(countedGrams, { field: 'countedGrams', label: 'count', min: 0, max: 1e6, unit: 'g', remedy: 'weigh what is there' });
  const used = within(usedGrams, { field: 'usedGrams', label: 'what cures took', min: 0, max: Number.MAX_SAFE_INTEGER, unit: 'g' });
  return {
    grams: Math.max(0, counted - used), outByGrams: Math.max(0, used - counted),
    working: { inputs: [{ name: 'counted', value: counted, unit: 'g' }, { name: 'taken by cures since', value: used, unit: 'g' }], formula: 'counted less taken, never below 0', source: 'the last count and the cures recorded after it', uncertainty: 'as good as the count; what was spilt or given away is not known', certainty: 'arithmetic' },
  };
}
