import { within } from '../bounds.ts';
import { DomainError } from '../working.ts';
import type { Working } from '../working.ts';
import type { FatClass } from '../species/types.ts';
import { bandInWords, conditionFactor, MUSCLE_RANGE, START_AT_5C, START_BAND } from './diffusivity.ts';
import type { ClubDiffusivity } from './diffusivity.ts';
import { saltBeforeDrying } from './drying.ts';
import { checkCure, LONGEST_CURE_MINUTES, slabOf } from './uptake.ts';
import type { CureConditions } from './uptake.ts';
import { SATURATED_WPS } from './water-phase.ts';

export type SaltMeasurement = Omit<CureConditions, 'fat' | 'club'> & {
  minutes: number;
  /** The laboratory's water-phase salt. */
  measuredPercent: number;
  /** When the sample was finished fish: its weight in percent of that after the cure; the figure is read back to the cure. */
  keptPercent?: number;
  /** Then also the water after the cure, in percent. */
  curedWaterPercent?: number;
  /** One standard deviation of it, piece to piece spread included; a tenth of it and at least 0.2 when left out (common practice). */
  sdPercent?: number;
};

export type Refit = ClubDiffusivity & {
  startM2PerSAt5C: number;
  measurements: number;
  /** How far each measurement lies from the fitted value, in its own standard deviations. */
  residuals: number[];
  /** Worth saying: outside what has been seen in muscle, or measurements that disagree. */
  notes: string[];
  working: Working;
};

/** How far either way of the start is searched, in natural logarithms: a factor of 55. */
const SEARCH = 4;
const GRID = 160;
const MOST = 500;

/**
 * A club's own diffusivity at 5 C from laboratory figures: weighted least squares in the
 * logarithm of D, the published start held with its band (times and divided by 2 as one
 * standard deviation). The band narrows with each figure, and never widens past its start.
 * Range: 1 to 500 measurements, each as saltUptake takes it. Throws DomainError outside.
 */
export function refitDiffusivity(input: { fat: FatClass; measurements: readonly SaltMeasurement[] }): Refit {
  const { fat, measurements } = input;
  const start = START_AT_5C[fat];
  if (start === undefined) throw new DomainError({ code: 'refit.fat', field: 'fat', value: fat, problem: 'is not a choice', remedy: 'choose lean, medium or fatty' });
  within(measurements.length, { field: 'measurements', label: 'number of measurements', min: 1, max: MOST });
  const points = measurements.map((measurement, index) => pointOf(measurement, index, fat));
  const priorSd = Math.log(START_BAND);
  const cost = (shift: number) => (shift / priorSd) ** 2 + points.reduce((sum, point) => sum + point(start * Math.exp(shift)) ** 2, 0);
  const shift = leastOf(cost);
  const bestM2PerS = start * Math.exp(shift);
  const residuals = points.map((point) => point(bestM2PerS));
  const bandFactor = Math.min(START_BAND, Math.exp(sdAt(points, start, shift, priorSd) * inflation(residuals)));
  return {
    m2PerSAt5C: Number(bestM2PerS.toPrecision(4)), bandFactor, startM2PerSAt5C: start, measurements: measurements.length,
    residuals: residuals.map((residual) => Math.round(residual * 100) / 100), notes: notesOn(bestM2PerS, residuals),
    working: {
      inputs: [{ name: 'start at 5 C', value: start, unit: 'm2/s' }, { name: 'measurements', value: measurements.length }, { name: 'fitted at 5 C', value: Number(bestM2PerS.toPrecision(4)), unit: 'm2/s' }],
      model: 'salt-fit', formula: 'least of ((ln D - ln start)/ln 2)^2 + sum ((predicted - measured)/sd)^2; the band is one standard deviation of ln D, wider when the measurements disagree',
      source: 'weighted least squares with the published start (from memory) and the club\'s own laboratory figures', range: '1e-11 to 1e-9 m2/s has been seen in muscle',
      uncertainty: bandInWords(bandFactor), certainty: 'arithmetic',
    },
  };
}

/** One standard deviation of a laboratory's figure, piece to piece spread included: a tenth of it and at least 0.2. Source: common practice. */
export const usualSdPercent = (measuredPercent: number): number => Math.max(0.2, measuredPercent / 10);

