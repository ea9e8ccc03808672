import { rounded, within } from '../bounds.ts';
import { SPECIES } from '../species/index.ts';
import { gramsToOz } from '../units.ts';
import { DomainError } from '../working.ts';
import type { Grams, Working } from '../working.ts';
import { mercuryOf } from './mercury-figures.ts';

/** Raw grams in a serving by age. Source: rule people.servings (FDA/EPA 2021). */
const SERVINGS: readonly { fromYears: number; grams: Grams }[] = [
  { fromYears: 11, grams: 113 }, { fromYears: 8, grams: 85 }, { fromYears: 4, grams: 57 }, { fromYears: 1, grams: 28 },
];
export const ADULT_SERVING_GRAMS = 113;
export const SERVING_WORDS = '28 g at 1 to 3 years, 57 g at 4 to 7, 85 g at 8 to 10, 113 g from 11, raw';
export const SERVING_SOURCE = 'FDA/EPA 2021';

/**
 * Raw grams in a serving. Range: 1 to 120 years. Throws DomainError outside: under one
 * year nothing is published. Source: FDA/EPA 2021 (rule people.servings).
 */
export function servingFor(input: { ageYears: number }): { rawGrams: Grams; working: Working } {
  const age = within(input.ageYears, { field: 'ageYears', label: 'age', min: 1, max: 120, unit: 'years', remedy: 'for a child under one year ask a doctor' });
  // A child of seven and a half is still seven: the smaller serving holds until the next birthday that counts.
  const rawGrams = SERVINGS.find((row) => age >= row.fromYears)!.grams;
  return { rawGrams, working: { inputs: [{ name: 'age', value: age, unit: 'years' }], model: 'mercury', formula: SERVING_WORDS, source: SERVING_SOURCE, certainty: 'published' } };
}

export type MealCount = {
  /** Whole meals a month, rounded down. */
  mealsPerMonth: number;
  exact: number;
  meanPpm: number;
  /** The meal on raw weight: what the reckoning takes. */
  rawMealGrams: number;
  words: string;
  working: Working;
};

/** Milligrams a kilogram of body and day: the reference dose. */
const DOSE_MG_PER_KG = 0.0001;
const OZ_PER_KG = 35.2;
const DAYS_PER_MONTH = 30.44;

/**
 * Meals a month of one species within the reference dose of mercury. Smoked fish is
 * reckoned back to raw weight: a smoked gram carries more. Range: body 5 to 250 kg, meal
 * 5 g to 2 kg, yield 20 to 120 %. Throws DomainError outside and on a species without a
 * figure. Source: models.md, mercury (reference dose 0.1 ug/kg/day); FDA monitoring 1990-2012.
 */
export function mercuryMeals(input: { speciesCode: string; bodyKg: number; mealGrams: number; /** Smoked weight over raw, in percent; the meal is raw when left out. */ yieldPct?: number; area?: string | null }): MealCount {
  const species = SPECIES.find(({ code }) => code === input.speciesCode);
  const figure = species && mercuryOf(species, input.area ?? null);
  if (!figure) throw new DomainError({ code: 'advice.no-mercury', field: 'speciesCode', label: 'species', value: input.speciesCode, problem: 'has no mercury figure in the table', remedy: 'take it as one serving and no other fish that week, and look for a local advisory' });
  const bodyKg = within(input.bodyKg, { field: 'bodyKg', label: 'body weight', min: 5, max: 250, unit: 'kg' });
  const meal = within(input.mealGrams, { field: 'mealGrams', label: 'meal', min: 5, max: 2000, unit: 'g' });
  const yieldPct = within(input.yieldPct ?? 100, { field: 'yieldPct', label: 'yield', min: 20, max: 120, unit: '%' });
  const rawMealGrams = (meal * 100) / yieldPct;
  const exact = (DOSE_MG_PER_KG * bodyKg * OZ_PER_KG * DAYS_PER_MONTH) / (figure.meanPpm * gramsToOz(rawMealGrams));
  // A binary number a hair below a whole meal is that meal.
  const mealsPerMonth = Math.floor(exact + 1e-9);
  const words = mealsPerMonth === 0 ? 'Less than one such meal a month.' : `At most ${mealsPerMonth} such ${mealsPerMonth === 1 ? 'meal' : 'meals'} a month, and no other fish with mercury.`;
  return {
    mealsPerMonth, exact: rounded(exact, 2), meanPpm: figure.meanPpm, rawMealGrams: rounded(rawMealGrams, 1), words,
    working: {
      inputs: [{ name: 'body', value: bodyKg, unit: 'kg' }, { name: 'meal, raw', value: rounded(rawMealGrams, 1), unit: 'g' }, { name: 'mercury', value: figure.meanPpm, unit: 'ppm' }],
      model: 'mercury', formula: '0.0001 x body kg x 35.2 x 30.44 / (ppm x meal oz), rounded down, on raw weight', source: `reference dose 0.1 ug/kg/day; ${figure.source}`, range: 'mean of the species; one fish may hold several times as much',
      uncertainty: 'big and old fish hold more; a local advisory comes first', certainty: 'published',
    },
  };
}

/** Raw fish may shrink to this part: dry cure 90 % and smoking 80 %, the low ends (models.md, from memory). */
const LEAST_LEFT = 0.9 * 0.8;
/** The same in percent, for a meal that was weighed smoked. */
export const LEAST_SMOKED_YIELD_PCT = rounded(100 * LEAST_LEFT, 1);

/** The least that a raw serving may weigh once smoked: nobody should eat more than this for one serving. */
export function smokedServingGrams(rawGrams: Grams): Grams {
  return Math.floor(rawGrams * LEAST_LEFT);
}
