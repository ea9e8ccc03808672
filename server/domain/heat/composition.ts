import { findSpecies } from '../species/index.ts';
import { DomainError } from '../working.ts';
import type { Working } from '../working.ts';
import { within } from './within.ts';

/** Grams in 100 g of flesh. They need not sum to 100: they are normalised. */
export type Composition = { waterPct: number; proteinPct: number; fatPct: number; ashPct: number; carbohydratePct?: number };
/** Shares of one, which sum to one. */
export type Fractions = Record<Component, number>;
export type Component = 'protein' | 'fat' | 'carbohydrate' | 'ash' | 'water';
/** Value at T in Celsius: a + b T + c T^2. */
export type Quadratic = readonly [a: number, b: number, c: number];

export const COMPONENTS: readonly Component[] = ['protein', 'fat', 'carbohydrate', 'ash', 'water'];

type Row = { kWPerMK: Quadratic; rhoKgPerM3: Quadratic; cpKjPerKgK: Quadratic };

/** Choi and Okos 1986, T in Celsius. */
export const CHOI_OKOS: Readonly<Record<Component, Row>> = {
  protein: { kWPerMK: [0.17881, 1.1958e-3, -2.7178e-6], rhoKgPerM3: [1329.9, -0.5184, 0], cpKjPerKgK: [2.0082, 1.2089e-3, -1.3129e-6] },
  fat: { kWPerMK: [0.18071, -2.7604e-4, -1.7749e-7], rhoKgPerM3: [925.59, -0.41757, 0], cpKjPerKgK: [1.9842, 1.4733e-3, -4.8008e-6] },
  carbohydrate: { kWPerMK: [0.20141, 1.3874e-3, -4.3312e-6], rhoKgPerM3: [1599.1, -0.31046, 0], cpKjPerKgK: [1.5488, 1.9625e-3, -5.9399e-6] },
  ash: { kWPerMK: [0.32962, 1.4011e-3, -2.9069e-6], rhoKgPerM3: [2423.8, -0.28063, 0], cpKjPerKgK: [1.0926, 1.8896e-3, -3.6817e-6] },
  water: { kWPerMK: [0.57109, 1.7625e-3, -6.7036e-6], rhoKgPerM3: [997.18, 3.1439e-3, -3.7574e-3], cpKjPerKgK: [4.1762, -9.0864e-5, 5.4731e-6] },
};

export type ThermalProperties = { conductivityWPerMK: number; specificHeatKjPerKgK: number; densityKgPerM3: number };

const SUM_LOW_PCT = 90;
const SUM_HIGH_PCT = 110;

/** The value of a quadratic at a temperature in Celsius. */
export function at([a, b, c]: Quadratic, temperatureC: number): number {
  return a + (b + c * temperatureC) * temperatureC;
}

/** A composition as shares of one. Refuses parts below zero and sums outside 90 to 110 g in 100 g. */
export function fractionsOf(composition: Composition): Fractions {
  const { waterPct, proteinPct, fatPct, ashPct, carbohydratePct = 0 } = composition;
  const parts = { protein: proteinPct, fat: fatPct, carbohydrate: carbohydratePct, ash: ashPct, water: waterPct };
  let sum = 0;
  for (const component of COMPONENTS) {
    sum += within(parts[component], `${component}Pct`, { low: 0, high: 100, unit: '%', label: `${component} in the flesh`, remedy: 'enter grams in 100 g' });
  }
  if (sum < SUM_LOW_PCT || sum > SUM_HIGH_PCT) {
    throw new DomainError({
      code: 'composition.sum', field: 'composition', value: Math.round(sum * 100) / 100,
      problem: `g in 100 g is not from ${SUM_LOW_PCT} to ${SUM_HIGH_PCT}`, remedy: 'enter water, protein, fat and ash of 100 g of flesh',
    });
  }
  return Object.fromEntries(COMPONENTS.map((component) => [component, parts[component] / sum])) as Fractions;
}

/** The published flesh of a species (USDA SR27). Throws DomainError when the table has none. */
export function compositionOfSpecies(speciesCode: string): Composition & { source: string } {
  const proximate = findSpecies(speciesCode)?.proximate;
  if (!proximate) {
    throw new DomainError({
      code: 'composition.unknown', field: 'speciesCode', label: 'species', value: speciesCode,
      problem: 'has no published composition', remedy: 'choose a species of like fat, or enter water, protein, fat and ash',
    });
  }
  const { waterG, proteinG, fatG, ashG, source } = proximate;
  return { waterPct: waterG, proteinPct: proteinG, fatPct: fatG, ashPct: ashG, source };
}

/** Properties of a mixture at a temperature: no checks, for the solvers. */
export function mixtureAt(fractions: Fractions, temperatureC: number): ThermalProperties {
  let volume = 0;
  let heat = 0;
  let conduction = 0;
  for (const component of COMPONENTS) {
    const row = CHOI_OKOS[component];
    const part = fractions[component] / at(row.rhoKgPerM3, temperatureC);
    volume += part;
    heat += fractions[component] * at(row.cpKjPerKgK, temperatureC);
    conduction += part * at(row.kWPerMK, temperatureC);
  }
  return { conductivityWPerMK: conduction / volume, specificHeatKjPerKgK: heat, densityKgPerM3: 1 / volume };
}

/**
 * Conductivity, specific heat and density of unfrozen flesh from its composition.
 * Range: -1 to 121 C (the solver's; the equations hold from -40 to 150 C).
 * Throws DomainError outside it or on an impossible composition. Source: Choi and Okos 1986.
 */
export function thermalProperties(input: Composition & { temperatureC: number }): ThermalProperties & { working: Working } {
  const temperatureC = within(input.temperatureC, 'temperatureC', { low: -1, high: 121, unit: 'C', label: 'temperature', remedy: 'enter the temperature of unfrozen fish in Celsius' });
  const fractions = fractionsOf(input);
  return {
    ...mixtureAt(fractions, temperatureC),
    working: {
      inputs: [
        { name: 'temperature', value: temperatureC, unit: 'C' },
        ...COMPONENTS.map((name) => ({ name, value: Math.round(fractions[name] * 10_000) / 100, unit: '%' })),
      ],
      model: 'fish-properties', formula: 'Density is one over the sum of share/density; specific heat the sum of share times specific heat; conductivity the sum of volume share times conductivity.',
      source: 'Choi and Okos 1986; composition USDA SR27',
      range: 'Unfrozen flesh, -1 to 121 C.',
      uncertainty: 'About 5 % for conductivity, 2 % for the others (remembered figures).',
      certainty: 'published',
    },
  };
}
