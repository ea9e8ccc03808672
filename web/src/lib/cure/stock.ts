/** What is there against the plan. Only what somebody counted or looked up counts: an empty field is not nothing in stock. */
import { stockList, type StockItem } from '$contract/cures.ts';
import type { CurePlan } from '$domain/cure/planner.ts';
import { shoppingList, type Shopping } from '$domain/cure/shopping.ts';
import { STOCK_NAMES, stockKindNamed, type StockKind } from '$domain/cure/stock.ts';
import { DomainError } from '$domain/working.ts';
import type { Working } from '$contract/common.ts';
import { get } from '../api/client.ts';
import { showWeight } from '../show.ts';
import { toast } from '../ui/toast.svelte.ts';
import type { PlannerValues } from './values.ts';
import { addedWorking, scaledWorking } from './workings.ts';

export interface Need {
  name: string;
  grams: number;
  /** What it is on the shelf, where that is a kind that the service knows; null: something else, or not said yet. */
  kind: StockKind | null;
  working: Working;
}
export type Cupboard = Record<string, { haveGrams: number | null; packageGrams: number | null }>;
export type Shopped = { shopping: Shopping; /** What was looked up. */ asked: string[] } | { error: string };

/** What a plan takes, each thing on the shelf once, whatever lines of the plan it stands in. Salt whose kind is not chosen matches no stock. */
export function needsOf(plan: CurePlan, values: Pick<PlannerValues, 'saltKind' | 'others'>): Need[] {
  const named = (name: string): Pick<Need, 'name' | 'kind'> => ({ kind: stockKindNamed(name), name: STOCK_NAMES[stockKindNamed(name)!] ?? name });
  const salted = plan.amounts.ingredients.map((line, i): Need => ({ grams: line.grams, working: plan.amounts.working, ...(i === 0 && values.saltKind === '' ? { name: 'Salt', kind: null } : named(line.ingredient)) }));
  const all = [...salted, ...values.others.filter(({ grams }) => grams > 0).map((other): Need => ({ ...named(other.name), grams: other.grams, working: scaledWorking(other.grams, plan.fishGrams) }))];
  return [...Map.groupBy(all, (need) => need.kind ?? need.name.trim().toLowerCase()).values()].map((lines) => (lines.length === 1 ? lines[0]! : { ...lines[0]!, grams: lines.reduce((sum, { grams }) => sum + grams, 0), working: addedWorking(lines) }));
}

export const countedOf = (items: readonly StockItem[] | undefined, need: Need): StockItem | undefined =>
  items?.find((item) => (need.kind === null ? item.ingredient === null && item.name.toLowerCase() === need.name.trim().toLowerCase() : stockKindNamed(item.ingredient ?? item.name) === need.kind));

/** The cupboard as it was counted; what was not counted is as somebody typed it. */
export function filled(needs: readonly Need[], items: readonly StockItem[] | undefined, typed: Cupboard): Cupboard {
  return Object.fromEntries(needs.map((need) => [need.name, { haveGrams: countedOf(items, need)?.grams ?? typed[need.name]?.haveGrams ?? null, packageGrams: typed[need.name]?.packageGrams ?? null }]));
}

export function shop(needs: readonly { name: string; grams: number }[], cupboard: Cupboard): Shopped {
  const looked = needs.filter(({ name }) => (cupboard[name]?.haveGrams ?? null) !== null);
  try {
    return {
      asked: looked.map(({ name }) => name),
      shopping: shoppingList({
        needs: looked.map(({ name, grams }) => ({ ingredient: name, grams })),
        stock: looked.map(({ name }) => ({ ingredient: name, grams: cupboard[name]!.haveGrams! })),
        packages: looked.flatMap(({ name }) => (cupboard[name]!.packageGrams === null ? [] : { ingredient: name, packageGrams: cupboard[name]!.packageGrams })),
      }),
    };
  } catch (cause) {
    if (cause instanceof DomainError) return { error: cause.message };
    throw cause;
  }
}

export const outByWords = (item: Pick<StockItem, 'outByGrams'>): string => `cures took ${showWeight(item.outByGrams)} more than was there`;
export const outWords = (item: Pick<StockItem, 'name' | 'outByGrams'>): string => `The count of ${item.name.toLowerCase()} is out: ${outByWords(item)}. Count it again.`;

/** After a cure was recorded: says it when more was taken than was counted. */
export async function sayWhatIsOut(): Promise<void> {
  try {
    const { items } = await get('/api/cure-stock', stockList);
    for (const item of items.filter(({ outByGrams }) => outByGrams > 0)) toast(outWords(item));
  } catch {
    // The stock's own screen says it too.
  }
}
