import type { RawQuery } from '../../platform/database/open.ts';
import type { Day, ProductKind, StageKind } from '../../domain/working.ts';
import type { Unit } from '../../platform/unit.ts';

export type BatchRow = {
  id: string; lot: string; productKind: ProductKind; name: string; nameTyped: boolean; note: string; ingredients: string; allergens: string[]; onHandGrams: number; packedGrams: number;
  closedAt: Date | null; recalledAt: Date | null; recallReason: string | null; recalledFromId: string | null; version: number;
};
const batchColumns = `id, lot, product_kind as "productKind", name, name_typed as "nameTyped", note, ingredients, allergens, on_hand_grams as "onHandGrams", packed_grams as "packedGrams",
  closed_at as "closedAt", recalled_at as "recalledAt", recall_reason as "recallReason", recalled_from_id as "recalledFromId", version`;

const one = <T>(rows: T[]): T | null => rows[0] ?? null;

export const findBatch = async (query: RawQuery, id: string) => one(await query<BatchRow>('batch-find', `select ${batchColumns} from batch where id = $1`, [id]));

export async function zoneOf(query: RawQuery): Promise<string> {
  const [club] = await query<{ zone: string }>('batch-zone', `select time_zone as zone from club where id = 1`);
  return club!.zone;
}

export type NewBatch = { lot: string; productKind: ProductKind; name: string; nameTyped: boolean; note: string; ingredients: string; allergens: string[] };
const insertSql = `insert into batch (id, lot, product_kind, name, note, ingredients, allergens, created_by_id, created_at, name_typed)
  values (gen_random_uuid(), $1, $2, $3, $4, $5, $6, $7, $8, $9) on conflict (lot) do nothing returning id`;

/** The new batch's id, or null when another batch has this lot code. */
export async function insertBatch(query: RawQuery, batch: NewBatch, unit: Unit): Promise<string | null> {
  const row = one(await query<{ id: string }>('batch-insert', insertSql, [
    batch.lot, batch.productKind, batch.name, batch.note, batch.ingredients, batch.allergens, unit.actor!.id, unit.now, batch.nameTyped,
  ]));
  return row?.id ?? null;
}

export async function updateBatch(query: RawQuery, id: string, version: number, f: Pick<BatchRow, 'name' | 'nameTyped' | 'note' | 'ingredients' | 'allergens'>): Promise<boolean> {
  const sql = `update batch set name = $3, note = $4, ingredients = $5, allergens = $6, name_typed = $7, version = version + 1 where id = $1 and version = $2 returning id`;
  return (await query('batch-update', sql, [id, version, f.name, f.note, f.ingredients, f.allergens, f.nameTyped])).length > 0;
}

/** What a batch names as its ingredients and allergens stands on the pages of all that was made from it. */
export const pagesBelowChanged = (query: RawQuery, id: string) =>
  query('batch-below-changed', `update batch set revision = revision + 1 where id <> $1 and id in (select batches_downstream(array[$1::uuid]))`, [id]);

/** A name that the service gives; a person's edit that started from the old one is then stale. */
export const renameBatch = (query: RawQuery, id: string, name: string) => query('batch-rename', `update batch set name = $2, version = version + 1 where id = $1`, [id, name]);

/** Renaming raises the club's count of shown names, and the club comes before batches in the order of locks. */
export const holdClub = (query: RawQuery) => query('batch-hold-club', `select id from club where id = 1 for no key update`);

export const closeBatch = (query: RawQuery, id: string, at: Date | null) => query('batch-close', `update batch set closed_at = $2 where id = $1`, [id, at]);

export const updateVerdict = (query: RawQuery, id: string, j: { verdict: string; notMet: boolean; smokeDay: string | null; mixedDay: string | null }) =>
  query('batch-verdict', `update batch set verdict = $2, smoke_day = $3::date, mixed_day = $4::date, not_met = $5 where id = $1`, [id, j.verdict, j.smokeDay, j.mixedDay, j.notMet]);

/** The instant of the change that a batch is judged in: a log of its store has to reach it (rule date.fourteen). */
export const markJudged = (query: RawQuery, id: string) =>
  query('batch-judged', `update batch set judged_at = nullif(current_setting('tidelarder.at', true), '')::timestamptz where id = $1`, [id]);

