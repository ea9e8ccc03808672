import { oneOf, within } from '../bounds.ts';
import { THICKNESS_MM } from '../salt/uptake.ts';
import type { FatClass } from '../species/types.ts';
import { DomainError } from '../working.ts';
import type { Grams } from '../working.ts';
import { CURE_METHODS } from './amounts.ts';
import type { CureMethod } from './amounts.ts';
import { SATURATED_PERCENT } from './brine.ts';
import { CUP_WEIGHTS } from './kitchen-weights.ts';
import type { CureIngredient } from './kitchen-weights.ts';

export const CURE_FATS = ['lean', 'medium', 'fatty', 'mixed'] as const;

/** How fish was cured, as it was done: enough to hold a laboratory's salt figure against a prediction. Minutes and weights are the stage's. */
export type CureFacts = {
  method: CureMethod;
  /** null: not said. */
  saltKind: CureIngredient | null;
  saltGrams: Grams | null;
  sugarKind: CureIngredient | null;
  sugarGrams: Grams;
  waterGrams: Grams | null;
  /** Of the brine, by weight; null: as salt and water make it. */
  brinePercent: number | null;
  others: { name: string; grams: Grams }[];
  thicknessMm: number;
  /** Skin on one face, or gutted fish: salt goes in through the other face alone. */
  skin: boolean;
  temperatureC: number;
  onceFrozen: boolean;
  /** 'mixed': fish of several fat classes lay in it together. */
  fat: FatClass | 'mixed';
};

const MOST_OTHERS = 40;

/**
 * Refuses facts of a cure that cannot be, or that tell too little to reckon with. Range: 1 to
 * 150 mm, -2 to 25 C, brine above 0 to 26.395 %, salt 1 g to 1 t, any other ingredient to 1 t. A dry cure needs its salt, a
 * brine its strength or its salt and water. Throws DomainError, with the field, outside.
 */
export function checkCureFacts(facts: CureFacts): void {
  oneOf(facts.method, CURE_METHODS, 'method');
  oneOf(facts.fat, CURE_FATS, 'fat');
  within(facts.thicknessMm, { field: 'thicknessMm', label: 'thickness', ...THICKNESS_MM, unit: 'mm', remedy: 'measure the thickest part of the piece' });
  within(facts.temperatureC, { field: 'temperatureC', label: 'temperature of the place', min: -2, max: 25, unit: 'C', remedy: 'enter degrees Celsius; fish is cured cold' });
  if (facts.saltGrams !== null) within(facts.saltGrams, { field: 'saltGrams', label: 'salt', min: 1, max: 1e6, unit: 'g', remedy: 'enter the weight on the scale' });
  within(facts.sugarGrams, { field: 'sugarGrams', label: 'sugar', min: 0, max: 1e6, unit: 'g', remedy: 'enter the weight on the scale' });
  if (facts.waterGrams !== null) within(facts.waterGrams, { field: 'waterGrams', label: 'water', min: 1, max: 2e7, unit: 'g' });
  if (facts.brinePercent !== null) within(facts.brinePercent, { field: 'brinePercent', label: 'brine', min: 0.1, max: SATURATED_PERCENT, unit: '% salt', remedy: 'enter percent by weight; brine is saturated at 26.395 %' });
  checkKind(facts.saltKind, 'salt', 'saltKind');
  checkKind(facts.sugarKind, 'sugar', 'sugarKind');
  if (facts.sugarGrams > 0 && facts.sugarKind === null) throw missing('sugarKind', 'kind of sugar', 'choose the kind of sugar you used');
  within(facts.others.length, { field: 'others', label: 'number of other ingredients', min: 0, max: MOST_OTHERS });
  for (const [i, { name, grams }] of facts.others.entries()) within(grams, { field: `others.${i}.grams`, label: name, min: 0, max: 1e6, unit: 'g', remedy: 'enter the weight on the scale' });
  checkStrength(facts);
}

function checkStrength({ method, saltGrams, waterGrams, brinePercent }: CureFacts): void {
  if (method === 'dry') {
    if (saltGrams === null) throw missing('saltGrams', 'salt', 'enter the salt that went on the fish');
    const wet = waterGrams !== null ? 'waterGrams' : brinePercent !== null ? 'brinePercent' : null;
    if (wet === null) return;
    throw new DomainError({ code: 'cure.dry-with-water', field: wet, label: wet === 'waterGrams' ? 'water' : 'brine strength', value: wet === 'waterGrams' ? waterGrams : brinePercent, problem: 'has no place in a dry cure', remedy: 'leave it out, or choose brine' });
  }
  if (method === 'brine' && brinePercent !== null) return;
  if (saltGrams === null) throw missing('saltGrams', 'salt', method === 'brine' ? 'enter salt and water, or the strength of the brine' : 'enter the salt that went in');
  if (waterGrams === null) throw missing('waterGrams', 'water', method === 'brine' ? 'enter salt and water, or the strength of the brine' : 'enter the water that went in');
  const percent = (100 * saltGrams) / (saltGrams + waterGrams);
  if (percent > SATURATED_PERCENT) throw new DomainError({ code: 'cure.too-little-water', field: 'waterGrams', label: 'water', value: waterGrams, shown: `${waterGrams} g`, problem: `cannot hold ${saltGrams} g of salt`, remedy: 'check both weights; brine is saturated at 26.395 %' });
}

function checkKind(kind: CureIngredient | null, role: 'salt' | 'sugar', field: string): void {
  if (kind === null || (Object.hasOwn(CUP_WEIGHTS, kind) && CUP_WEIGHTS[kind].role === role)) return;
  throw new DomainError({ code: `cure.${role}-kind`, field, label: `kind of ${role}`, value: kind, problem: `is no kind of ${role}`, remedy: `choose the kind of ${role} you used` });
}

function missing(field: string, label: string, remedy: string): DomainError {
  return new DomainError({ code: 'cure.facts-missing', field, label, value: undefined, problem: 'is missing', remedy });
}
