import { GRAMS_PER_LB, GRAMS_PER_OZ, readNumber, readWeight, tokens, wholeGrams } from './measure.ts';
import type { WeightUnit } from './measure.ts';
import { DomainError, MAX_GRAMS } from './working.ts';
import type { Grams } from './working.ts';

export type { WeightUnit } from './measure.ts';
export type UnitSystem = 'metric' | 'us';
export type TemperatureUnit = 'C' | 'F';
export type LengthUnit = 'cm' | 'in';
export type ThicknessUnit = 'mm' | 'in';

const LONGEST_TEXT = 60;
const CM_PER_IN = 2.54;
/** An inch is 25.4 mm exactly: international yard and pound agreement, 1959; NIST SP 811. */
const MM_PER_IN = 25.4;
/** Fahrenheit degrees in a Celsius degree, exactly. */
export const F_PER_C = 1.8;

/**
 * Reads one typed weight, such as "1.2 kg", "1,2", "3 lb 4 oz" or "450".
 * Returns whole grams from 0 to MAX_GRAMS. A number without a unit has the
 * default one. Throws DomainError on text that is no weight, is negative, may be
 * read two ways ("1,200" grams), or rounds to nothing.
 * Source of the pound: international yard and pound agreement, 1959 (exact).
 */
export function parseGrams(text: string, defaultUnit: WeightUnit, field = 'weight'): Grams {
  const fail = (problem: string, remedy: string, code = 'weight.unreadable') =>
    new DomainError({ code, field, label: 'weight', value: text, problem, remedy });
  const trimmed = text.trim();
  if (trimmed === '') throw fail('is empty', 'enter a weight, such as 450 g or 1.2 kg');
  if (trimmed.length > LONGEST_TEXT) throw fail('is too long to be a weight', 'enter one weight, such as 450 g');
  if (/^[-−–]/.test(trimmed)) throw fail('is below zero', 'enter the weight without a minus sign', 'weight.negative');
  const list = tokens(trimmed);
  if (list[0]?.kind !== 'number') throw fail('is not a weight', 'enter a number and a unit, such as 450 g or 1.2 kg');
  const read = readWeight(list, 0, defaultUnit);
  if ('problem' in read) throw fail(read.problem, read.remedy);
  if (read.used !== list.length) throw fail('is more than one weight', 'enter one weight, such as 1.2 kg or 3 lb 4 oz');
  return wholeGrams(read.grams, MAX_GRAMS, field, text);
}

/** A weight for a person: "450 g", "1.25 kg"; or "8.8 oz", "3 lb 4 oz" (ounces to a tenth). Takes grams, zero or more. */
export function formatGrams(grams: Grams, system: UnitSystem): string {
  if (system === 'metric') return Math.abs(grams) < 1000 ? `${trimZeros(grams, 0)} g` : `${trimZeros(grams / 1000, 3)} kg`;
  const tenths = Math.round(gramsToOz(grams) * 10);
  const lb = Math.floor(tenths / 160);
  const oz = `${trimZeros((tenths - lb * 160) / 10, 1)} oz`;
  if (lb === 0) return oz;
  return tenths % 160 === 0 ? `${lb} lb` : `${lb} lb ${oz}`;
}

/** Net weight as rule label.content asks for it: grams, then ounces. */
export function formatNetWeight(grams: Grams): string {
  return `${grams} g (${trimZeros(gramsToOz(grams), 1)} oz)`;
}

/** Avoirdupois ounces, not rounded. */
export function gramsToOz(grams: Grams): number {
  return grams / GRAMS_PER_OZ;
}

/** Pounds, not rounded. */
export function gramsToLb(grams: Grams): number {
  return grams / GRAMS_PER_LB;
}

/**
 * Reads a typed temperature, such as "62,8", "145 F" or "-18 °C", into degrees
 * Celsius. Whole degrees Fahrenheit are kept to a tenth of a Celsius degree, as the
 * rules themselves pair them (145 F is 62.8 C, 38 F is 3.3 C); all else to a hundredth,
 * so that 60.1 F is past the 15.6 C of 60 F. Throws
 * DomainError on other text. Does not judge whether the value is believable:
 * checkTemperatureC does.
 */
export function parseCelsius(text: string, defaultUnit: TemperatureUnit, field = 'temperature'): number {
  const match = /^([+\-−–]?)\s*(\d{1,4}(?:[.,]\d{1,4})?)\s*(?:°|º|deg(?:rees)?)?\s*(c|celsius|f|fahrenheit)?$/i.exec(text.trim());
  if (!match) {
    throw new DomainError({
      code: 'temperature.unreadable', field, value: text,
      problem: 'is not a temperature', remedy: 'enter a number, such as 62.8 or 145 F',
    });
  }
  const size = Number(match[2]!.replace(',', '.'));
  const degrees = match[1] === '' || match[1] === '+' ? size : -size;
  const unit = match[3] ? match[3].charAt(0).toUpperCase() : defaultUnit;
  return unit === 'F' ? pairedC(degrees) : roundTo(degrees, 2);
}

