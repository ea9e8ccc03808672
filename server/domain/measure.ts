import { DomainError } from './working.ts';

/** Reading of typed numbers and weights; shared by units.ts and weight-list.ts. */
export type WeightUnit = 'g' | 'kg' | 'lb' | 'oz';

/** Exact by the international yard and pound agreement of 1959. */
export const GRAMS_PER_LB = 453.59237;
export const GRAMS_PER_OZ = GRAMS_PER_LB / 16;

export const GRAMS_PER: Readonly<Record<WeightUnit, number>> = { g: 1, kg: 1000, lb: GRAMS_PER_LB, oz: GRAMS_PER_OZ };

const UNIT_WORDS: Readonly<Record<string, WeightUnit>> = {
  g: 'g', gr: 'g', gram: 'g', grams: 'g', gramme: 'g', grammes: 'g',
  kg: 'kg', kgs: 'kg', kilo: 'kg', kilos: 'kg', kilogram: 'kg', kilograms: 'kg',
  lb: 'lb', lbs: 'lb', pound: 'lb', pounds: 'lb',
  oz: 'oz', ozs: 'oz', ounce: 'oz', ounces: 'oz',
};

/** The unit a word stands for, or null. */
export function weightUnit(word: string): WeightUnit | null {
  const key = word.toLowerCase();
  return Object.hasOwn(UNIT_WORDS, key) ? UNIT_WORDS[key]! : null;
}

export type NumberReading = { value: number } | { problem: string; remedy: string };

/**
 * Reads digits with a decimal point or comma. A single comma or point with three
 * digits after it may also mean thousands ("1,200"): that is accepted as decimals
 * only where thousands would make no sense (kilograms, or a leading zero), and
 * refused otherwise, since a guess could be wrong by a thousand.
 */
export function readNumber(text: string, unit: WeightUnit): NumberReading {
  if (/^\d+$/.test(text)) return { value: Number(text) };
  const grouped = readGrouped(text);
  if (grouped !== null) return { value: grouped };
  const match = /^(\d+)([.,])(\d+)$/.exec(text);
  if (!match) return { problem: 'is not a number', remedy: 'write it like 450 or 1.2' };
  const [, whole, mark, part] = match;
  const mayBeThousands = part!.length === 3 && whole!.length <= 3 && !whole!.startsWith('0');
  const pointInPounds = (unit === 'lb' || unit === 'oz') && mark === '.';
  if (mayBeThousands && unit !== 'kg' && !pointInPounds) {
    return { problem: 'may mean thousands or decimals', remedy: `write ${whole}${part} or ${whole}.${part!.slice(0, 2)}` };
  }
  return { value: Number(`${whole}.${part}`) };
}

/** Numbers with both marks, such as 1,234.5 or 1.234,5: the last mark is the decimal one. */
function readGrouped(text: string): number | null {
  const match = /^(\d{1,3}(?:,\d{3})+)\.(\d+)$/.exec(text) ?? /^(\d{1,3}(?:\.\d{3})+),(\d+)$/.exec(text);
  return match ? Number(`${match[1]!.replace(/[.,]/g, '')}.${match[2]}`) : null;
}

export type Token = { kind: 'number' | 'word' | 'times' | 'other'; text: string; at: number; end: number };

/** Splits text into numbers, words, multiplication signs and anything else; white space is dropped. */
export function tokens(text: string): Token[] {
  const found: Token[] = [];
  for (const match of text.matchAll(/(\d+(?:[.,]\d+)*)|([x×*](?![\p{L}]))|(\p{L}+)|([^\s\d\p{L}])/giu)) {
    const kind = match[1] ? 'number' : match[2] ? 'times' : match[3] ? 'word' : 'other';
    found.push({ kind, text: match[0], at: match.index, end: match.index + match[0].length });
  }
  return found;
}

export type WeightReading =
  | { grams: number; hasUnit: boolean; used: number }
  | { problem: string; remedy: string; used: number };

/**
 * Reads one weight that starts at `list[from]`: a number with an optional unit, or
 * pounds and ounces, or kilograms and grams. `used` tells how many tokens it took.
 */
export function readWeight(list: readonly Token[], from: number, defaultUnit: WeightUnit): WeightReading {
  const word = list[from + 1]?.kind === 'word' ? list[from + 1]! : null;
  const unit = word ? weightUnit(word.text) : defaultUnit;
  const used = word ? 2 : 1;
  if (!unit) return { problem: `has a unit that is not known (${word!.text.slice(0, 20)})`, remedy: 'use g, kg, lb or oz', used };
  const number = readNumber(list[from]!.text, unit);
  if ('problem' in number) return { ...number, used };
  const grams = number.value * GRAMS_PER[unit];
  const lesser = lesserPart(list, from + used, word ? unit : null);
  if (lesser === null) return { grams, hasUnit: word !== null, used };
  if ('problem' in lesser) return { ...lesser, used: used + 2 };
  return { grams: grams + lesser.value, hasUnit: true, used: used + 2 };
}

const LESSER: Readonly<Partial<Record<WeightUnit, { unit: WeightUnit; below: number }>>> = {
  lb: { unit: 'oz', below: 16 },
  kg: { unit: 'g', below: 1000 },
};

/** The ounces after pounds or the grams after kilograms, in grams; null when none follow. */
function lesserPart(list: readonly Token[], at: number, unit: WeightUnit | null): NumberReading | null {
  const lesser = unit ? LESSER[unit] : undefined;
  const number = list[at];
  const word = list[at + 1];
  if (!lesser || number?.kind !== 'number' || word?.kind !== 'word' || weightUnit(word.text) !== lesser.unit) return null;
  const read = readNumber(number.text, lesser.unit);
  if ('problem' in read) return read;
  if (read.value >= lesser.below) {
    return { problem: `has ${lesser.below} ${lesser.unit} or more after the ${unit}`, remedy: 'write them as two weights' };
  }
  return { value: read.value * GRAMS_PER[lesser.unit] };
}

/** Whole grams, or a DomainError where a weight would vanish or be beyond belief. */
export function wholeGrams(grams: number, maxGrams: number, field: string, text: string): number {
  const rounded = Math.round(grams);
  const shared = { field, label: 'weight', value: text } as const;
  if (grams > 0 && rounded === 0) {
    throw new DomainError({ ...shared, code: 'weight.too-small', problem: 'is less than a gram', remedy: 'check the unit: kilograms may be meant' });
  }
  if (!(rounded <= maxGrams)) {
    throw new DomainError({ ...shared, code: 'weight.too-large', problem: `is more than ${maxGrams / 1000} kg`, remedy: 'check the unit: grams may be meant' });
  }
  return rounded;
}
