import type { BatchDetail, StageBody, StagePatch } from '../../contract/batches.ts';
import { balance } from '../../domain/mass.ts';
import { formatGrams } from '../../domain/units.ts';
import type { StageKind } from '../../domain/working.ts';
import { need } from '../../platform/auth/access.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { badField, notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import type { Unit } from '../../platform/unit.ts';
import { insertCure } from '../cures/cures.store.ts';
import { refuseImpossible } from '../cures/facts.ts';
import { freeStations, takeStationsBack } from '../slots/freeing.store.ts';
import * as store from './batches.store.ts';
import { loadLineage, stagesOf } from './lineage.ts';
import type { Lineage } from './lineage.ts';
import { hold } from './locks.ts';
import { startPackStage } from './pack-stage.ts';
import { detailInside } from './page.service.ts';
import { packMassesWith, writeCorrection } from './stage-correction.ts';
import { recomputeBatch, recomputeFigure } from './recompute.ts';
import { checkKind, checkPlace, checkRecord } from './stage-rules.ts';

const date = (text: string | null) => (text === null ? null : new Date(text));

/** Starts a stage, or records it whole when it comes with its result. */
export async function addStage(unit: Unit, batchId: string, body: StageBody): Promise<BatchDetail> {
  const actor = need(unit.actor, 'crew');
  refuseFacts(body);
  return unit.runRaw(async (query) => {
    await hold(query, { batchIds: [batchId] });
    const batch = await store.findBatch(query, batchId);
    if (!batch) throw notFound('This batch');
    if (batch.closedAt) throw new ProblemError('conflict', `Lot ${batch.lot} is packed and closed. Open its packing stage again first.`);
    const zone = await store.zoneOf(query);
    checkKind(batch.productKind, body.kind);
    const times = { startedAt: new Date(body.startedAt), dueAt: date(body.dueAt), finishedAt: date(body.finishedAt), cooledTo21At: date(body.cooledTo21At), cooledAt: date(body.cooledAt) };
    checkRecord({ ...body, ...times }, unit.now);
    if (body.kind === 'pack') await beginPacking(query, unit, batchId, body, times.startedAt);
    else {
      const seq = await store.nextStageSeq(query, batchId);
      checkPlace({ seq, kind: body.kind, ...times }, stagesOf(await loadLineage(query, batchId)), zone);
      const massInG = enoughOnHand(body.massInG, batch.onHandGrams);
      const stageId = await store.insertStage(query, { batchId, seq, kind: body.kind, ...texts(body), ...times, massInG, ...result({ ...body, massInG }) }, unit);
      if (body.cure) await insertCure(query, { stageId, batchId }, body.cure, actor.id, unit.now);
      if (times.finishedAt) await freeStations(query, { batchId, stageId, kind: body.kind, endedAt: times.finishedAt, now: unit.now });
    }
    await recomputeBatch(query, batchId, zone);
    return detailInside(query, actor, batchId);
  });
}

function refuseFacts({ kind, cure }: StageBody): void {
  if (cure === null) return;
  if (kind !== 'cure') throw badField('cure', undefined, `How fish was cured is told of its cure stage, not of ${kind}.`, 'Leave it out.');
  refuseImpossible(cure, 'cure.');
}

async function beginPacking(query: RawQuery, unit: Unit, batchId: string, body: StageBody, at: Date): Promise<void> {
  if (body.finishedAt !== null || body.massOutG !== null) throw badField('finishedAt', body.finishedAt, 'Packing is finished after its packs are weighed out.', 'Start it, weigh out the packs, then finish it.');
  await startPackStage(query, unit, batchId, at);
}

