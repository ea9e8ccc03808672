import { rounded, within } from '../bounds.ts';
import { DomainError } from '../working.ts';
import type { Working } from '../working.ts';
import { SATURATED_WPS } from './water-phase.ts';
import type { Predicted } from './water-phase.ts';

export type Dried = Predicted & { waterPhaseSaltPercent: number; waterPercentAfter: number; working: Working };

/** Water in the cured fish, and what is left of its weight when it is finished, both in percent. */
type Drying = { curedWaterPercent: number; keptPercent: number };

/**
 * Water-phase salt of the finished fish, from that after the cure: drying and smoking take
 * water and leave the salt. Range: salt 0 to 26.395 %, water 30 to 90 %, 50 to 100 % kept.
 * Throws DomainError outside and when no water would be left. Source: balance of salt and water.
 */
export function saltAfterDrying(input: Drying & { curedPercent: number }): Dried {
  const cured = within(input.curedPercent, { field: 'curedPercent', label: 'salt after the cure', min: 0, max: SATURATED_WPS, unit: '% water-phase salt' });
  const { water, left } = watersOf(input);
  const salt = (cured * water) / (100 - cured);
  const percent = (100 * salt) / (salt + left);
  if (percent > SATURATED_WPS) {
    throw new DomainError({ code: 'salt.dried-out', field: 'keptPercent', label: 'weight kept', value: input.keptPercent, shown: `${input.keptPercent} %`, problem: 'leaves less water than the salt needs', remedy: 'check both figures' });
  }
  return { measured: false, waterPhaseSaltPercent: rounded(percent, 3), waterPercentAfter: rounded((100 * left) / input.keptPercent, 2), working: dryingWorking('after the cure', cured, input, 'salt = s W/(100 - s) stays; W loses 100 - kept; 100 x salt/(salt + water left)') };
}

/**
 * The other way: the water-phase salt after the cure that makes a given one in the
 * finished fish. For a target, or to read a laboratory's figure back to the cure. Range
 * and errors as saltAfterDrying. Source: balance of salt and water.
 */
export function saltBeforeDrying(input: Drying & { finishedPercent: number }): Dried {
  const finished = within(input.finishedPercent, { field: 'finishedPercent', label: 'salt when finished', min: 0, max: SATURATED_WPS, unit: '% water-phase salt' });
  const { water, left } = watersOf(input);
  const salt = (finished * left) / (100 - finished);
  return { measured: false, waterPhaseSaltPercent: rounded((100 * salt) / (salt + water), 3), waterPercentAfter: rounded((100 * left) / input.keptPercent, 2), working: dryingWorking('when finished', finished, input, 'salt = s x water left/(100 - s); 100 x salt/(salt + water before)') };
}

function watersOf({ curedWaterPercent, keptPercent }: Drying): { water: number; left: number } {
  const water = within(curedWaterPercent, { field: 'curedWaterPercent', label: 'water after the cure', min: 30, max: 90, unit: '%' });
  const kept = within(keptPercent, { field: 'keptPercent', label: 'weight kept', min: 50, max: 100, unit: '%', remedy: 'enter the finished weight in percent of the weight after the cure' });
  const left = water - (100 - kept);
  if (left >= 1) return { water, left };
  throw new DomainError({ code: 'salt.no-water-left', field: 'keptPercent', label: 'weight kept', value: kept, shown: `${kept} %`, problem: `leaves no water of ${water} %`, remedy: 'check both figures' });
}

function dryingWorking(when: string, percent: number, input: Drying, formula: string): Working {
  return {
    inputs: [{ name: `water-phase salt ${when}`, value: percent, unit: '%' }, { name: 'water after the cure', value: input.curedWaterPercent, unit: '%' }, { name: 'weight kept', value: input.keptPercent, unit: '%' }],
    model: 'salt-balance', formula, source: 'balance of salt and water (definition of water-phase salt)', range: '50 to 100 % of the weight kept', uncertainty: 'fat and salt that drip off are not counted', certainty: 'arithmetic',
  };
}
