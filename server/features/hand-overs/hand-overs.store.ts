import type { HandOver } from '../../contract/packs.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { rowsFor } from '../../platform/database/rows.ts';
import { lineColumns, lineJoins } from '../packs/packs.lines.ts';
import type { PackRow } from '../packs/packs.lines.ts';

export type HandOverRow = {
  id: string; packId: string; lot: string; packNo: number; product: string; grams: number; kind: 'hand-over' | 'gift';
  fromMemberId: string | null; fromName: string | null; toMemberId: string | null; toName: string; handedAt: Date; createdAt: Date;
  byId: string; byName: string; note: string; undone: boolean; recalled: boolean; verdict: HandOver['verdict']; notMet: boolean; told: boolean; version: number;
};
export type PackToGive = PackRow & { packedAt: Date };

const columns = `o.id, o.pack_id as "packId", b.lot, p.pack_no as "packNo", b.name as product, p.grams, o.kind, o.from_member_id as "fromMemberId",
  (select m.name from member m where m.id = o.from_member_id) as "fromName", o.to_member_id as "toMemberId", coalesce((select m.name from member m where m.id = o.to_member_id), o.to_name) as "toName", o.handed_at as "handedAt", o.created_at as "createdAt",
  o.created_by_id as "byId", (select m.name from member m where m.id = o.created_by_id) as "byName", o.note, o.cancelled_at is not null as undone,
  b.recalled_at is not null as recalled, b.verdict, b.not_met as "notMet", coalesce(p.recall_told_at >= b.recalled_at, false) as told, o.version`;
const joins = `join pack p on p.id = o.pack_id join batch b on b.id = p.batch_id`;

const lockBatchesSql = `select id from batch where id in (select batch_id from pack where id = any($1::uuid[])) order by id for no key update`;
const lockPacksSql = `select id from pack where id = any($1::uuid[]) order by id for no key update`;
const packsSql = `select ${lineColumns}, p.packed_at as "packedAt" from pack p join batch b on b.id = p.batch_id ${lineJoins} where p.id = any($1::uuid[])`;
/** The packs, held together with their batches, in the order of locks that everything keeps. */
export async function holdPacks(query: RawQuery, ids: string[]): Promise<PackToGive[]> {
  await query('give-lock-batches', lockBatchesSql, [ids]);
  await query('give-lock-packs', lockPacksSql, [ids]);
  return query<PackToGive>('give-packs', packsSql, [ids]);
}

const memberSql = `select name from member where id = $1::uuid and left_at is null for key share`;
/** A member of the club, who cannot leave before this is done. Ask after the packs are held: that is the order of locks. */
export async function findMember(query: RawQuery, id: string): Promise<{ name: string } | null> {
  const [row] = await query<{ name: string }>('give-member', memberSql, [id]);
  return row ?? null;
}

const givePacksSql = `update pack set status = 'handed-over', holder_id = $2::uuid, recipient = $3::text, version = version + 1 where id = any($1::uuid[])`;
const endClaimsSql = `update claim set status = 'handed-over', decided_by_id = coalesce(decided_by_id, $2::uuid), decided_at = coalesce(decided_at, $3::timestamptz),
  version = version + 1 where pack_id = any($1::uuid[]) and status in ('asked', 'confirmed')`;
const insertSql = `insert into hand_over (id, pack_id, kind, from_member_id, to_member_id, to_name, handed_at, note, created_by_id, created_at)
  select unnest($1::uuid[]), unnest($2::uuid[]), $3::text, $4::uuid, $5::uuid, $6::text, $7::timestamptz, $8::text, $9::uuid, $10::timestamptz`;
