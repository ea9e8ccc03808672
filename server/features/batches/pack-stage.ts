import { formatGrams } from '../../domain/units.ts';
import type { RawQuery, Tx } from '../../platform/database/open.ts';
import { badField, notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import type { Unit } from '../../platform/unit.ts';
import { loadLineage, stagesOf } from './lineage.ts';
import { asQuery } from './locks.ts';
import * as store from './batches.store.ts';
import { checkPlace } from './stage-rules.ts';

/**
 * Makes sure that the batch's packing stage runs, for packs weighed out at `at`: starts it with all that is on hand, or
 * moves its start back when these packs were earlier. Refused when packing is finished, another stage runs or comes later,
 * or there is nothing to pack. The batch's row must be held.
 */
export async function startPackStage(tx: Tx | RawQuery, unit: Unit, batchId: string, at: Date): Promise<{ stageId: string }> {
  const query = asQuery(tx);
  const batch = await store.findBatch(query, batchId);
  if (!batch) throw notFound('This batch');
  const stages = stagesOf(await loadLineage(query, batchId));
  const present = stages.find((s) => s.kind === 'pack');
  if (present?.finishedAt) throw new ProblemError('conflict', `Packing of lot ${batch.lot} is finished. Open its packing stage again first.`);
  const others = stages.filter((s) => s.kind !== 'pack');
  const seq = present?.seq ?? (await store.nextStageSeq(query, batchId));
  checkPlace({ seq, kind: 'pack', startedAt: at, finishedAt: null }, others, (await store.zoneOf(query)));
  if (!present) {
    if (batch.onHandGrams <= 0) throw badField('batchId', batchId, `Lot ${batch.lot} holds nothing to pack.`, 'Draw fish into it first.', 'not-enough-left');
    return { stageId: await store.insertStage(query, startOf(batchId, seq, at, batch.onHandGrams), unit) };
  }
  if (at < new Date(present.startedAt)) await store.updateStageStart(query, present.id, at);
  return { stageId: present.id };
}

const startOf = (batchId: string, seq: number, at: Date, massInG: number): store.NewStage => ({
  batchId, seq, kind: 'pack', startedAt: at, dueAt: null, finishedAt: null, massInG, addedG: 0, massOutG: null, trimG: 0, lossG: 0, lossReason: '', note: '',
  maxCoreC: null, holdMinutes: null, cooledTo21At: null, cooledAt: null, fromFrozen: false, maxPlaceC: null, coreUnitConfirmed: false, addedLastDay: null,
});

/**
 * Before packs of a batch grow by `extraG` in all after packing was finished: takes that much back from what packing wrote
 * off, so that the database's rule (never less than nothing on hand) holds at each step. Does nothing while packing is
 * open. Afterwards change the packs and call recomputeBatch.
 */
export async function takeBackFromLoss(tx: Tx | RawQuery, batchId: string, extraG: number): Promise<void> {
  const query = asQuery(tx);
  const stage = stagesOf(await loadLineage(query, batchId)).find((s) => s.kind === 'pack');
  if (extraG <= 0 || !stage?.finishedAt || stage.massOutG === null) return;
  if (extraG > stage.lossG) {
    throw badField('grams', extraG, `${formatGrams(stage.lossG, 'metric')} was left over from packing, ${formatGrams(extraG, 'metric')} more asked.`, 'Weigh again, or correct an earlier stage.', 'not-enough-left');
  }
  await store.updateStageMasses(query, stage.id, { massInG: stage.massInG, massOutG: stage.massOutG + extraG, trimG: stage.trimG, lossG: stage.lossG - extraG });
}
