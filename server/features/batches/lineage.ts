import type { CureFactsView } from '../../contract/cures.ts';
import type { TimeOut } from '../../domain/dates.ts';
import type { MeasurementKind, Part } from '../../domain/rules/evidence.ts';
import type { ReadingPlace } from '../../domain/reading-flags.ts';
import type { Form, PackageKind, Pooling, ProductKind, StageKind, Storage } from '../../domain/working.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { notFound } from '../../platform/errors/problem-error.ts';
import { cureColumns } from '../cures/cures.store.ts';

/** A batch and everything that it was made from, back to the landings; instants are text as the database writes them. */
export type Lineage = {
  id: string;
  batches: LineageBatch[];
  /** Into any of the batches, out of any of them, and out of any landing behind them. */
  draws: LineageDraw[];
  stages: LineageStage[];
  /** How fish was cured, where it was told, at the cure stages above. */
  cures: LineageCure[];
  packs: LineagePack[];
  landings: LineageLanding[];
  /** Of the batch, and of those above it: what its fish went through there (rule chill.exposure). */
  readings: LineageReadings[];
  /** Of the batch, and of those above it: a bad figure there may be about the same fish. */
  measurements: LineageMeasurement[];
  /** Nitrite that was measured in whatever was taken from the lots above once cured, or from the batch itself: it may have been in the same brine. */
  brineFigures: LineageBrineFigure[];
  /** Of the batch itself alone: each is let go by itself. */
  releases: LineageRelease[];
  /** The club's own limits, by the name of the limit. */
  clubLimits: Record<string, number>;
  /** The club's own source for 12 hours when gutted; empty without one. */
  guttedSource: string;
  /** The instant that the stored verdict and dates were reckoned for; null where none were yet. */
  judgedAt: string | null;
};
export type Verdict = 'hold' | 'clear' | 'do-not-share';
/** One list, without what was withdrawn, in the order in which it came. */
export type LineageReadings = { id: string; batchId: string; place: ReadingPlace; probe: string; stageId: string | null; unitConfirmed: boolean; atMs: number[]; celsius: number[] };
export type LineageMeasurement = { id: string; batchId: string; kind: MeasurementKind; value: number; part: Part; sampledDay: string };
/** `cureIds`: the cure stages whose brine it may be about. */
export type LineageBrineFigure = { id: string; batchId: string; lot: string; value: number; part: Part; cureIds: string[] };
export type LineageRelease = { id: string; ruleId: string; found: string; reason: string; by: string };
export type LineageBatch = {
  id: string; lot: string; name: string; nameTyped: boolean; productKind: ProductKind; verdict: Verdict; notMet: boolean; smokeDay: string | null; mixedDay: string | null;
  onHandGrams: number; packedGrams: number; closed: boolean; recalled: boolean; allergens: string[]; ingredients: string;
};
export type LineageDraw = {
  id: string; batchId: string; trayNo: number; grams: number; ofGrams: number; eventNo: number; createdAt: string; /** Its weight was changed since. */ corrected: boolean;
  landingId: string | null; sourceBatchId: string | null; sourcePackId: string | null;
};
export type LineageStage = {
  id: string; batchId: string; seq: number; eventNo: number; kind: StageKind; startedAt: string; dueAt: string | null; finishedAt: string | null;
  massInG: number; addedG: number; massOutG: number | null; trimG: number; lossG: number; lossReason: string; note: string;
  maxCoreC: number | null; holdMinutes: number | null; cooledTo21At: string | null; cooledAt: string | null; fromFrozen: boolean; maxPlaceC: number | null; coreUnitConfirmed: boolean; addedLastDay: string | null; version: number;
};
export type LineageCure = Omit<CureFactsView, 'createdBy'> & { stageId: string; batchId: string; createdById: string; createdByName: string };
export type LineagePack = {
  id: string; batchId: string; packNo: number; trayNo: number; grams: number; packageKind: PackageKind; storage: Storage;
  packedAt: string; frozenDay: string | null; thawedDay: string | null; /** Each time that it was recorded out of the freezer. */ outBefore: TimeOut[]; lastDay: string | null; dateKind: 'use-by' | 'best-before'; status: string;
};
export type LineageLanding = {
  id: string; grams: number; estimated: boolean; fishCount: number | null; catcherKey: string; catcher: string; pooling: Pooling; form: Form;
  speciesCode: string; species: string; scientificName: string; ownSpecies: boolean; sharing: 'ok' | 'refuse'; scombrotoxin: boolean | null; scombrotoxinSource: string;
  caughtAt: string | null; guttedAt: string | null; icedAt: string | null; landedAt: string | null; coreC: number | null; airC: number | null; waterC: number | null; createdAt: string; tripId: string; day: string; boat: string; area: string;
};

/**
 * The batches above one, as the recursive table `up`. It ends because a batch stands in it once, whatever the depth;
 * cycles are refused when weight is drawn.
 */
