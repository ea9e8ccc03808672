import type { z } from 'zod';
import type { Batch, BatchDetail, batchQuery } from '../../contract/batches.ts';
import { isCrew, need } from '../../platform/auth/access.ts';
import type { Actor, Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { notFound } from '../../platform/errors/problem-error.ts';
import { rowsFor } from '../../platform/database/rows.ts';
import { decodeCursor, pageOf } from '../../platform/http/cursor.ts';
import { toBatch, toBatchDetail } from './page.mapper.ts';
import { rulesVersion } from './rules.service.ts';
import { listSql, pageSql } from './page.sql.ts';
import type { ListRow, PageRow, Revision } from './page.sql.ts';

/** The page inside the transaction that changed it. */
export async function detailInside(query: RawQuery, actor: Actor, id: string): Promise<BatchDetail> {
  const [row] = await query<PageRow>('batch-page', pageSql, [id]);
  if (!row?.head) throw notFound('This batch');
  return toBatchDetail(id, row, actor);
}

/** Raised when the page's shape changes, so that no browser keeps one of an older shape. */
const SHAPE = 10;
/** What the checks on it are made by: other rules, another page. */
const RULES_TAG = rulesVersion();
/** Everything shown changes one of the two counts, or is said by the rules; and each person sees their own packs marked. */
const tagOf = ({ revision, names }: Revision, actor: Actor) => `"s${SHAPE}j${RULES_TAG}r${revision}-${names}-${isCrew(actor) ? 'c' : 'm'}-${actor.id}"`;

export type BatchPage = { tag: string; /** null: the browser has it already. */ body: Buffer | null };
export type PageReader = (asker: Actor | null, id: string, revision: Revision | null, hasTag: (tag: string) => boolean) => Promise<BatchPage>;

/**
 * Reads the batch's page, ready to be sent. The counts tell whether the browser, or this process, has it already; if not,
 * it is made into text once here, past any further schema (a test holds it against the contract).
 */
export function pageReader(context: Context): PageReader {
  const kept = recent<Buffer>(PAGES_KEPT);
  return async (asker, id, revision, hasTag) => {
    const actor = need(asker, 'member');
    if (!revision) throw notFound('This batch');
    const tag = tagOf(revision, actor);
    if (hasTag(tag)) return { tag, body: null };
    const known = kept.get(`${id} ${tag}`);
    if (known) return { tag, body: known };
    const [row] = await context.database.query<PageRow>('batch-page', pageSql, [id]);
    if (!row?.head) throw notFound('This batch');
    const present = tagOf(row.head, actor);
    const body = Buffer.from(JSON.stringify(toBatchDetail(id, row, actor)));
    kept.set(`${id} ${present}`, body);
    return { tag: present, body };
  };
}

/** A page with 50 packs is some 30 kB. */
const PAGES_KEPT = 300;

/** The values used last, so many of them. */
function recent<T>(most: number) {
  const values = new Map<string, T>();
  return {
    get(key: string): T | undefined {
      const value = values.get(key);
      if (value !== undefined) this.set(key, value);
      return value;
    },
    set(key: string, value: T): void {
      values.delete(key);
      values.set(key, value);
      if (values.size > most) values.delete(values.keys().next().value!);
    },
  };
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
  const most = rowsFor(limit);
  const name = [`batch-list-${most}`, open === undefined ? '' : open, q ? params.length : '', after ? 'after' : ''].join('-');
  const rows = await context.database.query<ListRow>(name, listSql(where, most), params);
  return pageOf(rows, limit, toBatch, (row) => [row.createdAt.toISOString(), row.id]);
}

/** The text anywhere, taken as it is. */
const like = (text: string) => `%${text.replace(/[\\%_]/g, (c) => `\\${c}`)}%`;
