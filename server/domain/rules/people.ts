import { adviceFor } from '../advice/advice.ts';
import { CIGUATERA_SOURCE, CIGUATERA_WORDS } from '../advice/hazards.ts';
import { SERVING_SOURCE, SERVING_WORDS } from '../advice/servings.ts';
import type { Certainty } from '../working.ts';
import { ALL } from './row.ts';
import type { Rule } from './rule.ts';

const TITLES = {
  'people.listeria': 'Who should not eat it as it is', 'people.mercury': 'Mercury', 'people.servings': 'A serving', 'people.raw-basis': 'Raw weight and smoked weight', 'people.ciguatera': 'Ciguatera', 'people.allergens': 'Allergens',
} as const;

const row = (id: keyof typeof TITLES, words: string, source: string, certainty: Certainty): Rule => ({
  kind: 'advice', id, title: TITLES[id], group: 'people', appliesTo: ALL, evidence: '', evidenceAt: 'nowhere', limits: [], words, source, certainty, whatToDo: '', ifNotMet: 'nothing', ifNotRecorded: 'nothing', releasable: false,
});

/**
 * The rules people.*: advice for those who eat the fish, in the words that stand beside a batch of which nothing more is
 * known. Never met or not met, and no part of a verdict; apart from RULES, so that what judges a batch does not carry them.
 */
export function adviceRows(): Rule[] {
  const { items } = adviceFor({ speciesCodes: ['atlantic-mackerel'], area: null, product: 'dip', ingredients: '' });
  const said = (id: keyof typeof TITLES) => {
    const item = items.find(({ ruleId, level }) => ruleId === id && (id !== 'people.mercury' || level === 'limit'))!;
    return row(id, id === 'people.allergens' ? ALLERGEN_WORDS : item.text, item.source, item.certainty);
  };
  return [
    said('people.listeria'), said('people.mercury'), row('people.servings', `A serving: ${SERVING_WORDS}.`, SERVING_SOURCE, 'published'), said('people.raw-basis'),
    row('people.ciguatera', CIGUATERA_WORDS, CIGUATERA_SOURCE, 'from memory'), said('people.allergens'),
  ];
}

/** A pack names its own; this says what is named. */
const ALLERGEN_WORDS = 'Every pack names its fish by species and the allergens of its ingredients; traces of other foods cannot be ruled out.';