export const upSql = (start: string) => `recursive up(id) as (
    select ${start}
    union
    select s.id from up, lateral (
      select d.source_batch_id as id from draw d where d.batch_id = up.id and d.source_batch_id is not null and d.cancelled_at is null
      union all
      select p.batch_id from draw d join pack p on p.id = d.source_pack_id where d.batch_id = up.id and d.cancelled_at is null
    ) s
  )`;

const catcherNameSql = `case l.catcher_kind when 'member' then cm.name when 'guest' then l.catcher_guest else b.name end`;
const catcherKeySql = `case l.catcher_kind when 'member' then 'member:' || l.catcher_member_id when 'guest' then 'guest:' || l.catcher_guest else 'boat:' || t.boat_id end`;

/** Columns of one row that hold the lineage as JSON; stands in a statement that has the table `up`. */
export const lineageColumns = `
  (select json_agg(x) from (select v.id, v.lot, v.name, v.name_typed as "nameTyped", v.product_kind as "productKind", v.verdict, v.not_met as "notMet", v.smoke_day as "smokeDay", v.mixed_day as "mixedDay",
      v.on_hand_grams as "onHandGrams", v.packed_grams as "packedGrams", v.closed_at is not null as closed, v.recalled_at is not null as recalled, v.allergens, v.ingredients
    from batch v where v.id in (select id from up) order by v.created_at, v.id) x) as batches,
  (select json_agg(x order by x."eventNo") from (select d.id, d.batch_id as "batchId", d.tray_no as "trayNo", d.grams, d.of_grams as "ofGrams", d.event_no as "eventNo", d.created_at as "createdAt", d.version > 1 as corrected,
      d.landing_id as "landingId", d.source_batch_id as "sourceBatchId", d.source_pack_id as "sourcePackId"
    from draw d where d.cancelled_at is null and d.id in (
      select o.id from up join draw o on o.batch_id = up.id union select o.id from up join draw o on o.source_batch_id = up.id
      union select o.id from up join draw i on i.batch_id = up.id join draw o on o.landing_id = i.landing_id)) x) as draws,
  (select json_agg(x order by x.seq, x."eventNo") from (select s.id, s.batch_id as "batchId", s.seq, s.event_no as "eventNo", s.kind, s.started_at as "startedAt", s.due_at as "dueAt",
      s.finished_at as "finishedAt", s.mass_in_g as "massInG", s.added_g as "addedG", s.mass_out_g as "massOutG", s.trim_g as "trimG", s.loss_g as "lossG",
      s.loss_reason as "lossReason", s.note, s.max_core_c as "maxCoreC", s.hold_minutes as "holdMinutes", s.cooled_to_21_at as "cooledTo21At", s.cooled_at as "cooledAt", s.from_frozen as "fromFrozen", s.max_place_c as "maxPlaceC", s.core_unit_confirmed as "coreUnitConfirmed", s.added_last_day as "addedLastDay", s.version
    from up join stage s on s.batch_id = up.id where s.cancelled_at is null) x) as stages,
  (select json_agg(x) from (select c.stage_id as "stageId", c.batch_id as "batchId", ${cureColumns('c')}, c.created_by_id as "createdById", m.name as "createdByName", c.version
    from up join cure c on c.batch_id = up.id join stage s on s.id = c.stage_id join member m on m.id = c.created_by_id where s.cancelled_at is null order by s.event_no) x) as cures,
  (select json_agg(x order by x."packNo", x.id) from (select p.id, p.batch_id as "batchId", p.pack_no as "packNo", p.tray_no as "trayNo", p.grams, p.package_kind as "packageKind",
      p.storage, p.packed_at as "packedAt", p.frozen_day as "frozenDay", p.thawed_day as "thawedDay", coalesce((select json_agg(json_build_object('frozenDay', o.frozen_day, 'thawedDay', o.thawed_day, 'outDay', o.out_day) order by o.id) from pack_out o where o.pack_id = p.id), '[]'::json) as "outBefore", p.last_day as "lastDay", p.date_kind as "dateKind", p.status
    from up join pack p on p.batch_id = up.id) x) as packs,
  (select json_agg(x) from (select l.id, l.grams, l.weight_source = 'estimated' as estimated, l.fish_count as "fishCount", ${catcherKeySql} as "catcherKey", ${catcherNameSql} as catcher, l.pooling, l.form,
      l.species_code as "speciesCode", s.name as species, s.scientific_name as "scientificName", s.own as "ownSpecies", s.sharing, s.scombrotoxin, s.scombrotoxin_source as "scombrotoxinSource",
      l.caught_at as "caughtAt", l.gutted_at as "guttedAt", l.iced_at as "icedAt", l.landed_at as "landedAt", l.core_c as "coreC", l.air_c as "airC", l.water_c as "waterC", l.created_at as "createdAt", l.trip_id as "tripId", t.day, b.name as boat, t.area
    from landing l join trip t on t.id = l.trip_id join boat b on b.id = t.boat_id join species s on s.code = l.species_code
      left join member cm on cm.id = l.catcher_member_id
    where l.id in (select d.landing_id from up join draw d on d.batch_id = up.id where d.cancelled_at is null) order by l.created_at, l.id) x) as landings,
  (select json_agg(x) from (select l.id, l.batch_id as "batchId", l.place, l.probe, l.stage_id as "stageId", l.unit_confirmed as "unitConfirmed", r."atMs", r.celsius
    from reading_list l, lateral (select array_agg((extract(epoch from r.at) * 1000)::bigint order by r.no) as "atMs", array_agg(r.celsius order by r.no) as celsius
      from reading r where r.list_id = l.id and not exists (select from unnest(l.withdrawn_nos) w(no) where w.no = r.no)) r
    where l.batch_id in (select id from up) and l.withdrawn_at is null and r.celsius is not null order by l.first_at, l.id) x) as readings,
  (select json_agg(x) from (select m.id, m.batch_id as "batchId", m.kind, m.value, m.part, m.sampled_day as "sampledDay" from measurement m where m.batch_id in (select id from up) and m.withdrawn_at is null
    order by m.created_at, m.id) x) as measurements,
  (select json_agg(x) from (select m.id, m.batch_id as "batchId", v.lot, m.value, m.part, array(select cures_behind(m.batch_id, m.created_at)) as "cureIds"
    from measurement m join batch v on v.id = m.batch_id
    where exists (select from measurement n where n.kind = 'nitrite' and n.withdrawn_at is null) and m.kind = 'nitrite' and m.withdrawn_at is null
      and m.batch_id in (select batches_downstream(array(select distinct s.batch_id from up join stage s on s.batch_id = up.id where s.kind = 'cure' and s.cancelled_at is null))) order by m.created_at, m.id) x) as "brineFigures",
  (select json_agg(x) from (select r.id, r.rule_id as "ruleId", r.found, r.reason, m.name as by from release r join member m on m.id = r.created_by_id
    where r.batch_id = $1 and r.withdrawn_at is null order by r.created_at, r.id) x) as releases,
  (select json_object_agg(c.id, c.value) from club_limit c) as "clubLimits",
  (select c.gutted_source from club c) as "guttedSource",
  (select b.judged_at from batch b where b.id = $1) as "judgedAt"`;

