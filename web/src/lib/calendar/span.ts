/** A local day as a stretch of instants: 23, 24 or 25 hours, whatever the clocks do. Labels come from local time. */
import { addDays, daysBetween, formatLocal, localDay, occurrences, startOfLocalDay, zonedToInstant } from '$domain/time.ts';

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

/**
 * The shift that brings a slot's start to the quarter hour nearest to where it is wanted, and keeps at least one step of
 * the slot inside the span. Less than half a step is no move, so that 14:16 stays until somebody means it.
 */
export function shiftWithin(span: Span, startMs: number, endMs: number, wantedMs: number): number {
  if (Math.abs(wantedMs) < STEP_MS / 2) return 0;
  const least = Math.ceil((span.startMs + STEP_MS - endMs + startMs) / STEP_MS) * STEP_MS;
  const most = Math.floor((span.endMs - STEP_MS) / STEP_MS) * STEP_MS;
  return Math.min(Math.max(Math.round((startMs + wantedMs) / STEP_MS) * STEP_MS, least), most) - startMs;
}

/** One step on from where a slot was shifted to, to the next quarter hour: 14:16 goes to 14:30 or back to 14:15. */
export function stepWithin(span: Span, startMs: number, endMs: number, shiftMs: number, direction: 1 | -1): number {
  const at = (startMs + shiftMs) / STEP_MS;
  const next = (direction === 1 ? Math.floor(at) + 1 : Math.ceil(at) - 1) * STEP_MS;
  // A step too short to count as a move of its own is still one when a key asks for it.
  const within = shiftWithin(span, startMs, endMs, next - startMs);
  return within === 0 && Math.abs(next - startMs) < STEP_MS / 2 ? next - startMs : within;
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

/** Whether the clock on the wall showed this time before: the hour that comes twice, its second time round. */
export function comesAgain(at: Date, zone: string): boolean {
  const local = { day: localDay(at, zone), time: formatLocal(at, zone, 'time') };
  return occurrences(local, zone) === 2 && at >= zonedToInstant(local, zone, 'later');
}

/** '14:20', with its weekday when that is not the day on screen, and its date when that is a week away. */
export function timeOn(day: string, at: Date, zone: string): string {
  const time = `${formatLocal(at, zone, 'time')}${comesAgain(at, zone) ? ' again' : ''}`;
  const away = Math.abs(daysBetween(day, localDay(at, zone)));
  if (away === 0) return time;
  const full = formatLocal(at, zone, 'day');
  return `${away < 7 ? full.slice(0, 3) : full.slice(0, -5)} ${time}`;
}

/** '22:00 to Thu 03:00'. */
export function timesOn(day: string, slot: { startsAt: string; endsAt: string }, zone: string): string {
  return `${timeOn(day, new Date(slot.startsAt), zone)} to ${timeOn(day, new Date(slot.endsAt), zone)}`;
}
