import { oneOf, rounded, within } from '../bounds.ts';
import { fToC, gramsToLb } from '../units.ts';
import { DomainError } from '../working.ts';
import type { Working } from '../working.ts';
import { EUTECTIC_DEGREES, tableTemperatureF } from './brine-table.ts';

/** Percent salt by weight of brine that is saturated at 60 F: 100 on the usual salometer. */
export const SATURATED_PERCENT = 26.395;
/** Some canning salometers read 100 at 25 %. */
export const CANNING_PERCENT_AT_100 = 25;
/** Grams of water in one of each. A litre as 1 kg (Seafish reckons so); US measures at 60 F, 0.99904 g/ml. */
export const WATER_GRAMS = { g: 1, litre: 1000, 'us-gallon': 3781.8, 'us-quart': 945.45, 'us-cup': 236.36 } as const;
export type WaterUnit = keyof typeof WATER_GRAMS;
export const WATER_UNITS = Object.keys(WATER_GRAMS) as WaterUnit[];

/** What a brine's strength was read as. The salometer's scale has to be named. */
export type StrengthGiven = 'percent' | 'degrees-saturated' | 'degrees-canning' | 'specific-gravity';
export const STRENGTHS_GIVEN: readonly StrengthGiven[] = ['percent', 'degrees-saturated', 'degrees-canning', 'specific-gravity'];

export type BrineStrength = {
  percentByWeight: number;
  /** Salometer that reads 100 in saturated brine (26.395 %). */
  degreesSaturated: number;
  /** Salometer that reads 100 at 25 %; null above that. */
  degreesCanning: number | null;
  /** At 60 F (15.6 C), against water at the same temperature. */
  specificGravity: number;
  saltGramsPerLitreWater: number;
  saltLbPerUsGallonWater: number;
  saltGramsPerLitreBrine: number;
  /** Colder than this it freezes; or, in brine above 88.3 degrees, salt falls out of it. */
  coldest: { temperatureC: number; because: 'freezes' | 'salt-falls-out' };
  working: Working;
};

const SOURCE = 'brine table at 60 F (from memory, cross-checked) and Seafish metric table';

/**
 * A brine's strength in every measure, from any one of them. Range: 0 to 26.395 %
 * salt by weight, at 60 F (15.6 C); specific gravity is within 0.0008. Throws
 * DomainError outside. Source: brine table at 60 F and Seafish.
 */
export function brineStrength(input: { given: StrengthGiven; value: number }): BrineStrength {
  const percent = percentOf(input);
  const degrees = Math.min(100, percent / 0.26395);
  return {
    percentByWeight: rounded(percent, 3),
    degreesSaturated: rounded(degrees, 2),
    degreesCanning: percent <= CANNING_PERCENT_AT_100 ? rounded((100 * percent) / CANNING_PERCENT_AT_100, 2) : null,
    specificGravity: rounded(specificGravityOf(percent), 4),
    saltGramsPerLitreWater: rounded((1000 * percent) / (100 - percent), 2),
    saltLbPerUsGallonWater: rounded((8.328 * percent) / (100 - percent), 3),
    saltGramsPerLitreBrine: rounded(gramsPerLitreBrine(percent) * (percent / 100), 1),
    coldest: { temperatureC: rounded(fToC(tableTemperatureF(degrees)), 1), because: degrees > EUTECTIC_DEGREES ? 'salt-falls-out' : 'freezes' },
    working: brineWorking(
      [{ name: input.given, value: input.value }],
      'percent = 0.26395 x degrees (saturated scale) or 0.25 x degrees (canning scale); specific gravity = 1 + 0.71009 x + 0.23368 x^2 with x = percent/100; salt in water = percent/(100 - percent) x water',
      'specific gravity within 0.0008; a salometer is right at 15.6 C (60 F) only',
    ),
  };
}

export type SaltForWater = {
  saltGrams: number;
  saltLb: number;
  waterGrams: number;
  brineGrams: number;
  brineLitres: number;
  working: Working;
};

/**
 * The salt to stir into an amount of water for a strength. Range: 0 to 26.395 %; water
 * up to 10 tonnes. Throws DomainError outside. Source: Seafish; brine table at 60 F.
 */
