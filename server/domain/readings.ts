import { DomainError } from './working.ts';

export type TemperaturePlace = 'fish' | 'core' | 'air' | 'water' | 'ice' | 'chamber';

const EARLIEST = Date.UTC(2000, 0, 1);
const FUTURE_MS = 5 * 60_000;

/** What can be read at all in each place, in degrees Celsius. From memory and generous: these catch slips, they judge no fish. Wet flesh does not pass the boiling point. */
const RANGES: Readonly<Record<TemperaturePlace, readonly [number, number]>> = {
  fish: [-40, 35], core: [-30, 100], air: [-50, 55], water: [-3, 38], ice: [-40, 15], chamber: [-50, 200],
};

/**
 * Refuses a temperature in degrees Celsius that cannot be where it was taken, and
 * says so when it looks like Fahrenheit. Returns the temperature. 'chamber' is the
 * air in a smoker.
 */
export function checkTemperatureC(celsius: number, where: TemperaturePlace, field = `${where}C`): number {
  const [low, high] = RANGES[where];
  if (Number.isFinite(celsius) && celsius >= low && celsius <= high) return celsius;
  const asCelsius = ((celsius - 32) * 5) / 9;
  const fahrenheit = celsius > high && asCelsius >= low && asCelsius <= high;
  throw new DomainError({
    code: fahrenheit ? 'temperature.fahrenheit' : 'temperature.impossible',
    field, label: `${where} temperature`, value: celsius, shown: `${celsius} C`,
    problem: fahrenheit ? 'looks like Fahrenheit' : `is not between ${low} and ${high} C`,
    remedy: fahrenheit ? `enter ${Math.round(asCelsius * 10) / 10} C, or switch the unit to F` : 'read the thermometer again',
  });
}

/**
 * Refuses an instant that is no date, before the year 2000, or more than 5 minutes
 * after `now` (clocks of phones differ by minutes). Returns the instant.
 */
export function checkInstant(instant: Date, now: Date, field: string): Date {
  const at = instant instanceof Date ? instant.getTime() : Number.NaN;
  const fail = (code: string, problem: string, remedy: string) => new DomainError({ code, field, value: instant, problem, remedy });
  if (Number.isNaN(at)) throw fail('instant.unreadable', 'is no time', 'enter a day and a time');
  if (at < EARLIEST) throw fail('instant.too-early', 'is before the year 2000', 'check the year');
  if (at > now.getTime() + FUTURE_MS) throw fail('instant.future', 'is in the future', 'enter when it happened');
  return instant;
}
