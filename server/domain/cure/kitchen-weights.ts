import type { Certainty } from '../working.ts';

export const CURE_INGREDIENTS = [
  'table-salt', 'kosher-salt-flake', 'kosher-salt-compacted', 'fine-sea-salt', 'coarse-sea-salt', 'granulated-sugar', 'brown-sugar-packed', 'brown-sugar-unpacked',
  'turbinado-sugar', 'honey', 'molasses', 'maple-syrup',
] as const;
/** Salt and sugar by kind: a cup of flakes holds half the salt of a cup of table salt, so the kind is always asked for. */
export type CureIngredient = (typeof CURE_INGREDIENTS)[number];

export type CupWeight = {
  name: string;
  role: 'salt' | 'sugar';
  gramsPerCup: number;
  gramsPerTbsp: number;
  gramsPerTsp: number;
  /** Grams a cup may really hold; null where the source gives no range. */
  cupRange: readonly [number, number] | null;
  source: string;
  certainty: Certainty;
};

const SR27 = 'USDA SR27';

/** A spoon that the table does not print is a sixteenth (tbsp) or a forty-eighth (tsp) of its cup. */
function published(name: string, role: CupWeight['role'], cup: number, ndb: string, spoons: { tbsp?: number; tsp?: number }): CupWeight {
  return { name, role, gramsPerCup: cup, gramsPerTbsp: spoons.tbsp ?? cup / 16, gramsPerTsp: spoons.tsp ?? cup / 48, cupRange: null, source: `${SR27} ${ndb}`, certainty: 'published' };
}

function remembered(name: string, cup: number, low: number, high: number): CupWeight {
  return { name, role: 'salt', gramsPerCup: cup, gramsPerTbsp: cup / 16, gramsPerTsp: cup / 48, cupRange: [low, high], source: `from memory (${low} to ${high} g a cup)`, certainty: 'from memory' };
}

/** Grams in a US cup, tablespoon and teaspoon. Copied from the reference table of cup weights; a test compares every row. */
export const CUP_WEIGHTS: Readonly<Record<CureIngredient, CupWeight>> = {
  'table-salt': /* @__PURE__ */ published('Table salt', 'salt', 292, '02047', { tbsp: 18, tsp: 6 }),
  'kosher-salt-flake': /* @__PURE__ */ remembered('Kosher salt, flakes', 135, 128, 142),
  'kosher-salt-compacted': /* @__PURE__ */ remembered('Kosher salt, compacted', 240, 230, 250),
  'fine-sea-salt': /* @__PURE__ */ remembered('Fine sea salt', 280, 270, 290),
  'coarse-sea-salt': /* @__PURE__ */ remembered('Coarse sea salt', 225, 210, 240),
  'granulated-sugar': /* @__PURE__ */ published('Granulated sugar', 'sugar', 200, '19335', { tsp: 4.2 }),
  'brown-sugar-packed': /* @__PURE__ */ published('Brown sugar, packed', 'sugar', 220, '19334', { tsp: 4.6 }),
  'brown-sugar-unpacked': /* @__PURE__ */ published('Brown sugar, loose', 'sugar', 145, '19334', { tsp: 3 }),
  'turbinado-sugar': /* @__PURE__ */ published('Turbinado sugar', 'sugar', 202, '19908', { tsp: 4.6 }),
  'honey': /* @__PURE__ */ published('Honey', 'sugar', 339, '19296', { tbsp: 21 }),
  'molasses': /* @__PURE__ */ published('Molasses', 'sugar', 337, '19304', { tbsp: 20 }),
  'maple-syrup': /* @__PURE__ */ published('Maple syrup', 'sugar', 315, '19353', { tbsp: 20 }),
};
