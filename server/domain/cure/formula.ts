import { oneOf, rounded, within } from '../bounds.ts';
import { DomainError } from '../working.ts';
import type { Grams, Working } from '../working.ts';
import { brineStrength, SATURATED_PERCENT } from './brine.ts';
import type { BrineStrength } from './brine.ts';
import { CURE_INGREDIENTS, kitchenMeasure } from './kitchen-measures.ts';
import type { CureIngredient, KitchenAmount } from './kitchen-measures.ts';

/** A club's own formula, kept as data: weights for a weight of fish. */
export type CureFormula = {
  name: string;
  method: 'dry' | 'brine';
  /** The fish it was written for. */
  fishGrams: Grams;
  items: readonly FormulaItem[];
};
export type FormulaItem = {
  name: string;
  /** A kind of salt or sugar, 'water', or null for anything else, such as herbs. */
  ingredient: CureIngredient | 'water' | null;
  grams: number;
};

export type ScaledFormula = {
  name: string;
  fishGrams: Grams;
  factor: number;
  items: (FormulaItem & { kitchen: KitchenAmount | null })[];
  /** Of a brine, from its salt and water; null for a dry cure. */
  strength: BrineStrength | null;
  /** Salt in percent of the fish. */
  saltPercentOfFish: number;
  working: Working;
};

/** Curing agents are recorded as measured, never reckoned: rule nitrite. */
const CURING_AGENT = /nitrit|nitrat|saltpet|curing salt|pink salt|cure (?:no\.?|#|number) ?[12]|\be ?(?:249|250|251|252)\b/i;
const MOST_ITEMS = 40;

/**
 * A formula scaled to a weight of fish. Range: 1 g to 1 t of fish, up to 40 items. Throws
 * DomainError outside, on a brine with more salt than its water holds, and on curing
 * agents: no dose of nitrite is ever reckoned. Source: proportion; rule nitrite.
 */
export function scaleFormula(input: { formula: CureFormula; fishGrams: Grams }): ScaledFormula {
  const { formula } = input;
  checkFormula(formula);
  const fishGrams = within(input.fishGrams, { field: 'fishGrams', label: 'fish', min: 1, max: 1e6, unit: 'g', remedy: 'enter the weight on the scale' });
  const factor = fishGrams / formula.fishGrams;
  const items = formula.items.map((item) => {
    const grams = inScale(item.grams * factor);
    return { ...item, grams, kitchen: item.ingredient === null || item.ingredient === 'water' ? null : kitchenMeasure({ ingredient: item.ingredient, grams }) };
  });
  const salt = saltIn(formula.items);
  return {
    name: formula.name, fishGrams, factor: rounded(factor, 4), items, strength: strengthOf(formula), saltPercentOfFish: rounded((100 * salt) / formula.fishGrams, 2),
    working: {
      inputs: [{ name: 'written for', value: formula.fishGrams, unit: 'g of fish' }, { name: 'fish', value: fishGrams, unit: 'g' }], formula: 'each weight x fish / fish it was written for',
      source: 'the club\'s own formula; arithmetic', uncertainty: 'weights below 10 g to a tenth, others to a gram', certainty: 'arithmetic',
    },
  };
}

/** Refuses a formula that cannot be kept. */
export function checkFormula(formula: CureFormula): void {
  const field = (name: string) => `formula.${name}`;
  if (formula.name.trim() === '' || formula.name.length > 80) throw new DomainError({ code: 'formula.name', field: field('name'), label: 'name', value: formula.name, problem: 'is no name', remedy: 'name the formula in up to 80 characters' });
  oneOf(formula.method, ['dry', 'brine'], field('method'));
  within(formula.fishGrams, { field: field('fishGrams'), label: 'fish', min: 1, max: 1e6, unit: 'g' });
  within(formula.items.length, { field: field('items'), label: 'number of items', min: 1, max: MOST_ITEMS });
  formula.items.forEach((item, index) => checkItem(item, field(`items.${index}`)));
  if (saltIn(formula.items) === 0) throw new DomainError({ code: 'formula.no-salt', field: field('items'), label: 'formula', value: formula.name, problem: 'has no salt', remedy: 'add the kind of salt and its weight' });
  strengthOf(formula);
}

function checkItem(item: FormulaItem, field: string): void {
  if (item.ingredient !== null) oneOf(item.ingredient, [...CURE_INGREDIENTS, 'water'], `${field}.ingredient`);
  within(item.grams, { field: `${field}.grams`, label: item.name, min: 0, max: 1e7, unit: 'g' });
  if (!CURING_AGENT.test(item.name)) return;
  throw new DomainError({
    code: 'formula.nitrite', field: `${field}.name`, label: 'ingredient', value: item.name, problem: 'is a curing agent, and no dose of it is reckoned here',
    remedy: 'leave it out of the formula; record a measured value instead, and only where and for the species it is permitted',
  });
}

function saltIn(items: readonly FormulaItem[]): number {
  return items.filter((item) => item.ingredient?.includes('salt')).reduce((sum, item) => sum + item.grams, 0);
}

function strengthOf(formula: CureFormula): BrineStrength | null {
  if (formula.method === 'dry') return null;
  const salt = saltIn(formula.items);
  const water = formula.items.filter((item) => item.ingredient === 'water').reduce((sum, item) => sum + item.grams, 0);
  const percent = water === 0 ? Number.NaN : (100 * salt) / (salt + water);
  if (percent <= SATURATED_PERCENT) return brineStrength({ given: 'percent', value: percent });
  throw new DomainError({ code: 'formula.too-strong', field: 'formula.items', label: 'brine', value: water, shown: `${salt} g of salt in ${water} g of water`, problem: 'is more salt than water can hold', remedy: 'correct the salt or the water, or make it a dry cure' });
}

function inScale(grams: number): number {
  return rounded(grams, grams < 10 ? 1 : 0);
}
