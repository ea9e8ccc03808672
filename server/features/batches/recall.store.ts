import type { RawQuery } from '../../platform/database/open.ts';
import { upSql } from './lineage.ts';

const setSql = `update batch set recalled_at = $2, recall_reason = $3, recalled_by_id = $4, recalled_from_id = null where id = $1`;
export const setRecall = (query: RawQuery, id: string, at: Date | null, reason: string | null, byId: string | null) => query('recall-set', setSql, [id, at, reason, byId]);

const belowSql = `select b.id, b.recalled_at is not null as recalled, b.recalled_from_id as "fromId" from batch b where b.id in (select batches_downstream(array[$1::uuid]))`;
/** The nearest recall of its own among the lots that a batch was made from: the first of them that was made. */
const aboveSql = `with ${upSql('$1::uuid')} select b.id, b.lot, b.recalled_at as "recalledAt", b.recall_reason as reason, b.recalled_by_id as "byId" from batch b
  where b.id in (select id from up) and b.id <> $1::uuid and b.recalled_at is not null and b.recalled_from_id is null order by b.recalled_at, b.id limit 1`;
const carrySql = `update batch set recalled_at = $2, recall_reason = $3, recalled_by_id = $4, recalled_from_id = $5 where id = $1`;

/**
 * Brings the recalls of everything made from a batch (and its own, where it only came with another lot's) into step: a lot
 * is recalled as long as one that it was made from is.
 */
export async function carryRecalls(query: RawQuery, batchId: string): Promise<void> {
  const below = await query<{ id: string; recalled: boolean; fromId: string | null }>('recall-below', belowSql, [batchId]);
  for (const batch of below) {
    if (batch.recalled && batch.fromId === null) continue;
    const [above] = await query<{ id: string; lot: string; recalledAt: Date; reason: string; byId: string }>('recall-above', aboveSql, [batch.id]);
    if ((above?.id ?? null) === batch.fromId && batch.recalled === (above !== undefined)) continue;
    const reason = above ? `Made from lot ${above.lot}, which is recalled: ${above.reason}` : null;
    await query('recall-carry', carrySql, [batch.id, above?.recalledAt ?? null, reason, above?.byId ?? null, above?.id ?? null]);
  }
}

export type HolderRow = { packId: string; lot: string; packNo: number; grams: number; status: string; holder: string; since: Date | null; through: string | null; told: boolean };
const holdersSql = `select p.id as "packId", b.lot, p.pack_no as "packNo", p.grams, p.status,
    coalesce(hm.name, p.recipient, cm.name, club.name) as holder,
    case p.status when 'handed-over' then h.at when 'claimed' then c.created_at else p.packed_at end as since,
    case when p.status = 'handed-over' then h.through end as through, coalesce(p.recall_told_at >= b.recalled_at, false) as told
  from pack p join batch b on b.id = p.batch_id cross join club
    left join member hm on hm.id = p.holder_id
    left join claim c on c.pack_id = p.id and c.status in ('asked', 'confirmed') and p.status = 'claimed'
    left join member cm on cm.id = c.member_id
    left join lateral (select o.handed_at as at, (select m.name from member m where m.id = o.from_member_id) as through
      from hand_over o where o.pack_id = p.id and o.cancelled_at is null order by o.created_at desc, o.id desc limit 1) h on true
  where p.status in ('ready', 'claimed', 'handed-over') and b.id in (
    with recursive down(id) as (
      select $1::uuid
      union
      select x.batch_id from down, lateral (
        select d.batch_id from draw d where d.source_batch_id = down.id and d.cancelled_at is null
        union all
        select d.batch_id from pack q join draw d on d.source_pack_id = q.id where q.batch_id = down.id and d.cancelled_at is null
      ) x
    ) select id from down)
  order by array_position(array['handed-over', 'claimed', 'ready'], p.status), holder, b.lot, p.pack_no`;
export const holders = (query: RawQuery, batchId: string) => query<HolderRow>('recall-holders', holdersSql, [batchId]);

const toTellSql = `select p.batch_id as "batchId", p.status, p.holder_id as "holderId", b.lot, p.pack_no as "packNo", b.recalled_at is not null as recalled,
    exists (select 1 from hand_over o where o.pack_id = p.id and o.from_member_id = $2::uuid and o.cancelled_at is null) as "passedOn"
  from pack p join batch b on b.id = p.batch_id where p.id = $1::uuid`;
export type PackToTell = { batchId: string; status: string; holderId: string | null; lot: string; packNo: number; recalled: boolean; passedOn: boolean };
/** A pack as a recall looks at it; `passedOn` when this member passed it on. */
export async function packToTell(query: RawQuery, packId: string, memberId: string): Promise<PackToTell | null> {
  const [row] = await query<PackToTell>('recall-pack', toTellSql, [packId, memberId]);
  return row ?? null;
}
export const setTold = (query: RawQuery, packId: string, at: Date | null) => query('recall-told', `update pack set recall_told_at = $2::timestamptz, version = version + 1 where id = $1::uuid`, [packId, at]);
