import { DomainError } from '../working.ts';
import type { Grams } from '../working.ts';
import { findSpecies } from './index.ts';

/** The heaviest fish that is believed: of a species in the table, or the weight a club gave for its own species. */
export function heaviestFish(speciesOrMaxFishGrams: string | Grams): { name: string; maxFishGrams: Grams } {
  if (typeof speciesOrMaxFishGrams === 'number') {
    if (speciesOrMaxFishGrams > 0) return { name: 'fish of its kind', maxFishGrams: speciesOrMaxFishGrams };
    throw new DomainError({ code: 'species.ceiling', field: 'maxFishGrams', value: speciesOrMaxFishGrams, problem: 'is not above zero', remedy: 'enter the heaviest fish of this species in grams' });
  }
  const species = findSpecies(speciesOrMaxFishGrams);
  if (species) return { name: species.name, maxFishGrams: species.maxFishGrams };
  throw new DomainError({ code: 'species.unknown', field: 'speciesCode', label: 'species', value: speciesOrMaxFishGrams, problem: 'is not in the table', remedy: 'choose a species from the list, or add your own' });
}
