import type { StageKind } from '../../domain/working.ts';
import type { RawQuery } from '../../platform/database/open.ts';

// Stations are held in the order of their ids before their slots change, as everywhere.
const holdSql = `select id from station where id in (select station_id from slot where batch_id = $1::uuid) order by id for no key update`;
const freeSql = `update slot set planned_ends_at = ends_at, ended_by_stage_id = $2::uuid, version = version + 1,
    ends_at = case when starts_at < $3::timestamptz then $3::timestamptz else ends_at end, cancelled_at = case when starts_at < $3::timestamptz then null else $4::timestamptz end
  where batch_id = $1::uuid and cancelled_at is null and ends_at > $3::timestamptz and ($5::text is null or stage_kind = $5::text)`;
export type Freeing = { batchId: string; stageId: string; kind: StageKind; endedAt: Date; now: Date };

/**
 * A stage that has ended frees its station: its batch's slot for it ends then, and one that lies wholly ahead falls away.
 * With packing the whole batch is done, so every slot of it ends. The batch's row must be held.
 */
export async function freeStations(query: RawQuery, f: Freeing): Promise<void> {
  await query('slot-free-hold', holdSql, [f.batchId]);
  await query('slot-free', freeSql, [f.batchId, f.stageId, f.endedAt, f.now, f.kind === 'pack' ? null : f.kind]);
}

const holdAheadSql = `select id from station where id in (select station_id from slot where batch_id in (select batches_downstream(array[$1::uuid])) and cancelled_at is null and starts_at > $2::timestamptz)
  order by id for no key update`;
const dropAheadSql = `update slot s set cancelled_at = $2::timestamptz, version = s.version + 1 from batch b
  where b.id = s.batch_id and b.recalled_at is not null and b.id in (select batches_downstream(array[$1::uuid])) and s.cancelled_at is null and s.starts_at > $2::timestamptz`;

/** What is recalled goes into no station any more: the slots ahead of a batch, and of what was made of it, fall away. What stands in one stays. */
export async function dropSlotsAhead(query: RawQuery, batchId: string, now: Date): Promise<void> {
  await query('slot-ahead-hold', holdAheadSql, [batchId, now]);
  await query('slot-ahead-drop', dropAheadSql, [batchId, now]);
}

const endedSql = `select id from slot where ended_by_stage_id = $1::uuid order by id`;
// Only where the station still has the room, and the batch does not stand there twice.
const backSql = `update slot s set ends_at = s.planned_ends_at, cancelled_at = null, planned_ends_at = null, ended_by_stage_id = null, version = s.version + 1
  from station st where s.id = $1::uuid and st.id = s.station_id
    and not exists (
      select 1 from (select s.starts_at as at union select o.starts_at from slot o
          where o.station_id = s.station_id and o.cancelled_at is null and o.starts_at > s.starts_at and o.starts_at < s.planned_ends_at) p
        where s.amount + (select coalesce(sum(x.amount), 0) from slot x
          where x.station_id = s.station_id and x.id <> s.id and x.cancelled_at is null and x.starts_at <= p.at and x.ends_at > p.at) > st.capacity)
    and not exists (select 1 from slot x where x.station_id = s.station_id and x.batch_id = s.batch_id and x.stage_kind = s.stage_kind and x.id <> s.id
      and x.cancelled_at is null and x.starts_at < s.planned_ends_at and x.ends_at > s.starts_at)`;

/** The stage was undone, opened again or given another end: what it freed is booked as before, unless somebody else has it now. */
export async function takeStationsBack(query: RawQuery, batchId: string, stageId: string): Promise<void> {
  await query('slot-free-hold', holdSql, [batchId]);
  for (const { id } of await query<{ id: string }>('slot-ended', endedSql, [stageId])) await query('slot-back', backSql, [id]);
}
