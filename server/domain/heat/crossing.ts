import type { Series } from './series.ts';

/** Minutes from the series' start between which something happened. */
export type Moment = { earliest: number; latest: number };

/**
 * When a series first falls to a temperature, at or after a minute: exact on a straight
 * line between readings that join, a span when it falls in a gap, null when it never does.
 */
export function crossing({ minutes, celsius }: Series, toC: number, maxGapMinutes: number, afterMinutes: number): Moment | null {
  for (let i = 0; i < minutes.length; i += 1) {
    if (minutes[i]! < afterMinutes - 1e-9 || celsius[i]! > toC) continue;
    const before = i - 1;
    // At the temperature from the first reading on: it got there no later than that, and nobody knows how much sooner.
    if (before < 0) return { earliest: Math.min(minutes[i]!, afterMinutes), latest: minutes[i]! };
    if (celsius[before]! <= toC) return { earliest: minutes[i]!, latest: minutes[i]! };
    const length = minutes[i]! - minutes[before]!;
    if (length > maxGapMinutes + 1e-9) return { earliest: Math.max(minutes[before]!, afterMinutes), latest: minutes[i]! };
    const at = minutes[before]! + ((celsius[before]! - toC) / (celsius[before]! - celsius[i]!)) * length;
    return { earliest: Math.max(at, afterMinutes), latest: Math.max(at, afterMinutes) };
  }
  return null;
}

/** "1 h 20 min", rounded up, so that a minute too long never reads as the limit. */
export function hoursAndMinutes(minutes: number): string {
  const whole = Math.ceil(minutes - 1e-6);
  return `${Math.floor(whole / 60)} h ${whole % 60} min`;
}
