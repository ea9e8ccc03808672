import type { z } from 'zod';
import type { claimStatus } from '../../contract/packs.ts';
import type { Day } from '../../domain/working.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { rowsFor } from '../../platform/database/rows.ts';
import { lineColumns, lineJoins } from '../packs/packs.lines.ts';
import type { PackRow } from '../packs/packs.lines.ts';

export type ClaimStatus = z.infer<typeof claimStatus>;
export type ClaimRow = PackRow & {
  thisId: string; thisMemberId: string; thisMemberName: string; thisStatus: ClaimStatus; thisNote: string; thisReason: string;
  thisCreatedAt: Date; thisDecidedAt: Date | null; decidedById: string | null; decidedByName: string | null; thisVersion: number;
};
const thisColumns = `k.id as "thisId", k.member_id as "thisMemberId", (select m.name from member m where m.id = k.member_id) as "thisMemberName", k.status as "thisStatus", k.note as "thisNote",
  k.reason as "thisReason", k.created_at as "thisCreatedAt", k.decided_at as "thisDecidedAt", k.decided_by_id as "decidedById", (select m.name from member m where m.id = k.decided_by_id) as "decidedByName",
  k.version as "thisVersion"`;
const thisJoins = `join pack p on p.id = k.pack_id join batch b on b.id = p.batch_id ${lineJoins}`;

// One statement takes the pack and makes the claim. The batch is held first, as everywhere. When several ask at once, each
// waits there; the update then looks again at the pack as it has become, so only the first finds it ready. The member's row
// comes after it, as when a member leaves: whoever leaves at the same moment has no claim afterwards.
const takeSql = `with b as (
    select b.id, b.lot, b.name, b.verdict, b.not_met, b.recalled_at from batch b where b.id = (select batch_id from pack where id = $2::uuid) for no key update
  ), m as (select id, name from member where id = $3::uuid and left_at is null and exists (select from b) for key share
  ), p as (
    update pack set status = 'claimed', version = pack.version + 1 from b, m
    where pack.id = $2::uuid and pack.batch_id = b.id and pack.status = 'ready' and pack.last_day >= $6::date and b.verdict = 'clear' and b.recalled_at is null
    returning pack.*
  ), k as (
    insert into claim (id, pack_id, member_id, status, note, created_at) select $1::uuid, p.id, m.id, 'asked', $4::text, $5::timestamptz from p, m
    returning *
  )
  select p.id, p.batch_id as "batchId", b.lot, p.pack_no as "packNo", p.tray_no as "trayNo", b.name as product, p.grams, p.package_kind as "packageKind",
    p.storage, p.last_day::text as "lastDay", p.date_kind as "dateKind", p.status, b.verdict, b.not_met as "notMet", false as recalled, p.print_count as "printCount", p.version,
    null as "holderId", null as "holderName", k.id as "claimId", k.member_id as "claimMemberId", m.name as "claimMemberName", k.status as "claimStatus",
    k.version as "claimVersion", k.id as "thisId", k.member_id as "thisMemberId", m.name as "thisMemberName", k.status as "thisStatus", k.note as "thisNote",
    k.reason as "thisReason", k.created_at as "thisCreatedAt", k.decided_at as "thisDecidedAt", null as "decidedById", null as "decidedByName", k.version as "thisVersion"
  from k, p, b, m`;
export type NewClaim = { id: string; packId: string; memberId: string; note: string; now: Date; today: Day };
/** The new claim, or null when the pack was not free, not shareable, or the member is not there. */
export async function takePack(query: RawQuery, c: NewClaim): Promise<ClaimRow | null> {
  const [row] = await query<ClaimRow>('claim-take', takeSql, [c.id, c.packId, c.memberId, c.note, c.now, c.today]);
  return row ?? null;
}