const giveReasonSql = `select set_config('tidelarder.reason', $1, true)`;
/** What was let go is not found any more; found again, it is decided anew. The record gives that as the reason; the change that it came from keeps its own. */
export async function endRelease(query: RawQuery, batchId: string, ruleId: string): Promise<void> {
  const [change] = await query<{ reason: string }>('batch-reason', `select coalesce(current_setting('tidelarder.reason', true), '') as reason`);
  await query('batch-give-reason', giveReasonSql, ['What was let go is not found any more.']);
  await query('batch-end-release', `update release set withdrawn_at = coalesce(nullif(current_setting('tidelarder.at', true), '')::timestamptz, now()), version = version + 1 where batch_id = $1 and rule_id = $2 and withdrawn_at is null`, [batchId, ruleId]);
  await query('batch-give-reason', giveReasonSql, [change!.reason]);
}

export async function updatePackDates(query: RawQuery, packs: readonly { id: string; lastDay: string | null; dateKind: string }[]): Promise<void> {
  const sql = `update pack set last_day = n.last_day::date, date_kind = n.date_kind
    from (select unnest($1::uuid[]) as id, unnest($2::text[]) as last_day, unnest($3::text[]) as date_kind) n where pack.id = n.id`;
  await query('pack-dates', sql, [packs.map((p) => p.id), packs.map((p) => p.lastDay), packs.map((p) => p.dateKind)]);
}

const edgesSql = `select distinct coalesce(d.source_batch_id, p.batch_id) as source, d.batch_id as target from draw d left join pack p on p.id = d.source_pack_id
  where d.cancelled_at is null and d.batch_id in (select batches_downstream(array[$1::uuid])) and d.landing_id is null`;

const curedAboveSql = `with recursive above(id) as (
    select $1::uuid
    union
    select coalesce(d.source_batch_id, p.batch_id) from above join draw d on d.batch_id = above.id and d.cancelled_at is null and d.landing_id is null left join pack p on p.id = d.source_pack_id
  ) select distinct s.batch_id as id from above join stage s on s.batch_id = above.id and s.kind = 'cure' and s.cancelled_at is null
  where exists (select from measurement m where m.kind = 'nitrite' and m.withdrawn_at is null and m.batch_id in (select batches_downstream(array[$1::uuid]))) order by 1`;
/** The cured lots that a batch's fish came from, itself included, where nitrite was measured in it or in what was made from it. */
export const curedLotsAbove = async (query: RawQuery, id: string): Promise<string[]> => (await query<{ id: string }>('batch-cured-above', curedAboveSql, [id])).map((lot) => lot.id);

/** The batch and all that was made from it, each after everything that it was made from. */
export async function downstreamInOrder(query: RawQuery, id: string): Promise<string[]> {
  const edges = await query<{ source: string; target: string }>('batch-edges', edgesSql, [id]);
  const ids = new Set([id]);
  for (let grew = true; grew; ) {
    const found = edges.filter((e) => ids.has(e.source) && !ids.has(e.target));
    for (const e of found) ids.add(e.target);
    grew = found.length > 0;
  }
  return inOrder(ids, edges);
}

/** Each batch after everything that it was made from. */
export function inOrder(batchIds: Iterable<string>, edges: readonly { source: string; target: string }[]): string[] {
  const ids = new Set(batchIds);
  const waitsFor = new Map([...ids].map((id) => [id, new Set<string>()]));
  for (const { source, target } of edges) if (ids.has(source) && ids.has(target)) waitsFor.get(target)!.add(source);
  const order: string[] = [];
  while (waitsFor.size > 0) {
    const ready = [...waitsFor].filter(([, sources]) => sources.size === 0).map(([id]) => id);
    if (ready.length === 0) throw new Error(`The batches ${[...waitsFor.keys()].join(', ')} come round to themselves.`);
    for (const id of ready) waitsFor.delete(id);
    for (const sources of waitsFor.values()) for (const id of ready) sources.delete(id);
    order.push(...ready);
  }
  return order;
}

// ------------------------------------------------------------------------------------------------------------ draws

