import type { RawQuery } from '../../platform/database/open.ts';
import { lineColumns, lineJoins } from '../packs/packs.lines.ts';
import type { PackRow } from '../packs/packs.lines.ts';

const select = `select ${lineColumns} from pack p join batch b on b.id = p.batch_id ${lineJoins}`;

const CLAIMABLE_SHOWN = 6;

// By pack_status_last_day_id_idx, soonest date first. A pack whose date cannot be told is not offered.
const free = `p.status = 'ready' and p.last_day >= $1::date and b.verdict = 'clear' and b.recalled_at is null`;
export const claimable = (query: RawQuery, day: string) =>
  query<PackRow>('today-claimable', `${select} where ${free} order by p.last_day, p.id limit ${CLAIMABLE_SHOWN}`, [day]);
export async function claimableCount(query: RawQuery, day: string): Promise<number> {
  const [row] = await query<{ count: number }>('today-claimable-count', `select count(*) as count from pack p join batch b on b.id = p.batch_id where ${free}`, [day]);
  return row!.count;
}

/** What a member holds, as long as its date is not long past, and what they have claimed. */
const mineSql = `${select} where p.id in (
    select mp.id from pack mp where mp.holder_id = $1 and mp.status = 'handed-over' and (mp.last_day is null or mp.last_day >= $2::date)
    union select mc.pack_id from claim mc where mc.member_id = $1 and mc.status in ('asked', 'confirmed'))
  order by p.last_day nulls last, p.id limit 50`;
export const mine = (query: RawQuery, memberId: string, since: string) => query<PackRow>('today-mine', mineSql, [memberId, since]);

export type HeldRow = { packId: string; lot: string; packNo: number; product: string; lastDay: string | null; dateKind: 'use-by' | 'best-before'; recallReason: string | null };
const held = `select p.id as "packId", b.lot, p.pack_no as "packNo", b.name as product, p.last_day as "lastDay", p.date_kind as "dateKind", b.recall_reason as "recallReason"
  from pack p join batch b on b.id = p.batch_id where p.holder_id = $1 and p.status = 'handed-over'`;
/** However old: a recall does not lapse. */
export const recalledHeld = (query: RawQuery, memberId: string) =>
  query<HeldRow>('today-recalled', `${held} and b.recalled_at is not null order by b.recalled_at desc, p.id limit 50`, [memberId]);
export type NotClearRow = HeldRow & { verdict: 'hold' | 'do-not-share'; notMet: boolean };
const notClearSql = `${held.replace('select ', 'select b.verdict, b.not_met as "notMet", ')} and b.recalled_at is null and b.verdict <> 'clear' order by p.packed_at desc, p.id limit 20`;
/** What a member holds of a lot that was found wanting after it was handed over. */
export const notClearHeld = (query: RawQuery, memberId: string) => query<NotClearRow>('today-not-clear', notClearSql, [memberId]);
export type TellRow = { handOverId: string; packId: string; lot: string; packNo: number; product: string; to: string; recallReason: string | null };
const tellSql = `select o.id as "handOverId", p.id as "packId", b.lot, p.pack_no as "packNo", b.name as product,
    coalesce((select m.name from member m where m.id = o.to_member_id), o.to_name) as "to", b.recall_reason as "recallReason"
  from hand_over o join pack p on p.id = o.pack_id join batch b on b.id = p.batch_id
  where o.from_member_id = $1 and o.cancelled_at is null and p.status = 'handed-over' and b.recalled_at is not null
    and (p.recall_told_at is null or p.recall_told_at < b.recalled_at)
  order by b.recalled_at desc, o.id limit 50`;
/** What a member passed on that is recalled now, until somebody says that its holder was told. */
export const toTell = (query: RawQuery, memberId: string) => query<TellRow>('today-to-tell', tellSql, [memberId]);

export type TellHeldRow = Omit<TellRow, 'recallReason'> & { verdict: 'hold' | 'do-not-share'; notMet: boolean };
const tellHeldSql = `select o.id as "handOverId", p.id as "packId", b.lot, p.pack_no as "packNo", b.name as product,
    coalesce((select m.name from member m where m.id = o.to_member_id), o.to_name) as "to", b.verdict, b.not_met as "notMet"
  from hand_over o join pack p on p.id = o.pack_id join batch b on b.id = p.batch_id
  where o.from_member_id = $1 and o.cancelled_at is null and p.status = 'handed-over' and b.recalled_at is null and b.verdict <> 'clear'
  order by p.packed_at desc, o.id limit 20`;
