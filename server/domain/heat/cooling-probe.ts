type Timed = { at: Date; celsius: number };
type StageTimes = { kind: string; finishedAt: Date | string | null };

/** A probe put into hot fish needs this long to show its core: common practice, no source. */
const SETTLES_MS = 30 * 60_000;
/** After this long a fish that cools is colder than it was: common practice, no source. */
const COOLS_MS = 60 * 60_000;
/** More than a probe wanders, in fish warmer than a cold store. Common practice, no source. */
const WANDERS_C = 2;
const COLD_STORE_C = 21;
/** Hotter than any core even in Fahrenheit: what a broken probe writes. */
const NO_CORE_C = 248;

/** When the last smoke stage ended, in ms since 1970; null while one runs and where there is none. */
export function smokeEndedMs(stages: readonly StageTimes[]): number | null {
  const ends = stages.filter(({ kind }) => kind === 'smoke').map(({ finishedAt }) => (finishedAt === null ? NaN : new Date(finishedAt).getTime()));
  return ends.length === 0 || ends.some(Number.isNaN) ? null : Math.max(...ends);
}

/**
 * Whether a core log tells of the cooling alone, so that it says nothing of the hold: every one of its readings, odd ones too,
 * lies after the end of smoking (ms since 1970, null: not ended), and the fish was not heated in it. A log that climbs above
 * 21 C by more than 2 C after its first half hour, or has not fallen by 2 C after its first hour, is that of a heating whose
 * clock or whose stage's end is wrong: it counts. Source: rule smoke.core asks for the coldest spot in the smoke; the limits
 * here are common practice.
 */
export function tellsOfCoolingOnly(readings: readonly Timed[], endedMs: number | null): boolean {
  if (endedMs === null || readings.length === 0) return false;
  const times = readings.map(({ at }) => at.getTime());
  const first = times.reduce((a, b) => Math.min(a, b));
  if (!(first > endedMs)) return false;
  const highest = (from: number, to: number) => readings.reduce((max, { celsius }, i) => (times[i]! >= from && times[i]! <= to && celsius <= NO_CORE_C ? Math.max(max, celsius) : max), -Infinity);
  const settled = highest(first, first + SETTLES_MS);
  const hotterAfter = (ms: number, than: number) => highest(first + ms + 1, Infinity) > Math.max(COLD_STORE_C, than);
  return !hotterAfter(SETTLES_MS, settled + WANDERS_C) && !hotterAfter(COOLS_MS, settled - WANDERS_C);
}

/** The warmest that raw fish is taken for: as in readings.ts. */
const WARMEST_RAW_C = 35;

/** When the first smoke stage began, in ms since 1970; null where there is none. */
export function smokeBeganMs(stages: readonly { kind: string; startedAt: Date | string }[]): number | null {
  const starts = stages.filter(({ kind }) => kind === 'smoke').map(({ startedAt }) => new Date(startedAt).getTime());
  return starts.length === 0 ? null : Math.min(...starts);
}

/**
 * Whether a list of core readings that belongs to no stage tells of the raw fish alone (rule chill.exposure), so that it says
 * nothing of the smoke: every one of them lies before smoking began (ms since 1970, null: not begun) and none is warmer than
 * raw fish. One that is, is that of a heating whose clock or whose stage's start is wrong: it counts.
 */
export function tellsOfRawOnly(readings: readonly Timed[], beganMs: number | null): boolean {
  return beganMs !== null && readings.length > 0 && readings.every(({ at, celsius }) => at.getTime() <= beganMs && (celsius <= WARMEST_RAW_C || celsius > NO_CORE_C));
}
