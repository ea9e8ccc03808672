/** What was read in a pasted log, in words, before it is saved: what counts, what is odd, what was left out. */
import { cleanSeries, MAX_GAP_MINUTES } from '$domain/heat/series.ts';
import { FLAG_WORDS, flagReadings, type ReadingFlag, type ReadingPlace } from '$domain/reading-flags.ts';
import { parseReadingList, type ReadingList, type ReadingListInput } from '$domain/reading-list.ts';
import { addDays, localDay } from '$domain/time.ts';
import { pairedC } from '$domain/units.ts';
import { DomainError, type Day } from '$domain/working.ts';

export interface OddOnes {
  flag: ReadingFlag;
  count: number;
  /** The first of them, by line. */
  lineNos: number[];
  words: string;
}
export interface Pasted {
  /** The day that lines without one were read on. */
  day: Day;
  count: number;
  firstAt: Date | null;
  lastAt: Date | null;
  /** Without what a failed probe wrote. */
  lowestC: number | null;
  highestC: number | null;
  odd: OddOnes[];
  /** Some of it is too hot for Celsius: ask before it is saved. */
  looksLikeF: boolean;
  /** The longest time between two readings of a core, in minutes, where it is so long that the log cannot show an unbroken hold; else null. */
  longestGapMinutes: number | null;
  /** Possible and rare: somebody has to say that it is Celsius. */
  unitDoubtful: boolean;
  leftOut: ReadingList['leftOut'];
  /** Why nothing could be read at all. */
  failure: string | null;
}

const SHOWN_LINES = 4;
const HOUR_MS = 3_600_000;

/** `day` is '' when nobody said it: then it is the day the stage began, or the one after when all would be long before it, as the service reads it. */
export type PastedInput = Omit<ReadingListInput, 'day'> & { day: Day | ''; stageBegan: Date | null };

export function readPasted({ stageBegan, ...asked }: PastedInput): Pasted {
  const input: ReadingListInput = { ...asked, day: asked.day || localDay(stageBegan ?? asked.now, asked.zone) };
  const nothing: Pasted = { day: input.day, count: 0, firstAt: null, lastAt: null, lowestC: null, highestC: null, odd: [], looksLikeF: false, longestGapMinutes: null, unitDoubtful: false, leftOut: [], failure: null };
  if (input.text.trim() === '') return nothing;
  let list: ReadingList;
  try {
    list = parseReadingList(input);
    if (asked.day === '' && stageBegan !== null && list.readings.every((r) => r.at.getTime() < stageBegan.getTime() - HOUR_MS)) {
      const after = { ...input, day: addDays(input.day, 1) };
      const later = parseReadingList(after);
      if (later.readings.length === list.readings.length) [list, input.day] = [later, after.day];
    }
  } catch (cause) {
    if (cause instanceof DomainError) return { ...nothing, failure: cause.message };
    throw cause;
  }
  const { readings, leftOut } = list;
  const usable = readings.filter((r) => r.flag !== 'probe-error');
  const times = readings.map((r) => r.at.getTime());
  const values = usable.map((r) => r.celsius);
  const least = (all: number[]) => all.reduce((a, b) => Math.min(a, b), Infinity);
  const most = (all: number[]) => all.reduce((a, b) => Math.max(a, b), -Infinity);
  return {
    day: input.day, count: readings.length, leftOut, failure: null,
    firstAt: times.length > 0 ? new Date(least(times)) : null,
    lastAt: times.length > 0 ? new Date(most(times)) : null,
    lowestC: values.length > 0 ? least(values) : null,
    highestC: values.length > 0 ? most(values) : null,
    odd: [...Map.groupBy(readings.filter((r) => r.flag !== null), (r) => r.flag!)].map(([flag, all]) => ({ flag, count: all.length, lineNos: all.slice(0, SHOWN_LINES).map((r) => r.lineNo), words: FLAG_WORDS[flag] })),
    longestGapMinutes: input.place === 'core' ? longestGap(usable.map((r) => r.at.getTime())) : null,
    looksLikeF: readings.some((r) => r.flag === 'fahrenheit'),
    unitDoubtful: input.place === 'core' && isDoubtful(readings),
  };
}

function longestGap(times: readonly number[]): number | null {
  const sorted = times.toSorted((a, b) => a - b);
  const longest = sorted.reduce((most, at, i) => (i === 0 ? most : Math.max(most, at - sorted[i - 1]!)), 0) / 60_000;
  return longest > MAX_GAP_MINUTES ? Math.round(longest) : null;
}

/** Possible for a core and rare: more often Fahrenheit, or a probe just switched on. */
export const isDoubtful = (readings: { at: Date; celsius: number }[]): boolean => cleanSeries(readings, { place: 'core', strict: 'lower' }).flags.some((f) => f.kind === 'unit-doubtful');

/** What is odd about one reading that somebody types: null when nothing is. */
export function oddReading(celsius: number, at: Date, place: ReadingPlace): 'probe-error' | 'fahrenheit' | 'unit-doubtful' | null {
  const flag = flagReadings([{ at, celsius, humidityPct: null }], place)[0]!.flag;
  if (flag === 'probe-error' || flag === 'fahrenheit') return flag;
  return place === 'core' && isDoubtful([{ at, celsius }]) ? 'unit-doubtful' : null;
}

/** A number that was typed as Celsius and was Fahrenheit. */
export const asFahrenheit = (typedC: number): number => pairedC(typedC);

/** The lines of some odd readings: "lines 4, 7 and 9" or "lines 4, 7, 9, 11 and 30 more". */
export function linesOf({ count, lineNos }: OddOnes): string {
  const more = count - lineNos.length;
  if (count === 1) return `line ${lineNos[0]}`;
  return `lines ${more > 0 ? `${lineNos.join(', ')} and ${more} more` : `${lineNos.slice(0, -1).join(', ')} and ${lineNos.at(-1)}`}`;
}