const packSql = `select ${lineColumns} from pack p join batch b on b.id = p.batch_id ${lineJoins} where p.id = $1::uuid`;
export async function findPack(query: RawQuery, id: string): Promise<PackRow | null> {
  const [row] = await query<PackRow>('claim-pack', packSql, [id]);
  return row ?? null;
}
const memberSql = `select name from member where id = $1::uuid and left_at is null for key share`;
/** A member of the club, who cannot leave before this is done. */
export async function findMember(query: RawQuery, id: string): Promise<{ name: string } | null> {
  const [row] = await query<{ name: string }>('claim-member', memberSql, [id]);
  return row ?? null;
}

const oneSql = `select ${lineColumns}, ${thisColumns} from claim k ${thisJoins} where k.id = $1::uuid`;
export async function findClaim(query: RawQuery, id: string): Promise<ClaimRow | null> {
  const [row] = await query<ClaimRow>('claim-one', oneSql, [id]);
  return row ?? null;
}

const lockSql = `select id from batch where id in (select batch_id from pack where id = any($1::uuid[])) order by id for no key update`;
/** Holds the batches of these packs. */
export async function lockBatchesOf(query: RawQuery, packIds: string[]): Promise<void> {
  await query('claim-lock', lockSql, [packIds]);
}

const decideSql = `update claim set status = $3::text, reason = $4::text, decided_by_id = $5::uuid, decided_at = $6::timestamptz, version = version + 1
  where id = $1::uuid and version = $2::int returning id`;
/** Whether the claim still had this version. */
export async function decide(query: RawQuery, id: string, version: number, d: { status: ClaimStatus; reason: string; by: string; at: Date }): Promise<boolean> {
  return (await query('claim-decide', decideSql, [id, version, d.status, d.reason, d.by, d.at])).length === 1;
}

const statusSql = `update pack set status = $3::text, version = version + 1 where id = $1::uuid and status = $2::text returning id`;
/** Whether the pack still had the first status. */
export async function setPackStatus(query: RawQuery, packId: string, from: 'ready' | 'claimed', to: 'ready' | 'claimed'): Promise<boolean> {
  return (await query('claim-pack-status', statusSql, [packId, from, to])).length === 1;
}

const insertSql = `insert into claim (id, pack_id, member_id, status, note, decided_by_id, decided_at, created_at)
  values ($1::uuid, $2::uuid, $3::uuid, 'confirmed', $4::text, $5::uuid, $6::timestamptz, $6::timestamptz)`;
/** A claim that a captain decided as it was made. */
export async function insertConfirmed(query: RawQuery, c: { id: string; packId: string; memberId: string; note: string; by: string; at: Date }): Promise<void> {
  await query('claim-insert-confirmed', insertSql, [c.id, c.packId, c.memberId, c.note, c.by, c.at]);
}

export type ClaimFilter = { memberId: string | null; status: ClaimStatus | null; after: readonly [string, string] | null; limit: number };
/** Newest first; more rows than the limit, when there are more. */
export function listClaims(query: RawQuery, f: ClaimFilter): Promise<ClaimRow[]> {
  const params: (string | number)[] = [];
  const where: string[] = [];
  const add = (...values: (string | number)[]) => values.map((value) => `$${params.push(value)}`);
  if (f.memberId) where.push(`k.member_id = ${add(f.memberId)[0]}::uuid`);
  if (f.status) where.push(`k.status = ${add(f.status)[0]}::text`);
  if (f.after) {
    const [at, id] = add(...f.after);
    where.push(`(k.created_at, k.id) < (${at}::timestamptz, ${id}::uuid)`);
  }
  const rows = rowsFor(f.limit);
  const name = `claim-list-${rows}${f.memberId ? '-of' : ''}${f.status ? '-status' : ''}${f.after ? '-after' : ''}`;
  const sql = `select ${lineColumns}, ${thisColumns} from claim k ${thisJoins} ${where.length ? `where ${where.join(' and ')}` : ''}
    order by k.created_at desc, k.id desc limit ${rows}`;
  return query(name, sql, params);
}
