/** What NumberField knows about each kind of number: its units, and the way between text and the stored value. */
import { DomainError } from '$domain/working.ts';
import { GRAMS_PER, readNumber } from '$domain/measure.ts';
import { cmToIn, F_PER_C, inToMm, mmToIn, parseCelsius, parseCm, parseGrams, parseMm, readF, type WeightUnit } from '$domain/units.ts';
import type { UnitSystem } from '../units.svelte.ts';

/** weight: grams in the record · temperature: C · degrees: Celsius degrees between two temperatures · length: cm · thickness: mm · number: as typed */
export type Kind = 'weight' | 'temperature' | 'degrees' | 'length' | 'thickness' | 'number';

export const unitsOf: Record<Kind, readonly string[]> = {
  weight: ['kg', 'g', 'lb', 'oz'],
  temperature: ['°C', '°F'],
  degrees: ['°C', '°F'],
  length: ['cm', 'in'],
  thickness: ['mm', 'in'],
  number: [],
};

/** The unit a person starts with; `small` is for weights of a pack or a dose. */
export function usualUnit(kind: Kind, system: UnitSystem, small: boolean): string {
  if (kind === 'weight') return system === 'metric' ? (small ? 'g' : 'kg') : small ? 'oz' : 'lb';
  if (kind === 'temperature' || kind === 'degrees') return system === 'metric' ? '°C' : '°F';
  if (kind === 'length') return system === 'metric' ? 'cm' : 'in';
  if (kind === 'thickness') return system === 'metric' ? 'mm' : 'in';
  return '';
}

export type PickedUnit = { unit: string; small: boolean };

/** The unit of a field: what was picked for its kind in the same form, or the person's own. Ounces beside pounds, grams beside kilograms. */
export function unitIn(kind: Kind, system: UnitSystem, small: boolean, picked: PickedUnit | undefined): string {
  if (picked === undefined) return usualUnit(kind, system, small);
  if (kind !== 'weight' || picked.small === small) return picked.unit;
  return usualUnit(kind, picked.unit === 'lb' || picked.unit === 'oz' ? 'us' : 'metric', small);
}

export type Reading = { value: number | null } | { error: string };

/** Reads what was typed. Empty text is null, not zero. */
export function readQuantity(text: string, kind: Kind, unit: string): Reading {
  const trimmed = text.trim();
  if (trimmed === '') return { value: null };
  try {
    if (kind === 'weight') return { value: parseGrams(trimmed, unit as WeightUnit) };
    if (kind === 'temperature') return { value: parseCelsius(trimmed, unit === '°F' ? 'F' : 'C') };
    if (kind === 'length') return { value: parseCm(trimmed, unit === 'in' ? 'in' : 'cm') };
    if (kind === 'thickness') return { value: parseMm(trimmed, unit === 'in' ? 'in' : 'mm') };
  } catch (cause) {
    if (cause instanceof DomainError) return { error: cause.message };
    throw cause;
  }
  const negative = /^[-−–]/.test(trimmed);
  const read = readNumber(negative ? trimmed.slice(1).trim() : trimmed, 'kg');
  if ('problem' in read) return { error: `"${trimmed.slice(0, 40)}" ${read.problem}; ${read.remedy}.` };
  const value = negative ? -read.value : read.value;
  return { value: kind === 'degrees' && unit === '°F' ? value / F_PER_C : value };
}

/** The stored value as text in a unit, as short as it can be without losing a gram or a tenth of a degree. */
export function writeQuantity(value: number | null, kind: Kind, unit: string): string {
  if (value === null || !Number.isFinite(value)) return '';
  if (kind === 'weight') return short(value / GRAMS_PER[unit as WeightUnit], unit === 'g' ? 0 : unit === 'oz' ? 2 : 3);
  if (kind === 'temperature') return short(unit === '°F' ? readF(value) : value, 1);
  if (kind === 'degrees') return short(unit === '°F' ? value * F_PER_C : value, 1);
  if (kind === 'length') return short(unit === 'in' ? cmToIn(value) : value, 1);
  if (kind === 'thickness') return short(unit === 'in' ? mmToIn(value) : value, unit === 'in' ? 2 : 1);
  return String(value);
}

function short(value: number, digits: number): string {
  return String(Number(value.toFixed(digits)));
}

/** A slider in the person's unit over a stored value: its ends and step there, and the way between both. */
export type Slide = { min: number; max: number; step: number; of: (value: number) => number; to: (slid: number) => number };
const SLIDE_IN = 0.05;
/** Inches slide by twentieths, within the ends; all else slides as it is stored. */
export function slideOf(kind: Kind, system: UnitSystem, { min, max, step }: Pick<Slide, 'min' | 'max' | 'step'>): Slide {
  if (kind !== 'thickness' || system === 'metric') return { min, max, step, of: (value) => value, to: (slid) => slid };
  const twentieths = (mm: number, round: (value: number) => number) => Number((round(mmToIn(mm) / SLIDE_IN) * SLIDE_IN).toFixed(2));
  return { min: twentieths(min, Math.ceil), max: twentieths(max, Math.floor), step: SLIDE_IN, of: mmToIn, to: inToMm };
}