/** Degrees Celsius of degrees Fahrenheit as they are kept: whole ones to the tenth that the rules pair them with, others to a hundredth. */
export const pairedC = (fahrenheit: number): number => roundTo(fToC(fahrenheit), Number.isInteger(fahrenheit) ? 1 : 2);

/**
 * Degrees Fahrenheit as a person reads them: a temperature that a whole degree is kept as reads as that degree, so that 3.3 C is the 38 F that the
 * rules publish and that somebody typed, and never 37.9. What is not kept as a whole degree does not read as one of these.
 */
export function readF(celsius: number): number {
  const whole = Math.round(cToF(celsius));
  return pairedC(whole) === celsius ? whole : cToF(celsius);
}

/** A temperature for a person, to a tenth of a degree: "62.8 °C" or "145 °F". */
export function formatCelsius(celsius: number, unit: TemperatureUnit): string {
  return unit === 'C' ? `${trimZeros(celsius, 1)} °C` : `${trimZeros(readF(celsius), 1)} °F`;
}

/** Degrees between two temperatures, which have no zero to move: 3 Celsius degrees are "3 °C" or "5.4 °F". */
export function formatDegrees(celsiusDegrees: number, unit: TemperatureUnit): string {
  return unit === 'C' ? `${trimZeros(celsiusDegrees, 1)} °C` : `${trimZeros(celsiusDegrees * F_PER_C, 1)} °F`;
}

const IN_PROSE = /(?<![\d.])(-?\d+(?:\.\d+)?)(?: (to|and) (-?\d+(?:\.\d+)?))? C\b(?: \((-?\d+(?:\.\d+)?) F\))?/g;

/**
 * The sentences of the rules and of what they found, with their temperatures in a person's unit: "at least 62.8 C" becomes
 * "at least 62.8 °C" or "at least 145 °F", "93 to 107 C" "93 to 107 °C" or "199.4 to 224.6 °F". Takes temperatures alone, as
 * those sentences have them: a number, or two with "to" or "and" between, then a space and C; never a difference of
 * temperatures. Where the sentence has its own Fahrenheit, as in "74 C (165 F)", that one is told.
 */
export function temperaturesInProse(text: string, unit: TemperatureUnit): string {
  return text.replace(IN_PROSE, (_all, first: string, joined: string | undefined, second: string | undefined, fahrenheit: string | undefined) => {
    const last = second ?? first;
    const told = unit === 'F' && fahrenheit !== undefined ? `${fahrenheit} °F` : inProse(Number(last), unit);
    return joined === undefined ? told : `${inProse(Number(first), unit).replace(/ °.$/, '')} ${joined} ${told}`;
  });
}

/** To a hundredth where it is known so: a reading just past its limit must not read as the limit. */
function inProse(celsius: number, unit: TemperatureUnit): string {
  if (roundTo(celsius, 1) === celsius) return formatCelsius(celsius, unit);
  return unit === 'C' ? `${trimZeros(celsius, 2)} °C` : `${trimZeros(cToF(celsius), 2)} °F`;
}

export function cToF(celsius: number): number {
  return (celsius * 9) / 5 + 32;
}

export function fToC(fahrenheit: number): number {
  return ((fahrenheit - 32) * 5) / 9;
}

export function cmToIn(cm: number): number {
  return cm / CM_PER_IN;
}

export function inToCm(inches: number): number {
  return inches * CM_PER_IN;
}

/**
 * Reads a typed length, such as "41.5", "415 mm" or "16 in", into centimetres to
 * a tenth. Range: above 0 to 1,000 cm. Throws DomainError otherwise.
 */
