import { checkTemperatureC } from '../readings.ts';
import type { TemperaturePlace } from '../readings.ts';
import { DomainError } from '../working.ts';
import { dropSpikes } from './spikes.ts';
import { within } from './within.ts';

/** One logged reading. `celsius` is null where the logger wrote nothing. */
export type Reading = { at: Date | string; celsius: number | null };

export type SeriesFlag = {
  kind: 'probe-error' | 'out-of-order' | 'duplicate' | 'conflict' | 'fahrenheit' | 'unit-doubtful' | 'spike' | 'gap';
  at: string;
  celsius: number | null;
  text: string;
};

/** Minutes without a reading that are longer than the limit: nothing is counted in them. */
export type Gap = { fromAt: string; toAt: string; minutes: number };

export type Series = {
  /** Usable readings in order of time, minutes from `startAt`. */
  minutes: number[];
  celsius: number[];
  startAt: string | null;
  gaps: Gap[];
  flags: SeriesFlag[];
  /** Set when the unit cannot be trusted: nothing may be judged met on it. */
  unitInDoubt: boolean;
};

export type SeriesOptions = {
  place: TemperaturePlace;
  /** Which of two different readings at one instant is kept: the one against the fish. */
  strict: 'lower' | 'higher';
  /** Default 10: readings by hand every ten minutes are usual practice, no source. */
  maxGapMinutes?: number;
  /** The most that limit may be; 15 when left out. */
  highestGapMinutes?: number;
  /** Somebody has looked at the unit of an unusually hot log. */
  unitConfirmed?: boolean;
};

export const MAX_GAP_MINUTES = 10;
const MOST_READINGS = 100_000;
/** Wet flesh does not pass the boiling point, so a core above it is no Celsius. */
export const HOTTEST_CORE_C = 100;
/** A core this hot is possible and rare: it is more often Fahrenheit, or a probe that has just been switched on (common practice, no source). */
export const DOUBTFUL_CORE_C = 85;
/** What a disconnected or shorted probe is apt to write, from memory. */
const ERROR_CODES = new Set([-9999, -999, -127, 999, 1999, 9999, 32767]);

/**
 * Puts logged readings in order for judging. Impossible readings and error codes of
 * probes are left out and flagged; duplicates are dropped and flagged; readings out of
 * order are put where their time says and flagged; readings that look like Fahrenheit
 * are left out and put the whole log's unit in doubt; single leaps of a core to the
 * fish's good are left out and flagged. Stretches longer than the limit
 * without a reading are gaps. Never fills anything in. Throws DomainError on a time that
 * is none and on a limit outside 0.5 to 15 minutes (or `highestGapMinutes`).
 */
export function cleanSeries(readings: readonly Reading[], options: SeriesOptions): Series {
  const maxGap = within(options.maxGapMinutes ?? MAX_GAP_MINUTES, 'maxGapMinutes', { low: 0.5, high: options.highestGapMinutes ?? 15, unit: 'min', label: 'longest gap', remedy: 'enter a shorter one' });
  if (readings.length > MOST_READINGS) {
    throw new DomainError({ code: 'series.too-long', field: 'readings', value: readings.length, problem: `readings are more than ${MOST_READINGS}`, remedy: 'send one smoke or one cooling at a time' });
  }
  const flags: SeriesFlag[] = [];
  const usable = usableReadings(readings, options, flags);
  const merged = mergeDuplicates(usable, options.strict, flags);
  const kept = options.place === 'core' ? dropSpikes(merged, options.strict, flags) : merged;
  const firstMs = kept[0]?.ms ?? 0;
  const minutes = kept.map(({ ms }) => (ms - firstMs) / 60_000);
  const gaps: Gap[] = [];
  for (let i = 1; i < kept.length; i += 1) {
    const length = minutes[i]! - minutes[i - 1]!;
    if (length <= maxGap + 1e-9) continue;
    const gap = { fromAt: iso(kept[i - 1]!.ms), toAt: iso(kept[i]!.ms), minutes: length };
    gaps.push(gap);
    flags.push({ kind: 'gap', at: gap.fromAt, celsius: kept[i - 1]!.celsius, text: `No reading for ${round1(length)} minutes: nothing is counted there.` });
  }
  const fahrenheit = flags.some((flag) => flag.kind === 'fahrenheit');
  const hottest = kept.reduce((max, { celsius }) => Math.max(max, celsius), -Infinity);
  const doubtful = options.place === 'core' && hottest >= DOUBTFUL_CORE_C && !options.unitConfirmed;
  if (doubtful && !fahrenheit) {
    const at = kept.find(({ celsius }) => celsius === hottest)!;
    flags.push({ kind: 'unit-doubtful', at: iso(at.ms), celsius: hottest, text: `A core of ${hottest} C is rare. Say that the log is in Celsius.` });
  }
  return { minutes, celsius: kept.map(({ celsius }) => celsius), startAt: kept[0] ? iso(kept[0].ms) : null, gaps, flags, unitInDoubt: fahrenheit || doubtful };
}

