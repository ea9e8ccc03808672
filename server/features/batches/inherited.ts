import type { BatchDetail } from '../../contract/batches.ts';
import { batchOf, drawsInto, sourceBatchOf } from './lineage.ts';
import type { Lineage, LineageBatch } from './lineage.ts';

/** The batches that one was made from, at any remove: the nearest first, and in the order in which they were drawn. */
export function sourcesOf(lineage: Lineage): LineageBatch[] {
  const order = [lineage.id];
  for (const id of order) {
    const sources = drawsInto(lineage, id).map((draw) => sourceBatchOf(lineage, draw));
    for (const source of sources) if (source !== null && !order.includes(source)) order.push(source);
  }
  return order.slice(1).map((id) => batchOf(lineage, id));
}

/** What each of them brings in that people typed. */
export const inherited = (lineage: Lineage): BatchDetail['inherited'] =>
  sourcesOf(lineage)
    .filter((b) => b.ingredients !== '' || b.allergens.length > 0)
    .map(({ id, lot, ingredients, allergens }) => ({ batchId: id, lot, ingredients, allergens }));
