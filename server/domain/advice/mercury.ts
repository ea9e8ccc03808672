import type { Species } from '../species/types.ts';
import type { ProductKind } from '../working.ts';
import { mercuryOf } from './mercury-figures.ts';
import { ADULT_SERVING_GRAMS, smokedServingGrams } from './servings.ts';
import type { AdviceItem } from './types.ts';

const RULE = 'people.mercury';
const SELF_CAUGHT = 'FDA/EPA 2021; FDA monitoring data 1990-2012';
const NAMED = 'Pregnant, might become pregnant, breast-feeding, or a child';

/**
 * Mercury advice by species, strictest first. All fish here is self-caught, so without a
 * local advisory the rule for such fish holds whatever the table says of the species.
 */
export function mercuryAdvice(species: readonly Species[], area: string | null, product: ProductKind): AdviceItem[] {
  const items: AdviceItem[] = [];
  const avoid = species.filter((one) => mercuryOf(one, area)?.advice === 'avoid').map((one) => one.name);
  if (avoid.length > 0) {
    items.push({
      topic: 'mercury', ruleId: RULE, species: avoid, level: 'avoid', text: `High in mercury: ${list(avoid)}. ${NAMED}: do not eat it.`,
      label: 'High in mercury: not for pregnant or breast-feeding women, or children.', source: SELF_CAUGHT, certainty: 'published',
    });
  }
  items.push({
    topic: 'mercury', ruleId: RULE, species: species.map((one) => one.name), level: 'limit',
    text: `Caught by the club: look for an advisory for the water it came from. Where there is none, eat one serving and no other fish that week. A serving is ${ADULT_SERVING_GRAMS} g (4 oz) raw for an adult, less for a child.`,
    label: null, source: 'FDA/EPA 2021', certainty: 'published',
  });
  const unknown = species.filter((one) => mercuryOf(one, area) === null).map((one) => one.name);
  if (unknown.length > 0) items.push({ topic: 'mercury', ruleId: RULE, species: unknown, level: 'inform', text: `No mercury figure in the tables: ${list(unknown)}. That does not mean it is low.`, label: null, source: 'FDA monitoring data 1990-2012 has no row', certainty: 'published' });
  if (product !== 'raw') items.push(rawBasis());
  return items;
}

function rawBasis(): AdviceItem {
  return {
    topic: 'mercury', ruleId: 'people.raw-basis', species: [], level: 'inform',
    text: `Servings are reckoned raw. Smoking takes water out: a serving of ${ADULT_SERVING_GRAMS} g raw may weigh as little as ${smokedServingGrams(ADULT_SERVING_GRAMS)} g smoked.`,
    label: null, source: 'arithmetic; weight kept in cure and smoke from memory', certainty: 'from memory',
  };
}

export function list(names: readonly string[]): string {
  return names.join(', ');
}
