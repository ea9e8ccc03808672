import type { AdviceGiven, AllergenFound } from '../../contract/advice.ts';
import { adviceFor } from '../../domain/advice/advice.ts';
import { mercuryOf } from '../../domain/advice/mercury-figures.ts';
import { findSpecies } from '../../domain/species/index.ts';
import { batchOf } from './lineage.ts';
import type { Lineage } from './lineage.ts';
import type { Contents } from './printed.ts';

const MOST_SPECIES = 50;

/** What those who eat it are told, by all the fish in it and all that was mixed in at any remove. It names no person and no place. */
export function adviceOf(lineage: Lineage, contents: Contents): { advice: AdviceGiven; unticked: AllergenFound[] } {
  const speciesCodes = [...new Set(lineage.landings.map((l) => l.speciesCode))].slice(0, MOST_SPECIES);
  // A milder figure counts for one water alone, so for fish of several waters none does.
  const [area = null, ...otherAreas] = new Set(lineage.landings.map((l) => l.area));
  const { items, label, unticked } = adviceFor({
    speciesCodes, area: otherAreas.length === 0 ? area : null, product: batchOf(lineage).productKind, ingredients: contents.searched, allergens: contents.named,
  });
  const mercury = speciesCodes.flatMap((code) => {
    const species = findSpecies(code);
    return species && mercuryOf(species, null) ? [{ speciesCode: code, name: species.name }] : [];
  });
  return { advice: { items, label, mercury }, unticked };
}