function enoughOnHand(asked: number | null, onHand: number): number {
  if (onHand <= 0) throw badField('massInG', asked, 'The batch holds nothing.', 'Draw fish into it first.', 'not-enough-left');
  if (asked !== null && asked > onHand) throw badField('massInG', asked, `${show(onHand)} on hand, ${show(asked)} asked.`, 'Take less.', 'not-enough-left');
  return asked ?? onHand;
}
const show = (grams: number) => formatGrams(grams, 'metric');
const texts = (s: Pick<StageBody, 'lossReason' | 'note' | 'maxCoreC' | 'holdMinutes' | 'fromFrozen' | 'maxPlaceC' | 'coreUnitConfirmed' | 'addedLastDay'>) => ({ lossReason: s.lossReason, note: s.note, maxCoreC: s.maxCoreC, holdMinutes: s.holdMinutes, fromFrozen: s.fromFrozen, maxPlaceC: s.maxPlaceC, coreUnitConfirmed: s.coreUnitConfirmed, addedLastDay: s.addedLastDay });

type Result = { kind: StageKind; finishedAt: string | Date | null; massInG: number; massOutG: number | null; addedG: number; trimG: number };
/** The weights of a stage with its loss; a running stage has none yet. */
function result(s: Result): { massOutG: number | null; addedG: number; trimG: number; lossG: number } {
  if ((s.finishedAt === null) !== (s.massOutG === null)) {
    if (s.massOutG === null) throw badField('massOutG', null, 'The weight that came out is missing.', 'Weigh it, or leave the stage open.');
    throw badField('finishedAt', null, 'There is a weight out, but no time of finishing.', 'Enter when it was finished.');
  }
  if (s.massOutG === null) {
    if (s.addedG > 0 || s.trimG > 0) throw badField(s.addedG > 0 ? 'addedG' : 'trimG', s.addedG || s.trimG, 'The stage is still running.', 'Enter this when it is finished.');
    return { massOutG: null, addedG: 0, trimG: 0, lossG: 0 };
  }
  const { lossG } = balance({ kind: s.kind, massInG: s.massInG, addedG: s.addedG, massOutG: s.massOutG, trimG: s.trimG });
  return { massOutG: s.massOutG, addedG: s.addedG, trimG: s.trimG, lossG };
}

/** Finishes, corrects or undoes a stage. The record keeps what it was. */
export async function changeStage(unit: Unit, stageId: string, patch: StagePatch): Promise<BatchDetail> {
  const actor = need(unit.actor, 'crew');
  return unit.runRaw(
    async (query) => {
      const first = await store.findStage(query, stageId);
      if (!first) throw notFound('This stage');
      const brineOf = await holdForStage(query, first, patch);
      const stage = (await store.findStage(query, stageId))!;
      if (patch.version !== stage.version) throw refuseStale('stage', comparable(patch), comparable({ ...stage }));
      if (stage.cancelledAt) throw new ProblemError('conflict', 'This stage was undone already. Record it again instead.');
      const zone = await store.zoneOf(query);
      const lineage = await loadLineage(query, stage.batchId);
      if (patch.cancelled) await undo(query, unit, lineage, stage);
      else await correct(query, unit, lineage, stage, patch, zone);
      await recomputeFigure(query, stage.batchId, brineOf, zone);
      return detailInside(query, actor, stage.batchId);
    },
    { reason: patch.reason },
  );
}

/** Takes the batch and, where its cure is undone, the lots whose brine a figure of nitrite below may be about then; gives those as they stand once the rows are taken. */
async function holdForStage(query: RawQuery, stage: store.StageRow, patch: StagePatch): Promise<string[]> {
  const lots = async () => (patch.cancelled && stage.kind === 'cure' ? store.curedLotsAbove(query, stage.batchId) : []);
  await hold(query, { batchIds: [stage.batchId, ...(await lots())] });
  return lots();
}

/** Times in one form, so that the same instant written in two zones is no difference. */
function comparable(fields: Record<string, unknown>): Record<string, unknown> {
  const out: Record<string, unknown> = { ...fields };
  for (const key of ['startedAt', 'dueAt', 'finishedAt', 'cooledTo21At', 'cooledAt']) if (out[key] != null) out[key] = new Date(out[key] as string | Date).toISOString();
  return out;
}

async function undo(query: RawQuery, unit: Unit, lineage: Lineage, stage: store.StageRow): Promise<void> {
  if (stage.kind === 'pack' && lineage.packs.some((p) => p.batchId === stage.batchId)) {
    throw new ProblemError('conflict', 'Packs were made, so packing cannot be undone. Correct or discard the packs instead.');
  }
  await writeCorrection(query, lineage, stage, null, unit.now);
  await takeStationsBack(query, stage.batchId, stage.id);
}

