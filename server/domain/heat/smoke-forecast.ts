import { CORE_LIMIT_C, HOLD_LIMIT_MINUTES } from '../evidence.ts';
import { DomainError } from '../working.ts';
import type { Working } from '../working.ts';
import { LONGEST_RUN_MINUTES, segmentsFrom, segmentsOfLog, segmentsOfStages, shifted } from './drive.ts';
import type { ChamberLog, ChamberStage } from './drive.ts';
import { wetBulbC } from './humid-air.ts';
import { round1 } from './series.ts';
import type { Gap, SeriesFlag } from './series.ts';
import { CASES, SLAB_WORKING, slabCases, slabInputs } from './slab.ts';
import type { Case, HeatTransfer, SlabInput } from './slab.ts';
import { readTrace, runSlab } from './slab-run.ts';
import type { AirSegment, SlabTrace } from './slab-run.ts';
import { findStall } from './stall.ts';
import type { Stall } from './stall.ts';
import { within } from './within.ts';

export type SmokeForecastInput = SlabInput & {
  heat: HeatTransfer;
  thicknessUncertaintyMm?: number;
  /** A program, or what the chamber's logger wrote; with both the program goes on where the log ends. */
  stages?: readonly ChamberStage[];
  /** `startAt`: when the fish went in, where the chamber was running before; the log's first reading when left out. */
  log?: ChamberLog & { startAt?: Date | string };
  /** Where h comes from, for the working: 'usual value of natural draught'. */
  heatFrom?: string;
  /** A club may ask for more than 62.8 C and 30 minutes, never less. */
  limitC?: number;
  holdMinutes?: number;
  /** Minutes between points of the curves; 2 when left out. */
  sampleMinutes?: number;
};

export type SmokePoint = { minutes: number; airC: number; coreC: number; surfaceC: number; meanC: number; lossGPerKg: number };

export type SmokeRun = {
  points: SmokePoint[];
  /** Null when the core never gets there. */
  minutesToLimit: number | null;
  /** When the unbroken hold is complete; null when it never is. */
  minutesToHold: number | null;
  maxCoreC: number;
  endCoreC: number;
  lossGPerKg: number;
  stall: Stall | null;
};

export type SmokeForecast = {
  /** The slowest, likely and fastest that h and thickness leave open. */
  slow: SmokeRun;
  likely: SmokeRun;
  fast: SmokeRun;
  limitC: number;
  holdMinutes: number;
  lastsMinutes: number;
  /** Up to here the chamber's air is logged; null without a log. */
  loggedMinutes: number | null;
  /** Where a wet face settles in the last air. */
  wetBulbAtEndC: number;
  flags: SeriesFlag[];
  /** Stretches of the log that a straight line stands in for. */
  gaps: Gap[];
  /** A forecast is never evidence. */
  caution: string;
  working: Working;
};

/**
 * Core, surface and mean over time, drying loss, the stall, and when the core reaches the
 * limit and completes the hold, for a chamber program, a chamber log or a log that a program
 * goes on from, with a band. A gap in the log is bridged by a straight line and flagged.
 * Range: see SLAB_WORKING; 1 minute to 48 hours in all. Throws DomainError outside it, on a limit
 * under 62.8 C or 30 minutes, and without stages and log.
 */
export function forecastSmoke(input: SmokeForecastInput): SmokeForecast {
  const limitC = within(input.limitC ?? CORE_LIMIT_C, 'limitC', { low: CORE_LIMIT_C, high: 95, unit: 'C', label: 'core limit', remedy: 'a club may ask for more, not less' });
  const holdMinutes = within(input.holdMinutes ?? HOLD_LIMIT_MINUTES, 'holdMinutes', { low: HOLD_LIMIT_MINUTES, high: 600, unit: 'min', label: 'minutes to hold', remedy: 'a club may ask for more, not less' });
  const sampleMinutes = within(input.sampleMinutes ?? 2, 'sampleMinutes', { low: 0.5, high: 60, unit: 'min', label: 'minutes between points', remedy: 'enter 0.5 to 60' });
  const { segments, flags, gaps, loggedMinutes } = driveOf(input);
  const setups = slabCases(input, input.heat, true, input.thicknessUncertaintyMm);
  const runs = Object.fromEntries(CASES.map((name) => [name, smokeRun(runSlab(setups[name], segments), limitC, holdMinutes, sampleMinutes)])) as Record<Case, SmokeRun>;
  const last = segments.at(-1)!;
  return {
    ...runs, limitC, holdMinutes,
    lastsMinutes: last.toS / 60, loggedMinutes,
    wetBulbAtEndC: round1(wetBulbC(last.to.airC, last.to.vapourKPa)),
    flags, gaps,
    caution: 'A forecast, not evidence: only a logged core in the thickest piece counts.',
    working: { inputs: [...slabInputs(input, input.heat), ...(input.heatFrom === undefined ? [] : [{ name: 'h is', value: input.heatFrom }]), { name: 'core limit', value: limitC, unit: 'C' }, { name: 'hold', value: holdMinutes, unit: 'min' }], ...SLAB_WORKING },
  };
}

