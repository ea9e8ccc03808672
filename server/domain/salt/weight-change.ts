import { rounded, within } from '../bounds.ts';
import { MAX_GRAMS } from '../working.ts';
import type { Grams, Working } from '../working.ts';
import { expectedYield } from '../yield.ts';
import type { Cure } from '../yield.ts';

/**
 * The weight to expect after a cure, as a range. Range: brine 0 to 26.4 %, or a dry
 * cure. Throws DomainError outside. Source: models.md, weight change in brine, from memory.
 */
export function weightAfterCure(input: { grams: Grams; cure: Cure }): { lowGrams: Grams; likelyGrams: Grams; highGrams: Grams; changePercent: number; working: Working } {
  const grams = within(input.grams, { field: 'grams', label: 'weight', min: 0, max: MAX_GRAMS, unit: 'g', remedy: 'enter the weight on the scale' });
  const expected = expectedYield({ species: '', form: 'fillet', product: 'hot-smoked', stage: 'cure', cure: input.cure });
  if (!expected.known) throw new Error('the cure stage always has a figure');
  const part = (pct: number) => Math.round((grams * pct) / 100);
  return {
    lowGrams: part(expected.lowPct), likelyGrams: part(expected.likelyPct), highGrams: part(expected.highPct),
    changePercent: rounded(expected.likelyPct - 100, 2), working: expected.working,
  };
}
