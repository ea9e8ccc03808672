/** A local day as a stretch of instants: 23, 24 or 25 hours, whatever the clocks do. Labels come from local time. */
import { addDays, daysBetween, formatLocal, localDay, startOfLocalDay } from '$domain/time.ts';

export const STEP_MS = 15 * 60_000;
export const HOUR_MS = 60 * 60_000;

export interface Span {
  startMs: number;
  endMs: number;
}

export interface HourMark {
  atMs: number;
  /** '02:00'; `again` when the clocks went back and it comes a second time. */
  label: string;
  again: boolean;
  /** Where it lies in the day, 0 to 1, and how much of the day passes until the next mark. */
  at: number;
  length: number;
}

/** The instants of `days` local days from `day`. */
export function spanOf(day: string, zone: string, days = 1): Span {
  return { startMs: startOfLocalDay(day, zone).getTime(), endMs: startOfLocalDay(addDays(day, days), zone).getTime() };
}

/** The full hours of a local day. Found by asking the clock each quarter, as some clocks change by half an hour. */
export function hourMarks(day: string, zone: string): HourMark[] {
  const { startMs, endMs } = spanOf(day, zone);
  const found: { atMs: number; label: string; again: boolean }[] = [];
  const seen = new Set<string>();
  for (let atMs = startMs; atMs < endMs; atMs += STEP_MS) {
    const label = formatLocal(new Date(atMs), zone, 'time');
    if (!label.endsWith(':00') && atMs !== startMs) continue;
    found.push({ atMs, label, again: seen.has(label) });
    seen.add(label);
  }
  return found.map((mark, i) => ({
    ...mark,
    at: (mark.atMs - startMs) / (endMs - startMs),
    length: ((found[i + 1]?.atMs ?? endMs) - mark.atMs) / (endMs - startMs),
  }));
}

/** Where a stretch of time lies within a span, as parts of it from 0 to 1; what sticks out is cut off. */
export function placeIn(span: Span, startMs: number, endMs: number): { at: number; length: number } {
  const whole = span.endMs - span.startMs;
  const from = Math.min(Math.max(startMs, span.startMs), span.endMs);
  const to = Math.min(Math.max(endMs, span.startMs), span.endMs);
  return { at: (from - span.startMs) / whole, length: Math.max(0, to - from) / whole };
}

export function touches(span: Span, startMs: number, endMs: number): boolean {
  return startMs < span.endMs && endMs > span.startMs;
}

/** A shift in steps of a quarter hour that keeps at least one step of the slot inside the span. */
export function shiftWithin(span: Span, startMs: number, endMs: number, wantedMs: number): number {
  const least = Math.ceil((span.startMs + STEP_MS - endMs) / STEP_MS) * STEP_MS;
  const most = Math.floor((span.endMs - STEP_MS - startMs) / STEP_MS) * STEP_MS;
  return Math.min(Math.max(Math.round(wantedMs / STEP_MS) * STEP_MS, least), most);
}

/** The Monday of a day's week. */
export function mondayOf(day: string): string {
  // 5 January 1970 was a Monday.
  const past = daysBetween('1970-01-05', day) % 7;
  return addDays(day, -((past + 7) % 7));
}

export function weekOf(day: string): string[] {
  const monday = mondayOf(day);
  return [0, 1, 2, 3, 4, 5, 6].map((n) => addDays(monday, n));
}

/** '14:20', with its weekday when that is not the day on screen, and its date when that is a week away. */
export function timeOn(day: string, at: Date, zone: string): string {
  const time = formatLocal(at, zone, 'time');
  const away = Math.abs(daysBetween(day, localDay(at, zone)));
  if (away === 0) return time;
  const full = formatLocal(at, zone, 'day');
  return `${away < 7 ? full.slice(0, 3) : full.slice(0, -5)} ${time}`;
}
