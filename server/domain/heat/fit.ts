import { DomainError } from '../working.ts';
import type { Working } from '../working.ts';
import { segmentsFrom, segmentsOfLog } from './drive.ts';
import type { LoggedDrive } from './drive.ts';
import { STANDARD_PRESSURE_KPA, buckKPa } from './humid-air.ts';
import { gaussNewton } from './least-squares.ts';
import { cleanSeries } from './series.ts';
import type { Reading, Series, SeriesFlag } from './series.ts';
import { slabCases } from './slab.ts';
import type { HeatTransfer, SlabInput } from './slab.ts';
import { readTrace, runSlab } from './slab-run.ts';
import { HUMIDITY, within } from './within.ts';

/**
 * One smoke: what lay in the thickest place, the chamber's log and the core's. The core's first reading within the
 * chamber's log is the start, with the fish of one temperature throughout; the chamber may have been hot before.
 */
export type SmokerLog = Omit<SlabInput, 'startC'> & {
  chamber: readonly Reading[];
  core: readonly Reading[];
  /** Somebody has looked at the unit of an unusually hot core. */
  unitConfirmed?: boolean;
};

export type SmokerFitInput = {
  logs: readonly SmokerLog[];
  /** What is believed before: SMOKER_H of its kind, or the last fit. */
  priorHeat: HeatTransfer;
  /** Humidity believed before, with how far off it may be; 30 % and a factor of 2.7 in the odds when left out. */
  priorHumidityPct?: number;
};

export type Estimate = { value: number; standardError: number; low: number; high: number; logWeightPct: number };

export type SmokerFit = {
  hWPerM2K: Estimate;
  relativeHumidityPct: Estimate;
  /** For the next forecast. */
  heat: HeatTransfer;
  /** Typical difference of core and model after fitting. */
  residualC: number;
  pointsUsed: number;
  /** How each log lies beside the fit, in the order in which they came. */
  logs: LogFit[];
  converged: boolean;
  flags: SeriesFlag[];
  found: string;
  working: Working;
};

/** Stretches of over 10 minutes without a reading are gaps: the chamber's are bridged by a straight line, the core's are left empty. */
export type LogFit = { pointsUsed: number; residualC: number; gaps: number; leftOut: number };

/** A probe and a slab that is no slab: nothing is believed to be nearer than this. */
const LEAST_NOISE_C = 0.5;
/** Readings closer than this tell the same thing twice. */
const APART_MINUTES = 5;
const FEWEST_POINTS = 5;
/** A chamber that nobody read for longer may have done anything (common practice, no source). */
const LONGEST_CHAMBER_GAP_MINUTES = 60;
export const MOST_LOGS = 20;
/** Raise it with every change to what a fit comes to: fits that are kept are then made anew. */
export const FITTING = 1;
const PRIOR_HUMIDITY_PCT = 30;
const PRIOR_LOG_ODDS = 1;

type Run = { log: SmokerLog; series: Series; offsetMinutes: number; use: number[]; startC: number; hottestC: number; flags: SeriesFlag[] };

/**
 * Fits a smoker's heat-transfer coefficient and humidity to its own logs: least squares
 * of the core against the slab model, with what was believed before as further
 * observations, by Gauss-Newton on ln h and the log-odds of humidity. Gives each with its standard
 * error and how much of it comes from the logs. Range: 1 to 20 logs, 5 core readings or more
 * in the chamber's span, no hour of it without a chamber reading; see SLAB_WORKING. Throws
 * DomainError outside it and on a unit in doubt.
 */