export function saltForWater(input: { percentByWeight: number; waterAmount: number; waterUnit: WaterUnit }): SaltForWater {
  const percent = checkPercent(input.percentByWeight);
  const waterGrams = gramsOfWater(input.waterAmount, input.waterUnit);
  const saltGrams = (waterGrams * percent) / (100 - percent);
  const brineGrams = waterGrams + saltGrams;
  return {
    saltGrams: Math.round(saltGrams), saltLb: rounded(gramsToLb(saltGrams), 3), waterGrams: Math.round(waterGrams),
    brineGrams: Math.round(brineGrams), brineLitres: rounded(brineGrams / gramsPerLitreBrine(percent), 3),
    working: brineWorking(
      [{ name: 'strength', value: percent, unit: '% by weight' }, { name: 'water', value: input.waterAmount, unit: input.waterUnit }],
      'salt = water x percent/(100 - percent)', 'as good as the scale; a litre of water is taken as 1 kg, a US gallon as 3,781.8 g (60 F)',
    ),
  };
}

/** The strength of salt stirred into water, both by weight. Throws DomainError on more salt than the water holds at 60 F. */
export function brineOf(input: { saltGrams: number; waterGrams: number }): BrineStrength {
  const saltGrams = within(input.saltGrams, { field: 'saltGrams', label: 'salt', min: 0, max: 1e7, unit: 'g' });
  const waterGrams = within(input.waterGrams, { field: 'waterGrams', label: 'water', min: 1, max: 1e7, unit: 'g' });
  const percent = (100 * saltGrams) / (saltGrams + waterGrams);
  if (percent > SATURATED_PERCENT) {
    throw new DomainError({
      code: 'brine.saturated', field: 'saltGrams', label: 'salt', value: saltGrams, shown: `${saltGrams} g`,
      problem: `is more than ${waterGrams} g of water can hold`, remedy: `use at most ${Math.floor((waterGrams * SATURATED_PERCENT) / (100 - SATURATED_PERCENT))} g, or more water`,
    });
  }
  return brineStrength({ given: 'percent', value: percent });
}

/** Refuses a strength that no brine has. */
export function checkPercent(percent: number, field = 'percentByWeight'): number {
  return within(percent, { field, label: 'brine', min: 0, max: SATURATED_PERCENT, unit: '% salt', remedy: 'enter percent salt by weight; brine is saturated at 26.395 %' });
}

/** Refuses water below zero or above 10 tonnes; returns grams. */
export function gramsOfWater(amount: number, unit: WaterUnit): number {
  oneOf(unit, WATER_UNITS, 'waterUnit');
  return within(amount, { field: 'waterAmount', label: 'water', min: 0, max: 1e7 / WATER_GRAMS[unit], unit }) * WATER_GRAMS[unit];
}

/** Grams in a litre of brine: against water of 998.2 g a litre (20 C), which is what the Seafish table agrees with. */
export function gramsPerLitreBrine(percent: number): number {
  return specificGravityOf(percent) * 998.2;
}

export function brineWorking(inputs: Working['inputs'], formula: string, uncertainty: string): Working {
  return { inputs, model: 'brine', formula, source: SOURCE, range: '0 to 26.395 % salt by weight, about 15.6 C (60 F)', uncertainty, certainty: 'published' };
}

function percentOf({ given, value }: { given: StrengthGiven; value: number }): number {
  oneOf(given, STRENGTHS_GIVEN, 'given');
  if (given === 'percent') return checkPercent(value, 'value');
  if (given === 'specific-gravity') return percentOfGravity(within(value, { field: 'value', label: 'specific gravity', min: 1, max: rounded(specificGravityOf(SATURATED_PERCENT), 3) }));
  const degrees = within(value, { field: 'value', label: 'salometer', min: 0, max: 100, unit: 'degrees', remedy: 'read the salometer again; its scale ends at 100' });
  return (degrees * (given === 'degrees-saturated' ? SATURATED_PERCENT : CANNING_PERCENT_AT_100)) / 100;
}

function specificGravityOf(percent: number): number {
  const x = percent / 100;
  return 1 + 0.71009 * x + 0.23368 * x * x;
}

/** The formula turned round: the root of a parabola. */
function percentOfGravity(gravity: number): number {
  const x = (-0.71009 + Math.sqrt(0.71009 ** 2 + 4 * 0.23368 * (gravity - 1))) / (2 * 0.23368);
  return Math.min(SATURATED_PERCENT, 100 * x);
}
