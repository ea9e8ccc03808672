import type { ReadingListRecord } from '../../contract/evidence.ts';
import type { FlaggedReading } from '../../domain/reading-flags.ts';
import type { RawQuery } from '../../platform/database/open.ts';

export type ListRow = Omit<ReadingListRecord, 'firstAt' | 'lastAt' | 'createdAt' | 'createdBy' | 'withdrawn'> & {
  firstAt: Date; lastAt: Date; createdAt: Date; withdrawnAt: Date | null; createdById: string; createdByName: string;
};
/** Of what still counts: without a probe's error values and without what was withdrawn. */
const extreme = (fn: 'min' | 'max', kept: string) =>
  `case when cardinality(l.withdrawn_nos) = 0 then ${kept} else (select ${fn}(r.celsius) from reading r where r.list_id = l.id and r.flag is distinct from 'probe-error' and r.no <> all(l.withdrawn_nos)) end`;
const columns = `l.id, l.batch_id as "batchId", l.stage_id as "stageId", l.place, l.probe, l.source, l.reading_count as "readingCount", l.first_at as "firstAt", l.last_at as "lastAt", ${extreme('min', 'l.lowest_c')} as "lowestC",
  ${extreme('max', 'l.highest_c')} as "highestC", l.unit_confirmed as "unitConfirmed", l.withdrawn_nos as "withdrawnNos", l.withdrawn_at as "withdrawnAt", l.created_by_id as "createdById", m.name as "createdByName",
  l.created_at as "createdAt", l.version from reading_list l join member m on m.id = l.created_by_id`;

export async function findList(query: RawQuery, id: string): Promise<ListRow | null> {
  const [row] = await query<ListRow>('readings-list-find', `select ${columns} where l.id = $1`, [id]);
  return row ?? null;
}
/** The lists of a batch in the order of their first reading. */
export const listsOf = (query: RawQuery, batchId: string, listId: string | null, withdrawn: boolean) =>
  query<ListRow>('readings-lists-of', `select ${columns} where l.batch_id = $1 and ($2::uuid is null or l.id = $2) and ($3 or l.withdrawn_at is null) order by l.first_at, l.id`, [batchId, listId, withdrawn]);

export type ReadingRow = { listId: string; no: number; at: Date; celsius: number; humidityPct: number | null; flag: FlaggedReading['flag'] };
export const readingsOf = (query: RawQuery, listIds: readonly string[]) =>
  query<ReadingRow>('readings-of', `select list_id as "listId", no, at, celsius, humidity_pct as "humidityPct", flag from reading where list_id = any($1::uuid[]) order by list_id, no`, [[...listIds]]);

export type NewList = {
  id: string; batchId: string; stageId: string | null; place: string; probe: string; source: 'typed' | 'pasted'; unitConfirmed: boolean;
  readings: readonly FlaggedReading[]; by: string; at: Date;
};
const insertListSql = `insert into reading_list (id, batch_id, stage_id, place, probe, source, unit_confirmed, reading_count, first_at, last_at, lowest_c, highest_c, created_by_id, created_at)
  values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14)`;
const insertReadingsSql = `insert into reading (list_id, no, at, celsius, humidity_pct, flag)
  select $1::uuid, n.no, n.at, n.celsius, n.humidity, n.flag
  from unnest($2::int[], $3::timestamptz[], $4::float8[], $5::float8[], $6::text[]) as n(no, at, celsius, humidity, flag)`;

export async function insertList(query: RawQuery, n: NewList): Promise<void> {
  const times = n.readings.map((r) => r.at.getTime());
  const good = n.readings.filter((r) => r.flag !== 'probe-error').map((r) => r.celsius);
  const [lowest, highest] = good.length === 0 ? [null, null] : [good.reduce((a, b) => Math.min(a, b)), good.reduce((a, b) => Math.max(a, b))];
  const span = [times.reduce((a, b) => Math.min(a, b)), times.reduce((a, b) => Math.max(a, b))].map((ms) => new Date(ms));
  await query('readings-list-insert', insertListSql, [n.id, n.batchId, n.stageId, n.place, n.probe, n.source, n.unitConfirmed, n.readings.length, span[0], span[1], lowest, highest, n.by, n.at]);
  await query('readings-insert', insertReadingsSql, [
    n.id, n.readings.map((_r, i) => i + 1), n.readings.map((r) => r.at), n.readings.map((r) => r.celsius), n.readings.map((r) => r.humidityPct), n.readings.map((r) => r.flag),
  ]);
}

export type ListFields = { withdrawnAt: Date | null; withdrawnNos: readonly number[]; unitConfirmed: boolean };
export const updateList = (query: RawQuery, id: string, f: ListFields) =>
  query('readings-list-update', `update reading_list set withdrawn_at = $2, withdrawn_nos = $3::int[], unit_confirmed = $4, version = version + 1 where id = $1`, [id, f.withdrawnAt, [...f.withdrawnNos], f.unitConfirmed]);

export async function stageOf(query: RawQuery, id: string): Promise<{ batchId: string; kind: string; startedAt: Date } | null> {
  const [row] = await query<{ batchId: string; kind: string; startedAt: Date }>('readings-stage', `select batch_id as "batchId", kind, started_at as "startedAt" from stage where id = $1 and cancelled_at is null`, [id]);
  return row ?? null;
}
