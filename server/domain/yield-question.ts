import { rounded, within } from './bounds.ts';
import { MAX_GRAMS } from './working.ts';
import type { Grams } from './working.ts';

export type WeightQuestion = {
  /** Whether to ask the person to look again. Never a refusal. */
  asks: boolean;
  standing: 'within' | 'below' | 'above' | 'unknown';
  actualPct: number;
  /** What to ask, or what to say. */
  words: string;
};
type Expected = { known: boolean; reason: string; lowPct: number | null; highPct: number | null };

/**
 * A stage's weights against an expectation that is known already: for a screen that has it
 * at hand. Range: weight in from 1 g, weight out from 0. Throws DomainError outside.
 */
export function questionYield({ expected, massInG, massOutG }: { expected: Expected; massInG: Grams; massOutG: Grams }): WeightQuestion {
  const actualPct = rounded((100 * grams(massOutG, 'massOutG', 0)) / grams(massInG, 'massInG', 1), 1);
  if (!expected.known) return { asks: false, standing: 'unknown', actualPct, words: `${actualPct} % kept. ${expected.reason}` };
  const standing = actualPct < expected.lowPct! ? 'below' : actualPct > expected.highPct! ? 'above' : 'within';
  const usual = `${rounded(expected.lowPct!, 0)} to ${rounded(expected.highPct!, 0)} %`;
  const words = {
    within: `${actualPct} % kept, as usual (${usual}).`,
    below: `${actualPct} % kept is less than usual: ${usual} expected. Weigh again with all of it on the scale, or save and say why.`,
    above: `${actualPct} % kept is more than usual: ${usual} expected. Weigh again with the tray off the scale, or save and say why.`,
  }[standing];
  return { asks: standing !== 'within', standing, actualPct, words };
}

function grams(value: number, field: string, min: number): number {
  return within(value, { field, label: 'weight', min, max: MAX_GRAMS, unit: 'g', remedy: 'enter the weight on the scale' });
}
