import type { RawQuery } from '../../platform/database/open.ts';
import * as store from './batches.store.ts';
import { fishOfBatch } from './contents.ts';
import { batchOf, loadLineage } from './lineage.ts';
import { defaultName } from './names.ts';
import { recomputeBatch } from './recompute.ts';

/** Names anew what nobody named, in the batch and in all that was made from it. Take the club's row before any batch's. */
export async function followNames(query: RawQuery, batchId: string): Promise<void> {
  for (const id of await store.downstreamInOrder(query, batchId)) {
    const lineage = await loadLineage(query, id);
    const { name, nameTyped, productKind } = batchOf(lineage);
    const wanted = defaultName(productKind, fishOfBatch(lineage));
    if (!nameTyped && name !== wanted) await store.renameBatch(query, id, wanted);
  }
}

/** Brings batches into step after what is recorded of landings in them was corrected. They must be held, and the club's row. */
export async function followLandings(query: RawQuery, batchIds: readonly string[], clubZone: string): Promise<void> {
  for (const id of batchIds) {
    await recomputeBatch(query, id, clubZone);
    await followNames(query, id);
  }
}