export type Timed = { ms: number; celsius: number };

function usableReadings(readings: readonly Reading[], { place }: SeriesOptions, flags: SeriesFlag[]): Timed[] {
  const usable: Timed[] = [];
  let latest = -Infinity;
  let disordered = false;
  const flag = (kind: SeriesFlag['kind'], ms: number, celsius: number | null, text: string) => flags.push({ kind, at: iso(ms), celsius: Number.isFinite(celsius) ? celsius : null, text });
  for (let i = 0; i < readings.length; i += 1) {
    const { at, celsius } = readings[i]!;
    const ms = typeof at === 'string' ? Date.parse(at) : at.getTime();
    if (Number.isNaN(ms)) {
      throw new DomainError({ code: 'series.time', field: `readings.${i}.at`, label: 'time of a reading', value: at, problem: 'is no time', remedy: 'enter a day and a time with its zone' });
    }
    if (ms < latest) {
      disordered = true;
      flag('out-of-order', ms, celsius, 'Logged after a later reading: put where its time says. Check the clock.');
    }
    latest = Math.max(latest, ms);
    const fault = faultOf(celsius, place);
    if (fault === 'probe-error') flag(fault, ms, celsius, `${celsius ?? 'An empty reading'} is no temperature: the probe failed, and the reading is left out.`);
    else if (fault === 'fahrenheit') flag(fault, ms, celsius, `${celsius} looks like Fahrenheit: left out, and the log is not judged until its unit is right.`);
    else usable.push({ ms, celsius: celsius! });
  }
  if (disordered) usable.sort((a, b) => a.ms - b.ms);
  return usable;
}

function faultOf(celsius: number | null, place: TemperaturePlace): 'probe-error' | 'fahrenheit' | null {
  if (celsius === null || !Number.isFinite(celsius) || ERROR_CODES.has(celsius)) return 'probe-error';
  if (place === 'core' && celsius > HOTTEST_CORE_C) return celsius <= 248 ? 'fahrenheit' : 'probe-error';
  try {
    checkTemperatureC(celsius, place);
    return null;
  } catch (error) {
    return error instanceof DomainError && error.code === 'temperature.fahrenheit' ? 'fahrenheit' : 'probe-error';
  }
}

function mergeDuplicates(sorted: readonly Timed[], strict: 'lower' | 'higher', flags: SeriesFlag[]): Timed[] {
  const kept: Timed[] = [];
  let before: Timed | undefined;
  for (const reading of sorted) {
    if (before?.ms !== reading.ms) {
      kept.push(reading);
      before = reading;
      continue;
    }
    const same = before.celsius === reading.celsius;
    if (!same) before.celsius = strict === 'lower' ? Math.min(before.celsius, reading.celsius) : Math.max(before.celsius, reading.celsius);
    flags.push({
      kind: same ? 'duplicate' : 'conflict', at: iso(reading.ms), celsius: reading.celsius,
      text: same ? 'The same reading twice: counted once.' : `Two readings at one time: the ${strict} one, ${before.celsius} C, counts.`,
    });
  }
  return kept;
}

/** Pairs of neighbouring readings with no gap between them, as [i, i + 1]. */
export function* joinedPairs(series: Series, maxGapMinutes = MAX_GAP_MINUTES): Generator<number> {
  for (let i = 0; i + 1 < series.minutes.length; i += 1) {
    if (series.minutes[i + 1]! - series.minutes[i]! <= maxGapMinutes + 1e-9) yield i;
  }
}

/** The instant so many minutes after the series began. */
export function instantAt(series: Series, minutes: number): string | null {
  return series.startAt === null ? null : iso(Date.parse(series.startAt) + minutes * 60_000);
}

function iso(ms: number): string {
  return new Date(ms).toISOString();
}

export function round1(value: number): number {
  return Math.round(value * 10) / 10;
}