export function fitSmoker(input: SmokerFitInput): SmokerFit {
  const { logs, priorHeat } = input;
  if (logs.length < 1 || logs.length > MOST_LOGS) throw new DomainError({ code: 'fit.logs', field: 'logs', label: 'number of logs', value: logs.length, problem: `is not from 1 to ${MOST_LOGS}`, remedy: 'choose the smokes to learn from' });
  const humidity = within(input.priorHumidityPct ?? PRIOR_HUMIDITY_PCT, 'priorHumidityPct', { ...HUMIDITY, low: 1, high: 99 });
  const runs = logs.map((log, i) => inLog(i, () => prepare(log, priorHeat)));
  const priorLnH = Math.log(priorHeat.likelyWPerM2K);
  // Low and high are read as two standard deviations either way.
  const priorSpread = Math.max(0.05, Math.log(priorHeat.highWPerM2K / priorHeat.lowWPerM2K) / 4);
  const fit = gaussNewton({
    start: [priorLnH, logOdds(humidity)],
    priorMean: [priorLnH, logOdds(humidity)],
    priorSpread: [priorSpread, PRIOR_LOG_ODDS],
    leastNoise: LEAST_NOISE_C,
    residuals: ([lnH, odds]) => runs.flatMap((run) => residualsOf(run, Math.exp(lnH!), fromOdds(odds!), priorHeat)),
  });
  const [lnH, odds] = fit.value as [number, number];
  const [spreadH, spreadOdds] = fit.spread as [number, number];
  const h = Math.exp(lnH);
  const pct = fromOdds(odds);
  const heat = { likelyWPerM2K: h, lowWPerM2K: h * Math.exp(-2 * spreadH), highWPerM2K: h * Math.exp(2 * spreadH) };
  const weight = (spread: number, prior: number) => Math.round(100 * Math.max(0, 1 - (spread / prior) ** 2));
  const pointsUsed = runs.reduce((sum, { use }) => sum + use.length, 0);
  return {
    hWPerM2K: { value: h, standardError: h * spreadH, low: heat.lowWPerM2K, high: heat.highWPerM2K, logWeightPct: weight(spreadH, priorSpread) },
    relativeHumidityPct: {
      value: pct, standardError: pct * (1 - pct / 100) * spreadOdds, low: fromOdds(odds - 2 * spreadOdds), high: fromOdds(odds + 2 * spreadOdds),
      logWeightPct: weight(spreadOdds, PRIOR_LOG_ODDS),
    },
    heat, residualC: fit.noise, pointsUsed, converged: fit.converged, flags: runs.flatMap((run) => run.flags),
    logs: runs.map((run) => logFit(run, residualsOf(run, h, pct, priorHeat))),
    found: `h ${h.toFixed(1)} W/m2 K, give or take ${(h * spreadH).toFixed(1)}; ${weight(spreadH, priorSpread)} % of what is known of it comes from the logs.`,
    working: {
      inputs: [
        { name: 'logs', value: logs.length }, { name: 'core readings used', value: pointsUsed }, { name: 'h before, low to high', value: `${priorHeat.lowWPerM2K} to ${priorHeat.highWPerM2K}`, unit: 'W/m2 K' },
        { name: 'h before, likely', value: priorHeat.likelyWPerM2K, unit: 'W/m2 K' }, { name: 'humidity before', value: humidity, unit: '%' },
      ],
      model: 'smoker-fit', formula: 'Least squares of the logged core against the slab model over ln h and the log-odds of humidity, with what was believed before as two more observations. Weight of the logs = 1 - variance after / variance before.',
      source: 'Gauss-Newton with a Gaussian prior; slab model as in the smoke forecast; prior from memory',
      range: '1 to 20 logs of one smoker; 5 core readings or more, 5 minutes apart or more, within the chamber\'s log, which has no hour without a reading.',
      uncertainty: 'A wrong thickness or a probe off the thickest place goes into h. One h and one humidity stand for the whole smoke.',
      certainty: 'from memory',
    },
  };
}

function logOdds(pct: number): number {
  return Math.log(pct / (100 - pct));
}

function fromOdds(odds: number): number {
  return 100 / (1 + Math.exp(-odds));
}

