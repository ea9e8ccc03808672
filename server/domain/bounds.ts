import { DomainError } from './working.ts';

export type Bounds = {
  /** The input as the caller names it. */
  field: string;
  /** In a person's words; the field when left out. */
  label?: string;
  min: number;
  max: number;
  unit?: string;
  /** What to do about it; 'enter a value in that range' when left out. */
  remedy?: string;
};

/**
 * Refuses a number outside its bounds (both included), or no number at all. Returns
 * the number. A calculation checks every input so, and never works outside its range.
 */
export function within(value: number, bounds: Bounds): number {
  const { field, label, min, max, unit = '', remedy = 'enter a value in that range' } = bounds;
  if (typeof value === 'number' && value >= min && value <= max) return value;
  const after = unit === '' ? '' : ` ${unit}`;
  throw new DomainError({
    code: 'calculation.out-of-range', field, value, remedy,
    ...(label && { label }),
    ...(typeof value === 'number' && { shown: `${value}${after}` }),
    problem: `is not from ${min} to ${max}${after}`,
  });
}

/** Refuses a value that is not one of a list. Returns it. */
export function oneOf<T extends string>(value: T, allowed: readonly T[], field: string): T {
  if (allowed.includes(value)) return value;
  throw new DomainError({ code: 'calculation.unknown-choice', field, value, problem: 'is not a choice', remedy: `choose one of: ${allowed.join(', ')}` });
}

/** A number rounded for an answer: enough digits to check by hand, none that pretend. */
export function rounded(value: number, digits: number): number {
  const scale = 10 ** digits;
  const result = Math.round(value * scale) / scale;
  return result === 0 ? 0 : result;
}
