import type { Mark } from '../../contract/today.ts';
import type { StageKind } from '../../domain/working.ts';
import type { RawQuery } from '../../platform/database/open.ts';

/** What stands against sharing a batch for good, of the batch b. */
const markSql = `case when b.recalled_at is not null then 'recalled' when b.verdict = 'do-not-share' then 'do-not-share' end`;

export type RunningRow = { batchId: string; lot: string; name: string; stageId: string; kind: StageKind; startedAt: Date; dueAt: Date | null; station: string | null; mark: Mark };

// Running stages are found by the index of the constraint stage_one_running.
const runningSql = `select s.batch_id as "batchId", b.lot, b.name, s.id as "stageId", s.kind, s.started_at as "startedAt", s.due_at as "dueAt", here.station, ${markSql} as mark
  from stage s join batch b on b.id = s.batch_id
  left join lateral (
    select st.name as station from slot sl join station st on st.id = sl.station_id
      where sl.batch_id = s.batch_id and sl.stage_kind = s.kind and sl.cancelled_at is null and sl.starts_at <= $1 and sl.ends_at > s.started_at
      order by sl.ends_at > $1 desc, sl.starts_at desc limit 1) here on true
  where s.finished_at is null and s.cancelled_at is null
  order by s.due_at nulls last, s.started_at, s.id limit 50`;
export const running = (query: RawQuery, now: Date) => query<RunningRow>('today-running', runningSql, [now]);

export type NextRow = { at: Date; what: 'slot-starts' | 'slot-ends'; stageKind: StageKind; batchId: string; lot: string; name: string; station: string | null; mark: Mark };

/*
 * A slot lasts at most 14 days, so one that starts before the horizon ends within 14 days of it: that bounds the read
 * of slot_ends_at_idx. A slot that has begun without its stage stays in the list as the next thing to start. What runs is
 * told with its time elsewhere, so the end of its slot is news only where it differs, soon, and to those whose it is.
 */
const nextSql = `
  with near as (
    select sl.*, b.lot, b.name as batch_name, st.name as station, ${markSql} as mark,
        exists (select 1 from stage s where s.batch_id = sl.batch_id and s.kind = sl.stage_kind and s.cancelled_at is null) as begun,
        exists (select 1 from stage s where s.batch_id = sl.batch_id and s.kind = sl.stage_kind and s.cancelled_at is null and s.finished_at is null
          and s.due_at is distinct from sl.ends_at and $3::uuid in (s.created_by_id, sl.created_by_id, b.created_by_id)) as mine
      from slot sl join batch b on b.id = sl.batch_id join station st on st.id = sl.station_id
      where sl.ends_at > $1 and sl.ends_at < $2::timestamptz + interval '14 days' and sl.starts_at < $2 and sl.cancelled_at is null
        and b.closed_at is null and b.recalled_at is null)
  select starts_at as at, 'slot-starts' as what, stage_kind as "stageKind", batch_id as "batchId", lot, batch_name as name, station, mark from near where not begun
  union all
  select ends_at, 'slot-ends', stage_kind, batch_id, lot, batch_name, station, mark from near where mine and ends_at < $4
  order by 1, 2, 5 limit 40`;
export const next = (query: RawQuery, now: Date, until: Date, memberId: string, freeUntil: Date) => query<NextRow>('today-next', nextSql, [now, until, memberId, freeUntil]);

const startSql = `select exists (select 1 from boat where retired_at is null) as boat, exists (select 1 from station where retired_at is null) as station,
  (exists (select 1 from invitation) or (select count(*) from member where left_at is null) > 1) as people, exists (select 1 from trip) as trip,
  coalesce((select trim(contact_words) <> '' from club), false) as contact`;
export type StartRow = { boat: boolean; station: boolean; people: boolean; trip: boolean; contact: boolean };
/** What a club has of what it needs to begin. */
export const startOf = async (query: RawQuery): Promise<StartRow> => (await query<StartRow>('today-start', startSql, []))[0]!;

