import type { Form, Pooling } from '../../domain/working.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { rowsFor } from '../../platform/database/rows.ts';

/** What is recorded of a landing, as its columns hold it. */
export type LandingFields = {
  catcherKind: 'member' | 'guest' | 'boat';
  catcherMemberId: string | null;
  catcherGuest: string | null;
  speciesCode: string;
  fishCount: number | null;
  grams: number;
  weightSource: 'weighed' | 'estimated';
  form: Form;
  lengthsMm: number[];
  lengthKind: 'fork' | 'total' | null;
  caughtAt: Date | null;
  guttedAt: Date | null;
  icedAt: Date | null;
  landedAt: Date | null;
  coreC: number | null;
  airC: number | null;
  waterC: number | null;
  note: string;
  pooling: Pooling;
};

export type LandingRow = LandingFields & {
  id: string;
  tripId: string;
  tripDay: string;
  tripArea: string;
  boatId: string;
  boatName: string;
  catcherName: string | null;
  speciesName: string;
  speciesSharing: 'ok' | 'refuse';
  speciesScombrotoxin: boolean | null;
  drawnGrams: number;
  withdrawnAt: Date | null;
  createdById: string;
  createdByName: string;
  createdAt: Date;
  version: number;
};

const select = `select l.id, l.trip_id as "tripId", t.day as "tripDay", t.area as "tripArea", t.boat_id as "boatId", b.name as "boatName",
    l.catcher_kind as "catcherKind", l.catcher_member_id as "catcherMemberId", l.catcher_guest as "catcherGuest", cm.name as "catcherName",
    l.species_code as "speciesCode", s.name as "speciesName", s.sharing as "speciesSharing", s.scombrotoxin as "speciesScombrotoxin", l.fish_count as "fishCount", l.grams,
    l.weight_source as "weightSource", l.form, l.lengths_mm as "lengthsMm", l.length_kind as "lengthKind", l.caught_at as "caughtAt",
    l.gutted_at as "guttedAt", l.iced_at as "icedAt", l.landed_at as "landedAt", l.core_c as "coreC", l.air_c as "airC", l.water_c as "waterC", l.note, l.pooling, l.drawn_grams as "drawnGrams",
    l.withdrawn_at as "withdrawnAt", l.created_by_id as "createdById", cb.name as "createdByName", l.created_at as "createdAt", l.version
  from landing l
  join trip t on t.id = l.trip_id
  join boat b on b.id = t.boat_id
  join species s on s.code = l.species_code
  join member cb on cb.id = l.created_by_id
  left join member cm on cm.id = l.catcher_member_id`;

export const landingsOfTrip = (query: RawQuery, tripId: string) =>
  query<LandingRow>('landings-of-trip', `${select} where l.trip_id = $1 order by l.created_at, l.id`, [tripId]);

export type LandingFilter = { tripId?: string | undefined; left?: boolean | undefined; after: { createdAt: string; id: string } | null; limit: number };

/** The newest landings first. The condition on what is left is worded as the index landing_left has it. */
export function listLandings(query: RawQuery, { tripId, left, after, limit }: LandingFilter): Promise<LandingRow[]> {
  const params: (string | number)[] = [];
  const place = (value: string | number) => `$${params.push(value)}`;
  const where = [
    ...(tripId ? [`l.trip_id = ${place(tripId)}::uuid`] : []),
    ...(left ? ['l.withdrawn_at is null and l.drawn_grams < l.grams'] : []),
    ...(after ? [`(l.created_at, l.id) < (${place(after.createdAt)}::timestamptz, ${place(after.id)}::uuid)`] : []),
  ];
  const rows = rowsFor(limit);
  const name = [`landings-${rows}`, tripId ? 'trip' : '', left ? 'left' : '', after ? 'after' : ''].join('-');
  const condition = where.length > 0 ? `where ${where.join(' and ')}` : '';
  return query<LandingRow>(name, `${select} ${condition} order by l.created_at desc, l.id desc limit ${rows}`, params);
}

export async function findLanding(query: RawQuery, id: string): Promise<LandingRow | null> {
  const [row] = await query<LandingRow>('landing-find', `${select} where l.id = $1`, [id]);
  return row ?? null;
}

/** Takes the landing's row first, so that a draw from it and a correction of it come one after the other. */
export async function lockLanding(query: RawQuery, id: string): Promise<LandingRow | null> {
  await query('landing-lock', 'select 1 from landing where id = $1 for no key update', [id]);
  return findLanding(query, id);
}

export type LandingTrip = { id: string; day: string; open: boolean; boatName: string };

/** The trip that takes a landing; it cannot be closed or moved to another day meanwhile. */
export async function holdTrip(query: RawQuery, id: string): Promise<LandingTrip | null> {
  const sql = `select t.id, t.day, t.closed_at is null as open, b.name as "boatName" from trip t join boat b on b.id = t.boat_id where t.id = $1 for no key update of t`;
  const [row] = await query<LandingTrip>('landing-trip', sql, [id]);
  return row ?? null;
}

/** What the trip's other landings weigh together. */
export async function othersGrams(query: RawQuery, tripId: string, landingId: string | null): Promise<number> {
  const sql = `select coalesce(sum(grams), 0)::bigint as grams from landing where trip_id = $1 and withdrawn_at is null and id is distinct from $2::uuid`;
  const [row] = await query<{ grams: number }>('landing-others', sql, [tripId, landingId]);
  return row!.grams;
}

