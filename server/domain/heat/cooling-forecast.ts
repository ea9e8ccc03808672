import { DomainError } from '../working.ts';
import type { Working } from '../working.ts';
import type { CoolingEnds } from './cooling-checks.ts';
import { CASES, SLAB_WORKING, slabCases, slabInputs } from './slab.ts';
import type { Case, HeatTransfer, SlabInput } from './slab.ts';
import { readTrace, runSlab } from './slab-run.ts';
import type { AirSegment, SlabTrace } from './slab-run.ts';
import { THICKNESS, within } from './within.ts';

export type Medium = 'room' | 'cabinet' | 'fan-cabinet' | 'ice-bath';

/** Still air, moved air and stirred ice water round a tray, from memory, W/m2 K. */
export const MEDIUM_H: Readonly<Record<Medium, HeatTransfer>> = {
  'room': { lowWPerM2K: 5, likelyWPerM2K: 8, highWPerM2K: 10 },
  'cabinet': { lowWPerM2K: 5, likelyWPerM2K: 7, highWPerM2K: 10 },
  'fan-cabinet': { lowWPerM2K: 12, likelyWPerM2K: 20, highWPerM2K: 30 },
  'ice-bath': { lowWPerM2K: 100, likelyWPerM2K: 250, highWPerM2K: 500 },
};

export type CoolingStage = { medium: Medium; mediumC: number; minutes: number; heat?: HeatTransfer };

/** Minutes of each step: 57 to 21 C and 57 to 5 C (cool.fc), 21 to 4.4 C (cool.hg). */
export type CoolingLimits = { to21Minutes: number; to5Minutes: number; to4C4Minutes: number };
export const COOLING_LIMITS: Readonly<CoolingLimits> = { to21Minutes: 120, to5Minutes: 360, to4C4Minutes: 240 };
/** From 60 C to 21 C (cool.hg); no club's limit of its own. */
const HG_FIRST_MINUTES = 120;

/** `thicknessMm` is the depth in the tray, or of a piece. `startC` may be up to 100 C. */
export type CoolingForecastInput = SlabInput & {
  stages: readonly CoolingStage[];
  thicknessUncertaintyMm?: number;
  sampleMinutes?: number;
  /** A club may ask for less time, never for more. */
  limits?: CoolingLimits;
  /** And for a colder end of a step, never for a warmer one. */
  clubEndsC?: CoolingEnds;
};

export type CoolingRun = {
  points: { minutes: number; mediumC: number; coreC: number; meanC: number; surfaceC: number }[];
  /** Minutes from the start until the core is down to it; null when it never is. */
  minutesTo57C: number | null;
  minutesTo21C: number | null;
  minutesTo5C: number | null;
  minutesTo4C4: number | null;
  meetsFc: boolean;
  meetsHg: boolean;
};

export type CoolingForecast = {
  slow: CoolingRun;
  likely: CoolingRun;
  fast: CoolingRun;
  /** Both rules hold even in the slow case. */
  passes: boolean;
  /** The deepest whole millimetre whose slow case passes both rules; null when none of 3 mm or more does. */
  deepestMm: number | null;
  /** What it was held against. */
  limits: CoolingLimits;
  advice: string;
  caution: string;
  working: Working;
};

/**
 * How fast a tray or piece cools through the stages given, whether cool.fc and cool.hg would
 * hold, and the deepest tray that would. The face is taken as covered: evaporation would only
 * help. Range: 3 to 150 mm, start -1 to 100 C, medium -1 to 40 C, 1 to 10 stages, 48 hours.
 * Throws DomainError outside it and on limits looser than the rules'. Sources: Choi and Okos 1986; h from memory.
 */
export function forecastCooling(input: CoolingForecastInput): CoolingForecast {
  const sampleMinutes = within(input.sampleMinutes ?? 5, 'sampleMinutes', { low: 1, high: 60, unit: 'min', label: 'minutes between points', remedy: 'enter 1 to 60' });
  const limits = checkLimits(input.limits ?? COOLING_LIMITS);
  const runs = Object.fromEntries(CASES.map((name) => [name, coolingRun(traceOf(input, name), sampleMinutes, limits, input.clubEndsC)])) as Record<Case, CoolingRun>;
  const passes = runs.slow.meetsFc && runs.slow.meetsHg;
  const deepestMm = deepestPassing(input, limits);
  return {
    ...runs, passes, deepestMm, limits,
    advice: adviceWords(passes, deepestMm, input.thicknessMm),
    caution: 'A forecast, not evidence: log the core while it cools.',
    working: {
      ...SLAB_WORKING,
      inputs: [
        ...slabInputs(input, heatOf(input.stages[0]!)),
        ...input.stages.map(({ medium, mediumC, minutes }, i) => ({ name: `stage ${i + 1}`, value: `${medium}, ${mediumC} C, ${minutes} min` })),
        { name: 'allowed from 57 C to 21 C', value: limits.to21Minutes, unit: 'min' }, { name: 'allowed from 57 C to 5 C', value: limits.to5Minutes, unit: 'min' }, { name: 'allowed from 21 C to 4.4 C', value: limits.to4C4Minutes, unit: 'min' },
      ],
      model: 'cooling', formula: 'Heat through a slab in finite volumes; heat out at the face is h (face - medium). The depth advised is the largest whose slow case holds cool.fc and cool.hg.',
      source: 'Choi and Okos 1986; h of still and moved air and of ice water from memory; limits FC 3-501.14 and HG',
      uncertainty: 'The band spans h and depth. A crowded cabinet or a lid is slower still.',
    },
  };
}