/** Refuses a measurement that refitDiffusivity would refuse, without fitting. Throws DomainError. */
export function checkMeasurement(measurement: SaltMeasurement, fat: FatClass): void {
  pointOf(measurement, 0, fat);
}

type Point = (m2PerSAt5C: number) => number;

/** One measurement's distance from its prediction, in standard deviations, as a function of D at 5 C. */
function pointOf(measurement: SaltMeasurement, index: number, fat: FatClass): Point {
  const conditions = { ...measurement, fat };
  checkCure(conditions);
  const field = (name: string) => `measurements.${index}.${name}`;
  within(measurement.temperatureC, { field: field('temperatureC'), label: 'temperature', min: -2, max: 25, unit: 'C' });
  const minutes = within(measurement.minutes, { field: field('minutes'), label: 'time', min: 1, max: LONGEST_CURE_MINUTES, unit: 'minutes' });
  const measured = within(measurement.measuredPercent, { field: field('measuredPercent'), label: 'measured salt', min: 0, max: SATURATED_WPS, unit: '%' });
  const cured = curedPercentOf(measurement, measured, field);
  const sd = within(measurement.sdPercent ?? usualSdPercent(measured), { field: field('sdPercent'), label: 'its spread', min: 0.01, max: 10, unit: '%' });
  const slab = slabOf(conditions);
  const factor = conditionFactor(measurement.temperatureC, measurement.onceFrozen);
  return (m2PerSAt5C) => (slab.meanAt(slab.fourier(m2PerSAt5C * factor, minutes)) - cured) / sd;
}

/** A figure of finished fish is higher than after the cure: drying took water. */
function curedPercentOf({ keptPercent, curedWaterPercent }: SaltMeasurement, measured: number, field: (name: string) => string): number {
  if (keptPercent === undefined) return measured;
  if (curedWaterPercent !== undefined) return saltBeforeDrying({ finishedPercent: measured, keptPercent, curedWaterPercent }).waterPhaseSaltPercent;
  throw new DomainError({ code: 'refit.water', field: field('curedWaterPercent'), label: 'water after the cure', value: undefined, problem: 'is missing', remedy: 'enter it in percent, or leave out the weight kept' });
}

/** The least of a function between -SEARCH and SEARCH: a grid, then golden section around its best point. */
function leastOf(cost: (shift: number) => number): number {
  const shifts = Array.from({ length: GRID + 1 }, (_, step) => -SEARCH + (2 * SEARCH * step) / GRID);
  const costs = shifts.map(cost);
  const best = costs.indexOf(Math.min(...costs));
  let [low, high] = [shifts[Math.max(0, best - 1)]!, shifts[Math.min(GRID, best + 1)]!];
  const golden = (Math.sqrt(5) - 1) / 2;
  for (let step = 0; step < 50; step++) {
    const [a, b] = [high - golden * (high - low), low + golden * (high - low)];
    if (cost(a) < cost(b)) high = b;
    else low = a;
  }
  return (low + high) / 2;
}

/** One standard deviation of ln D: what the start and the slopes of the predictions know together. */
function sdAt(points: readonly Point[], start: number, shift: number, priorSd: number): number {
  const step = 1e-4;
  const known = points.reduce((sum, point) => sum + ((point(start * Math.exp(shift + step)) - point(start * Math.exp(shift - step))) / (2 * step)) ** 2, 0);
  return 1 / Math.sqrt(1 / priorSd ** 2 + known);
}

/** Measurements that scatter more than they say they do widen the band (Birge ratio). */
function inflation(residuals: readonly number[]): number {
  if (residuals.length < 2) return 1;
  return Math.max(1, Math.sqrt(residuals.reduce((sum, residual) => sum + residual ** 2, 0) / (residuals.length - 1)));
}

function notesOn(m2PerS: number, residuals: readonly number[]): string[] {
  const notes: string[] = [];
  if (m2PerS < MUSCLE_RANGE.low || m2PerS > MUSCLE_RANGE.high) notes.push('The fitted value is outside what has been seen in fish muscle: check the thickness, the skin and the times.');
  if (residuals.some((residual) => Math.abs(residual) > 3)) notes.push('A measurement lies far from the others: check it, and whether skin and thickness were entered as they were.');
  return notes;
}
