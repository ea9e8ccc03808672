/**
 * How values are written for the person who reads them: their units, the club's zone. Reactive in templates.
 *
 *   {showWeight(1240)}  1.24 kg · 2 lb 11.7 oz        {showTemperature(62.8)}  62.8 °C · 145 °F
 *   {showThickness(20)}  20 mm · 0.79 in
 *   {showTime(at)}  14:20      {showDay(day)}  Tue 3 Jun 2025      {showDayTime(at)}  Tue 3 Jun 2025, 14:20
 *   {showShortDay(day, today)}  today · tomorrow · Tue 3 Jun      {showSpan(22 * 60_000)}  22 min
 *   {showCount(3, 'pack')}  3 packs      {showPercent(0.412)}  41.2 %
 * Instants are ISO strings or Dates; days are 'YYYY-MM-DD' in the club's zone.
 */
import { daysBetween, formatDay, formatLocal, localDay } from '$domain/time.ts';
import { cmToIn, formatCelsius, formatDegrees, formatGrams, formatMm, millimetresInProse, temperaturesInProse } from '$domain/units.ts';
import { session } from './session.svelte.ts';

const number = new Intl.NumberFormat('en', { maximumFractionDigits: 3 });

export function showNumber(value: number, digits = 3): string {
  return digits === 3 ? number.format(value) : new Intl.NumberFormat('en', { maximumFractionDigits: digits }).format(value);
}

const superscript = (exponent: number): string => [...String(exponent)].map((c) => '⁻⁰¹²³⁴⁵⁶⁷⁸⁹'['-0123456789'.indexOf(c)]).join('');

/** A number of a working: one that three digits would round to nothing is told in powers of ten, 6.51 × 10⁻¹⁰. */
export function showFigure(value: number): string {
  if (value === 0 || Math.abs(value) >= 0.0005) return showNumber(value);
  const exponent = Math.floor(Math.log10(Math.abs(value)));
  return `${showNumber(value / 10 ** exponent, 2)} × 10${superscript(exponent)}`;
}

export function showWeight(grams: number): string {
  return formatGrams(grams, session.system);
}

export function showTemperature(celsius: number): string {
  return formatCelsius(celsius, session.system === 'us' ? 'F' : 'C');
}

/** Degrees between two temperatures. */
export function showDegrees(celsiusDegrees: number): string {
  return formatDegrees(celsiusDegrees, session.system === 'us' ? 'F' : 'C');
}

/** A sentence of a rule or a reckoning, with its temperatures and millimetres as this person reads them. */
export function showRuleText(text: string): string {
  return millimetresInProse(temperaturesInProse(text, session.system === 'us' ? 'F' : 'C'), session.system);
}

export function showLength(cm: number): string {
  return session.system === 'us' ? `${showNumber(cmToIn(cm), 1)} in` : `${showNumber(cm, 1)} cm`;
}

/** How thick a piece is, or how deep a tray; 'down' for the most that it may be. */
export function showThickness(mm: number, way: 'near' | 'down' = 'near'): string {
  return formatMm(mm, session.system, way);
}

export function showTime(at: string | Date): string {
  return formatLocal(new Date(at), session.zone, 'time');
}

export function showDayTime(at: string | Date): string {
  return formatLocal(new Date(at), session.zone, 'day-time');
}

/** A local day, or the day an instant falls on. */
export function showDay(day: string | Date): string {
  return day instanceof Date || day.length > 10 ? formatLocal(new Date(day), session.zone, 'day') : formatDay(day);
}

/** The club's day at an instant, as 'YYYY-MM-DD'. */
export function clubDay(at: string | Date): string {
  return localDay(new Date(at), session.zone);
}

/** A near day in one word; a far one without its year when that is the present one. */
export function showShortDay(day: string, today: string): string {
  const away = daysBetween(today, day);
  if (away === 0) return 'today';
  if (away === 1) return 'tomorrow';
  if (away === -1) return 'yesterday';
  const full = formatDay(day);
  return day.slice(0, 4) === today.slice(0, 4) ? full.slice(0, -5) : full;
}

/** A length of time, to the minute: '22 min', '3 h 05 min', '2 days'. */
export function showSpan(ms: number): string {
  const minutes = Math.round(Math.abs(ms) / 60_000);
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours < 48) return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${String(minutes % 60).padStart(2, '0')} min`;
  return showCount(Math.round(hours / 24), 'day');
}

/** The plural is the word with an s, or the one given. */
export function showCount(count: number, one: string, many = `${one}s`): string {
  return `${showNumber(count)} ${count === 1 ? one : many}`;
}

export function showPercent(fraction: number, digits = 1): string {
  return `${showNumber(fraction * 100, digits)} %`;
}
