import { within } from '../bounds.ts';
import type { Grams, Working } from '../working.ts';
import { CUP_WEIGHTS, CURE_INGREDIENTS } from './kitchen-weights.ts';
import type { CureIngredient } from './kitchen-weights.ts';

/** Loose and packed are two ways to fill a cup with one sugar. */
const ONE_ON_THE_SHELF = { 'brown-sugar-packed': 'brown-sugar', 'brown-sugar-unpacked': 'brown-sugar' } as const;
export type StockKind = Exclude<CureIngredient, keyof typeof ONE_ON_THE_SHELF> | 'brown-sugar';

/** What stands on the shelf for a kind of salt or sugar: itself, but brown sugar is one, however a cup is filled with it. */
export const stockKindOf = (kind: CureIngredient): StockKind => (kind in ONE_ON_THE_SHELF ? 'brown-sugar' : kind) as StockKind;

/** Salt and sugar as they stand on the shelf and are counted, by weight. */
export const STOCK_KINDS: readonly StockKind[] = [...new Set(CURE_INGREDIENTS.map(stockKindOf))];
export const STOCK_NAMES: Readonly<Record<StockKind, string>> = Object.fromEntries(STOCK_KINDS.map((kind) => [kind, kind === 'brown-sugar' ? 'Brown sugar' : CUP_WEIGHTS[kind].name])) as Record<StockKind, string>;

/** Every written name of something on the shelf: how it is called, and by its kind as the record has it; in small letters. */
export const STOCK_KIND_NAMED: ReadonlyMap<string, StockKind> = new Map([
  ...STOCK_KINDS.flatMap((kind) => [[kind, kind], [STOCK_NAMES[kind].toLowerCase(), kind]] as const),
  ...CURE_INGREDIENTS.flatMap((kind) => [[kind, stockKindOf(kind)], [CUP_WEIGHTS[kind].name.toLowerCase(), stockKindOf(kind)]] as const),
]);
/** The kind that somebody means by a name, in any case: 'Brown sugar, loose' is brown sugar. Null for anything else, such as 'bay leaf'. */
export const stockKindNamed = (name: string): StockKind | null => STOCK_KIND_NAMED.get(name.trim().toLowerCase()) ?? null;

export type OnHand = {
  /** Never below zero. */
  grams: Grams;
  /** By how much cures took more than was counted; above zero the count is out. */
  outByGrams: Grams;
  working: Working;
};

/**
 * What is left of an ingredient: what was counted less what cures took since. More taken than
 * was there says that the count is out; it is never less than nothing. Range: 0 to 1 t counted.
 * Throws DomainError outside. Source: arithmetic.
 */
export function onHand({ countedGrams, usedGrams }: { countedGrams: Grams; usedGrams: Grams }): OnHand {
  const counted = within(countedGrams, { field: 'countedGrams', label: 'count', min: 0, max: 1e6, unit: 'g', remedy: 'weigh what is there' });
  const used = within(usedGrams, { field: 'usedGrams', label: 'what cures took', min: 0, max: Number.MAX_SAFE_INTEGER, unit: 'g' });
  return {
    grams: Math.max(0, counted - used), outByGrams: Math.max(0, used - counted),
    working: { inputs: [{ name: 'counted', value: counted, unit: 'g' }, { name: 'taken by cures since', value: used, unit: 'g' }], formula: 'counted less taken, never below 0', source: 'the last count and the cures recorded after it', uncertainty: 'as good as the count; what was spilt or given away is not known', certainty: 'arithmetic' },
  };
}
