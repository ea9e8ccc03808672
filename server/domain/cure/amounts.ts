import { oneOf, rounded, within } from '../bounds.ts';
import { equilibriumSalt, saltForTarget } from '../salt/water-phase.ts';
import type { Predicted } from '../salt/water-phase.ts';
import { DomainError } from '../working.ts';
import type { Grams, Working } from '../working.ts';
import { brineStrength, checkPercent, gramsPerLitreBrine, saltForWater, SATURATED_PERCENT } from './brine.ts';
import type { BrineStrength } from './brine.ts';
import { CUP_WEIGHTS, kitchenMeasure } from './kitchen-measures.ts';
import type { CureIngredient, KitchenAmount } from './kitchen-measures.ts';

export const CURE_METHODS = ['dry', 'brine', 'equilibrium-brine'] as const;
export type CureMethod = (typeof CURE_METHODS)[number];

export type CureAmountsInput = {
  method: CureMethod;
  fishGrams: Grams;
  /** Water in the fish (knownPieces and totals reckon it). */
  fishWaterGrams: number;
  /** Water-phase salt aimed at, in percent. */
  targetPercent: number;
  /** The kind of salt: never guessed, cups differ twofold. */
  saltKind: CureIngredient;
  sugarKind?: CureIngredient;
  /** Sugar for each 100 g of salt. */
  sugarPer100Salt?: number;
  /** For brines: the weight of water. As much as the fish when left out. */
  waterGrams?: Grams;
  /** For 'brine': its strength. Needed. */
  brinePercent?: number;
  /** For 'dry': salt in percent of the fish, instead of the least for the target. */
  saltPercentOfFish?: number;
};

export type CureAmounts = Predicted & {
  method: CureMethod;
  saltGrams: Grams;
  sugarGrams: Grams;
  waterGrams: Grams;
  /** By weight first; cups and spoons are for those without a scale. */
  ingredients: KitchenAmount[];
  /** Null for a dry cure. */
  strength: BrineStrength | null;
  /** Salt, sugar and water together. */
  cureGrams: Grams;
  /** The room it takes beside the fish. */
  cureLitres: number;
  /** Where the fish ends when it stays for days. */
  equilibriumPercent: number;
  /** Brine over the water in the fish, for saltUptake; null when a dry cure has salt to spare. */
  brinePerFishWater: number | null;
  /** What the fish lies in: the brine's strength, or saturated for a dry cure. */
  surfacePercent: number;
  working: Working;
};

const ML_PER_US_CUP = 236.588;
/** Litres a gram of dissolved sugar adds, from memory. */
const SUGAR_LITRES_PER_GRAM = 0.00062;

/**
 * Salt, sugar and water for a cure, by weight and in cups and spoons. Dry: the least salt
 * for the target, or a part of the fish's weight. Brine: of a given strength. Equilibrium
 * brine: just so strong that fish and brine end at the target. Range: 1 g to 1 t of fish,
 * target 0.5 to 15 %, brine to 26.395 %. Throws DomainError outside, and when the brine
 * would have to be stronger than water can hold. Source: balance of salt (models.md).
 */
export function cureAmounts(input: CureAmountsInput): CureAmounts {
  checkAmounts(input);
  const waterGrams = input.method === 'dry' ? 0 : Math.round(input.waterGrams ?? input.fishGrams);
  const saltGrams = Math.round(saltOf(input, waterGrams));
  const sugarGrams = Math.round((saltGrams * (input.sugarPer100Salt ?? 0)) / 100);
  const strength = input.method === 'dry' ? null : brineStrength({ given: 'percent', value: Math.min(SATURATED_PERCENT, (100 * saltGrams) / (saltGrams + waterGrams)) });
  const ingredients = [kitchenMeasure({ ingredient: input.saltKind, grams: saltGrams })];
  if (sugarGrams > 0) ingredients.push(kitchenMeasure({ ingredient: input.sugarKind!, grams: sugarGrams }));
  const end = equilibriumSalt({ saltGrams, brineWaterGrams: waterGrams, fishWaterGrams: input.fishWaterGrams });
  return {
    measured: false, method: input.method, saltGrams, sugarGrams, waterGrams, ingredients, strength,
    cureGrams: saltGrams + sugarGrams + waterGrams, cureLitres: rounded(litresOf(input, strength, saltGrams, sugarGrams, waterGrams), 2),
    equilibriumPercent: end.percent, ...surroundings({ strengthPercent: strength?.percentByWeight ?? null, saltGrams, waterGrams, fishWaterGrams: input.fishWaterGrams }), working: amountsWorking(input, waterGrams),
  };
}