export type Giving = {
  ids: string[]; packIds: string[]; kind: 'hand-over' | 'gift'; fromMemberId: string | null; toMemberId: string | null; toName: string | null;
  handedAt: Date; note: string; by: string; now: Date;
};
/** Writes who has the packs now; a claim of theirs has come to its end. */
export async function give(query: RawQuery, g: Giving): Promise<void> {
  await query('give-packs-on', givePacksSql, [g.packIds, g.toMemberId, g.toName]);
  await query('give-end-claims', endClaimsSql, [g.packIds, g.by, g.now]);
  await query('give-insert', insertSql, [g.ids, g.packIds, g.kind, g.fromMemberId, g.toMemberId, g.toName, g.handedAt, g.note, g.by, g.now]);
}

const someSql = `select ${columns} from hand_over o ${joins} where o.id = any($1::uuid[]) order by b.lot, p.pack_no`;
export const findHandOvers = (query: RawQuery, ids: string[]): Promise<HandOverRow[]> => query('give-some', someSql, [ids]);

const ofPackSql = `select ${columns} from hand_over o ${joins} where o.pack_id = $1::uuid order by o.created_at, o.id`;
export const handOversOfPack = (query: RawQuery, packId: string): Promise<HandOverRow[]> => query('give-of-pack', ofPackSql, [packId]);

const laterSql = `select id from hand_over where pack_id = $1::uuid and cancelled_at is null and (created_at, id) > ($2::timestamptz, $3::uuid) limit 1`;
export async function isLast(query: RawQuery, row: HandOverRow): Promise<boolean> {
  return (await query('give-later', laterSql, [row.packId, row.createdAt, row.id])).length === 0;
}

const cancelSql = `update hand_over set cancelled_at = $3::timestamptz, version = version + 1 where id = $1::uuid and version = $2::int and cancelled_at is null returning id`;
export async function cancel(query: RawQuery, id: string, version: number, at: Date): Promise<boolean> {
  return (await query('give-cancel', cancelSql, [id, version, at])).length === 1;
}

const backSql = `update pack set status = $2::text, holder_id = $3::uuid, recipient = null, version = version + 1 where id = $1::uuid`;
/** Where the pack is again: with the club, or with the member who gave it. */
export async function putBack(query: RawQuery, packId: string, status: 'ready' | 'claimed' | 'handed-over', holderId: string | null): Promise<void> {
  await query('give-back', backSql, [packId, status, holderId]);
}

const claimSql = `update claim set status = $2::text, reason = $3::text, decided_by_id = $4::uuid, decided_at = $5::timestamptz, version = version + 1
  where pack_id = $1::uuid and status = 'handed-over'`;
export async function reopenClaim(query: RawQuery, packId: string, c: { status: 'confirmed' | 'refused'; reason: string; by: string; at: Date }): Promise<void> {
  await query('give-reopen-claim', claimSql, [packId, c.status, c.reason, c.by, c.at]);
}

/** of: from or to this member. passedOnBy: what this member passed on, as it stands. */
export type HandOverFilter = { of: string | null; passedOnBy: string | null; after: readonly [string, string] | null; limit: number };
/** Newest first; more rows than the limit, when there are more. */
export function listHandOvers(query: RawQuery, f: HandOverFilter): Promise<HandOverRow[]> {
  const params: string[] = [];
  const where: string[] = [];
  const rows = rowsFor(f.limit);
  const add = (value: string) => `$${params.push(value)}`;
  if (f.of) {
    const me = add(f.of);
    where.push(`(o.to_member_id = ${me}::uuid or o.from_member_id = ${me}::uuid)`);
  }
  if (f.passedOnBy) where.push(`o.from_member_id = ${add(f.passedOnBy)}::uuid and o.cancelled_at is null`);
  if (f.after) where.push(`(o.created_at, o.id) < (${add(f.after[0])}::timestamptz, ${add(f.after[1])}::uuid)`);
  const sql = `select ${columns} from hand_over o ${joins} ${where.length ? `where ${where.join(' and ')}` : ''} order by o.created_at desc, o.id desc limit ${rows}`;
  return query(`give-list-${rows}${f.of ? '-of' : ''}${f.passedOnBy ? '-by' : ''}${f.after ? '-after' : ''}`, sql, params);
}
