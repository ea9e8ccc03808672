import { mercuryMeals, servingFor } from '$domain/advice/servings.ts';
import { frac, maths } from './maths.ts';
import { own } from './own/mercury.ts';
import type { ModelCheck, ModelPage } from './types.ts';

const EIGHT_OZ_GRAMS = 8 * 28.349523125;

function checks(): ModelCheck[] {
  const meals = (what: string, speciesCode: string, published: number): ModelCheck => ({ what: `${what}: meals a month for 70 kg and 8 oz`, source: 'reference dose, FDA monitoring, computed', published, found: mercuryMeals({ speciesCode, bodyKg: 70, mealGrams: EIGHT_OZ_GRAMS }).exact, unit: '', within: 0.005 });
  const serving = (ageYears: number, published: number): ModelCheck => ({ what: `A raw serving at ${ageYears} years`, source: 'FDA/EPA 2021', published, found: servingFor({ ageYears }).rawGrams, unit: 'g', within: 0 });
  return [meals('King mackerel, 0.730 ppm', 'king-mackerel', 1.28), meals('Bluefish, 0.368 ppm', 'bluefish', 2.55), serving(3, 28), serving(7, 57), serving(10, 85), serving(11, 113)];
}

export const page: ModelPage = {
  slug: 'mercury',
  purpose: 'Tells how many meals of a species in a month stay within the reference dose of mercury, and how large a serving is.',
  own,
  equations: [{ maths: maths('n =', frac('0.0001 · B · 35.2 · 30.44', 'c · M')), words: 'A tenth of a microgram a day for each kilogram of body, over a month, divided by what one meal brings; rounded down.' }],
  symbols: [
    { sign: maths('n'), meaning: 'meals a month' },
    { sign: maths('B'), meaning: 'body', unit: 'kg' },
    { sign: maths('c'), meaning: 'mercury in the species, mean', unit: 'ppm' },
    { sign: maths('M'), meaning: 'meal by its raw weight', unit: 'oz' },
  ],
  figures: [
    { what: 'Reference dose of 0.1 microgram for each kilogram and day', source: 'US EPA', certainty: 'from memory' },
    { what: 'Mercury by species', source: 'FDA monitoring data 1990 to 2012', certainty: 'published' },
    { what: 'Servings by age', source: 'FDA/EPA 2021', certainty: 'published' },
    { what: 'How much a raw serving may shrink in cure and smoke', source: 'Low ends of the usual yields', certainty: 'from memory' },
  ],
  range: { holds: 'Body of 5 to 250 kg, meal of 5 g to 2 kg, species with a figure.', outside: 'A species without a figure is refused, which does not mean that it is low. Under one year of age, ask a doctor.' },
  checks,
  limits: ['The mean of a species: a big and old fish holds several times as much.', 'Smoked fish is reckoned back to raw weight: smoking takes water out, not mercury.', 'The higher figure counts where two waters have one each, unless the fish is plainly from the other.'],
  never: 'A local advisory comes first. With none, eat one serving of self-caught fish and no other fish that week.',
};