function checkLimits(limits: CoolingLimits): CoolingLimits {
  const words = { to21Minutes: 'minutes from 57 C to 21 C', to5Minutes: 'minutes from 57 C to 5 C', to4C4Minutes: 'minutes from 21 C to 4.4 C' };
  for (const field of Object.keys(COOLING_LIMITS) as (keyof CoolingLimits)[]) within(limits[field], `limits.${field}`, { low: 1, high: COOLING_LIMITS[field], unit: 'min', label: words[field], remedy: 'a club may ask for less time, not for more' });
  return limits;
}

function heatOf({ medium, heat }: CoolingStage): HeatTransfer {
  return heat ?? MEDIUM_H[medium];
}

function traceOf(input: CoolingForecastInput, name: Case): SlabTrace {
  const { stages } = input;
  if (stages.length === 0 || stages.length > 10) {
    throw new DomainError({ code: 'cooling.stages', field: 'stages', label: 'number of stages', value: stages.length, problem: 'is not from 1 to 10', remedy: 'say where it cools, and for how long' });
  }
  let minutes = 0;
  let setup = null;
  const segments: AirSegment[] = [];
  for (const [i, stage] of stages.entries()) {
    if (!(stage.medium in MEDIUM_H)) {
      throw new DomainError({ code: 'cooling.medium', field: `stages.${i}.medium`, label: 'cooling medium', value: stage.medium, problem: 'is not known', remedy: `choose ${Object.keys(MEDIUM_H).join(', ')}` });
    }
    const airC = within(stage.mediumC, `stages.${i}.mediumC`, { low: -1, high: 40, unit: 'C', label: 'temperature of the cooling medium', remedy: 'enter -1 to 40 C; freezing is not reckoned' });
    const cases = slabCases(input, heatOf(stage), false, input.thicknessUncertaintyMm, 100);
    setup ??= cases[name];
    const fromS = minutes * 60;
    minutes += within(stage.minutes, `stages.${i}.minutes`, { low: 1, high: 48 * 60, unit: 'min', label: 'length of a stage', remedy: 'enter 1 minute to 48 hours' });
    const air = { airC, vapourKPa: 0 };
    segments.push({ fromS, toS: minutes * 60, from: air, to: air, jump: true, hWPerM2K: cases[name].hWPerM2K });
  }
  within(minutes, 'stages', { low: 1, high: 48 * 60, unit: 'min', label: 'length of the cooling', remedy: 'enter at most 48 hours' });
  return runSlab(setup!, segments);
}

function coolingRun(trace: SlabTrace, sampleMinutes: number, limits: CoolingLimits, ends?: CoolingEnds): CoolingRun {
  const end = trace.minutes.at(-1)!;
  const to = (celsius: number) => firstAtOrBelow(trace, celsius);
  const rules = rulesOf(trace, limits, ends);
  return {
    points: Array.from({ length: Math.ceil(end / sampleMinutes - 1e-9) + 1 }, (_, i) => {
      const minutes = Math.min(i * sampleMinutes, end);
      const read = (values: number[]) => Math.round(readTrace(trace.minutes, values, minutes) * 100) / 100;
      return { minutes, mediumC: read(trace.airC), coreC: read(trace.coreC), meanC: read(trace.meanC), surfaceC: read(trace.surfaceC) };
    }),
    minutesTo57C: to(57), minutesTo21C: to(21), minutesTo5C: to(5), minutesTo4C4: to(4.4),
    ...rules,
  };
}

function rulesOf(trace: SlabTrace, { to21Minutes, to5Minutes, to4C4Minutes }: CoolingLimits, ends: CoolingEnds = {}): { meetsFc: boolean; meetsHg: boolean } {
  const at = (celsius: number) => firstAtOrBelow(trace, celsius) ?? Infinity;
  const endOf = (step: keyof CoolingEnds, ruleC: number) => at(Math.min(ends[step] ?? ruleC, ruleC));
  return {
    meetsFc: endOf('cool.fc to-21', 21) - at(57) <= to21Minutes && endOf('cool.fc to-end', 5) - at(57) <= to5Minutes,
    meetsHg: endOf('cool.hg to-21', 21) - at(60) <= HG_FIRST_MINUTES && endOf('cool.hg to-end', 4.4) - at(21) <= to4C4Minutes,
  };
}

function firstAtOrBelow({ minutes, coreC }: SlabTrace, celsius: number): number | null {
  const i = coreC.findIndex((core) => core <= celsius);
  if (i <= 0) return i === 0 ? 0 : null;
  return minutes[i - 1]! + ((coreC[i - 1]! - celsius) / (coreC[i - 1]! - coreC[i]!)) * (minutes[i]! - minutes[i - 1]!);
}

/** Deeper is never faster, so halving finds the edge. */
function deepestPassing(input: CoolingForecastInput, limits: CoolingLimits): number | null {
  const passes = (thicknessMm: number) => {
    const { meetsFc, meetsHg } = rulesOf(traceOf({ ...input, thicknessMm, thicknessUncertaintyMm: undefined }, 'slow'), limits, input.clubEndsC);
    return meetsFc && meetsHg;
  };
  let [low, high] = [THICKNESS.low, THICKNESS.high];
  if (!passes(low)) return null;
  if (passes(high)) return high;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (passes(middle)) low = middle;
    else high = middle;
  }
  return low;
}

function adviceWords(passes: boolean, deepestMm: number | null, depthMm: number): string {
  if (deepestMm === null) return 'No depth passes like this: use colder or moving air, or an ice bath.';
  if (passes) return `${depthMm} mm should pass. At most ${deepestMm} mm would.`;
  return `Split into trays of at most ${deepestMm} mm.`;
}
