import { oneOf, rounded, within } from '../bounds.ts';
import type { Working } from '../working.ts';
import { CUP_WEIGHTS, CURE_INGREDIENTS } from './kitchen-weights.ts';
import type { CupWeight, CureIngredient } from './kitchen-weights.ts';

export { CUP_WEIGHTS, CURE_INGREDIENTS } from './kitchen-weights.ts';
export type { CureIngredient } from './kitchen-weights.ts';

export type Measure = 'cup' | 'tbsp' | 'tsp';
export const MEASURES: readonly Measure[] = ['cup', 'tbsp', 'tsp'];

export type KitchenAmount = {
  ingredient: CureIngredient;
  name: string;
  grams: number;
  /** The nearest measures: '1 1/2 cups + 1 tbsp'. Weigh it when you can. */
  text: string;
  cups: number;
  tbsp: number;
  tsp: number;
  /** What those measures weigh. */
  measuredGrams: number;
  /** Grams those measures may really hold, where the source gives a range. */
  lowGrams: number | null;
  highGrams: number | null;
  working: Working;
};

/**
 * Grams of one kind of salt or sugar as US cups and spoons, with the usual fractions;
 * the simplest way of writing it within 2 %. Range: 0 to 100 kg. Throws DomainError on
 * another kind or weight. Source: USDA SR27; kosher and sea salts from memory.
 */
export function kitchenMeasure(input: { ingredient: CureIngredient; grams: number }): KitchenAmount {
  const weight = weightOf(input.ingredient);
  const grams = within(input.grams, { field: 'grams', label: weight.name, min: 0, max: 100_000, unit: 'g' });
  const parts = simplest(grams, weight);
  const measuredGrams = gramsOf(parts, weight);
  const [low, high] = weight.cupRange ?? [null, null];
  const scaled = (cup: number | null) => (cup === null ? null : Math.round((measuredGrams * cup) / weight.gramsPerCup));
  return {
    ingredient: input.ingredient, name: weight.name, grams, text: write(parts), ...parts,
    measuredGrams: rounded(measuredGrams, 1), lowGrams: scaled(low), highGrams: scaled(high),
    working: measureWorking(weight, [{ name: weight.name, value: grams, unit: 'g' }], 'grams / grams a cup, the rest in tablespoons, then teaspoons, to the nearest usual fraction'),
  };
}

/**
 * The weight of cups or spoons of one kind of salt or sugar. Range: 0 to 1,000
 * measures. Throws DomainError on another kind, measure or amount. Source: USDA SR27;
 * kosher and sea salts from memory.
 */
export function gramsOfMeasure(input: { ingredient: CureIngredient; amount: number; measure: Measure }): { grams: number; lowGrams: number | null; highGrams: number | null; working: Working } {
  const weight = weightOf(input.ingredient);
  oneOf(input.measure, MEASURES, 'measure');
  const amount = within(input.amount, { field: 'amount', min: 0, max: 1000, unit: input.measure });
  const grams = amount * { cup: weight.gramsPerCup, tbsp: weight.gramsPerTbsp, tsp: weight.gramsPerTsp }[input.measure];
  const scaled = (cup: number | undefined) => (cup === undefined ? null : rounded((grams * cup) / weight.gramsPerCup, 1));
  return {
    grams: rounded(grams, 1), lowGrams: scaled(weight.cupRange?.[0]), highGrams: scaled(weight.cupRange?.[1]),
    working: measureWorking(weight, [{ name: weight.name, value: amount, unit: input.measure }], 'amount x grams in the measure'),
  };
}

type Parts = { cups: number; tbsp: number; tsp: number };

/** Cup measures that kitchens have, in twelfths so that thirds and quarters are exact. */
const CUP_TWELFTHS = [0, 3, 4, 6, 8, 9];

function weightOf(ingredient: CureIngredient): CupWeight {
  return CUP_WEIGHTS[oneOf(ingredient, CURE_INGREDIENTS, 'ingredient')];
}

