import { flagReadings } from './reading-flags.ts';
import type { FlaggedReading, ReadingPlace } from './reading-flags.ts';
import { readHeading, readLine } from './reading-list-line.ts';
import type { Column, ReadLine } from './reading-list-line.ts';
import { addDays, daysBetween, isDay, occurrences, zonedToInstant } from './time.ts';
import { pairedC } from './units.ts';
import { DomainError } from './working.ts';
import type { Day } from './working.ts';

export type ReadingListInput = {
  text: string;
  place: ReadingPlace;
  /** What a number without a unit is in. */
  unit: 'C' | 'F';
  /** The local day of lines without a date, and what tells 6/10 from 10/6. */
  day: Day;
  zone: string;
  now: Date;
  /** Lines that are known to be unreadable, by number, with why. */
  refused?: ReadonlyMap<number, string>;
};
export type TakenReading = FlaggedReading & { lineNo: number };
export type LeftOut = { lineNo: number; text: string; why: string };
export type ReadingList = { readings: TakenReading[]; leftOut: LeftOut[] };

export const MOST_READINGS = 5000;
export const LONGEST_TEXT = 500_000;
/** Some lines are headings and remarks; each that is left out is told, so they are not without end. */
const MOST_LINES = 2 * MOST_READINGS;
const LONGEST_SHOWN = 60;
const HALF_DAY_S = 12 * 3600;
/** A date that can be read two ways is the one this near to the day given. */
const NEAR_DAYS = 7;
const FUTURE_MS = 5 * 60_000;
const EARLIEST_MS = Date.UTC(2000, 0, 1);

/** A line of a log as one may write it, where bare numbers are in `unit`: 62.8 °C is 145 °F (rule smoke.core). */
export const lineExample = (unit: 'C' | 'F'): string => `14:20 ${unit === 'F' ? '145' : '62.8'}`;

/**
 * Reads a temperature log as a logger writes it or a person types it: a time and a
 * temperature on each line, in either order, with or without a date, a column of numbers,
 * a heading, a unit, relative humidity in per cent; parted by commas, semicolons, tabs or
 * spaces; decimal point or comma. Fahrenheit is turned into Celsius where the line, the
 * heading or `unit` says so. Times are local unless they carry an offset; without a date
 * they run on from `day`, past midnight. Nothing is guessed and nothing is dropped without
 * a word: what cannot be read is left out by line with why; what is odd is flagged.
 * Range: 1 to 5,000 readings, years 2000 to now. Throws DomainError on a text that is too long or of too many lines.
 */
export function parseReadingList(input: ReadingListInput): ReadingList {
  if (input.text.length > LONGEST_TEXT) {
    throw new DomainError({ code: 'readings.too-long', field: 'text', value: input.text.length, shown: `of ${input.text.length} characters`, problem: 'is too long', remedy: `send at most ${MOST_READINGS} readings at a time` });
  }
  const lines = input.text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/);
  const written = lines.reduce((sum, line) => (line.trim() === '' ? sum : sum + 1), 0);
  if (written > MOST_LINES) {
    throw new DomainError({ code: 'readings.too-long', field: 'text', value: written, shown: `of ${written} lines`, problem: `is more than ${MOST_LINES}`, remedy: `send at most ${MOST_READINGS} readings at a time` });
  }
  const walk: Walk = { input, columns: null, headingUnit: null, day: input.day, lastSeconds: null, last: null, hours: new Map() };
  const taken: { at: Date; celsius: number; humidityPct: number | null; lineNo: number }[] = [];
  const leftOut: LeftOut[] = [];
  const read = lines.map((line) => readLine(line, null));
  const order = slashOrder(read);
  lines.forEach((line, i) => {
    if (line.trim() === '') return;
    const leave = (why: string) => leftOut.push({ lineNo: i + 1, text: line.trim().slice(0, LONGEST_SHOWN), why });
    const refused = input.refused?.get(i + 1);
    if (refused !== undefined) return void leave(refused);
    const heading = readHeading(line);
    if (heading) {
      walk.columns = heading.columns.length > 0 ? heading.columns : walk.columns;
      walk.headingUnit = heading.unit ?? walk.headingUnit;
      leave('a heading');
      return;
    }
    const found = walk.columns ? readLine(line, walk.columns) : read[i]!;
    const reading = 'why' in found ? found : placed(found, order, walk);
    if ('why' in reading) leave(reading.why);
    else taken.push({ ...reading, lineNo: i + 1 });
  });
  if (taken.length > MOST_READINGS) {
    throw new DomainError({ code: 'readings.too-many', field: 'text', value: taken.length, shown: `of ${taken.length} readings`, problem: `is more than ${MOST_READINGS}`, remedy: 'send them in parts' });
  }
  const flagged = flagReadings(taken, input.place);
  return { readings: flagged.map((reading, i) => ({ ...reading, lineNo: taken[i]!.lineNo })), leftOut };
}

