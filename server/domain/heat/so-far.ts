import { fitSmoker } from './fit.ts';
import type { HeatTransfer, SlabInput } from './slab.ts';
import { cleanSeries } from './series.ts';
import { DomainError } from '../working.ts';
import type { ProbeReadings } from './smoke-log.ts';

export type SoFarInput = Omit<SlabInput, 'startC'> & { heat: HeatTransfer; relativeHumidityPct: number; chamber: ProbeReadings; core: ProbeReadings | null };
export type SoFar = {
  /** h and humidity as this smoke goes so far; as believed before where its core says too little. */
  heat: HeatTransfer;
  relativeHumidityPct: number;
  /** Where the forecast starts, and how warm the fish was: the core's first reading from the chamber's first on; null without one. */
  startAt: string | null;
  startC: number | null;
  lastCoreC: number | null;
  lastCoreAt: string | null;
  /** The core had enough readings, and they moved what was believed. */
  learnt: boolean;
  /** Why not, in words; '' when it did. */
  why: string;
};

/**
 * What a smoke that still runs says of its smoker: h and humidity fitted to its own core and chamber, with what was
 * believed before as the prior. Range and refusals as fitSmoker, but that a core or chamber log it cannot use leaves
 * what was believed before, and says why. Throws DomainError on a slab that cannot be, and on a core's unit in doubt.
 */
export function smokeSoFar({ heat, relativeHumidityPct, chamber, core, ...slab }: SoFarInput): SoFar {
  if (core === null) return { heat, relativeHumidityPct, startAt: null, startC: null, lastCoreC: null, lastCoreAt: null, learnt: false, why: 'The core has no reading yet.' };
  const series = cleanSeries(core.readings, { place: 'core', strict: 'lower', unitConfirmed: core.unitConfirmed });
  if (series.unitInDoubt) throw new DomainError({ code: 'so-far.unit', field: 'core', label: 'core log', value: core.readings.length, shown: `of ${core.readings.length} readings`, problem: 'may not be in Celsius', remedy: 'put the unit right' });
  const at = (minutes: number | undefined) => (minutes === undefined || series.startAt === null ? null : new Date(Date.parse(series.startAt) + minutes * 60_000).toISOString());
  // Before the chamber was read nothing is known of its air.
  const chamberFromMs = chamber.readings.reduce((first, reading) => Math.min(first, new Date(reading.at).getTime()), Infinity);
  const first = Math.max(0, series.minutes.findIndex((minutes) => series.startAt !== null && Date.parse(series.startAt) + minutes * 60_000 >= chamberFromMs));
  const known = { startAt: at(series.minutes[first]), startC: series.celsius[first] ?? null, lastCoreC: series.celsius.at(-1) ?? null, lastCoreAt: at(series.minutes.at(-1)) };
  try {
    const humidity = Math.min(99, Math.max(1, relativeHumidityPct));
    const fit = fitSmoker({ logs: [{ ...slab, chamber: chamber.readings, core: core.readings, unitConfirmed: core.unitConfirmed }], priorHeat: heat, priorHumidityPct: humidity });
    return { ...known, heat: fit.heat, relativeHumidityPct: fit.relativeHumidityPct.value, learnt: true, why: '' };
  } catch (error) {
    if (!(error instanceof DomainError) || !['fit.core', 'fit.chamber'].includes(error.code)) throw error;
    return { ...known, heat, relativeHumidityPct, learnt: false, why: error.message };
  }
}
