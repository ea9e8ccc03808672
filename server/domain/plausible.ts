import { heaviestFish } from './species/ceiling.ts';
import { DomainError, MAX_GRAMS } from './working.ts';
import type { Form, Grams } from './working.ts';

export { checkInstant, checkTemperatureC } from './readings.ts';
export type { TemperaturePlace } from './readings.ts';

/** Below this a single fish is a slip of the unit. From memory: the smallest fish anybody lands weigh more. */
const LEAST_FISH_GRAMS = 5;
const MOST_FISH = 100_000;

/**
 * Refuses a landing that cannot be: no weight, no fish, a mean weight above the
 * heaviest fish of its kind, or below 5 g a fish. `count` null means not counted: then
 * the weight alone is looked at. Returns the mean grams a fish, or null. Range: 1 g to
 * 100 t, 1 to 100,000 fish. The ceilings are from memory and generous.
 */
export function checkLanding(input: { speciesOrMaxFishGrams: string | Grams; count: number | null; grams: Grams; form: Form }): { meanGrams: number | null } {
  const { count, grams } = input;
  if (!Number.isSafeInteger(grams) || grams <= 0 || grams > MAX_GRAMS) {
    throw new DomainError({ code: 'landing.weight', field: 'grams', label: 'weight', value: grams, shown: `${grams} g`, problem: 'is not above zero and at most 100,000 kg', remedy: 'enter the weight on the scale' });
  }
  if (count === null) return { meanGrams: null };
  if (!Number.isSafeInteger(count) || count <= 0 || count > MOST_FISH) {
    throw new DomainError({ code: 'landing.count', field: 'fishCount', label: 'number of fish', value: count, problem: `is not a whole number from 1 to ${MOST_FISH}`, remedy: 'count the fish, or leave it empty when they were not counted' });
  }
  const meanGrams = grams / count;
  const ceiling = heaviestFish(input.speciesOrMaxFishGrams);
  if (meanGrams > ceiling.maxFishGrams) throw tooHeavy(grams, count, meanGrams, ceiling);
  if (meanGrams < LEAST_FISH_GRAMS) {
    throw new DomainError({ code: 'landing.too-light', field: 'grams', label: 'weight', value: grams, shown: `${grams} g`, problem: `for ${count} fish is less than ${LEAST_FISH_GRAMS} g each`, remedy: 'check the unit and the number of fish: were kilograms meant?' });
  }
  return { meanGrams };
}

function tooHeavy(grams: Grams, count: number, meanGrams: number, ceiling: { name: string; maxFishGrams: Grams }): DomainError {
  const each = count === 1 ? 'one fish' : `${count} fish is ${kg(meanGrams)} each, which`;
  return new DomainError({
    code: 'landing.too-heavy', field: 'grams', label: 'weight', value: grams, shown: kg(grams),
    problem: `for ${each} is more than any ${ceiling.name} weighs (${kg(ceiling.maxFishGrams)})`,
    remedy: 'check the unit and the number of fish: were grams or pounds meant?',
  });
}

function kg(grams: number): string {
  return `${Math.round(grams / 10) / 100} kg`;
}