/** Cups alone, then cups and tablespoons, then all three: the first within 2 %: a level cup varies by more. */
function simplest(grams: number, weight: CupWeight): Parts {
  const ways = [cupsOnly(grams, weight), withTablespoons(grams, weight)];
  const near = ways.find((parts) => Math.abs(gramsOf(parts, weight) - grams) <= grams / 50);
  return near ?? withTeaspoons(grams, weight);
}

function cupsOnly(grams: number, weight: CupWeight): Parts {
  const cups = grams / weight.gramsPerCup;
  const whole = Math.floor(cups);
  const nearest = [...CUP_TWELFTHS, 12].reduce((best, twelfths) => (Math.abs(cups - whole - twelfths / 12) < Math.abs(cups - whole - best / 12) ? twelfths : best));
  return { cups: whole + nearest / 12, tbsp: 0, tsp: 0 };
}

/** The most cups that do not exceed it; the slip forgives what binary numbers cannot hold. */
function cupsBelow(grams: number, weight: CupWeight): number {
  const cups = grams / weight.gramsPerCup;
  const whole = Math.floor(cups);
  return whole + CUP_TWELFTHS.filter((twelfths) => twelfths / 12 <= cups - whole + 1e-9).at(-1)! / 12;
}

function withTablespoons(grams: number, weight: CupWeight): Parts {
  const cups = cupsBelow(grams, weight);
  return { cups, tbsp: Math.max(0, Math.round((grams - cups * weight.gramsPerCup) / weight.gramsPerTbsp)), tsp: 0 };
}

function withTeaspoons(grams: number, weight: CupWeight): Parts {
  const cups = cupsBelow(grams, weight);
  const rest = grams - cups * weight.gramsPerCup;
  const tbsp = Math.max(0, Math.floor(rest / weight.gramsPerTbsp + 1e-9));
  const eighths = Math.max(0, Math.round((8 * (rest - tbsp * weight.gramsPerTbsp)) / weight.gramsPerTsp));
  return eighths >= 24 ? { cups, tbsp: tbsp + 1, tsp: 0 } : { cups, tbsp, tsp: eighths / 8 };
}

function gramsOf({ cups, tbsp, tsp }: Parts, weight: CupWeight): number {
  return cups * weight.gramsPerCup + tbsp * weight.gramsPerTbsp + tsp * weight.gramsPerTsp;
}

const FRACTIONS: readonly (readonly [number, string])[] = [
  [1 / 8, '1/8'], [1 / 4, '1/4'], [1 / 3, '1/3'], [3 / 8, '3/8'], [1 / 2, '1/2'], [5 / 8, '5/8'], [2 / 3, '2/3'], [3 / 4, '3/4'], [7 / 8, '7/8'],
];

function write({ cups, tbsp, tsp }: Parts): string {
  const parts = [[cups, cups > 1 ? 'cups' : 'cup'], [tbsp, 'tbsp'], [tsp, 'tsp']] as const;
  const said = parts.filter(([amount]) => amount > 0).map(([amount, unit]) => `${mixed(amount)} ${unit}`);
  return said.length === 0 ? 'none' : said.join(' + ');
}

function mixed(amount: number): string {
  const whole = Math.floor(amount + 1e-9);
  const fraction = FRACTIONS.find(([size]) => Math.abs(size - (amount - whole)) < 1e-6)?.[1];
  if (!fraction) return String(whole);
  return whole === 0 ? fraction : `${whole} ${fraction}`;
}

function measureWorking(weight: CupWeight, inputs: Working['inputs'], formula: string): Working {
  return {
    inputs: [...inputs, { name: 'grams a cup', value: weight.gramsPerCup, unit: 'g' }], model: 'kitchen-measures', formula, source: weight.source, range: 'US cups and spoons, level, not heaped',
    uncertainty: weight.cupRange ? `a cup may hold ${weight.cupRange[0]} to ${weight.cupRange[1]} g: weigh it` : 'a cup varies with how it is filled: weigh it', certainty: weight.certainty,
  };
}
