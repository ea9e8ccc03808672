import { rounded, within } from '../bounds.ts';
import { DomainError } from '../working.ts';
import type { Working } from '../working.ts';
import { brineStrength, brineWorking, checkPercent } from './brine.ts';

export type BrineChange = {
  waterToAddGrams: number;
  saltToAddGrams: number;
  brineGramsAfter: number;
  percentAfter: number;
  working: Working;
};

/**
 * What to add to a brine to make it weaker (water) or stronger (salt). Range: 0 to
 * 26.395 %, up to 10 tonnes. Throws DomainError outside, or when water is to be made of
 * salt alone. Source: balance of weight.
 */
export function changeBrine(input: { brineGrams: number; fromPercent: number; toPercent: number }): BrineChange {
  const brineGrams = within(input.brineGrams, { field: 'brineGrams', label: 'brine', min: 0, max: 1e7, unit: 'g' });
  const from = checkPercent(input.fromPercent, 'fromPercent');
  const to = checkPercent(input.toPercent, 'toPercent');
  if (to === 0 && from > 0) {
    throw new DomainError({ code: 'brine.no-dilution-to-nothing', field: 'toPercent', label: 'target', value: to, shown: '0 %', problem: 'cannot be reached by adding water', remedy: 'use fresh water instead' });
  }
  const water = to < from ? brineGrams * (from / to - 1) : 0;
  const salt = to > from ? (brineGrams * (to - from)) / (100 - to) : 0;
  return {
    waterToAddGrams: Math.round(water), saltToAddGrams: Math.round(salt), brineGramsAfter: Math.round(brineGrams + water + salt), percentAfter: rounded(to, 3),
    working: brineWorking(
      [{ name: 'brine', value: brineGrams, unit: 'g' }, { name: 'from', value: from, unit: '%' }, { name: 'to', value: to, unit: '%' }],
      'weaker: water = brine x (from/to - 1); stronger: salt = brine x (to - from)/(100 - to)', 'as good as the strength that was read',
    ),
  };
}

export type BrineCooling = {
  iceGrams: number;
  /** The strength once the ice has melted. */
  percentAfter: number;
  /** Salt to add so that it keeps its strength. */
  saltToKeepStrengthGrams: number;
  /** Rule brine.start: at or below 15.6 C when the fish goes in. */
  readyForFish: boolean;
  working: Working;
};

/** Rule brine.start (NY262.5, MI569.5). */
export const BRINE_START_C = 15.6;
/** Rule brine.cold (NY262.5, MI569.5): more than four hours only at or below this. */
export const BRINE_COLD_C = 3.3;
const LATENT_KJ_PER_KG = 333.5;
const WATER_KJ_PER_KG_C = 4.18;
const SALT_KJ_PER_KG_C = 0.86;

/**
 * The ice that cools a brine, melting into it. Range: 0 to 26.395 %, 0 to 60 C, and not
 * below where the brine freezes or its salt falls out. Throws DomainError outside.
 * Source: heat balance with the latent heat of rule ice.amount (FAO TP 331); heat held
 * by salt (0.86 kJ/kg C) is from memory.
 */
export function coolBrineWithIce(input: { brineGrams: number; percentByWeight: number; fromC: number; toC: number }): BrineCooling {
  const brineGrams = within(input.brineGrams, { field: 'brineGrams', label: 'brine', min: 0, max: 1e7, unit: 'g' });
  const percent = checkPercent(input.percentByWeight);
  const fromC = within(input.fromC, { field: 'fromC', label: 'brine temperature', min: 0, max: 60, unit: 'C', remedy: 'enter degrees Celsius' });
  const coldest = Math.max(0, brineStrength({ given: 'percent', value: percent }).coldest.temperatureC);
  const toC = within(input.toC, { field: 'toC', label: 'target temperature', min: coldest, max: 60, unit: 'C', remedy: 'colder than this it freezes or its salt falls out' });
  const heat = (WATER_KJ_PER_KG_C * (100 - percent) + SALT_KJ_PER_KG_C * percent) / 100;
  const ice = (brineGrams * heat * Math.max(0, fromC - toC)) / (LATENT_KJ_PER_KG + WATER_KJ_PER_KG_C * toC);
  const total = brineGrams + ice;
  return {
    iceGrams: Math.ceil(ice), percentAfter: total === 0 ? percent : rounded((brineGrams * percent) / total, 3),
    saltToKeepStrengthGrams: Math.ceil((ice * percent) / (100 - percent)), readyForFish: Math.min(fromC, toC) <= BRINE_START_C,
    working: {
      inputs: [{ name: 'brine', value: brineGrams, unit: 'g' }, { name: 'strength', value: percent, unit: '%' }, { name: 'from', value: fromC, unit: 'C' }, { name: 'to', value: toC, unit: 'C' }],
      model: 'ice', formula: 'ice = brine x heat per degree x (from - to) / (333.5 + 4.18 x to), the ice starting at 0 C', source: 'ice.amount (FAO TP 331) for the latent heat; heat of salt from memory',
      range: 'ice at 0 C melting fully into the brine', uncertainty: 'the vessel and the air add heat: have a tenth more ice ready (common practice)', certainty: 'from memory',
    },
  };
}
