import { rounded, within } from '../bounds.ts';
import { DomainError } from '../working.ts';
import type { Working } from '../working.ts';

/** Every salt figure that is reckoned, not read from a laboratory's paper, says so. A rule that asks for a measurement is never met by one. */
export type Predicted = { measured: false };

/** More salt than this no water holds (saturated at 60 F). */
export const SATURATED_WPS = 26.395;

/**
 * Water-phase salt from salt and moisture in the fish, in percent of its weight. Range:
 * salt 0 to 30 %, moisture 1 to 95 %, together at most 100 %. Throws DomainError outside
 * and beyond saturation. Source: definition, rule salt.air and salt.rop.
 */
export function waterPhaseSalt(input: { saltPercent: number; moisturePercent: number }): { waterPhaseSaltPercent: number; working: Working } {
  const salt = within(input.saltPercent, { field: 'saltPercent', label: 'salt', min: 0, max: 30, unit: '%' });
  const moisture = within(input.moisturePercent, { field: 'moisturePercent', label: 'moisture', min: 1, max: 95, unit: '%' });
  const percent = (100 * salt) / (salt + moisture);
  if (salt + moisture > 100 || percent > SATURATED_WPS) {
    throw new DomainError({ code: 'salt.impossible', field: 'saltPercent', label: 'salt', value: salt, shown: `${salt} % with ${moisture} % moisture`, problem: 'is more than the fish or its water can hold', remedy: 'check both figures' });
  }
  return {
    waterPhaseSaltPercent: rounded(percent, 3),
    working: phaseWorking([{ name: 'salt', value: salt, unit: '%' }, { name: 'moisture', value: moisture, unit: '%' }], '100 x salt / (salt + moisture)', 'as good as the two figures'),
  };
}

/**
 * The dry salt that brings fish holding so much water to a water-phase salt, if all of it
 * stays in. Range: target 0 to 26.395 %, water 0 to 10 tonnes. Throws DomainError outside.
 */
export function saltForTarget(input: { targetPercent: number; fishWaterGrams: number }): { saltGrams: number; working: Working } {
  const target = within(input.targetPercent, { field: 'targetPercent', label: 'target', min: 0, max: SATURATED_WPS, unit: '% water-phase salt' });
  const water = within(input.fishWaterGrams, { field: 'fishWaterGrams', label: 'water in the fish', min: 0, max: 1e7, unit: 'g' });
  return {
    saltGrams: rounded((target * water) / (100 - target), 1),
    working: phaseWorking([{ name: 'target', value: target, unit: '%' }, { name: 'water in the fish', value: water, unit: 'g' }], 'target x water / (100 - target)', 'salt that runs off with the brine is not counted: the fish ends lower'),
  };
}

export type Equilibrium = Predicted & { percent: number; working: Working };

/**
 * The water-phase salt once salt, brine and fish are even. Range: weights 0 to 10 tonnes,
 * not more salt than the water holds. Throws DomainError outside.
 */
export function equilibriumSalt(input: { saltGrams: number; brineWaterGrams: number; fishWaterGrams: number }): Equilibrium {
  const bounds = { min: 0, max: 1e7, unit: 'g' };
  const salt = within(input.saltGrams, { field: 'saltGrams', label: 'salt', ...bounds });
  const brine = within(input.brineWaterGrams, { field: 'brineWaterGrams', label: 'water in the brine', ...bounds });
  const fish = within(input.fishWaterGrams, { field: 'fishWaterGrams', label: 'water in the fish', ...bounds });
  const total = salt + brine + fish;
  if (total === 0) throw new DomainError({ code: 'salt.nothing', field: 'fishWaterGrams', label: 'water in the fish', value: fish, shown: '0 g', problem: 'leaves nothing to salt', remedy: 'enter the weight of the fish' });
  const percent = (100 * salt) / total;
  return {
    measured: false, percent: rounded(Math.min(percent, SATURATED_WPS), 3),
    working: phaseWorking(
      [{ name: 'salt', value: salt, unit: 'g' }, { name: 'water in the brine', value: brine, unit: 'g' }, { name: 'water in the fish', value: fish, unit: 'g' }],
      '100 x salt / (salt + water in the brine + water in the fish), at most 26.395', 'a bound: it takes days in thick pieces',
    ),
  };
}

function phaseWorking(inputs: Working['inputs'], formula: string, uncertainty: string): Working {
  return { inputs, model: 'salt-balance', formula, source: 'water-phase salt and equilibrium', range: '0 to 26.395 % water-phase salt', uncertainty, certainty: 'arithmetic' };
}
