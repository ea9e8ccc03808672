import type { z } from 'zod';
import type { packQuery } from '../../contract/packs.ts';
import type { Day, PackageKind, ProductKind, Storage } from '../../domain/working.ts';
import type { Parameter, RawQuery } from '../../platform/database/open.ts';
import { rowsFor } from '../../platform/database/rows.ts';
import { lineColumns, lineJoins } from './packs.lines.ts';
import type { PackRow } from './packs.lines.ts';

export type PackDetailRow = PackRow & {
  productKind: ProductKind; smokeDay: Day | null; packedAt: Date; frozenDay: Day | null; thawedDay: Day | null; recallReason: string | null;
  publicCode: string; closed: boolean; onHandGrams: number;
};
const detailColumns = `${lineColumns}, b.product_kind as "productKind", b.smoke_day::text as "smokeDay", p.packed_at as "packedAt", p.frozen_day::text as "frozenDay",
  p.thawed_day::text as "thawedDay", b.recall_reason as "recallReason", p.public_code as "publicCode", b.closed_at is not null as closed, b.on_hand_grams as "onHandGrams"`;
const from = `from pack p join batch b on b.id = p.batch_id ${lineJoins}`;

const oneSql = `select ${detailColumns} ${from} where p.id = $1::uuid`;
export async function findPack(query: RawQuery, id: string): Promise<PackDetailRow | null> {
  const [row] = await query<PackDetailRow>('pack-one', oneSql, [id]);
  return row ?? null;
}

const someSql = `select ${lineColumns} ${from} where p.id = any($1::uuid[]) order by p.pack_no`;
export const findLines = (query: RawQuery, ids: string[]): Promise<PackRow[]> => query('pack-some', someSql, [ids]);

export type PackingBatch = { id: string; lot: string; productKind: ProductKind; closed: boolean; recalled: boolean; onHandGrams: number; lastPackNo: number; trays: number[] };
const batchSql = `select b.id, b.lot, b.product_kind as "productKind", b.closed_at is not null as closed, b.recalled_at is not null as recalled, b.on_hand_grams as "onHandGrams",
  coalesce((select max(pack_no) from pack where batch_id = b.id), 0) as "lastPackNo",
  coalesce((select json_agg(distinct d.tray_no) from draw d where d.batch_id = b.id and d.cancelled_at is null), '[]'::json) as trays
  from batch b where b.id = $1::uuid`;
export async function findBatch(query: RawQuery, id: string): Promise<PackingBatch | null> {
  const [row] = await query<PackingBatch>('pack-batch', batchSql, [id]);
  return row ?? null;
}

export type NewPacks = {
  ids: string[]; nos: number[]; grams: number[]; codes: string[]; batchId: string; trayNo: number; packageKind: PackageKind; storage: Storage;
  packedAt: Date; frozenDay: Day | null; by: string; now: Date;
};
const insertSql = `insert into pack (id, pack_no, grams, public_code, batch_id, tray_no, package_kind, storage, packed_at, frozen_day, created_by_id, created_at)
  select n.id, n.no, n.grams, n.code, $5::uuid, $6::int, $7::text, $8::text, $9::timestamptz, $10::date, $11::uuid, $12::timestamptz
  from unnest($1::uuid[], $2::int[], $3::int[], $4::text[]) as n(id, no, grams, code)`;
export async function insertPacks(query: RawQuery, n: NewPacks): Promise<void> {
  await query('pack-insert', insertSql, [n.ids, n.nos, n.grams, n.codes, n.batchId, n.trayNo, n.packageKind, n.storage, n.packedAt, n.frozenDay, n.by, n.now]);
}

export type PackFields = { grams: number; packageKind: PackageKind; storage: Storage; frozenDay: Day | null; thawedDay: Day | null; status: PackRow['status'] };
const updateSql = `update pack set grams = $3::int, package_kind = $4::text, storage = $5::text, frozen_day = $6::date, thawed_day = $7::date, status = $8::text,
  version = version + 1 where id = $1::uuid and version = $2::int returning id`;
/** Whether the pack still had this version. */
export async function updatePack(query: RawQuery, id: string, version: number, f: PackFields): Promise<boolean> {
  return (await query('pack-update', updateSql, [id, version, f.grams, f.packageKind, f.storage, f.frozenDay, f.thawedDay, f.status])).length === 1;
}

const endClaimSql = `update claim set status = 'refused', reason = $2::text, decided_by_id = $3::uuid, decided_at = $4::timestamptz, version = version + 1
  where pack_id = $1::uuid and status in ('asked', 'confirmed')`;