export function parseCm(text: string, defaultUnit: LengthUnit, field = 'length'): number {
  const match = /^(\d+(?:[.,]\d+)?)\s*(mm|cm|in|inch|inches|")?$/i.exec(text.trim());
  const fail = (problem: string) =>
    new DomainError({ code: 'length.unreadable', field, value: text, problem, remedy: 'enter a length, such as 41.5 cm or 16 in' });
  if (!match) throw fail('is not a length');
  const read = readNumber(match[1]!, 'kg');
  const unit = match[2]?.toLowerCase() ?? defaultUnit;
  const factor = unit === 'mm' ? 0.1 : unit === 'cm' ? 1 : CM_PER_IN;
  const cm = 'value' in read ? roundTo(read.value * factor, 1) : Number.NaN;
  if (!(cm > 0 && cm <= 1000)) throw fail('is not between 0.1 and 1,000 cm');
  return cm;
}

export const mmToIn = (mm: number): number => mm / MM_PER_IN;
/** Millimetres of inches as they are kept: to a hundredth, so that every hundredth of an inch reads back as it was typed. */
export const inToMm = (inches: number): number => roundTo(inches * MM_PER_IN, 2);

/**
 * Reads how thick a piece or how deep a tray is, such as "20", "0,75 in", ".75", "3/4 in", "1½" or "1 1/2" with inches as the default, into millimetres to a
 * hundredth. Fractions are of an inch. Range: 0 to 10,000 mm; what a calculation takes is its own to say. Throws DomainError on other text.
 * Source of the inch: international yard and pound agreement, 1959; NIST SP 811 (25.4 mm exactly).
 */
export function parseMm(text: string, defaultUnit: ThicknessUnit, field = 'thickness'): number {
  const fail = (problem: string) => new DomainError({ code: 'thickness.unreadable', field, label: 'thickness', value: text, problem, remedy: 'enter a thickness, such as 20 mm or 0.75 in' });
  const match = /^(?:(\d{1,5}(?:[.,]\d{1,4})?|[.,]\d{1,4})|(?:(\d{1,3})[ -])?(\d{1,2})\/(\d{1,2}))\s*(mm|cm|in|inch|inches|"|”|″)?$/i.exec(withFractions(text));
  if (!match) throw fail('is not a thickness');
  const [, plain, whole, over, under, said] = match;
  const unit = said?.toLowerCase() ?? defaultUnit;
  if (plain === undefined && (unit === 'mm' || unit === 'cm')) throw fail('is a fraction, and fractions are of an inch');
  const size = plain === undefined ? Number(whole ?? 0) + Number(over) / Number(under) : Number(plain.replace(',', '.'));
  const mm = unit === 'mm' ? roundTo(size, 2) : unit === 'cm' ? roundTo(size * 10, 2) : inToMm(size);
  if (!(mm <= 10_000)) throw fail('is not between 0 and 10,000 mm');
  return mm;
}

/** Fractions that are one sign, as a phone's keyboard offers them, written out: "1½" is "1 1/2". */
const withFractions = (text: string): string => text.replace(/\s*[¼½¾⅛⅜⅝⅞]/gu, (sign) => ` ${sign.trim().normalize('NFKC').replace('\u2044', '/')}`).trim();

/** A thickness for a person: "20 mm", or "0.79 in" to a hundredth. `way` 'down' for what it may be at the most: rounded, it must not read as more. */
export function formatMm(mm: number, system: UnitSystem, way: 'near' | 'down' | 'up' = 'near'): string {
  if (system === 'metric') return `${trimZeros(mm, 1)} mm`;
  // The tiny step keeps a whole hundredth what it is.
  const hundredths = mmToIn(mm) * 100;
  return `${(way === 'down' ? Math.floor(hundredths + 1e-9) : way === 'up' ? Math.ceil(hundredths - 1e-9) : Math.round(hundredths + 1e-9)) / 100} in`;
}

const MM_IN_PROSE = /(at (?:most|least) )?(?<![\d.,])(\d+(?:\.\d+)?)(?: (to|and) (\d+(?:\.\d+)?))? mm\b/gi;

/**
 * The sentences of the domain with their millimetres in a person's unit: "trays of at most 34 mm" stays, or becomes "trays of at most 1.33 in"; "from 3 to 150 mm"
 * "from 0.12 to 5.9 in". What may not be passed is rounded to the side that passes nothing.
 */
export function millimetresInProse(text: string, system: UnitSystem): string {
  if (system === 'metric') return text;
  const inches = (mm: string, way: 'near' | 'down' | 'up') => formatMm(Number(mm), system, way).replace(/ in$/, '');
  return text.replace(MM_IN_PROSE, (_all, bound: string | undefined, first: string, joined: string | undefined, second: string | undefined) =>
    second === undefined ? `${bound ?? ''}${inches(first, !bound ? 'near' : /most/i.test(bound) ? 'down' : 'up')} in` : `${bound ?? ''}${inches(first, joined === 'to' ? 'up' : 'near')} ${joined} ${inches(second, joined === 'to' ? 'down' : 'near')} in`);
}

function roundTo(value: number, digits: number): number {
  const scale = 10 ** digits;
  // The tiny addition keeps halves that binary numbers cannot hold from falling the wrong way.
  const rounded = (Math.sign(value) * Math.round(Math.abs(value) * scale + 1e-9)) / scale;
  return rounded === 0 ? 0 : rounded;
}

function trimZeros(value: number, digits: number): string {
  return String(roundTo(value, digits));
}
