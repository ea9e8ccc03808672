import { checkTemperatureC } from './readings.ts';
import type { TemperaturePlace } from './readings.ts';
import { DomainError } from './working.ts';

/** Where a temperature was taken: in the thickest part, in the smoker's air, on the fish, where it is kept, in the brine. */
export type ReadingPlace = 'core' | 'chamber' | 'surface' | 'storage' | 'brine';
export const READING_PLACES: readonly ReadingPlace[] = ['core', 'chamber', 'surface', 'storage', 'brine'];

export type ReadingFlag = 'out-of-order' | 'duplicate' | 'conflict' | 'probe-error' | 'fahrenheit';
/** One reading as it came; `humidityPct` is relative humidity. */
export type LoggedReading = { at: Date; celsius: number; humidityPct: number | null };
export type FlaggedReading = LoggedReading & { flag: ReadingFlag | null };

export const FLAG_WORDS: Readonly<Record<ReadingFlag, string>> = {
  'out-of-order': 'Its time is before the one above it: it is put where its time says. Check the clock.',
  duplicate: 'The same reading twice: it counts once.',
  conflict: 'Two readings at one time: the one against the fish counts.',
  'probe-error': 'No temperature that can be there: a probe that failed writes such values. It is kept and not counted.',
  fahrenheit: 'This looks like Fahrenheit: nothing is judged on this list until it is withdrawn or its unit is put right.',
};

/** What each place is held against; wet flesh and brine do not pass the boiling point. */
const RANGE_OF: Readonly<Record<ReadingPlace, TemperaturePlace>> = { core: 'core', chamber: 'chamber', surface: 'core', storage: 'air', brine: 'core' };
const HOTTEST_WET_C = 100;
/** What a disconnected or shorted probe is apt to write, from memory. */
const ERROR_VALUES: ReadonlySet<number> = new Set([-9999, -999, -127, 85.0625, 999, 1999, 9999, 32767]);

/**
 * Marks what is odd about each reading, in the order in which they came: error values of
 * probes, temperatures in degrees Celsius that look like Fahrenheit where they were taken,
 * times that go back, and two readings at one instant. Leaves none out and changes none.
 */
export function flagReadings(readings: readonly LoggedReading[], place: ReadingPlace): FlaggedReading[] {
  const first = new Map<number, number>();
  let latest = -Infinity;
  return readings.map((reading) => {
    const ms = reading.at.getTime();
    const fault = faultOf(reading.celsius, place);
    const same = first.get(ms);
    const flag = fault ?? (same === undefined ? (ms < latest ? 'out-of-order' : null) : same === reading.celsius ? 'duplicate' : 'conflict');
    if (fault === null && same === undefined) first.set(ms, reading.celsius);
    latest = Math.max(latest, ms);
    return { ...reading, flag };
  });
}

function faultOf(celsius: number, place: ReadingPlace): 'probe-error' | 'fahrenheit' | null {
  if (!Number.isFinite(celsius) || ERROR_VALUES.has(celsius)) return 'probe-error';
  const wet = place !== 'chamber' && place !== 'storage';
  if (wet && celsius > HOTTEST_WET_C) return celsius <= HOTTEST_WET_C * 1.8 + 32 ? 'fahrenheit' : 'probe-error';
  try {
    // A core in the freezer is colder than a core in a smoker can be.
    checkTemperatureC(celsius, place === 'core' && celsius < -30 ? 'fish' : RANGE_OF[place]);
    return null;
  } catch (error) {
    return error instanceof DomainError && error.code === 'temperature.fahrenheit' ? 'fahrenheit' : 'probe-error';
  }
}