function checkAmounts(input: CureAmountsInput): void {
  oneOf(input.method, CURE_METHODS, 'method');
  within(input.fishGrams, { field: 'fishGrams', label: 'fish', min: 1, max: 1e6, unit: 'g', remedy: 'enter the weight on the scale' });
  within(input.fishWaterGrams, { field: 'fishWaterGrams', label: 'water in the fish', min: input.fishGrams * 0.3, max: input.fishGrams * 0.9, unit: 'g' });
  within(input.targetPercent, { field: 'targetPercent', label: 'target', min: 0.5, max: 15, unit: '% water-phase salt' });
  within(input.sugarPer100Salt ?? 0, { field: 'sugarPer100Salt', label: 'sugar for 100 g of salt', min: 0, max: 1000, unit: 'g' });
  if (input.waterGrams !== undefined) within(input.waterGrams, { field: 'waterGrams', label: 'water', min: input.fishGrams / 10, max: input.fishGrams * 20, unit: 'g', remedy: 'the fish has to be covered: as much water as fish is usual' });
  if (input.saltPercentOfFish !== undefined) within(input.saltPercentOfFish, { field: 'saltPercentOfFish', label: 'salt', min: 0.5, max: 100, unit: '% of the fish' });
  kindOf(input.saltKind, 'salt', 'saltKind');
  if ((input.sugarPer100Salt ?? 0) > 0) kindOf(input.sugarKind, 'sugar', 'sugarKind');
  if (input.method === 'brine' && input.brinePercent === undefined) {
    throw new DomainError({ code: 'cure.no-strength', field: 'brinePercent', label: 'brine strength', value: undefined, problem: 'is missing', remedy: 'enter percent salt by weight' });
  }
}

function kindOf(kind: CureIngredient | undefined, role: 'salt' | 'sugar', field: string): void {
  if (kind !== undefined && Object.hasOwn(CUP_WEIGHTS, kind) && CUP_WEIGHTS[kind].role === role) return;
  throw new DomainError({ code: `cure.${role}-kind`, field, label: `kind of ${role}`, value: kind, problem: `is no kind of ${role}`, remedy: `choose the kind of ${role} you have` });
}

function saltOf(input: CureAmountsInput, waterGrams: number): number {
  if (input.method === 'brine') return saltForWater({ percentByWeight: checkPercent(input.brinePercent!, 'brinePercent'), waterAmount: waterGrams, waterUnit: 'g' }).saltGrams;
  if (input.method === 'dry' && input.saltPercentOfFish !== undefined) return (input.fishGrams * input.saltPercentOfFish) / 100;
  const { saltGrams } = saltForTarget({ targetPercent: input.targetPercent, fishWaterGrams: input.fishWaterGrams + waterGrams });
  const strength = (100 * saltGrams) / (saltGrams + waterGrams);
  if (input.method === 'dry' || strength <= SATURATED_PERCENT) return saltGrams;
  throw new DomainError({
    code: 'cure.too-little-water', field: 'waterGrams', label: 'water', value: waterGrams, shown: `${waterGrams} g`,
    problem: `cannot hold the ${Math.round(saltGrams)} g of salt that the target takes`, remedy: 'use more water, a lower target, or a dry cure',
  });
}

/**
 * What the slab model is told of a cure by its amounts; `strengthPercent` is null for dry salt, which is taken as the
 * saturated brine it makes with water from the fish: with more salt than that water dissolves, the surface stays saturated.
 * Range: as cureAmounts. Source: balance of salt (models.md).
 */
export function surroundings(cure: { strengthPercent: number | null; saltGrams: number; waterGrams: number; fishWaterGrams: number }): Pick<CureAmounts, 'brinePerFishWater' | 'surfacePercent'> {
  const { strengthPercent, saltGrams, waterGrams, fishWaterGrams } = cure;
  if (strengthPercent !== null) return { surfacePercent: strengthPercent, brinePerFishWater: rounded((saltGrams + waterGrams) / fishWaterGrams, 4) };
  const brine = saltGrams / (SATURATED_PERCENT / 100);
  const waterLeft = fishWaterGrams - (brine - saltGrams);
  const ratio = waterLeft > 0 ? brine / waterLeft : Infinity;
  return { surfacePercent: SATURATED_PERCENT, brinePerFishWater: ratio > 10 ? null : rounded(Math.max(0.06, ratio), 4) };
}

function litresOf(input: CureAmountsInput, strength: BrineStrength | null, saltGrams: number, sugarGrams: number, waterGrams: number): number {
  if (strength) return (saltGrams + waterGrams) / gramsPerLitreBrine(strength.percentByWeight) + sugarGrams * SUGAR_LITRES_PER_GRAM;
  const cups = saltGrams / CUP_WEIGHTS[input.saltKind].gramsPerCup + (sugarGrams > 0 ? sugarGrams / CUP_WEIGHTS[input.sugarKind!].gramsPerCup : 0);
  return (cups * ML_PER_US_CUP) / 1000;
}

function amountsWorking(input: CureAmountsInput, waterGrams: number): Working {
  const formulas: Record<CureMethod, string> = {
    'dry': input.saltPercentOfFish === undefined ? 'salt = target x water in the fish / (100 - target)' : 'salt = percent x fish',
    'brine': 'salt = water x percent / (100 - percent)',
    'equilibrium-brine': 'salt = target x (water in the fish + water) / (100 - target)',
  };
  return {
    inputs: [{ name: 'fish', value: input.fishGrams, unit: 'g' }, { name: 'water in the fish', value: input.fishWaterGrams, unit: 'g' }, { name: 'target', value: input.targetPercent, unit: '% water-phase salt' }, { name: 'water', value: waterGrams, unit: 'g' }],
    model: 'salt-balance', formula: formulas[input.method], source: 'balance of salt', range: 'target 0.5 to 15 %, brine to 26.395 % (60 F)',
    uncertainty: input.method === 'dry' ? 'salt that runs off with the drawn brine is lost to the fish: it ends lower' : 'water in the fish is within a few percent', certainty: 'arithmetic',
  };
}