const fieldParams = (f: LandingFields) => [
  f.catcherKind, f.catcherMemberId, f.catcherGuest, f.speciesCode, f.fishCount, f.grams, f.weightSource, f.form, f.lengthsMm, f.lengthKind,
  f.caughtAt, f.icedAt, f.coreC, f.airC, f.waterC, f.note, f.pooling, f.guttedAt, f.landedAt,
];

const insertSql = `insert into landing (id, trip_id, created_by_id, created_at, catcher_kind, catcher_member_id, catcher_guest, species_code, fish_count, grams,
    weight_source, form, lengths_mm, length_kind, caught_at, iced_at, core_c, air_c, water_c, note, pooling, gutted_at, landed_at)
  values ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20, $21, $22, $23)`;
export const insertLanding = (query: RawQuery, id: string, tripId: string, fields: LandingFields, by: string, now: Date) =>
  query('landing-insert', insertSql, [id, tripId, by, now, ...fieldParams(fields)]);

const updateSql = `update landing set withdrawn_at = $2, catcher_kind = $3, catcher_member_id = $4, catcher_guest = $5, species_code = $6, fish_count = $7,
    grams = $8, weight_source = $9, form = $10, lengths_mm = $11, length_kind = $12, caught_at = $13, iced_at = $14, core_c = $15, air_c = $16,
    water_c = $17, note = $18, pooling = $19, gutted_at = $20, landed_at = $21, version = version + 1 where id = $1`;
export const updateLanding = (query: RawQuery, id: string, withdrawnAt: Date | null, fields: LandingFields) =>
  query('landing-update', updateSql, [id, withdrawnAt, ...fieldParams(fields)]);

export type PlacedDraw = {
  batchId: string;
  lot: string;
  trayNo: number;
  /** null: drawn from a batch or a pack. */
  landingId: string | null;
  catcherKind: 'member' | 'guest' | 'boat' | null;
  catcherMemberId: string | null;
  catcherGuest: string | null;
  boatId: string | null;
  pooling: Pooling | null;
};

const lockBatchesSql = `select 1 from batch where id in (select batch_id from draw where landing_id = $1 and cancelled_at is null) order by id for no key update`;
const placedSql = `select d.batch_id as "batchId", b.lot, d.tray_no as "trayNo", d.landing_id as "landingId", l.catcher_kind as "catcherKind",
    l.catcher_member_id as "catcherMemberId", l.catcher_guest as "catcherGuest", t.boat_id as "boatId", l.pooling
  from draw d join batch b on b.id = d.batch_id left join landing l on l.id = d.landing_id left join trip t on t.id = l.trip_id
  where d.cancelled_at is null and d.batch_id in (select batch_id from draw where landing_id = $1 and cancelled_at is null)`;

/** All that lies in the batches that this landing's fish is in, with those batches held still. */
export async function placedWith(query: RawQuery, landingId: string): Promise<PlacedDraw[]> {
  await query('landing-lock-batches', lockBatchesSql, [landingId]);
  return query<PlacedDraw>('landing-placed', placedSql, [landingId]);
}

const batchesWithSql = `select distinct batch_id as id from draw where landing_id = any($1::uuid[]) and cancelled_at is null order by 1`;

/** The batches that drew from these landings. */
export async function batchesWith(query: RawQuery, landingIds: readonly string[]): Promise<string[]> {
  return (await query<{ id: string }>('landing-batches', batchesWithSql, [[...landingIds]])).map(({ id }) => id);
}

const passedOnSql = `select exists (
    select 1 from draw mine join draw further on further.cancelled_at is null and (further.source_batch_id = mine.batch_id
      or further.source_pack_id in (select p.id from pack p where p.batch_id = mine.batch_id))
    where mine.landing_id = $1 and mine.cancelled_at is null) as "passedOn"`;

/** Whether fish of those batches went on into others. */
export async function passedOn(query: RawQuery, landingId: string): Promise<boolean> {
  const [row] = await query<{ passedOn: boolean }>('landing-passed-on', passedOnSql, [landingId]);
  return row!.passedOn;
}

const lockBelowSql = `select 1 from batch where id in (select batches_downstream(array(select batch_id from draw where landing_id = $1 and cancelled_at is null)))
  order by id for no key update`;
const otherSpeciesSql = `with recursive down(id) as (
    select batch_id from draw where landing_id = $1 and cancelled_at is null
    union
    select d.batch_id from down join draw d on d.source_batch_id = down.id and d.cancelled_at is null
  ), up(root, id) as (
    select b.id, b.id from batch b where b.id in (select id from down) and b.product_kind <> 'dip'
    union
    select up.root, d.source_batch_id from up join draw d on d.batch_id = up.id and d.cancelled_at is null and d.source_batch_id is not null
  )
  select b.lot, s.name as species from up join draw d on d.batch_id = up.id and d.cancelled_at is null join landing l on l.id = d.landing_id
    join species s on s.code = l.species_code join batch b on b.id = up.root
  where l.id <> $1 and l.species_code <> $2 limit 1`;

/** A batch, other than a dip, in which this landing's fish lies with fish that is not of `speciesCode`; the batches are held still. */
export async function otherSpeciesBeside(query: RawQuery, landingId: string, speciesCode: string): Promise<{ lot: string; species: string } | null> {
  await query('landing-lock-below', lockBelowSql, [landingId]);
  const [row] = await query<{ lot: string; species: string }>('landing-other-species', otherSpeciesSql, [landingId, speciesCode]);
  return row ?? null;
}
