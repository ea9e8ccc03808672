import { DomainError } from '../working.ts';
import type { Working } from '../working.ts';
import { AIR_TEMPERATURE, HUMIDITY, within } from './within.ts';

export const STANDARD_PRESSURE_KPA = 101.325;
/** Ventilated psychrometer, per kelvin (from memory): it gives the wet-bulb check values to the last digit. */
export const PSYCHROMETER_PER_K = 6.62e-4;
const VAPOUR_GAS_CONSTANT = 461.5;
const ZERO_C_IN_K = 273.15;

/** Saturation vapour pressure over water, kPa, at a temperature in Celsius. No checks. Source: Buck 1981/1996. */
export function buckKPa(temperatureC: number): number {
  return 0.61121 * Math.exp(((18.678 - temperatureC / 234.5) * temperatureC) / (257.14 + temperatureC));
}

/** How fast that pressure rises, kPa per kelvin, given the pressure itself. */
export function buckSlope(temperatureC: number, pressureKPa: number): number {
  const sum = 257.14 + temperatureC;
  return (pressureKPa * ((18.678 - temperatureC / 117.25) * sum - (18.678 - temperatureC / 234.5) * temperatureC)) / (sum * sum);
}

/** Heat to evaporate a kilogram of water, J/kg, at a temperature in Celsius (from memory; 0 to 121 C). */
export function latentJPerKg(temperatureC: number): number {
  return 2_500_800 - 2361 * temperatureC;
}

/** Density of vapour, kg/m3, from its pressure in kPa (ideal gas). */
export function vapourDensityKgPerM3(pressureKPa: number, temperatureC: number): number {
  return (pressureKPa * 1000) / (VAPOUR_GAS_CONSTANT * (temperatureC + ZERO_C_IN_K));
}

export type HumidAir = {
  saturationKPa: number;
  vapourKPa: number;
  vapourDensityGPerM3: number;
  dewPointC: number;
  wetBulbC: number;
  working: Working;
};

/**
 * Vapour pressure, dew point and wet-bulb of the air in a chamber: the wet-bulb is where wet fish stalls.
 * Range: -1 to 121 C, 0 to 100 %, and vapour below the pressure of the air (hot air
 * cannot be that moist). Throws DomainError otherwise. Sources: Buck; psychrometric equation.
 */
export function humidAir(input: { airC: number; relativeHumidityPct: number; pressureKPa?: number }): HumidAir {
  const airC = within(input.airC, 'airC', AIR_TEMPERATURE);
  const relativeHumidityPct = within(input.relativeHumidityPct, 'relativeHumidityPct', HUMIDITY);
  const pressureKPa = within(input.pressureKPa ?? STANDARD_PRESSURE_KPA, 'pressureKPa', { low: 60, high: 110, unit: 'kPa', label: 'air pressure', remedy: 'leave it out for sea level' });
  const vapourKPa = vapourPressureKPa(airC, relativeHumidityPct, pressureKPa);
  return {
    saturationKPa: buckKPa(airC),
    vapourKPa,
    vapourDensityGPerM3: vapourDensityKgPerM3(vapourKPa, airC) * 1000,
    dewPointC: dewPointC(vapourKPa),
    wetBulbC: wetBulbC(airC, vapourKPa, pressureKPa),
    working: {
      inputs: [{ name: 'air', value: airC, unit: 'C' }, { name: 'relative humidity', value: relativeHumidityPct, unit: '%' }, { name: 'pressure', value: pressureKPa, unit: 'kPa' }],
      model: 'humid-air', formula: 'Saturation 0.61121 exp((18.678 - T/234.5) T/(257.14 + T)) kPa. At the wet-bulb, saturation less vapour = 0.000662 x pressure x (air - wet-bulb).',
      source: 'Buck equation; psychrometric equation with the ventilated constant, from memory',
      range: '-1 to 121 C, 0 to 100 % humidity.',
      uncertainty: 'Half a degree of wet-bulb in well-stirred air; more in still air.',
      certainty: 'from memory',
    },
  };
}

/** Vapour pressure of air, kPa. Throws DomainError when hot air is said to be moister than air can be. */
export function vapourPressureKPa(airC: number, relativeHumidityPct: number, pressureKPa = STANDARD_PRESSURE_KPA, field = 'relativeHumidityPct'): number {
  const vapourKPa = (buckKPa(airC) * relativeHumidityPct) / 100;
  if (vapourKPa <= 0.95 * pressureKPa) return vapourKPa;
  throw new DomainError({
    code: 'humidity.impossible', field, label: 'relative humidity', value: relativeHumidityPct, shown: `${relativeHumidityPct} %`,
    problem: `at ${airC} C would be more steam than air`, remedy: 'enter a lower humidity: a smoker that hot is dry',
  });
}

/** Temperature at which a freely evaporating surface settles. No checks: vapour at most saturated. */
export function wetBulbC(airC: number, vapourKPa: number, pressureKPa = STANDARD_PRESSURE_KPA): number {
  return bisect((t) => buckKPa(t) - vapourKPa - PSYCHROMETER_PER_K * pressureKPa * (airC - t), -60, airC);
}

function dewPointC(vapourKPa: number): number {
  return bisect((t) => buckKPa(t) - vapourKPa, -60, 121);
}

function bisect(rising: (t: number) => number, low: number, high: number): number {
  for (let i = 0; i < 60; i += 1) {
    const middle = (low + high) / 2;
    if (rising(middle) > 0) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}