export type LineageColumns = { [K in Exclude<keyof Lineage, 'id'>]: Lineage[K] | null };

/** The columns as read: an empty list comes as null. */
export function toLineage(id: string, row: LineageColumns): Lineage {
  return { id, batches: row.batches ?? [], draws: row.draws ?? [], stages: row.stages ?? [], cures: row.cures ?? [], packs: row.packs ?? [], landings: row.landings ?? [],
    readings: row.readings ?? [], measurements: row.measurements ?? [], brineFigures: row.brineFigures ?? [], releases: row.releases ?? [], clubLimits: row.clubLimits ?? {}, guttedSource: row.guttedSource ?? '', judgedAt: row.judgedAt };
}

const lineageSql = `with ${upSql('$1::uuid')} select ${lineageColumns}`;

export async function loadLineage(query: RawQuery, id: string): Promise<Lineage> {
  const [row] = await query<LineageColumns>('batch-lineage', lineageSql, [id]);
  const lineage = toLineage(id, row!);
  if (lineage.batches.length === 0) throw notFound('This batch');
  return lineage;
}

const reckoned = new WeakMap<Lineage, Map<string, unknown>>();
/** What follows from a lineage, reckoned once: a batch of fifty packs of one lot asks the same fifty times. A lineage is never altered. */
export function once<T>(lineage: Lineage, key: string, reckon: () => T): T {
  const known = reckoned.get(lineage) ?? new Map<string, unknown>();
  reckoned.set(lineage, known);
  if (!known.has(key)) known.set(key, reckon());
  return known.get(key) as T;
}

export const batchOf = (lineage: Lineage, id = lineage.id): LineageBatch => lineage.batches.find((b) => b.id === id)!;
export const drawsInto = (lineage: Lineage, id = lineage.id) => lineage.draws.filter((d) => d.batchId === id);
export const stagesOf = (lineage: Lineage, id = lineage.id) => lineage.stages.filter((s) => s.batchId === id);
export const packOf = (lineage: Lineage, id: string) => lineage.packs.find((p) => p.id === id)!;
/** The batch that a draw took from, directly or as a pack; null when it took from a landing. */
export const sourceBatchOf = (lineage: Lineage, draw: LineageDraw): string | null =>
  draw.sourceBatchId ?? (draw.sourcePackId === null ? null : packOf(lineage, draw.sourcePackId).batchId);

/** The draws and stages of one batch of the lineage, for its ledger. */
export function ledgerInput(lineage: Lineage, id = lineage.id) {
  return {
    packedGrams: lineage.packs.filter((p) => p.batchId === id).reduce((sum, p) => sum + p.grams, 0),
    events: [
      ...lineage.draws.filter((d) => d.batchId === id).map((d) => ({ kind: 'in' as const, id: d.id, eventNo: d.eventNo, grams: d.grams })),
      ...lineage.draws.filter((d) => d.sourceBatchId === id).map((d) => ({ kind: 'out' as const, id: d.id, eventNo: d.eventNo, grams: d.grams })),
      ...stagesOf(lineage, id).map(({ kind, ...s }) => ({ ...s, kind: 'stage' as const, stage: kind })),
    ],
  };
}