export type SourceLanding = { id: string; grams: number; drawnGrams: number; withdrawn: boolean; label: string; catcherKey: string; pooling: 'apart' | 'tray' | 'pooled'; speciesCode: string; species: string; sharing: 'ok' | 'refuse' };
const landingSql = `select l.id, l.grams, l.drawn_grams as "drawnGrams", l.withdrawn_at is not null as withdrawn, l.pooling, l.species_code as "speciesCode", s.name as species, s.sharing,
    s.name || ', ' || case l.catcher_kind when 'member' then cm.name when 'guest' then l.catcher_guest else b.name end || ', ' || to_char(t.day, 'FMDD FMMon') as label,
    case l.catcher_kind when 'member' then 'member:' || l.catcher_member_id when 'guest' then 'guest:' || l.catcher_guest else 'boat:' || t.boat_id end as "catcherKey"
  from landing l join trip t on t.id = l.trip_id join boat b on b.id = t.boat_id join species s on s.code = l.species_code left join member cm on cm.id = l.catcher_member_id
  where l.id = $1`;
export const findLanding = async (query: RawQuery, id: string) => one(await query<SourceLanding>('draw-landing', landingSql, [id]));

export type SourcePack = { id: string; batchId: string; packNo: number; grams: number; status: string; lot: string; recalled: boolean };
const packSql = `select p.id, p.batch_id as "batchId", p.pack_no as "packNo", p.grams, p.status, b.lot, b.recalled_at is not null as recalled
  from pack p join batch b on b.id = p.batch_id where p.id = $1`;
export const findPack = async (query: RawQuery, id: string) => one(await query<SourcePack>('draw-pack', packSql, [id]));
export const setPackStatus = (query: RawQuery, id: string, status: 'used' | 'ready') => query('draw-pack-status', `update pack set status = $2, version = version + 1 where id = $1`, [id, status]);

export type NewDraw = { batchId: string; trayNo: number; grams: number; ofGrams: number; landingId: string | null; sourceBatchId: string | null; sourcePackId: string | null };
const insertDrawSql = `insert into draw (id, batch_id, tray_no, grams, of_grams, landing_id, source_batch_id, source_pack_id, created_by_id, created_at)
  values (gen_random_uuid(), $1, $2, $3, $4, $5, $6, $7, $8, $9)`;
export const insertDraw = (query: RawQuery, d: NewDraw, unit: Unit) =>
  query('draw-insert', insertDrawSql, [d.batchId, d.trayNo, d.grams, d.ofGrams, d.landingId, d.sourceBatchId, d.sourcePackId, unit.actor!.id, unit.now]);

export type DrawRow = { id: string; batchId: string; grams: number; landingId: string | null; sourceBatchId: string | null; sourcePackId: string | null; packBatchId: string | null; cancelled: boolean; version: number };
const drawSql = `select d.id, d.batch_id as "batchId", d.grams, d.landing_id as "landingId", d.source_batch_id as "sourceBatchId", d.source_pack_id as "sourcePackId", p.batch_id as "packBatchId",
    d.cancelled_at is not null as cancelled, d.version from draw d left join pack p on p.id = d.source_pack_id where d.id = $1`;
export const findDraw = async (query: RawQuery, id: string) => one(await query<DrawRow>('draw-find', drawSql, [id]));

export const updateDraw = (query: RawQuery, id: string, grams: number, cancelledAt: Date | null) =>
  query('draw-update', `update draw set grams = $2, of_grams = greatest(of_grams, $2), cancelled_at = $3, version = version + 1 where id = $1`, [id, grams, cancelledAt]);
export const updateDrawOf = (query: RawQuery, id: string, ofGrams: number) => query('draw-update-of', `update draw set of_grams = $2 where id = $1`, [id, ofGrams]);

// ------------------------------------------------------------------------------------------------------------ stages

