import { formatLocal } from '$domain/time.ts';
import { formatGrams, type UnitSystem } from '$domain/units.ts';

const INSTANT = String.raw`\d{4}-\d\d-\d\dT\d\d:\d\d(?::\d\d(?:\.\d+)?)?Z`;
// Of "1 to 50000 g" the unit stands once.
const WEIGHT = String.raw`(?<![\w.,])(?:(\d+(?:\.\d+)?) to )?(\d{1,3}(?:,\d{3})+|\d+)(\.\d+)? (g|kg)\b`;
// Quoted text is what somebody typed: it stays as it is, unless it is an instant and nothing else.
const FOUND = new RegExp(`"(${INSTANT})"|"[^"]*"|(${INSTANT})|${WEIGHT}`, 'g');

/**
 * A refusal of the service holds instants in UTC and weights in grams, as records do. For a person they become the clock
 * of the club and the units they read.
 */
export function plainQuantities(text: string, zone: string, system: UnitSystem): string {
  return text.replace(FOUND, (found, quoted?: string, instant?: string, from?: string, whole?: string, fraction?: string, unit?: string) => {
    const at = quoted ?? instant;
    if (at !== undefined) return formatLocal(new Date(at), zone, 'day-time');
    if (whole === undefined || (unit === 'kg' && system === 'metric')) return found;
    const grams = Number(whole.replaceAll(',', '') + (fraction ?? '')) * (unit === 'kg' ? 1000 : 1);
    const least = from === undefined ? '' : `${formatGrams(Number(from) * (unit === 'kg' ? 1000 : 1), system)} to `;
    return `${least}${formatGrams(grams, system)}`;
  });
}
