import type { z } from 'zod';
import type { Batch, BatchDetail, batchQuery } from '../../contract/batches.ts';
import { isCrew, need } from '../../platform/auth/access.ts';
import type { Actor, Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { notFound } from '../../platform/errors/problem-error.ts';
import { decodeCursor, pageOf } from '../../platform/http/cursor.ts';
import { toBatch, toBatchDetail } from './page.mapper.ts';
import { listSql, pageSql, revisionSql } from './page.sql.ts';
import type { ListRow, PageRow, RevisionRow } from './page.sql.ts';

/** The page inside the transaction that changed it. */
export async function detailInside(query: RawQuery, actor: Actor, id: string): Promise<BatchDetail> {
  const [row] = await query<PageRow>('batch-page', pageSql, [id]);
  if (!row?.head) throw notFound('This batch');
  return toBatchDetail(id, row, actor);
}

/** Everything shown changes one of the two counts; and each person sees their own packs marked. */
const tagOf = ({ revision, names }: RevisionRow, actor: Actor) => `"r${revision}-${names}-${isCrew(actor) ? 'c' : 'm'}-${actor.id}"`;

export type BatchPage = { tag: string; /** null: the browser has it already. */ body: string | null };

/**
 * The batch's page, ready to be sent. When the browser names a tag, two counts are read first and often that is all. The
 * body is made into text once here and passes no further schema; a test holds it against the contract.
 */
export async function readPage(context: Context, asker: Actor | null, id: string, hasTag: (tag: string) => boolean, named: boolean): Promise<BatchPage> {
  const actor = need(asker, 'member');
  if (named) {
    const [row] = await context.database.query<RevisionRow>('batch-revision', revisionSql, [id]);
    if (!row) throw notFound('This batch');
    const tag = tagOf(row, actor);
    if (hasTag(tag)) return { tag, body: null };
  }
  const [row] = await context.database.query<PageRow>('batch-page', pageSql, [id]);
  if (!row?.head) throw notFound('This batch');
  return { tag: tagOf(row.head, actor), body: JSON.stringify(toBatchDetail(id, row, actor)) };
}

/** The batches, newest first. */
export async function listBatches(context: Context, { cursor, limit, open, q }: z.infer<typeof batchQuery>): Promise<{ items: Batch[]; nextCursor: string | null }> {
  const after = decodeCursor(cursor, ['instant', 'uuid']);
  const params: (string | number)[] = [];
  const place = (value: string | number) => `$${params.push(value)}`;
  const where: string[] = [];
  if (open !== undefined) where.push(`b.closed_at is ${open ? '' : 'not '}null`);
  if (q) {
    const lot = q.replace(/[\s\-‐‑–—]/g, '');
    where.push(`(b.name ilike ${place(like(q))}${lot ? ` or replace(b.lot, '-', '') ilike ${place(like(lot))}` : ''})`);
  }
  if (after) where.push(`(b.created_at, b.id) < (${place(after[0])}::timestamptz, ${place(after[1])}::uuid)`);
  const name = ['batch-list', open === undefined ? '' : open, q ? params.length : '', after ? 'after' : ''].join('-');
  const rows = await context.database.query<ListRow>(name, listSql(where, place(limit + 1)), params);
  return pageOf(rows, limit, toBatch, (row) => [row.createdAt.toISOString(), row.id]);
}

/** The text anywhere, taken as it is. */
const like = (text: string) => `%${text.replace(/[\\%_]/g, (c) => `\\${c}`)}%`;
