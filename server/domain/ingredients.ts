import type { CureFacts } from './cure/cure-facts.ts';
import { CUP_WEIGHTS } from './cure/kitchen-weights.ts';
import type { CureIngredient } from './cure/kitchen-weights.ts';
import type { Grams } from './working.ts';

/**
 * Ingredients of several lists as one: each named once, as it was first written, in the order in which they come (the lists'
 * own order is by weight: rule label.content). A list is text, its parts set off by commas, semicolons or lines; what stands in brackets
 * belongs to its part, and a comma between two digits to its number. Two parts are the same whatever their case, spacing and full stop.
 */
export function mergeIngredients(lists: readonly string[]): string {
  const seen = new Map<string, string>();
  for (const part of lists.flatMap(partsOf)) {
    if (!seen.has(keyOf(part))) seen.set(keyOf(part), part);
  }
  return [...seen.values()].join(', ');
}

/** Fish as it went in, by its common name; weight 0 where none is known. */
export type FishIn = { name: string; grams: Grams };
/** What of a cure goes into its list of ingredients. */
export type CureContents = Pick<CureFacts, 'saltGrams' | 'sugarGrams' | 'waterGrams' | 'brinePercent' | 'others'> & { sugarKind: string | null };

/** A label says what it is, not how it fills a cup. */
const PLAIN: Readonly<Record<CureIngredient, string>> = {
  'table-salt': 'salt', 'kosher-salt-flake': 'salt', 'kosher-salt-compacted': 'salt', 'fine-sea-salt': 'salt', 'coarse-sea-salt': 'salt',
  'granulated-sugar': 'sugar', 'brown-sugar-packed': 'brown sugar', 'brown-sugar-unpacked': 'brown sugar', 'turbinado-sugar': 'turbinado sugar',
  'honey': 'honey', 'molasses': 'molasses', 'maple-syrup': 'maple syrup',
};
const KIND_NAMED = new Map(Object.entries(CUP_WEIGHTS).map(([kind, { name }]) => [keyOf(name), PLAIN[kind as CureIngredient]]));

/**
 * Fish as a list of ingredients names it, such as "Atlantic mackerel (fish)": most by weight first, each species once.
 * Weights are what was drawn, in grams. Never throws; no fish is an empty list. Rule label.content, and people.allergens: fish by species.
 */
export function fishNamed(fish: readonly FishIn[]): string[] {
  return inOrderOfWeight(fish.map(({ name, grams }) => ({ name: `${name.trim()} (fish)`, grams })));
}

/**
 * What cures put on the fish, as a list of ingredients names it: salt, sugar by its plain kind ("brown sugar"), and whatever else was
 * named, each once, in descending order of what went in (grams of all the cures together). Salt whose weight nobody wrote down, that
 * of a brine told by its strength alone, comes first: it is nearly always the most. Facts of a cure as checkCureFacts lets them pass; never throws.
 * Sources: rule label.content; order and names, 21 CFR 101.4 and EU 1169/2011 art. 18.
 *
 * Water is left out. It is an ingredient where it makes up more than 5 % of what is sold (EU 1169/2011 annex VII part A), and fish that was
 * drained, dried and smoked weighs less than before the cure: more water left it than came in. Smoke is told by the name, "Hot-smoked".
 */
export function curedWith(cures: readonly CureContents[]): string[] {
  return inOrderOfWeight(cures.flatMap((cure) => [
    { name: 'salt', grams: saltOf(cure) },
    ...(cure.sugarKind !== null && cure.sugarGrams > 0 ? [{ name: PLAIN[cure.sugarKind as CureIngredient] ?? cure.sugarKind, grams: cure.sugarGrams }] : []),
    ...cure.others.flatMap(({ name, grams }) => namesIn(name).map((one) => ({ name: one, grams }))),
  ]).filter(({ name }) => keyOf(name) !== 'water'));
}

/** A name that is a known kind's is that kind; any other may be several. */
function namesIn(written: string): string[] {
  const kind = KIND_NAMED.get(keyOf(written));
  return kind === undefined ? partsOf(written) : [kind];
}

function saltOf({ saltGrams, waterGrams, brinePercent }: CureContents): Grams {
  if (saltGrams !== null) return saltGrams;
  return waterGrams === null || brinePercent === null ? Infinity : (waterGrams * brinePercent) / (100 - brinePercent);
}

function inOrderOfWeight(all: readonly { name: string; grams: Grams }[]): string[] {
  const sums = new Map<string, { name: string; grams: Grams }>();
  for (const { name, grams } of all) {
    const known = sums.get(keyOf(name));
    if (known) known.grams += grams;
    else sums.set(keyOf(name), { name, grams });
  }
  // Written so that two unknown weights, each above all others, are level.
  return [...sums.values()].sort((a, b) => (a.grams === b.grams ? 0 : b.grams > a.grams ? 1 : -1)).map(({ name }) => name);
}

function keyOf(part: string): string {
  return part.normalize('NFC').toLowerCase().replace(/\s+/g, ' ').trim();
}

function partsOf(list: string): string[] {
  const parts = [''];
  const characters = [...list];
  const inNumber = (i: number): boolean => /^\d,\d$/.test(characters.slice(i - 1, i + 2).join(''));
  let depth = 0;
  for (const [i, character] of characters.entries()) {
    if (character === '(' || character === '[') depth += 1;
    if (character === ')' || character === ']') depth = Math.max(0, depth - 1);
    if (depth === 0 && /[,;\n]/.test(character) && !inNumber(i)) parts.push('');
    else parts[parts.length - 1] += character;
  }
  return parts.map((part) => part.trim().replace(/[\s.]+$/, '')).filter((part) => part !== '');
}
