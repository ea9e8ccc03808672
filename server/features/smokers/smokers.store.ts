import type { ProbeList } from '../../domain/heat/smoke-log.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { upSql } from '../batches/lineage.ts';

export type StationRow = { id: string; name: string; kind: string };
const stationSql = `select id, name, kind from station where id = $1::uuid`;
export async function findStation(query: RawQuery, id: string): Promise<StationRow | null> {
  const [row] = await query<StationRow>('smoker-station', stationSql, [id]);
  return row ?? null;
}
/** Whoever lets a smoker learn waits here for whoever does so already, so that the later fit holds what the earlier one chose. */
export async function lockStation(query: RawQuery, id: string): Promise<StationRow | null> {
  const [row] = await query<StationRow>('smoker-lock', `${stationSql} for no key update`, [id]);
  return row ?? null;
}
export const lockBatch = (query: RawQuery, id: string) => query<{ id: string }>('smoker-lock-batch', `select id from batch where id = $1::uuid for no key update`, [id]);

/** Lists with readings of a place in the course of the smoke `s`. */
const listsIn = (places: string) => `from reading_list l where l.batch_id = s.batch_id and l.place in (${places}) and l.withdrawn_at is null
  and (l.stage_id is null or l.stage_id = s.id) and l.first_at <= s.finished_at and l.last_at >= s.started_at`;
const both = `'core', 'chamber'`;

export type SmokeRow = {
  stageId: string; batchId: string; lot: string; batchName: string; startedAt: Date; finishedAt: Date | null; speciesCode: string | null; thicknessMm: number | null; saltPct: number | null;
  /** The smokers that it was booked in then. */
  smokers: { id: string; name: string }[];
  /** The smoker that learns from it already. */
  learntAt: string | null;
  hasCore: boolean; hasChamber: boolean;
};
const smokeColumns = `s.id as "stageId", s.batch_id as "batchId", b.lot, b.name as "batchName", s.started_at as "startedAt", s.finished_at as "finishedAt",
  (with ${upSql('s.batch_id')} select l.species_code from up join draw d on d.batch_id = up.id and d.cancelled_at is null join landing l on l.id = d.landing_id
    group by 1 order by sum(d.grams) desc, 1 limit 1) as "speciesCode",
  (select c.thickness_mm from cure c join stage g on g.id = c.stage_id where g.batch_id = s.batch_id and g.cancelled_at is null order by g.seq desc limit 1) as "thicknessMm",
  (select m.value from measurement m where m.batch_id = s.batch_id and m.kind = 'water-phase-salt' and m.part = 'loin' and m.withdrawn_at is null order by m.reported_day desc, m.id desc limit 1) as "saltPct",
  coalesce((select json_agg(json_build_object('id', st.id, 'name', st.name) order by sl.starts_at) from slot sl join station st on st.id = sl.station_id and st.kind = 'smoker'
    where sl.batch_id = s.batch_id and sl.stage_kind = 'smoke' and sl.cancelled_at is null and sl.starts_at < s.finished_at and sl.ends_at > s.started_at), '[]') as smokers,
  (select st.name from smoker_smoke c join station st on st.id = c.station_id where c.stage_id = s.id and c.withdrawn_at is null) as "learntAt",
  exists (select 1 ${listsIn(`'core'`)}) as "hasCore", exists (select 1 ${listsIn(`'chamber'`)}) as "hasChamber"`;

const lastSmokeSql = `select ${smokeColumns} from stage s join batch b on b.id = s.batch_id where s.batch_id = $1::uuid and s.kind = 'smoke' and s.cancelled_at is null order by s.seq desc limit 1`;
/** The batch's last smoke, finished or not; null when it was never smoked. */
export async function lastSmoke(query: RawQuery, batchId: string): Promise<SmokeRow | null> {
  const [row] = await query<SmokeRow>('smoker-last-smoke', lastSmokeSql, [batchId]);
  return row ?? null;
}

