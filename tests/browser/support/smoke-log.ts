// What a logger wrote of a smoke and of the cooling after it, as text to paste; and the times of a day that began hours ago.
import { Temporal } from 'temporal-polyfill';

export const ZONE = 'Europe/London';
const MINUTE_MS = 60_000;
/** Whole minutes since smoking began, and the temperature there. */
export type Corner = readonly [minute: number, celsius: number];

/** A day of work whose smoke began so many minutes ago, to the minute. */
export function day(smokeBeganMinutesAgo: number) {
  const beganMs = Math.floor(Date.now() / MINUTE_MS - smokeBeganMinutesAgo) * MINUTE_MS;
  const at = (minute: number) => Temporal.Instant.fromEpochMilliseconds(beganMs + minute * MINUTE_MS).toZonedDateTimeISO(ZONE).toPlainDateTime();
  return {
    /** As the API takes it. */
    instant: (minute: number) => new Date(beganMs + minute * MINUTE_MS).toISOString(),
    /** As a date and time control takes it. */
    control: (minute: number) => at(minute).toString({ smallestUnit: 'minute' }),
    /** The local day on which smoking began, as "28 Nov 2026", and days after it. */
    dayAfter: (days: number) => at(0).toPlainDate().add({ days }),
    /** The log, straight from corner to corner, as the logger's clock has it. */
    log: (heading: string, corners: readonly Corner[], step = 5) =>
      [`Time;${heading} °C`, ...pointsOf(corners, step).map(([minute, celsius]) => `${at(minute).toString({ smallestUnit: 'minute' }).replace('T', ' ')};${celsius.toFixed(1)}`)].join('\n'),
    readings: (corners: readonly Corner[]) => pointsOf(corners, 5).map(([minute, celsius]) => ({ at: new Date(beganMs + minute * MINUTE_MS).toISOString(), celsius: Number(celsius.toFixed(1)) })),
  };
}
export type Day = ReturnType<typeof day>;

/** Every `step` minutes, of which each corner is a multiple. */
function pointsOf(corners: readonly Corner[], step: number): Corner[] {
  return corners.slice(1).flatMap(([to, c1], i): Corner[] => {
    const [from, c0] = corners[i]!;
    const points: Corner[] = [];
    for (let m = i === 0 ? from : from + step; m <= to; m += step) points.push([m, c0 + ((c1 - c0) * (m - from)) / (to - from)]);
    return points;
  });
}

/** A small cabinet with alder: warming, a slow climb, hot at the end. */
export const CHAMBER: readonly Corner[] = [[0, 28], [20, 52], [60, 62], [100, 74], [150, 90], [240, 98]];
/** A core of a thick fillet in it: it stalls near 52 C while water evaporates, passes 62.8 C at minute 195 and is taken out at 240. */
export const GOOD_CORE: readonly Corner[] = [[0, 6], [30, 22], [60, 38], [90, 48], [120, 52], [150, 55], [195, 62.8], [225, 66.2], [240, 66.4]];
/** It falls past 62.8 C at minute 245, 57 C at 255, 21 C at 345, 5 C at 525 and 4.4 C at 540. */
export const GOOD_COOLING: readonly Corner[] = [[240, 66.4], [245, 62.8], [255, 57], [345, 21], [525, 5], [540, 4.4]];
/** A fire that went down: never above 61 C. */
export const COLD_CORE: readonly Corner[] = [[0, 6], [60, 38], [120, 52], [180, 58], [225, 61], [240, 60.4]];
/** Every 3 minutes: at 62.8 C at minute 216, and the log ends at 240, which is 24 minutes. */
export const SHORT_CORE: readonly Corner[] = [[0, 6], [60, 38], [120, 52], [171, 58], [216, 62.8], [240, 65.5]];
/** From 57 C at minute 255 to 21 C at 435: three hours, left on the bench. */
export const SLOW_COOLING: readonly Corner[] = [[240, 66.4], [255, 57], [435, 21], [545, 4.2]];