export async function endClaim(query: RawQuery, packId: string, c: { reason: string; by: string; at: Date }): Promise<void> {
  await query('pack-end-claim', endClaimSql, [packId, c.reason, c.by, c.at]);
}

/** Stands in a cursor for a pack without a last day; such packs come last. */
export const noDay: Day = '9999-12-31';
export type PackFilter = Pick<z.infer<typeof packQuery>, 'batchId' | 'status' | 'storage' | 'claimable' | 'limit'> & {
  today: Day; mineOf: string | null; search: { lot: string; packNo: number | null; name: string } | null; after: readonly string[] | null;
};
/** How a list is sorted: a batch's packs by number, packs of one status by their last day, all else newest first. */
export type PackOrder = 'number' | 'day' | 'newest';
export const orderOf = (f: Pick<PackFilter, 'batchId' | 'status' | 'claimable' | 'mineOf'>): PackOrder =>
  f.batchId ? 'number' : (f.status || f.claimable) && !f.mineOf ? 'day' : 'newest';

const sortSql: Record<PackOrder, string> = { number: 'p.pack_no', day: 'p.last_day, p.id', newest: 'p.created_at desc, p.id desc' };
export type PackListRow = PackRow & { createdAt: Date };

/** More rows than the limit, when there are more. */
export function listPacks(query: RawQuery, f: PackFilter): Promise<PackListRow[]> {
  const params: Parameter[] = [];
  const add = (value: Parameter) => `$${params.push(value)}`;
  const order = orderOf(f);
  const rows = rowsFor(f.limit);
  const where = [...filters(f, add), ...(f.after ? [afterSql(order, f.after, add)] : [])];
  // The page is cut first, from packs alone; only its rows are joined to anything.
  const cut = `select p.* from pack p ${where.length ? `where ${where.join(' and ')}` : ''} order by ${sortSql[order]} limit ${rows}`;
  const sql = `select ${lineColumns}, p.created_at as "createdAt" from (${cut}) p join batch b on b.id = p.batch_id ${lineJoins} order by ${sortSql[order]}`;
  const parts = [f.batchId && 'b', f.status && 's', f.storage && 't', f.claimable && 'c', f.mineOf && 'm', f.search && (f.search.packNo === null ? 'q' : 'n'), f.after && (order === 'day' && f.after[0] === noDay ? 'z' : 'a')];
  return query(`pack-list-${rows}-${parts.filter(Boolean).join('')}`, sql, params);
}

type Add = (value: Parameter) => string;

function filters(f: PackFilter, add: Add): string[] {
  const where: string[] = [];
  if (f.batchId) where.push(`p.batch_id = ${add(f.batchId)}::uuid`);
  if (f.status) where.push(`p.status = ${add(f.status)}::text`);
  if (f.storage) where.push(`p.storage = ${add(f.storage)}::text`);
  if (f.claimable) where.push(`p.status = 'ready' and p.last_day >= ${add(f.today)}::date and exists (select 1 from batch x where x.id = p.batch_id and x.verdict = 'clear' and x.recalled_at is null)`);
  if (f.mineOf) {
    const me = add(f.mineOf);
    where.push(`p.id in (select id from pack where holder_id = ${me}::uuid union select pack_id from claim where member_id = ${me}::uuid and status in ('asked', 'confirmed'))`);
  }
  if (f.search?.packNo != null) where.push(`p.batch_id = (select id from batch where lot = ${add(f.search.lot)}::text) and p.pack_no = ${add(f.search.packNo)}::int`);
  else if (f.search) {
    const [lot, name] = [f.search.lot, f.search.name].map((text) => text.replace(/[\\%_]/g, '\\$&'));
    where.push(`p.batch_id = any(array(select id from batch where (${add(lot!)}::text <> '' and replace(lot, '-', '') like ${add(`${lot}%`)}::text) or name ilike ${add(`%${name}%`)}::text))`);
  }
  return where;
}

function afterSql(order: PackOrder, after: readonly string[], add: Add): string {
  const [first, second] = after as [string, string];
  if (order === 'number') return `p.pack_no > ${add(Number(first))}::int`;
  if (order === 'newest') return `(p.created_at, p.id) < (${add(first)}::timestamptz, ${add(second)}::uuid)`;
  if (first === noDay) return `p.last_day is null and p.id > ${add(second)}::uuid`;
  return `((p.last_day, p.id) > (${add(first)}::date, ${add(second)}::uuid) or p.last_day is null)`;
}
