import { CHOI_OKOS, COMPONENTS, at } from './composition.ts';
import type { Component, Fractions, Quadratic } from './composition.ts';

/**
 * The slab's flesh in the form the solver steps: every property a quadratic in
 * temperature, with the water apart, as kilograms in a cubic metre of the flesh as it
 * went in (shrinking is left out).
 */
export type SlabMaterial = {
  densityKgPerM3: number;
  /** Water at the start and dry matter without fat, kg/m3. */
  waterKgPerM3: number;
  dryKgPerM3: number;
  /** Heat capacity of all but the water, J/m3 K. */
  solidsHeat: Quadratic;
  /** Specific heat of water, J/kg K. */
  waterHeat: Quadratic;
  /** Sum of mass times k/rho of the solids, and of mass/rho: numerator and denominator of k. */
  solidsConduction: Quadratic;
  solidsVolume: Quadratic;
  /** The same of a kilogram of water. */
  waterConduction: Quadratic;
  waterVolume: Quadratic;
  /** Moisture diffusivity at 30 C, m2/s. */
  moistureM2PerS: number;
  /** Salt per dry matter, kg/kg. */
  saltPerDry: number;
};

/** Moisture diffusivity of fish muscle at 30 C, from memory: half to twice as much is usual. */
export const MOISTURE_DIFFUSIVITY_M2_PER_S = 3e-10;
/** Its activation energy over the gas constant, K (30 kJ/mol, from memory). */
const ACTIVATION_K = 30_000 / 8.314;
const K_AT_30_C = 303.15;
/** Oswin isotherm of fish protein, from memory: X = A (a/(1-a))^B, X in kg water per kg dry matter without fat. */
const OSWIN_A = 0.11;
const OSWIN_B = 0.45;
const REFERENCE_C = 20;
const SOLIDS: readonly Component[] = COMPONENTS.filter((component) => component !== 'water');

/** The quadratic through a function's values at three temperatures: the curves here bend little, so it errs by under 0.01 %. */
function through(value: (t: number) => number): Quadratic {
  const [y0, y1, y2] = [value(0), value(50), value(100)];
  const c = (y0 - 2 * y1 + y2) / 5000;
  return [y0, (y1 - y0) / 50 - 50 * c, c];
}

function sumOf(weights: (component: Component) => number, property: 'cp' | 'volume' | 'conduction') {
  return (t: number) => SOLIDS.reduce((sum, component) => {
    const row = CHOI_OKOS[component];
    const each = property === 'cp' ? 1000 * at(row.cpKjPerKgK, t) : (property === 'volume' ? 1 : at(row.kWPerMK, t)) / at(row.rhoKgPerM3, t);
    return sum + weights(component) * each;
  }, 0);
}

/** Flesh of a composition, with its salt as per cent of the water phase (0 to 20 %). */
export function slabMaterial(fractions: Fractions, waterPhaseSaltPct: number): SlabMaterial {
  const water = CHOI_OKOS.water;
  const density = 1 / COMPONENTS.reduce((sum, component) => sum + fractions[component] / at(CHOI_OKOS[component].rhoKgPerM3, REFERENCE_C), 0);
  const mass = (component: Component) => density * fractions[component];
  const waterKgPerM3 = mass('water');
  const dryKgPerM3 = mass('protein') + mass('carbohydrate') + mass('ash');
  return {
    densityKgPerM3: density,
    waterKgPerM3,
    dryKgPerM3,
    solidsHeat: through(sumOf(mass, 'cp')),
    waterHeat: through((t) => 1000 * at(water.cpKjPerKgK, t)),
    solidsConduction: through(sumOf(mass, 'conduction')),
    solidsVolume: through(sumOf(mass, 'volume')),
    waterConduction: through((t) => at(water.kWPerMK, t) / at(water.rhoKgPerM3, t)),
    waterVolume: through((t) => 1 / at(water.rhoKgPerM3, t)),
    moistureM2PerS: MOISTURE_DIFFUSIVITY_M2_PER_S,
    saltPerDry: (waterKgPerM3 / dryKgPerM3) * (waterPhaseSaltPct / (100 - waterPhaseSaltPct)),
  };
}

/** Moisture diffusivity at each whole degree from -5 to 130 C: read between them, which is far cheaper than the exponent. */
export function diffusivityTable(atThirtyC: number): Float64Array {
  return Float64Array.from({ length: 136 }, (_, i) => atThirtyC * Math.exp(ACTIVATION_K * (1 / K_AT_30_C - 1 / (i - 5 + 273.15))));
}

/** Published pairs of water-phase salt and water activity beyond 12 % (Chirife and Resnik 1984, from memory). */
const STRONG: readonly (readonly [pct: number, activity: number])[] = [[12, 0.919457], [20, 0.839], [26.395, 0.753]];

/** Water activity of brine: Resnik and Chirife 1988 up to 12 %, straight between the published pairs above, saturated at the end. */
export function brineActivity(pct: number): { activity: number; slope: number } {
  if (pct <= 12) return { activity: 1 - (0.0052471 + 0.00012206 * pct) * pct, slope: -0.0052471 - 0.00024412 * pct };
  for (let i = 1; i < STRONG.length; i += 1) {
    const [x0, y0] = STRONG[i - 1]!;
    const [x1, y1] = STRONG[i]!;
    if (pct <= x1) return { activity: y0 + ((pct - x0) * (y1 - y0)) / (x1 - x0), slope: (y1 - y0) / (x1 - x0) };
  }
  return { activity: 0.753, slope: 0 };
}

/**
 * Water activity at the face from its water, kg per kg of dry matter: the isotherm of the
 * protein times that of the brine, which strengthens as water leaves. Writes [activity, slope].
 */
export function surfaceActivity(waterPerDry: number, saltPerDry: number, out: Float64Array): void {
  const x = Math.max(waterPerDry, 1e-6);
  const ratio = (x / OSWIN_A) ** (1 / OSWIN_B);
  const protein = ratio / (1 + ratio);
  const proteinSlope = ratio / (OSWIN_B * x * (1 + ratio) * (1 + ratio));
  if (saltPerDry === 0) {
    out[0] = protein;
    out[1] = proteinSlope;
    return;
  }
  const sum = saltPerDry + x;
  const brine = brineActivity((100 * saltPerDry) / sum);
  out[0] = protein * brine.activity;
  out[1] = proteinSlope * brine.activity + protein * brine.slope * ((-100 * saltPerDry) / (sum * sum));
}