/** So many are offered: what is older tells of another smoker, or of one that has been mended since. */
const MOST_OTHERS = 30;
const othersSql = `select ${smokeColumns} from stage s join batch b on b.id = s.batch_id
  where s.id in (select s.id from stage s where s.kind = 'smoke' and s.cancelled_at is null and s.finished_at is not null
    and not exists (select 1 from smoker_smoke c where c.stage_id = s.id and c.withdrawn_at is null)
    and exists (select 1 ${listsIn(`'core'`)}) and exists (select 1 ${listsIn(`'chamber'`)}) order by s.finished_at desc, s.id desc limit ${MOST_OTHERS})
  order by s.finished_at desc, s.id desc`;
/** Finished smokes with logs that no smoker learns from. */
export const otherSmokes = (query: RawQuery) => query<SmokeRow>('smoker-others', othersSql, []);

export type ChosenRow = {
  id: string; stationId: string; stageId: string; batchId: string; lot: string; batchName: string; startedAt: Date; finishedAt: Date | null; undone: boolean;
  speciesCode: string; thicknessMm: number; facesOpen: 'both' | 'one'; saltPct: number | null; addedById: string; addedByName: string; addedAt: Date;
  /** The lists that it rests on, each with its version. */
  lists: string | null;
};
const chosenSql = `select c.id, c.station_id as "stationId", c.stage_id as "stageId", c.batch_id as "batchId", b.lot, b.name as "batchName", s.started_at as "startedAt", s.finished_at as "finishedAt",
    s.cancelled_at is not null as undone, c.species_code as "speciesCode", c.thickness_mm as "thicknessMm", c.faces_open as "facesOpen", c.salt_pct as "saltPct",
    m.id as "addedById", m.name as "addedByName", c.created_at as "addedAt", (select string_agg(l.id || ':' || l.version, ',' order by l.id) ${listsIn(both)}) as lists
  from smoker_smoke c join stage s on s.id = c.stage_id join batch b on b.id = c.batch_id join member m on m.id = c.created_by_id
  where c.withdrawn_at is null and ($1::uuid is null or c.station_id = $1) order by s.started_at, c.id`;
/** The smokes that one smoker learns from, or that all do. */
export const chosenSmokes = (query: RawQuery, stationId: string | null) => query<ChosenRow>('smoker-chosen', chosenSql, [stationId]);

export type SmokeList = ProbeList & { smokeId: string };
const readingsSql = `select c.id as "smokeId", l.place, l.probe, l.stage_id as "stageId", l.unit_confirmed as "unitConfirmed", r."atMs", r.celsius
  from smoker_smoke c join stage s on s.id = c.stage_id, lateral (select l.* ${listsIn(both)}) l,
    lateral (select json_agg((extract(epoch from r.at) * 1000)::bigint order by r.no) as "atMs", json_agg(r.celsius order by r.no) as celsius
      from reading r where r.list_id = l.id and r.no <> all (l.withdrawn_nos)) r
  where c.id = any($1::uuid[]) and r.celsius is not null order by l.first_at, l.id`;
/** What was read in the course of these smokes, without what was withdrawn. */
export const readingsOf = (query: RawQuery, smokeIds: readonly string[]) => query<SmokeList>('smoker-readings', readingsSql, [[...smokeIds]]);

export type NewSmoke = { id: string; stationId: string; batchId: string; stageId: string; speciesCode: string; thicknessMm: number; facesOpen: string; saltPct: number | null; by: string; at: Date };
const insertSql = `insert into smoker_smoke (id, station_id, batch_id, stage_id, species_code, thickness_mm, faces_open, salt_pct, created_by_id, created_at) values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`;
export const insertSmoke = (query: RawQuery, n: NewSmoke) =>
  query('smoker-smoke-insert', insertSql, [n.id, n.stationId, n.batchId, n.stageId, n.speciesCode, n.thicknessMm, n.facesOpen, n.saltPct, n.by, n.at]);

const removeSql = `update smoker_smoke set withdrawn_at = $3::timestamptz where station_id = $1::uuid and id = any($2::uuid[]) and withdrawn_at is null`;
/** One that somebody else took out already stays out. */
export const removeSmokes = (query: RawQuery, stationId: string, ids: readonly string[], at: Date) => query('smoker-smokes-remove', removeSql, [stationId, [...ids], at]);