function logFit({ use, flags }: Run, residuals: readonly number[]): LogFit {
  const gaps = flags.filter(({ kind }) => kind === 'gap').length;
  const leftOut = flags.filter(({ kind }) => kind === 'probe-error' || kind === 'spike').length;
  return { pointsUsed: use.length, residualC: Math.sqrt(residuals.reduce((sum, r) => sum + r * r, 0) / use.length), gaps, leftOut };
}

/** Says of a refusal which log it was. */
function inLog<T>(i: number, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof DomainError) error.field = `logs.${i}.${error.code === 'log.unusable' ? 'chamber' : error.field}`;
    throw error;
  }
}

function prepare(log: SmokerLog, heat: HeatTransfer): Run {
  const fail = (problem: string, remedy: string) => new DomainError({ code: 'fit.core', field: 'core', label: 'core log', value: log.core.length, shown: `of ${log.core.length} readings`, problem, remedy });
  const series = cleanSeries(log.core, { place: 'core', strict: 'lower', ...(log.unitConfirmed === undefined ? {} : { unitConfirmed: log.unitConfirmed }) });
  if (series.unitInDoubt) throw fail('may not be in Celsius', 'put the unit right');
  const chamber = chamberOf(log);
  const offsetMinutes = series.startAt === null ? 0 : (Date.parse(series.startAt) - Date.parse(chamber.startAt)) / 60_000;
  const end = chamber.segments.at(-1)!.toS / 60;
  const use: number[] = [];
  for (const [k, minute] of series.minutes.entries()) {
    const at = minute + offsetMinutes;
    const last = use.at(-1);
    if (at >= 0 && at <= end && (last === undefined || minute - series.minutes[last]! >= APART_MINUTES - 0.01)) use.push(k);
  }
  if (use.length < FEWEST_POINTS) throw fail(`has fewer than ${FEWEST_POINTS} readings within the chamber's log`, 'choose a smoke whose core was logged');
  const startC = series.celsius[use[0]!]!;
  slabCases({ ...log, startC }, heat, true);
  const hottestC = chamber.segments.reduce((max, { from, to }) => Math.max(max, from.airC, to.airC), -Infinity);
  return { log, series, offsetMinutes, use, startC, hottestC, flags: [...series.flags, ...chamber.flags] };
}

function chamberOf({ chamber: readings }: SmokerLog): LoggedDrive {
  const chamber = segmentsOfLog({ readings, relativeHumidityPct: 0 });
  const longest = chamber.segments.reduce((most, { fromS, toS }) => Math.max(most, (toS - fromS) / 60), 0);
  if (longest <= LONGEST_CHAMBER_GAP_MINUTES) return chamber;
  throw new DomainError({
    code: 'fit.chamber', field: 'chamber', label: 'chamber log', value: readings.length, shown: `of ${readings.length} readings`,
    problem: `has ${Math.round(longest)} minutes without one, and at most ${LONGEST_CHAMBER_GAP_MINUTES} can be bridged`, remedy: 'choose a smoke whose chamber was read more often',
  });
}

function residualsOf({ log, series, offsetMinutes, use, startC, hottestC }: Run, h: number, humidityPct: number, heat: HeatTransfer): number[] {
  // No hotter air can hold more vapour than air: a trial beyond that is held there.
  const most = (94 * STANDARD_PRESSURE_KPA) / buckKPa(hottestC);
  const { segments } = segmentsOfLog({ readings: log.chamber, relativeHumidityPct: Math.min(humidityPct, most) });
  const setup = { ...slabCases({ ...log, startC }, heat, true).likely, hWPerM2K: Math.min(Math.max(h, 1), 500) };
  const trace = runSlab(setup, segmentsFrom(segments, (series.minutes[use[0]!]! + offsetMinutes) * 60));
  return use.map((k) => readTrace(trace.minutes, trace.coreC, series.minutes[k]! + offsetMinutes) - series.celsius[k]!);
}