/** What a member passed on of a lot that was found wanting since. */
export const toTellHeld = (query: RawQuery, memberId: string) => query<TellHeldRow>('today-to-tell-held', tellHeldSql, [memberId]);

export type OpenRecallRow = { batchId: string; lot: string; name: string; toCall: number; here: number; names: string[] };
const openRecallsSql = `select b.id as "batchId", b.lot, b.name, count(*) filter (where p.status = 'handed-over') as "toCall", count(*) filter (where p.status <> 'handed-over') as here,
    coalesce(json_agg(distinct coalesce(m.name, p.recipient)) filter (where p.status = 'handed-over'), '[]'::json) as names
  from batch b join pack p on p.batch_id = b.id left join member m on m.id = p.holder_id
  where b.recalled_at is not null and (p.status in ('ready', 'claimed') or (p.status = 'handed-over' and (p.recall_told_at is null or p.recall_told_at < b.recalled_at)))
  group by b.id order by b.recalled_at desc, b.id limit 20`;
/** Recalls that are not settled: somebody has a pack and was not told, or packs are still in the larder. */
export const openRecalls = (query: RawQuery) => query<OpenRecallRow>('today-open-recalls', openRecallsSql, []);

export const pastDate = (query: RawQuery, memberId: string, day: string, since: string) =>
  query<HeldRow>('today-past-date', `${held} and b.recalled_at is null and b.verdict = 'clear' and p.last_day < $2::date and p.last_day >= $3::date order by p.last_day, p.id limit 20`, [memberId, day, since]);

export type ClaimRow = { id: string; packId: string; lot: string; packNo: number; product: string; grams: number; member: string; status: string; reason: string; verdict: PackRow['verdict']; notMet: boolean; recalled: boolean; lastDay: string | null };
const claims = `select c.id, c.pack_id as "packId", b.lot, p.pack_no as "packNo", b.name as product, p.grams, m.name as member, c.status, c.reason,
    b.verdict, b.not_met as "notMet", b.recalled_at is not null as recalled, p.last_day::text as "lastDay"
  from claim c join pack p on p.id = c.pack_id join batch b on b.id = p.batch_id join member m on m.id = c.member_id`;
/** What was asked for, and what was confirmed and is past its date since, or has none any more: it waits for a captain again. */
export const claimsToDecide = (query: RawQuery, day: string) =>
  query<ClaimRow>('today-claims-to-decide', `${claims} where b.recalled_at is null
    and (c.status = 'asked' or (c.status = 'confirmed' and b.verdict = 'clear' and (p.last_day is null or p.last_day < $1::date))) order by c.created_at, c.id limit 20`, [day]);

/** The answers to a member's claims: confirmed until it is handed over, refused or moved for a while. */
const newsSql = `${claims} where c.member_id = $1 and c.created_at > $2 and (c.status = 'confirmed' or (c.status in ('refused', 'moved') and c.decided_at > $3))
  order by c.decided_at desc nulls last, c.id limit 20`;
export const claimNews = (query: RawQuery, memberId: string, since: Date, answeredSince: Date) => query<ClaimRow>('today-claim-news', newsSql, [memberId, since, answeredSince]);

export type ToHandOverRow = { memberId: string; member: string; packs: number; grams: number };
const toHandOverSql = `select m.id as "memberId", m.name as member, count(*) as packs, sum(p.grams)::bigint as grams
  from claim c join pack p on p.id = c.pack_id join batch b on b.id = p.batch_id join member m on m.id = c.member_id
  where c.status = 'confirmed' and b.verdict = 'clear' and b.recalled_at is null and p.last_day >= $1::date
  group by m.id, m.name order by min(c.created_at), m.id limit 20`;
export const toHandOver = (query: RawQuery, day: string) => query<ToHandOverRow>('today-to-hand-over', toHandOverSql, [day]);
