import type { CapacityUnit, StationKind } from '../../domain/stations.ts';
import type { StageKind } from '../../domain/working.ts';
import type { RawQuery } from '../../platform/database/open.ts';

export type SlotRow = {
  id: string; stationId: string; stationName: string; stationKind: StationKind; capacityUnit: CapacityUnit; capacity: number;
  batchId: string; lot: string; batchName: string; stageKind: StageKind; startsAt: Date; endsAt: Date; amount: number; note: string;
  createdById: string; createdByName: string; cancelledAt: Date | null; version: number;
};
export type StationFacts = {
  id: string; name: string; kind: StationKind; capacityUnit: CapacityUnit; capacity: number; opensAt: string | null; closesAt: string | null; retired: boolean;
};
export type SlotFields = { stationId: string; startsAt: Date; endsAt: Date; amount: number; note: string; cancelledAt: Date | null };

const columns = `s.id, s.station_id as "stationId", st.name as "stationName", st.kind as "stationKind", st.capacity_unit as "capacityUnit", st.capacity,
  s.batch_id as "batchId", b.lot, b.name as "batchName", s.stage_kind as "stageKind", s.starts_at as "startsAt", s.ends_at as "endsAt", s.amount, s.note,
  s.created_by_id as "createdById", m.name as "createdByName", s.cancelled_at as "cancelledAt", s.version`;
const joins = `join station st on st.id = s.station_id join batch b on b.id = s.batch_id join member m on m.id = s.created_by_id`;

const listSql = `select ${columns} from slot s ${joins}
  where s.cancelled_at is null and s.ends_at > $1::timestamptz and s.starts_at < $2::timestamptz
    and ($3::uuid is null or s.station_id = $3::uuid) and ($4::uuid is null or s.batch_id = $4::uuid)
  order by s.starts_at, s.id`;
export const listSlots = (query: RawQuery, from: Date, to: Date, stationId: string | null, batchId: string | null): Promise<SlotRow[]> =>
  query('slot-list', listSql, [from, to, stationId, batchId]);

const oneSql = `select ${columns} from slot s ${joins} where s.id = $1::uuid`;
export async function findSlot(query: RawQuery, id: string): Promise<SlotRow | null> {
  const [row] = await query<SlotRow>('slot-one', oneSql, [id]);
  return row ?? null;
}

const lockBatchSql = `select id, lot, closed_at is not null as closed, recalled_at is not null as recalled from batch where id = $1::uuid for no key update`;
export async function lockBatch(query: RawQuery, id: string): Promise<{ id: string; lot: string; closed: boolean; recalled: boolean } | null> {
  const [row] = await query<{ id: string; lot: string; closed: boolean; recalled: boolean }>('slot-lock-batch', lockBatchSql, [id]);
  return row ?? null;
}

const lockStationSql = `select id, name, kind, capacity_unit as "capacityUnit", capacity, opens_at as "opensAt", closes_at as "closesAt",
  retired_at is not null as retired from station where id = $1::uuid for no key update`;
export async function lockStation(query: RawQuery, id: string): Promise<StationFacts | null> {
  const [row] = await query<StationFacts>('slot-lock-station', lockStationSql, [id]);
  return row ?? null;
}

export type StageTime = { what: 'slot' | 'stage'; id: string; kind: StageKind; startsAt: Date; endsAt: Date };
// What was done stands in for what was planned: a slot whose kind of stage has been finished no longer counts.
const timesSql = `
  select 'stage' as what, id, kind, started_at as "startsAt", finished_at as "endsAt" from stage
    where batch_id = $1::uuid and cancelled_at is null and finished_at is not null
  union all
  select 'slot', s.id, s.stage_kind, s.starts_at, s.ends_at from slot s
    where s.batch_id = $1::uuid and s.cancelled_at is null and s.id is distinct from $2::uuid
      and not exists (select 1 from stage g where g.batch_id = s.batch_id and g.kind = s.stage_kind and g.cancelled_at is null and g.finished_at is not null)`;
/** The batch's finished stages and its other slots. */
export const timesOfBatch = (query: RawQuery, batchId: string, exceptSlotId: string | null): Promise<StageTime[]> =>
  query('slot-times', timesSql, [batchId, exceptSlotId]);

const ranSql = `select started_at as "startedAt", finished_at as "finishedAt" from stage where batch_id = $1::uuid and kind = $2::text and cancelled_at is null
  and started_at < $4::timestamptz and (finished_at is null or finished_at > $3::timestamptz) order by started_at`;
/** The batch's stages of this kind that ran at any moment of this time. */
export const stagesThen = (query: RawQuery, batchId: string, kind: StageKind, from: Date, to: Date): Promise<{ startedAt: Date; finishedAt: Date | null }[]> =>
  query('slot-stages-then', ranSql, [batchId, kind, from, to]);

const insertSql = `insert into slot (id, station_id, batch_id, stage_kind, starts_at, ends_at, amount, note, created_by_id, created_at)
  values ($1::uuid, $2::uuid, $3::uuid, $4::text, $5::timestamptz, $6::timestamptz, $7::int, $8::text, $9::uuid, $10::timestamptz)`;
export type NewSlot = { id: string; stationId: string; batchId: string; stageKind: StageKind; startsAt: Date; endsAt: Date; amount: number; note: string; createdById: string; createdAt: Date };
export async function insertSlot(query: RawQuery, s: NewSlot): Promise<void> {
  await query('slot-insert', insertSql, [s.id, s.stationId, s.batchId, s.stageKind, s.startsAt, s.endsAt, s.amount, s.note, s.createdById, s.createdAt]);
}

const updateSql = `update slot set station_id = $3::uuid, starts_at = $4::timestamptz, ends_at = $5::timestamptz, amount = $6::int, note = $7::text,
  cancelled_at = $8::timestamptz, planned_ends_at = null, ended_by_stage_id = null, version = version + 1 where id = $1::uuid and version = $2::int returning id`;
/** Whether the slot still had this version. */
export async function updateSlot(query: RawQuery, id: string, version: number, f: SlotFields): Promise<boolean> {
  const rows = await query('slot-update', updateSql, [id, version, f.stationId, f.startsAt, f.endsAt, f.amount, f.note, f.cancelledAt]);
  return rows.length === 1;
}
