import type { z } from 'zod';
import type { BatchDetail, holderList } from '../../contract/batches.ts';
import { formatPackNo } from '../../domain/lot-code.ts';
import { isCrew, need } from '../../platform/auth/access.ts';
import type { Actor, Context } from '../../platform/context.ts';
import { notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import type { Unit } from '../../platform/unit.ts';
import { dropSlotsAhead } from '../slots/freeing.store.ts';
import { findBatch } from './batches.store.ts';
import { hold } from './locks.ts';
import { detailInside } from './page.service.ts';
import * as store from './recall.store.ts';

/** Stops a lot and every lot made from it; what was booked ahead for them is free again. */
export async function recallLot(unit: Unit, id: string, reason: string): Promise<BatchDetail> {
  const actor = need(unit.actor, 'captain');
  return unit.runRaw(
    async (query) => {
      await hold(query, { batchIds: [id] });
      const batch = await findBatch(query, id);
      if (!batch) throw notFound('This batch');
      if (batch.recalledAt && batch.recalledFromId === null) throw new ProblemError('conflict', `Lot ${batch.lot} is recalled already: ${batch.recallReason}`);
      await store.setRecall(query, id, unit.now, reason, actor.id);
      await store.carryRecalls(query, id);
      await dropSlotsAhead(query, id, unit.now);
      return detailInside(query, actor, id);
    },
    { reason },
  );
}

/** Ends a lot's recall, and that of the lots made from it unless another lot in them is still recalled. */
export async function liftRecall(unit: Unit, id: string, reason: string): Promise<BatchDetail> {
  const actor = need(unit.actor, 'captain');
  return unit.runRaw(
    async (query) => {
      await hold(query, { batchIds: [id] });
      const batch = await findBatch(query, id);
      if (!batch) throw notFound('This batch');
      if (!batch.recalledAt) throw new ProblemError('conflict', `Lot ${batch.lot} is not recalled.`);
      if (batch.recalledFromId !== null) {
        const from = await findBatch(query, batch.recalledFromId);
        throw new ProblemError('conflict', `Lot ${batch.lot} is recalled because lot ${from?.lot} is. End that recall.`);
      }
      await store.setRecall(query, id, null, null, null);
      await store.carryRecalls(query, id);
      return detailInside(query, actor, id);
    },
    { reason },
  );
}

/** Everyone who has a pack of the lot or of a lot made from it: handed over first, then claimed, then what the club still has. */
export async function listHolders(context: Context, actor: Actor | null, id: string): Promise<z.infer<typeof holderList>> {
  need(actor, 'crew');
  if (!(await findBatch(context.database.query, id))) throw notFound('This batch');
  const rows = await store.holders(context.database.query, id);
  return {
    items: rows.map(({ packNo, since, ...row }) => ({ ...row, pack: formatPackNo(row.lot, packNo), since: since?.toISOString() ?? null })),
  };
}

/** Writes down that whoever has a recalled pack was told. Who passed it on may say so, whoever has it, and crew. */
export async function markTold(unit: Unit, packId: string, told: boolean): Promise<{ packId: string; told: boolean }> {
  const actor = need(unit.actor, 'member');
  return unit.runRaw(async (query) => {
    const first = await store.packToTell(query, packId, actor.id);
    if (!first) throw notFound('This pack');
    await hold(query, { batchIds: [first.batchId], packIds: [packId] });
    const pack = (await store.packToTell(query, packId, actor.id)) ?? first;
    const code = formatPackNo(pack.lot, pack.packNo);
    if (!isCrew(actor) && !pack.passedOn && pack.holderId !== actor.id) throw new ProblemError('not-allowed', `Only who passed ${code} on or has it says so, or crew.`);
    if (!pack.recalled) throw new ProblemError('conflict', `${code} is not recalled.`);
    if (pack.status !== 'handed-over') throw new ProblemError('conflict', `${code} is with nobody who could be told.`);
    await store.setTold(query, packId, told ? unit.now : null);
    return { packId, told };
  });
}