type Walk = {
  input: ReadingListInput; columns: Column[] | null; headingUnit: 'C' | 'F' | null;
  /** Where lines without a date have got to. */
  day: Day; lastSeconds: number | null; last: Date | null; hours: Map<string, number | null>;
};
type SlashOrder = 'day-first' | 'month-first' | null;

/** The order of day and month that the whole list allows, or null when it allows both. */
function slashOrder(read: readonly (ReadLine | { why: string })[]): SlashOrder {
  const dates = read.flatMap((r) => ('why' in r || r.date === null || r.date.order === 'iso' ? [] : [r.date]));
  if (dates.some((d) => d.first > 12)) return 'day-first';
  return dates.some((d) => d.second > 12) ? 'month-first' : null;
}

function placed(found: ReadLine, order: SlashOrder, walk: Walk): { at: Date; celsius: number; humidityPct: number | null } | { why: string } {
  const { input } = walk;
  const day = dayOf(found, order, walk);
  if (typeof day !== 'string') return day;
  const at = instantOf(day, found, walk);
  if (at === null) return { why: `that time does not exist on ${day}: clocks went forward` };
  if (at.getTime() > input.now.getTime() + FUTURE_MS) return { why: 'its time has not come yet: check the date and the zone' };
  if (at.getTime() < EARLIEST_MS) return { why: 'its year is before 2000: check the date' };
  if (found.humidityPct !== null && !(found.humidityPct >= 0 && found.humidityPct <= 100)) return { why: 'its humidity is not from 0 to 100 %' };
  walk.last = at;
  walk.day = day;
  walk.lastSeconds = found.seconds;
  const fahrenheit = (found.unit ?? walk.headingUnit ?? input.unit) === 'F';
  return { at, celsius: fahrenheit && Math.abs(found.value) < 900 ? pairedC(found.value) : found.value, humidityPct: found.humidityPct };
}

function dayOf(found: ReadLine, order: SlashOrder, { input, day, lastSeconds }: Walk): Day | { why: string } {
  if (found.date === null) return lastSeconds !== null && lastSeconds - found.seconds > HALF_DAY_S ? addDays(day, 1) : day;
  const { date } = found;
  const dayFirst = written(date.year, date.second, date.first);
  const monthFirst = written(date.year, date.first, date.second);
  if (date.order === 'iso' || order === 'month-first') return monthFirst ?? { why: 'its date is not a day of the calendar' };
  if (order === 'day-first' || dayFirst === monthFirst) return dayFirst ?? { why: 'its date is not a day of the calendar' };
  const near = [dayFirst, monthFirst].filter((d): d is Day => d !== null && Math.abs(daysBetween(input.day, d)) <= NEAR_DAYS);
  return near.length === 1 ? near[0]! : { why: `its date may be ${dayFirst ?? 'none'} or ${monthFirst ?? 'none'}: write it as year-month-day` };
}

function written(year: number, month: number, day: number): Day | null {
  const text = `${year}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;
  return isDay(text) ? text : null;
}

/** null where clocks skip that time. In the hour that comes twice, the later one once the list has passed the earlier. */
function instantOf(day: Day, { seconds, offsetMinutes }: ReadLine, walk: Walk): Date | null {
  if (offsetMinutes !== null) return new Date(Date.parse(`${day}T00:00:00Z`) + seconds * 1000 - offsetMinutes * 60_000);
  const hour = Math.floor(seconds / 3600);
  const key = `${day} ${hour}`;
  if (!walk.hours.has(key)) walk.hours.set(key, plainHour(day, hour, walk.input.zone));
  const start = walk.hours.get(key);
  if (typeof start === 'number') return new Date(start + (seconds % 3600) * 1000);
  const time = `${two(hour)}:${two(Math.floor(seconds / 60) % 60)}`;
  const times = occurrences({ day, time }, walk.input.zone);
  if (times === 0) return null;
  const place = (which: 'earlier' | 'later') => new Date(zonedToInstant({ day, time }, walk.input.zone, which).getTime() + (seconds % 60) * 1000);
  const earlier = place('earlier');
  return times === 2 && walk.last !== null && earlier < walk.last ? place('later') : earlier;
}

/** When an hour begins that no clock change touches; null for one that a change touches. */
function plainHour(day: Day, hour: number, zone: string): number | null {
  const [first, last] = [{ day, time: `${two(hour)}:00` }, { day, time: `${two(hour)}:59` }];
  if (occurrences(first, zone) !== 1 || occurrences(last, zone) !== 1) return null;
  const start = zonedToInstant(first, zone).getTime();
  return zonedToInstant(last, zone).getTime() - start === 59 * 60_000 ? start : null;
}

const two = (n: number) => String(n).padStart(2, '0');
