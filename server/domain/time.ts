import * as Instant from 'temporal-polyfill/fns/Instant';
import * as PlainDate from 'temporal-polyfill/fns/PlainDate';
import * as PlainDateTime from 'temporal-polyfill/fns/PlainDateTime';
import * as Zoned from 'temporal-polyfill/fns/ZonedDateTime';
import { DomainError } from './working.ts';
import type { Day } from './working.ts';

export type LocalTime = { day: Day; time: string };
/**
 * What to do about the hour that comes twice when clocks go back: 'earlier' and
 * 'later' choose one, 'reject-gap' takes the earlier. A time that clocks skip is
 * always refused.
 */
export type Disambiguation = 'reject-gap' | 'earlier' | 'later';

const WEEKDAYS = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'];
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** Whether the text names a time zone with its own clock changes, such as 'Europe/Oslo'. Bare offsets are not taken. */
export function isTimeZone(zone: string): boolean {
  if (!/^[A-Za-z][A-Za-z0-9_+\-/]{1,63}$/.test(zone)) return false;
  try {
    Zoned.create(0n, zone);
    return true;
  } catch {
    return false;
  }
}

/** Whether the text is a real calendar day written 'YYYY-MM-DD', from 1900 to 2999. */
export function isDay(text: string): boolean {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (!match) return false;
  const [year, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])];
  if (year < 1900 || year > 2999 || month < 1 || month > 12 || day < 1) return false;
  return day <= PlainDate.daysInMonth(PlainDate.create(year, month, 1));
}

/** The same day, or a DomainError that names the field. */
export function checkDay(text: string, field = 'day', label = field): Day {
  if (typeof text === 'string' && isDay(text)) return text;
  throw new DomainError({
    code: 'day.unreadable', field, label, value: text,
    problem: 'is not a day of the calendar', remedy: 'write it like 2025-06-30',
  });
}

/** The local day an instant falls on in a zone. */
export function localDay(instant: Date, zone: string): Day {
  return PlainDate.toString(Zoned.toPlainDate(zoned(instant, zone)));
}

/** The day `n` days later (earlier when negative). Calendar arithmetic: clock changes play no part. */
export function addDays(day: Day, n: number): Day {
  return PlainDate.toString(PlainDate.addDays(plain(day), n));
}

/** The day `n` months later; the last day of a shorter month when the day does not exist. */
export function addMonths(day: Day, n: number): Day {
  return PlainDate.toString(PlainDate.addMonths(plain(day), n));
}

/** Whole days from `a` to `b`; negative when `b` is earlier. */
export function daysBetween(a: Day, b: Day): number {
  return PlainDate.diffDays(plain(a), plain(b));
}

/** The earliest of some days; DomainError when there are none. */
export function earliestDay(days: readonly Day[]): Day {
  const sorted = days.map((day) => checkDay(day)).sort();
  if (sorted[0] === undefined) {
    throw new DomainError({ code: 'day.none', field: 'days', value: '', problem: 'hold no day', remedy: 'give at least one day' });
  }
  return sorted[0];
}

/** The instant a local day begins: midnight, or the first moment there is where clocks skip it. */
export function startOfLocalDay(day: Day, zone: string): Date {
  checkZone(zone);
  return instantDate(PlainDate.toZonedDateTime(plain(day), zone));
}

/** How often a local time comes: 0 in the gap when clocks go forward, 2 when they go back, else 1. */
export function occurrences(local: LocalTime, zone: string): 0 | 1 | 2 {
  const { earlier, later } = bothReadings(local, zone);
  if (earlier.getTime() === later.getTime()) return 1;
  return showTime(zoned(earlier, zone)) === local.time ? 2 : 0;
}

/**
 * The instant of a local day and 'HH:MM' in a zone. Throws DomainError on an
 * unreadable day or time, and on a time that does not exist because clocks go
 * forward then. See Disambiguation for the hour that comes twice.
 */
export function zonedToInstant(local: LocalTime, zone: string, disambiguation: Disambiguation = 'reject-gap'): Date {
  if (occurrences(local, zone) === 0) {
    throw new DomainError({
      code: 'time.skipped', field: 'time', value: `${local.day} ${local.time}`, shown: `${local.day} ${local.time}`,
      problem: `does not exist in ${zone}, where clocks go forward then`, remedy: 'choose a time before or after the change',
    });
  }
  const { earlier, later } = bothReadings(local, zone);
  return disambiguation === 'later' ? later : earlier;
}

/** An instant for a person: '14:20', 'Tue 3 Jun 2025' or 'Tue 3 Jun 2025, 14:20', in the zone given. */
export function formatLocal(instant: Date, zone: string, style: 'time' | 'day' | 'day-time'): string {
  const at = zoned(instant, zone);
  if (style === 'time') return showTime(at);
  const day = formatDay(PlainDate.toString(Zoned.toPlainDate(at)));
  return style === 'day' ? day : `${day}, ${showTime(at)}`;
}

/** A local day for a person: 'Tue 3 Jun 2025'. */
export function formatDay(day: Day): string {
  const date = plain(day);
  const [year, month, dayOfMonth] = day.split('-').map(Number) as [number, number, number];
  return `${WEEKDAYS[PlainDate.dayOfWeek(date) - 1]} ${dayOfMonth} ${MONTHS[month - 1]} ${year}`;
}

/** A local day of this season for a person, without weekday and year: '3 Jun'. */
export function formatShortDay(day: Day): string {
  plain(day);
  const [, month, dayOfMonth] = day.split('-').map(Number) as [number, number, number];
  return `${dayOfMonth} ${MONTHS[month - 1]}`;
}

function bothReadings(local: LocalTime, zone: string): { earlier: Date; later: Date } {
  checkZone(zone);
  const match = /^([01]\d|2[0-3]):([0-5]\d)$/.exec(local.time);
  if (!match) {
    throw new DomainError({
      code: 'time.unreadable', field: 'time', value: local.time,
      problem: 'is not a time of day', remedy: 'write it like 14:20',
    });
  }
  const [year, month, day] = checkDay(local.day).split('-').map(Number) as [number, number, number];
  const plainTime = PlainDateTime.create(year, month, day, Number(match[1]), Number(match[2]));
  const read = (disambiguation: 'earlier' | 'later') => instantDate(PlainDateTime.toZonedDateTime(plainTime, zone, { disambiguation }));
  return { earlier: read('earlier'), later: read('later') };
}

function zoned(instant: Date, zone: string): Zoned.Record {
  checkZone(zone);
  if (!(instant instanceof Date) || Number.isNaN(instant.getTime())) {
    throw new DomainError({ code: 'instant.unreadable', field: 'instant', value: instant, problem: 'is no time', remedy: 'give a date and a time' });
  }
  return Instant.toZonedDateTimeISO(Instant.fromEpochMilliseconds(instant.getTime()), zone);
}

function checkZone(zone: string): void {
  if (isTimeZone(zone)) return;
  throw new DomainError({
    code: 'zone.unknown', field: 'zone', label: 'time zone', value: zone,
    problem: 'is not known', remedy: 'use a name such as Europe/Oslo',
  });
}

function plain(day: Day): PlainDate.Record {
  const [year, month, dayOfMonth] = checkDay(day).split('-').map(Number) as [number, number, number];
  return PlainDate.create(year, month, dayOfMonth);
}

function instantDate(at: Zoned.Record): Date {
  return new Date(at.epochMilliseconds);
}

function showTime(at: Zoned.Record): string {
  return `${String(at.hour).padStart(2, '0')}:${String(at.minute).padStart(2, '0')}`;
}
