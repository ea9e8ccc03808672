import { within } from '../heat/within.ts';
import type { Working } from '../working.ts';

/** Layers of fish in ice, 10 to 2 C (FAO TP 331). */
export const CHILLING_POINTS: readonly (readonly [thicknessMm: number, hours: number])[] = [[75, 2], [100, 4], [125, 6.5]];

/** What to do beyond the published thicknesses: nothing is reckoned there. */
const THINNER = 'a thinner layer is cold sooner: take the hours of 75 mm';
const THICKER = 'a thicker layer takes longer than anybody has measured: put ice between, so that no layer is deeper than 125 mm';

/**
 * Hours to chill a layer of fish in ice from 10 to 2 C, straight between the published
 * points. Range: 75 to 125 mm, and no further. Throws DomainError outside it. Source: FAO TP 331.
 */
export function chillingHours(input: { thicknessMm: number }): { hours: number; working: Working } {
  const low = CHILLING_POINTS[0]![0];
  const high = CHILLING_POINTS.at(-1)![0];
  const thicknessMm = within(input.thicknessMm, 'thicknessMm', { low, high, unit: 'mm', label: 'thickness of the layer', remedy: input.thicknessMm < low ? THINNER : THICKER });
  const after = Math.max(1, CHILLING_POINTS.findIndex(([mm]) => mm >= thicknessMm));
  const [x0, y0] = CHILLING_POINTS[after - 1]!;
  const [x1, y1] = CHILLING_POINTS[after]!;
  return {
    hours: y0 + ((thicknessMm - x0) * (y1 - y0)) / (x1 - x0),
    working: {
      inputs: [{ name: 'thickness of the layer', value: thicknessMm, unit: 'mm' }],
      model: 'chilling', formula: 'Straight between 75 mm 2 h, 100 mm 4 h and 125 mm 6.5 h.',
      source: 'FAO TP 331',
      range: '75 to 125 mm, 10 to 2 C, in plenty of melting ice.',
      uncertainty: 'About a quarter; ice with hollows chills slower.',
      certainty: 'published',
    },
  };
}
