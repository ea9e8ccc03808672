import { within as bounded } from '../bounds.ts';

export type Limits = { low: number; high: number; unit: string; label: string; remedy: string };

/** Refuses a number outside the range that a calculation holds for; both ends are inside. Returns the number. */
export function within(value: number, field: string, { low, high, unit, label, remedy }: Limits): number {
  return bounded(value, { field, label, min: low, max: high, unit, remedy });
}

export const FISH_TEMPERATURE: Limits = {
  low: -1, high: 100, unit: 'C', label: 'fish temperature', remedy: 'enter the temperature of unfrozen fish in Celsius',
};
export const AIR_TEMPERATURE: Limits = {
  low: -1, high: 121, unit: 'C', label: 'air temperature', remedy: 'enter the air of the chamber in Celsius',
};
export const HUMIDITY: Limits = { low: 0, high: 100, unit: '%', label: 'relative humidity', remedy: 'enter a relative humidity in per cent' };
export const THICKNESS: Limits = { low: 3, high: 150, unit: 'mm', label: 'thickness', remedy: 'measure the thickest piece, and split what is thicker' };