async function correct(query: RawQuery, unit: Unit, lineage: Lineage, stage: store.StageRow, patch: StagePatch, zone: string): Promise<void> {
  const next = merged(stage, patch);
  checkRecord({ ...next, kind: stage.kind }, unit.now);
  checkPlace({ seq: stage.seq, kind: stage.kind, startedAt: next.startedAt, finishedAt: next.finishedAt }, stagesOf(lineage).filter((s) => s.id !== stage.id), zone);
  const masses = stage.kind === 'pack' ? await packResult(query, lineage, stage, next, patch) : { massInG: next.massInG, ...result({ ...next, kind: stage.kind }) };
  await writeCorrection(query, lineage, stage, { ...next, ...masses }, unit.now);
  if (next.finishedAt?.getTime() === stage.finishedAt?.getTime()) return;
  if (stage.finishedAt) await takeStationsBack(query, stage.batchId, stage.id);
  if (next.finishedAt) await freeStations(query, { batchId: stage.batchId, stageId: stage.id, kind: stage.kind, endedAt: next.finishedAt, now: unit.now });
}

function merged(stage: store.StageRow, patch: StagePatch): store.StageFields {
  const at = (name: 'startedAt' | 'dueAt' | 'finishedAt' | 'cooledTo21At' | 'cooledAt') => (patch[name] === undefined ? stage[name] : date(patch[name]));
  const finishedAt = at('finishedAt');
  const open = patch.finishedAt === null;
  const maxCoreC = patch.maxCoreC === undefined ? stage.maxCoreC : patch.maxCoreC;
  return {
    startedAt: at('startedAt')!, dueAt: at('dueAt'), finishedAt, cooledTo21At: at('cooledTo21At'), cooledAt: at('cooledAt'),
    massInG: patch.massInG ?? stage.massInG,
    // Opened again, a stage has no result.
    massOutG: patch.massOutG === undefined ? (open ? null : stage.massOutG) : patch.massOutG,
    addedG: patch.addedG ?? (open ? 0 : stage.addedG), trimG: patch.trimG ?? (open ? 0 : stage.trimG), lossG: stage.lossG,
    lossReason: patch.lossReason ?? stage.lossReason, note: patch.note ?? stage.note,
    maxCoreC, coreUnitConfirmed: patch.coreUnitConfirmed ?? (stage.coreUnitConfirmed && maxCoreC === stage.maxCoreC), holdMinutes: patch.holdMinutes === undefined ? stage.holdMinutes : patch.holdMinutes, fromFrozen: patch.fromFrozen ?? stage.fromFrozen,
    maxPlaceC: patch.maxPlaceC === undefined ? stage.maxPlaceC : patch.maxPlaceC,
    addedLastDay: patch.addedLastDay === undefined ? stage.addedLastDay : patch.addedLastDay,
    cancelledAt: null,
  };
}

/** Finishing writes what is not in packs off as loss. What went in and came out follows from the packs. */
async function packResult(query: RawQuery, lineage: Lineage, stage: store.StageRow, next: store.StageFields, patch: StagePatch) {
  const masses = packMassesWith(lineage, stage.id, next.trimG, next.finishedAt !== null);
  for (const field of ['massInG', 'massOutG'] as const) {
    const sent = patch[field];
    const is = masses[field];
    if (sent === undefined || sent === null || sent === is) continue;
    throw badField(field, sent, is === null ? 'Packing is not finished.' : `${field === 'massInG' ? 'What was on hand' : 'What was packed'} is ${show(is)}.`, 'Leave this out, or correct the packs or an earlier stage.');
  }
  if (next.addedG > 0) throw badField('addedG', next.addedG, 'Nothing is added in packing.', 'Leave this out.');
  const last = next.finishedAt && (await store.lastPackedAt(query, stage.batchId));
  if (last && next.finishedAt! < last) throw badField('finishedAt', next.finishedAt!.toISOString(), `A pack was weighed out later, at ${last.toISOString()}.`, 'Check both times.');
  return { ...masses, addedG: 0 };
}