function driveOf({ stages, log }: SmokeForecastInput): Pick<SmokeForecast, 'flags' | 'gaps' | 'loggedMinutes'> & { segments: AirSegment[] } {
  if (stages === undefined && log === undefined) {
    throw new DomainError({ code: 'program.one', field: 'stages', label: 'chamber program', value: undefined, problem: 'or a chamber log is needed', remedy: 'enter the stages, or send the log' });
  }
  if (log === undefined) return { segments: segmentsOfStages(stages!), flags: [], gaps: [], loggedMinutes: null };
  const { segments: logged, flags, gaps: all, startAt } = segmentsOfLog(log);
  const startS = log.startAt === undefined ? 0 : Math.max(0, (new Date(log.startAt).getTime() - Date.parse(startAt)) / 1000);
  const run = shifted(segmentsFrom(logged, startS), -startS);
  const endS = run.at(-1)?.toS;
  if (endS === undefined) throw new DomainError({ code: 'log.before-start', field: 'log.startAt', label: 'start of the fish', value: log.startAt, problem: "is after the chamber log's end", remedy: 'log the chamber while the fish is in it' });
  const gaps = all.filter(({ toAt }) => Date.parse(toAt) - Date.parse(startAt) > startS * 1000);
  if (stages === undefined) return { segments: run, flags, gaps, loggedMinutes: endS / 60 };
  const next = shifted(segmentsOfStages(stages), endS);
  within(next.at(-1)!.toS / 60, 'stages', { low: 1, high: LONGEST_RUN_MINUTES, unit: 'min', label: 'length of the log and the program', remedy: 'enter at most 48 hours' });
  return { segments: [...run, ...next], flags, gaps, loggedMinutes: endS / 60 };
}

function smokeRun(trace: SlabTrace, limitC: number, holdMinutes: number, sampleMinutes: number): SmokeRun {
  const last = trace.minutes.length - 1;
  const { toLimit, toHold } = limitTimes(trace, limitC, holdMinutes);
  return {
    points: pointsOf(trace, sampleMinutes),
    minutesToLimit: toLimit,
    minutesToHold: toHold,
    maxCoreC: trace.coreC.reduce((a, b) => Math.max(a, b)),
    endCoreC: trace.coreC[last]!,
    lossGPerKg: trace.lossGPerKg[last]!,
    stall: findStall(trace),
  };
}

function pointsOf(trace: SlabTrace, sampleMinutes: number): SmokePoint[] {
  const end = trace.minutes.at(-1)!;
  const count = Math.ceil(end / sampleMinutes - 1e-9);
  return Array.from({ length: count + 1 }, (_, i) => {
    const minutes = Math.min(i * sampleMinutes, end);
    const read = (values: number[]) => Math.round(readTrace(trace.minutes, values, minutes) * 100) / 100;
    return { minutes, airC: read(trace.airC), coreC: read(trace.coreC), surfaceC: read(trace.surfaceC), meanC: read(trace.meanC), lossGPerKg: read(trace.lossGPerKg) };
  });
}

/** First time at the limit, and the end of the first unbroken hold. */
export function limitTimes({ minutes, coreC }: SlabTrace, limitC: number, holdMinutes: number): { toLimit: number | null; toHold: number | null } {
  let since: number | null = coreC[0]! >= limitC ? 0 : null;
  let toLimit = since;
  for (let i = 1; i < minutes.length; i += 1) {
    const [before, now] = [coreC[i - 1]!, coreC[i]!];
    const crossing = () => minutes[i - 1]! + ((limitC - before) / (now - before)) * (minutes[i]! - minutes[i - 1]!);
    if (since !== null && since + holdMinutes <= (now >= limitC ? minutes[i]! : crossing())) return { toLimit, toHold: since + holdMinutes };
    if (now >= limitC) since ??= crossing();
    else since = null;
    toLimit ??= since;
  }
  return { toLimit, toHold: null };
}
