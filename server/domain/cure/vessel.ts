import { rounded, within } from '../bounds.ts';
import { largestRemainder } from '../share.ts';
import type { Grams, Working } from '../working.ts';

export type VesselFit = {
  fits: boolean;
  needLitres: number;
  /** Of one vessel, its headspace left free. */
  usableLitres: number;
  /** How many such vessels it takes. */
  vessels: number;
  /** What goes into each, when there are several. */
  perVessel: { fishGrams: Grams; cureLitres: number }[];
  working: Working;
};

/** Raw fish, computed from composition: cod 1.0476 and king mackerel 1.0547 kg to the litre. */
const FISH_KG_PER_LITRE = 1.05;

/**
 * Whether fish and cure fit a vessel with headspace, and how many such vessels it takes
 * otherwise. Range: fish to 1 t, vessel 0.2 to 2,000 litres, headspace 0 to 50 %. Throws
 * DomainError outside. Source: density from composition (models.md); a tenth of headspace
 * is common practice.
 */
export function vesselFit(input: { fishGrams: Grams; cureLitres: number; vesselLitres: number; headspacePercent?: number }): VesselFit {
  const fishGrams = Math.round(within(input.fishGrams, { field: 'fishGrams', label: 'fish', min: 1, max: 1e6, unit: 'g' }));
  const cureLitres = within(input.cureLitres, { field: 'cureLitres', label: 'brine or cure', min: 0, max: 20_000, unit: 'litres' });
  const vesselLitres = within(input.vesselLitres, { field: 'vesselLitres', label: 'vessel', min: 0.2, max: 2000, unit: 'litres' });
  const headspace = within(input.headspacePercent ?? 10, { field: 'headspacePercent', label: 'headspace', min: 0, max: 50, unit: '%' });
  const needLitres = fishGrams / 1000 / FISH_KG_PER_LITRE + cureLitres;
  const usableLitres = vesselLitres * (1 - headspace / 100);
  const vessels = Math.max(1, Math.ceil(needLitres / usableLitres - 1e-9));
  const even = new Array<number>(vessels).fill(1);
  return {
    fits: vessels === 1, needLitres: rounded(needLitres, 2), usableLitres: rounded(usableLitres, 2), vessels,
    perVessel: largestRemainder(fishGrams, even).map((grams) => ({ fishGrams: grams, cureLitres: rounded(cureLitres / vessels, 2) })),
    working: {
      inputs: [{ name: 'fish', value: fishGrams, unit: 'g' }, { name: 'brine or cure', value: cureLitres, unit: 'l' }, { name: 'vessel', value: vesselLitres, unit: 'l' }, { name: 'headspace', value: headspace, unit: '%' }],
      model: 'vessel', formula: 'fish / 1.05 kg per litre + brine, against vessel x (1 - headspace)', source: 'density from composition (computed); headspace is common practice',
      range: 'raw fish that lies close', uncertainty: 'pieces do not pack without gaps: brine fills them, a dry cure does not', certainty: 'common practice',
    },
  };
}