export type OpenTripRow = { id: string; boat: string; area: string; day: string };
const openTripsSql = `select t.id, b.name as boat, t.area, t.day from trip t join boat b on b.id = t.boat_id
  where t.closed_at is null and t.day >= $1::date order by t.day desc, t.id desc limit 20`;
export const openTrips = (query: RawQuery, since: string) => query<OpenTripRow>('today-open-trips', openTripsSql, [since]);

export type FishRow = { tripId: string; boat: string; day: string; landings: number; grams: number; allGrams: number };
// Worded as the index landing_left has it. Fish that is never for sharing waits for no batch.
const fishSql = `select t.id as "tripId", b.name as boat, t.day, count(*) as landings, sum(l.grams - l.drawn_grams)::bigint as grams,
    least(sum(sum(l.grams - l.drawn_grams)) over (), 100000000)::bigint as "allGrams"
  from landing l join trip t on t.id = l.trip_id join boat b on b.id = t.boat_id join species s on s.code = l.species_code
  where l.withdrawn_at is null and l.drawn_grams < l.grams and l.created_at > $1 and s.sharing = 'ok'
  group by t.id, b.name, t.day order by t.day desc, t.id desc limit 10`;
export const fishNotAssigned = (query: RawQuery, since: Date) => query<FishRow>('today-fish', fishSql, [since]);

export type EvidenceRow = { batchId: string; lot: string; name: string; notMet: boolean };
/*
 * What a batch's checks lack is judged on its own page; here stands that it is on hold, from where that no longer goes without saying: once it is smoked,
 * mixed or packed, or cured for longer than brine.cold lets pass without how warm it stood (what the fish was cured before it came there is asked of that
 * lot). Asked batch by batch, so that only the stages of recent batches are read, by stage_batch_id_seq_key. One of which nothing is left keeps nobody waiting.
 */
const evidenceSql = `select b.id as "batchId", b.lot, b.name, b.not_met as "notMet"
  from batch b cross join lateral (
    select bool_or(kind <> 'cure') as made,
        bool_or(kind = 'cure' and max_place_c is null and cured.span > coalesce((select least(value, 4) from club_limit where id = 'brine.cold.hours'), 4) * interval '1 hour'
          and not exists (select from reading_list l where l.batch_id = b.id and l.stage_id = stage.id and l.place = 'storage' and l.withdrawn_at is null)) as "noPlace",
        coalesce(min(finished_at) filter (where kind <> 'cure'), min(finished_at)) as since
      from stage, (select sum(finished_at - started_at) as span from stage where batch_id = b.id and kind = 'cure' and cancelled_at is null) cured
      where batch_id = b.id and kind in ('cure', 'smoke', 'mix') and finished_at is not null and cancelled_at is null) s
  where b.created_at > $1 and b.recalled_at is null and b.verdict = 'hold' and (s.made or s."noPlace" or b.pack_count > 0)
    and (b.on_hand_grams > 0 or exists (select from pack p where p.batch_id = b.id and p.status <> 'discarded') or exists (select from draw d where d.source_batch_id = b.id and d.cancelled_at is null))
  order by coalesce(s.since, b.created_at), b.id limit 20`;
export const evidenceMissing = (query: RawQuery, since: Date) => query<EvidenceRow>('today-evidence', evidenceSql, [since]);

export type NotStartedRow = { batchId: string; lot: string; name: string; grams: number; mark: Mark };
const notStartedSql = `select b.id as "batchId", b.lot, b.name, b.on_hand_grams as grams, ${markSql} as mark from batch b
  where b.created_at > $1 and b.closed_at is null and b.recalled_at is null
    and not exists (select 1 from stage s where s.batch_id = b.id and s.cancelled_at is null)
  order by b.created_at, b.id limit 20`;
export const batchesNotStarted = (query: RawQuery, since: Date) => query<NotStartedRow>('today-not-started', notStartedSql, [since]);