export type NewStage = {
  batchId: string; seq: number; kind: StageKind; startedAt: Date; dueAt: Date | null; finishedAt: Date | null; massInG: number; addedG: number; massOutG: number | null; trimG: number;
  lossG: number; lossReason: string; note: string; maxCoreC: number | null; holdMinutes: number | null; cooledTo21At: Date | null; cooledAt: Date | null; fromFrozen: boolean; maxPlaceC: number | null; coreUnitConfirmed: boolean; addedLastDay: Day | null;
};
export type StageFields = Omit<NewStage, 'batchId' | 'seq' | 'kind'> & { cancelledAt: Date | null };
export type StageRow = NewStage & { id: string; cancelledAt: Date | null; version: number };

export async function nextStageSeq(query: RawQuery, batchId: string): Promise<number> {
  const [row] = await query<{ seq: number }>('stage-next', `select coalesce(max(seq), 0) + 1 as seq from stage where batch_id = $1`, [batchId]);
  return row!.seq;
}

const fieldValues = (s: Omit<StageFields, 'cancelledAt'>) => [
  s.startedAt, s.dueAt, s.finishedAt, s.massInG, s.addedG, s.massOutG, s.trimG, s.lossG, s.lossReason, s.note, s.maxCoreC, s.holdMinutes, s.cooledTo21At, s.cooledAt, s.fromFrozen, s.maxPlaceC, s.coreUnitConfirmed, s.addedLastDay,
];
const insertStageSql = `insert into stage (id, batch_id, seq, kind, created_by_id, created_at, started_at, due_at, finished_at, mass_in_g, added_g, mass_out_g, trim_g, loss_g, loss_reason, note,
    max_core_c, hold_minutes, cooled_to_21_at, cooled_at, from_frozen, max_place_c, core_unit_confirmed, added_last_day)
  values (gen_random_uuid(), $1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20, $21, $22, $23::date) returning id`;
export async function insertStage(query: RawQuery, s: NewStage, unit: Unit): Promise<string> {
  const [row] = await query<{ id: string }>('stage-insert', insertStageSql, [s.batchId, s.seq, s.kind, unit.actor!.id, unit.now, ...fieldValues(s)]);
  return row!.id;
}

const stageSql = `select id, batch_id as "batchId", seq, kind, started_at as "startedAt", due_at as "dueAt", finished_at as "finishedAt", mass_in_g as "massInG", added_g as "addedG", mass_out_g as "massOutG",
    trim_g as "trimG", loss_g as "lossG", loss_reason as "lossReason", note, max_core_c as "maxCoreC", hold_minutes as "holdMinutes", cooled_to_21_at as "cooledTo21At", cooled_at as "cooledAt", from_frozen as "fromFrozen", max_place_c as "maxPlaceC", core_unit_confirmed as "coreUnitConfirmed", added_last_day::text as "addedLastDay", cancelled_at as "cancelledAt", version
  from stage where id = $1`;
export const findStage = async (query: RawQuery, id: string) => one(await query<StageRow>('stage-find', stageSql, [id]));

const updateStageSql = `update stage set started_at = $3, due_at = $4, finished_at = $5, mass_in_g = $6, added_g = $7, mass_out_g = $8, trim_g = $9, loss_g = $10, loss_reason = $11, note = $12,
    max_core_c = $13, hold_minutes = $14, cooled_to_21_at = $15, cooled_at = $16, from_frozen = $17, max_place_c = $18, core_unit_confirmed = $19, added_last_day = $20::date, cancelled_at = $2, version = version + 1 where id = $1`;
export const updateStage = (query: RawQuery, id: string, s: StageFields) => query('stage-update', updateStageSql, [id, s.cancelledAt, ...fieldValues(s)]);

export const updateStageMasses = (query: RawQuery, id: string, m: { massInG: number; massOutG: number | null; trimG: number; lossG: number }) =>
  query('stage-masses', `update stage set mass_in_g = $2, mass_out_g = $3, trim_g = $4, loss_g = $5 where id = $1`, [id, m.massInG, m.massOutG, m.trimG, m.lossG]);
export const updateStageStart = (query: RawQuery, id: string, at: Date) => query('stage-start', `update stage set started_at = $2, version = version + 1 where id = $1`, [id, at]);

export async function lastPackedAt(query: RawQuery, batchId: string): Promise<Date | null> {
  const [row] = await query<{ at: Date | null }>('stage-last-packed', `select max(packed_at) as at from pack where batch_id = $1`, [batchId]);
  return row!.at;
}
