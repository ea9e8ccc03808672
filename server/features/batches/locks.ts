import type { RawQuery, Tx } from '../../platform/database/open.ts';
import { queryOf } from '../../platform/query-of.ts';

/** Other features come with a Prisma transaction or with a raw one. */
export const asQuery = (tx: Tx | RawQuery): RawQuery => (typeof tx === 'function' ? tx : queryOf(tx));

export type Held = { landingIds?: readonly string[]; batchIds: readonly string[]; packIds?: readonly string[] };

/**
 * Takes the rows that a change to batches will touch, always in the same order, so that two changes wait for each other
 * instead of blocking each other: landings, then the batches and all that was made from them, then packs.
 */
export async function hold(query: RawQuery, { landingIds = [], batchIds, packIds = [] }: Held): Promise<void> {
  if (landingIds.length > 0) await query('hold-landings', `select id from landing where id = any($1::uuid[]) order by id for no key update`, [[...landingIds]]);
  await query('hold-batches', `select id from batch where id in (select batches_downstream($1::uuid[])) order by id for no key update`, [[...batchIds]]);
  if (packIds.length > 0) await query('hold-packs', `select id from pack where id = any($1::uuid[]) order by id for no key update`, [[...packIds]]);
}
