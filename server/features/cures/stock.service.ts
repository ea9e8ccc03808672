import type { StockCountBody, StockList } from '../../contract/cures.ts';
import { onHand, STOCK_NAMES, stockKindNamed } from '../../domain/cure/stock.ts';
import { need } from '../../platform/auth/access.ts';
import type { Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { badField } from '../../platform/errors/problem-error.ts';
import type { Unit } from '../../platform/unit.ts';
import * as store from './stock.store.ts';

/** What is there of each ingredient that anybody counted. */
export const listStock = (context: Context): Promise<StockList> => read(context.database.query);

async function read(query: RawQuery): Promise<StockList> {
  return {
    items: (await store.listStock(query)).map(({ countedById, countedByName, countedAt, ...row }) => ({
      ...row, ...onHand(row), countedAt: countedAt.toISOString(), countedBy: { id: countedById, name: countedByName },
    })),
  };
}

type Count = { ingredient: string | null; name: string; grams: number | null };

/** Writes down what somebody counted. A count says what is there, so the last one stands; the record keeps them all. */
export async function countStock(unit: Unit, body: StockCountBody): Promise<StockList> {
  const actor = need(unit.actor, 'crew');
  const counts = body.counts.map(named);
  const keys = counts.map(({ ingredient, name }) => ingredient ?? name.toLowerCase());
  const twice = keys.findIndex((key, i) => keys.indexOf(key) < i);
  if (twice >= 0) throw badField(`counts.${twice}.name`, counts[twice]!.name, `${counts[twice]!.name} is counted twice.`, 'Count each ingredient once.');
  return unit.runRaw(async (query) => {
    // In one order, so that two people who count at once wait for each other.
    for (const count of counts.map((c, i) => ({ c, key: keys[i]! })).sort((a, b) => (a.key < b.key ? -1 : 1)).map(({ c }) => c)) {
      if (count.grams === null) await store.retireStock(query, count, unit.now);
      else await store.putCount(query, { ...count, grams: count.grams }, actor.id, unit.now);
    }
    return read(query);
  });
}

/** A name that is one of the known kinds means that kind; brown sugar is one, however a cup is filled with it. */
function named({ ingredient, name, grams }: Count, index: number): Count {
  const known = stockKindNamed(ingredient ?? name);
  if (known === null && ingredient !== null) throw badField(`counts.${index}.ingredient`, ingredient, 'That is no kind of salt or sugar that is known here.', 'Leave it out and write the name.');
  if (known === null && name === '') throw badField(`counts.${index}.name`, name, 'The ingredient has no name.', 'Write what it is.');
  return { ingredient: known, name: known === null ? name : STOCK_NAMES[known], grams };
}
