/** The cupboard against the plan. Only what somebody looked up counts: an empty field is not nothing in stock. */
import { shoppingList, type Shopping } from '$domain/cure/shopping.ts';
import { DomainError } from '$domain/working.ts';

export type Cupboard = Record<string, { haveGrams: number | null; packageGrams: number | null }>;
export type Shopped = { shopping: Shopping; /** What was looked up. */ asked: string[] } | { error: string };

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
