import type { RawQuery } from '../../platform/database/open.ts';
import { rowsFor } from '../../platform/database/rows.ts';

export type TripPersonRow = { memberId: string | null; guestName: string | null; name: string; shareWeight: number };
export type TripRow = {
  id: string;
  boatId: string;
  boatName: string;
  day: string;
  area: string;
  note: string;
  open: boolean;
  version: number;
  people: TripPersonRow[];
  landingCount: number;
  landedGrams: number;
  leftGrams: number;
};

const select = `select t.id, t.boat_id as "boatId", b.name as "boatName", t.day, t.area, t.note, t.closed_at is null as open, t.version,
    coalesce(p.people, '[]'::json) as people, l.count as "landingCount", l.landed as "landedGrams", l.left_ as "leftGrams"
  from trip t
  join boat b on b.id = t.boat_id
  left join lateral (
    select json_agg(json_build_object('memberId', tp.member_id, 'guestName', tp.guest_name, 'name', coalesce(m.name, tp.guest_name),
        'shareWeight', tp.share_hundredths / 100.0) order by lower(coalesce(m.name, tp.guest_name)), tp.id) as people
      from trip_person tp left join member m on m.id = tp.member_id where tp.trip_id = t.id) p on true
  left join lateral (
    select count(*) as count, coalesce(sum(grams), 0)::bigint as landed, coalesce(sum(grams - drawn_grams), 0)::bigint as left_
      from landing where trip_id = t.id and withdrawn_at is null) l on true`;
const newestFirst = 'order by t.day desc, t.id desc';

/** The newest trips, or those after the one with this day and id. */
export const listTrips = (query: RawQuery, after: { day: string; id: string } | null, limit: number) =>
  after
    ? query<TripRow>(`trips-after-${rowsFor(limit)}`, `${select} where (t.day, t.id) < ($1::date, $2::uuid) ${newestFirst} limit ${rowsFor(limit)}`, [after.day, after.id])
    : query<TripRow>(`trips-first-${rowsFor(limit)}`, `${select} ${newestFirst} limit ${rowsFor(limit)}`);

export async function findTrip(query: RawQuery, id: string): Promise<TripRow | null> {
  const [row] = await query<TripRow>('trip-find', `${select} where t.id = $1`, [id]);
  return row ?? null;
}

/** Takes the trip's row, so that a landing and the closing of its trip come one after the other. */
export async function lockTrip(query: RawQuery, id: string): Promise<TripRow | null> {
  await query('trip-lock', 'select 1 from trip where id = $1 for no key update', [id]);
  return findTrip(query, id);
}

export async function findBoat(query: RawQuery, id: string): Promise<{ name: string; retired: boolean } | null> {
  const [row] = await query<{ name: string; retired: boolean }>('trip-boat', 'select name, retired_at is not null as retired from boat where id = $1', [id]);
  return row ?? null;
}

export type MemberRow = { id: string; name: string; leftAt: Date | null };
export const findMembers = (query: RawQuery, ids: readonly string[]) =>
  query<MemberRow>('trip-members', 'select id, name, left_at as "leftAt" from member where id = any($1::uuid[])', [ids]);

export type TripFields = { boatId: string; day: string; area: string; note: string };

const insertSql = `insert into trip (id, boat_id, day, area, note, created_by_id, created_at) values ($1, $2, $3::date, $4, $5, $6, $7)`;
export const insertTrip = (query: RawQuery, id: string, trip: TripFields, by: string, now: Date) =>
  query('trip-insert', insertSql, [id, trip.boatId, trip.day, trip.area, trip.note, by, now]);

const updateSql = `update trip set boat_id = $2, day = $3::date, area = $4, note = $5,
    closed_at = case when $6::boolean then null else coalesce(closed_at, $7::timestamptz) end, version = version + 1 where id = $1`;
export const updateTrip = (query: RawQuery, id: string, trip: TripFields & { open: boolean }, now: Date) =>
  query('trip-update', updateSql, [id, trip.boatId, trip.day, trip.area, trip.note, trip.open, now]);

export type NewPerson = { id: string; memberId: string | null; guestName: string | null; shareHundredths: number };

const leaveOutSql = `delete from trip_person tp where tp.trip_id = $1 and not exists (
    select 1 from jsonb_to_recordset($2::jsonb) as p(member_id uuid, guest_name text)
      where p.member_id is not distinct from tp.member_id and p.guest_name is not distinct from tp.guest_name)`;
const changeSql = `update trip_person tp set share_hundredths = p.share_hundredths
  from jsonb_to_recordset($2::jsonb) as p(member_id uuid, guest_name text, share_hundredths integer)
  where tp.trip_id = $1 and p.member_id is not distinct from tp.member_id and p.guest_name is not distinct from tp.guest_name
    and p.share_hundredths <> tp.share_hundredths`;
const addSql = `insert into trip_person (id, trip_id, member_id, guest_name, share_hundredths)
  select p.id, $1, p.member_id, p.guest_name, p.share_hundredths
    from jsonb_to_recordset($2::jsonb) as p(id uuid, member_id uuid, guest_name text, share_hundredths integer)
    where not exists (select 1 from trip_person tp where tp.trip_id = $1
      and p.member_id is not distinct from tp.member_id and p.guest_name is not distinct from tp.guest_name)`;

/** Makes these the people aboard. Who stays keeps their row, so that the record shows only what changed. */
export async function setPeople(query: RawQuery, tripId: string, people: readonly NewPerson[]): Promise<void> {
  const json = JSON.stringify(people.map((p) => ({ id: p.id, member_id: p.memberId, guest_name: p.guestName, share_hundredths: p.shareHundredths })));
  await query('trip-people-leave', leaveOutSql, [tripId, json]);
  await query('trip-people-change', changeSql, [tripId, json]);
  await query('trip-people-add', addSql, [tripId, json]);
}
