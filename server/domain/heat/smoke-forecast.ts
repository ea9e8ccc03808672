import { CORE_LIMIT_C, HOLD_LIMIT_MINUTES } from '../evidence.ts';
import { DomainError } from '../working.ts';
import type { Working } from '../working.ts';
import { segmentsOfLog, segmentsOfStages } from './drive.ts';
import type { ChamberLog, ChamberStage } from './drive.ts';
import { wetBulbC } from './humid-air.ts';
import { round1 } from './series.ts';
import type { SeriesFlag } from './series.ts';
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
  /** A program, or what the chamber's logger wrote: one of the two. */
  stages?: readonly ChamberStage[];
  log?: ChamberLog;
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
  /** Where a wet face settles in the last air. */
  wetBulbAtEndC: number;
  flags: SeriesFlag[];
  /** A forecast is never evidence. */
  caution: string;
  working: Working;
};

/**
 * Core, surface and mean over time, drying loss, the stall, and when the core reaches the
 * limit and completes the hold, for a chamber program or a chamber log, with a band.
 * Range: see SLAB_WORKING; program or log of 1 minute to 48 hours. Throws DomainError
 * outside it, on a limit under 62.8 C or 30 minutes, and without exactly one of stages and log.
 */
export function forecastSmoke(input: SmokeForecastInput): SmokeForecast {
  const limitC = within(input.limitC ?? CORE_LIMIT_C, 'limitC', { low: CORE_LIMIT_C, high: 95, unit: 'C', label: 'core limit', remedy: 'a club may ask for more, not less' });
  const holdMinutes = within(input.holdMinutes ?? HOLD_LIMIT_MINUTES, 'holdMinutes', { low: HOLD_LIMIT_MINUTES, high: 600, unit: 'min', label: 'minutes to hold', remedy: 'a club may ask for more, not less' });
  const sampleMinutes = within(input.sampleMinutes ?? 2, 'sampleMinutes', { low: 0.5, high: 60, unit: 'min', label: 'minutes between points', remedy: 'enter 0.5 to 60' });
  const { segments, flags } = driveOf(input);
  const setups = slabCases(input, input.heat, true, input.thicknessUncertaintyMm);
  const runs = Object.fromEntries(CASES.map((name) => [name, smokeRun(runSlab(setups[name], segments), limitC, holdMinutes, sampleMinutes)])) as Record<Case, SmokeRun>;
  const last = segments.at(-1)!;
  return {
    ...runs, limitC, holdMinutes,
    lastsMinutes: last.toS / 60,
    wetBulbAtEndC: round1(wetBulbC(last.to.airC, last.to.vapourKPa)),
    flags,
    caution: 'A forecast, not evidence: only a logged core in the thickest piece counts.',
    working: { inputs: [...slabInputs(input, input.heat), { name: 'core limit', value: limitC, unit: 'C' }, { name: 'hold', value: holdMinutes, unit: 'min' }], ...SLAB_WORKING },
  };
}

function driveOf({ stages, log }: SmokeForecastInput): { segments: AirSegment[]; flags: SeriesFlag[] } {
  if ((stages === undefined) === (log === undefined)) {
    throw new DomainError({ code: 'program.one', field: 'stages', label: 'chamber program', value: undefined, problem: 'or a chamber log is needed, and not both', remedy: 'enter the stages, or send the log' });
  }
  return stages ? { segments: segmentsOfStages(stages), flags: [] } : segmentsOfLog(log!);
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
