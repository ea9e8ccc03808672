import { oneOf, within } from '../bounds.ts';
import { ALLERGEN_SOURCE, ALLERGENS } from '../allergens.ts';
import { findSpecies } from '../species/index.ts';
import type { Species } from '../species/types.ts';
import { PRODUCT_KINDS } from '../working.ts';
import type { ProductKind, Working } from '../working.ts';
import { ALLERGEN_WORDS_SOURCE, allergensIn, untickedAllergens } from './allergen-words.ts';
import type { AllergenFound } from './allergen-words.ts';
import { ciguateraAdvice, listeriaAdvice, parasiteAdvice, sharingAdvice } from './hazards.ts';
import { list, mercuryAdvice } from './mercury.ts';
import type { AdviceItem } from './types.ts';

export { allergensIn } from './allergen-words.ts';
export { mercuryMeals, servingFor } from './servings.ts';
export type { AdviceItem, AdviceTopic } from './types.ts';
export type { AllergenFound } from './allergen-words.ts';

export type AdviceInput = {
  /** Of the fish in it; a code that the tables lack is a club's own species. */
  speciesCodes: readonly string[];
  /** Where it was caught, in the club's words; null when not recorded. Never repeated in the answer. */
  area: string | null;
  product: ProductKind;
  /** As on the label. */
  ingredients: string;
  /** Allergens that somebody ticked, by code or in words. */
  allergens?: readonly string[];
};

export type Advice = {
  items: AdviceItem[];
  /** The short words that belong on a label, each once. */
  label: string[];
  /** What it contains, for the label: fish first. */
  contains: string[];
  /** Found in the ingredients and not ticked: ask the person. */
  unticked: AllergenFound[];
  working: Working;
};

const LEVELS: readonly AdviceItem['level'][] = ['avoid', 'limit', 'inform'];

/**
 * Advice on a batch or pack in plain words with its sources, strictest first: sharing,
 * mercury, ciguatera, Listeria, parasites, allergens. What is not known is said, never
 * passed. Range: up to 50 species. Throws DomainError on more and on another product.
 * Sources: rules people.* and parasite, tables of hazards and mercury.
 */
export function adviceFor(input: AdviceInput): Advice {
  within(input.speciesCodes.length, { field: 'speciesCodes', label: 'number of species', min: 0, max: 50 });
  oneOf(input.product, PRODUCT_KINDS, 'product');
  const codes = [...new Set(input.speciesCodes)];
  const species = codes.flatMap((code) => findSpecies(code) ?? []);
  const unknown = codes.filter((code) => !findSpecies(code));
  const found = allergensIn(input.ingredients);
  const items = [
    ...sharingAdvice(species), ...(codes.length > 0 ? mercuryAdvice(species, input.area, input.product) : []), ...ciguateraAdvice(species), ...listeriaAdvice(input.product),
    ...parasiteAdvice(species, input.area, input.product), ...(unknown.length > 0 || codes.length === 0 ? [unknownFish(unknown.length)] : []), allergenAdvice(species, input, found),
  ].sort((a, b) => LEVELS.indexOf(a.level) - LEVELS.indexOf(b.level));
  return {
    items, label: [...new Set(items.flatMap((item) => item.label ?? []))], contains: containsOf(species, input, found),
    unticked: untickedAllergens(input.ingredients, input.allergens ?? []),
    working: {
      inputs: [{ name: 'species', value: species.map((one) => one.name).join(', ') || 'not in the tables' }, { name: 'product', value: input.product }], formula: 'looked up by species and product; the stricter where two figures differ',
      source: 'rules people.* and parasite; tables of hazards and mercury', range: 'species in the tables', uncertainty: 'a local advisory comes first', certainty: 'published',
    },
  };
}

function unknownFish(count: number): AdviceItem {
  return {
    topic: 'sharing', ruleId: 'people.mercury', species: [], level: 'limit',
    text: `${count > 0 ? 'A species here is not in the tables' : 'No species is recorded'}: its mercury and toxins are not known. Ask the club, look for a local advisory, and eat no more than one serving that week.`,
    label: null, source: 'FDA/EPA 2021 for self-caught fish without an advisory', certainty: 'published',
  };
}

function containsOf(species: readonly Species[], input: AdviceInput, found: readonly AllergenFound[]): string[] {
  const names = [species.length > 0 ? `Fish (${list(species.map((one) => one.name))})` : 'Fish'];
  const others = [...(input.allergens ?? []).map(nameOf), ...found.map(({ name }) => name)];
  for (const name of others) {
    const key = name.trim().toLowerCase();
    if (key !== '' && key !== 'fish' && !names.some((known) => known.toLowerCase() === key)) names.push(name.trim());
  }
  return names;
}

function nameOf(allergen: string): string {
  return ALLERGENS.find(({ code }) => code === allergen.trim().toLowerCase())?.name ?? allergen;
}

function allergenAdvice(species: readonly Species[], input: AdviceInput, found: readonly AllergenFound[]): AdviceItem {
  const contains = containsOf(species, input, found);
  return {
    topic: 'allergens', ruleId: 'people.allergens', species: species.map((one) => one.name), level: 'inform',
    text: `Contains: ${contains.join(', ')}. Made in a club's kitchen: traces of other foods cannot be ruled out.`, label: `Contains: ${contains.join(', ')}`,
    source: found.length > 0 ? ALLERGEN_WORDS_SOURCE : ALLERGEN_SOURCE, certainty: found.length > 0 ? 'from memory' : 'published',
  };
}
