import { within } from '../heat/within.ts';
import { checkGrams } from '../working.ts';
import type { Grams, Working } from '../working.ts';

export type IceInput = {
  /** Fish expected over the trip. */
  catchG: Grams;
  /** What the fish comes up at: the water's temperature. */
  fishC: number;
  /** 0 when left out. */
  targetC?: number;
  /** Hours from loading the ice to landing, and the air round the box. */
  hours: number;
  airC: number;
  /** What the club's own box was seen to melt in a day, and in what air: there is no published figure for every box. */
  boxMelt?: { gPerDay: Grams; airC: number };
};

export type IceToLoad = {
  /** To bring the fish down. */
  coolingG: Grams;
  /** Lost through the box; null when the box was never measured. */
  meltG: Grams | null;
  /** At least as much ice as fish. */
  ruleOfThumbG: Grams;
  /** The larger of the two reckonings. */
  loadG: Grams;
  advice: string[];
  working: Working;
};

/** Above that of any fish in the table, so that the ice is never short; within the rounding of FAO TP 331. From memory. */
export const FISH_HEAT_KJ_PER_KG_K = 3.84;
const MELTING_KJ_PER_KG = 333.5;
const BED_MM = 75;

/**
 * Ice to load for a trip: mass x specific heat x fall in temperature / 333.5 kJ/kg, with what
 * the box melts where that was measured, and never less than a kilogram for each kilogram of fish.
 * Range: fish and air 0 to 45 C, 0 to 240 hours. Throws DomainError outside it. Source: rule ice.amount.
 */
export function iceToLoad(input: IceInput): IceToLoad {
  const catchG = checkGrams(input.catchG, 'catchG', 'expected catch');
  const limits = { low: 0, high: 45, unit: 'C', label: 'temperature', remedy: 'enter Celsius' };
  const fishC = within(input.fishC, 'fishC', { ...limits, high: 38, label: 'water temperature' });
  const targetC = within(input.targetC ?? 0, 'targetC', { ...limits, high: 4.4, label: 'temperature wanted' });
  const hours = within(input.hours, 'hours', { low: 0, high: 240, unit: 'h', label: 'hours', remedy: 'enter the hours until landing' });
  const airC = within(input.airC, 'airC', { ...limits, label: 'air temperature' });
  const coolingG = Math.ceil((catchG * FISH_HEAT_KJ_PER_KG_K * Math.max(0, fishC - targetC)) / MELTING_KJ_PER_KG);
  const meltG = meltOf(input.boxMelt, hours, airC);
  const loadG = Math.max(catchG, coolingG + (meltG ?? 0));
  return {
    coolingG, meltG, ruleOfThumbG: catchG, loadG,
    advice: [
      `Lay at least ${BED_MM} mm of ice under the fish and at least ${BED_MM} mm over it.`,
      ...(meltG === null ? ['What the box melts is not known: leave the box with ice for a day, weigh what is left, and enter it.'] : []),
      'Drain the melt water, and top up when fish shows through the ice.',
    ],
    working: {
      inputs: [
        { name: 'expected catch', value: catchG, unit: 'g' }, { name: 'fish comes up at', value: fishC, unit: 'C' }, { name: 'down to', value: targetC, unit: 'C' },
        { name: 'hours', value: hours, unit: 'h' }, { name: 'air', value: airC, unit: 'C' }, { name: 'melt in the box', value: meltG ?? 'not measured', unit: meltG === null ? undefined : 'g' },
      ].map(({ unit, ...rest }) => (unit === undefined ? rest : { ...rest, unit })),
      model: 'ice', formula: 'Ice = fish x 3.84 kJ/kg K x fall in temperature / 333.5 kJ/kg, and what the box melts (its measured melt x air / air then x hours / 24); never less than the fish.',
      source: 'ice.amount: FAO TP 331; UF/IFAS. Specific heat from memory',
      range: 'Fish 0 to 38 C, air 0 to 45 C, up to 240 h.',
      uncertainty: 'The fish alone within about 5 %; a box opened often melts far more.',
      certainty: 'published',
    },
  };
}

function meltOf(boxMelt: IceInput['boxMelt'], hours: number, airC: number): Grams | null {
  if (!boxMelt) return null;
  const gPerDay = checkGrams(boxMelt.gPerDay, 'boxMelt.gPerDay', 'melt in a day');
  const then = within(boxMelt.airC, 'boxMelt.airC', { low: 5, high: 45, unit: 'C', label: 'air when the box was measured', remedy: 'measure on a day of 5 C or more' });
  return Math.ceil((gPerDay * (airC / then) * hours) / 24);
}
