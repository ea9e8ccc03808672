import type { BatchDetail } from '../../contract/batches.ts';
import type { CureFactsPatch } from '../../contract/cures.ts';
import { need } from '../../platform/auth/access.ts';
import { notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import type { Unit } from '../../platform/unit.ts';
import * as batches from '../batches/batches.store.ts';
import { hold } from '../batches/locks.ts';
import { detailInside } from '../batches/page.service.ts';
import * as store from './cures.store.ts';
import { refuseImpossible } from './facts.ts';

/** Tells of a cure stage how it was cured, or corrects it: the record keeps what it was. What it took from the stock follows. */
export async function tellCure(unit: Unit, stageId: string, { version, reason, ...facts }: CureFactsPatch): Promise<BatchDetail> {
  const actor = need(unit.actor, 'crew');
  refuseImpossible(facts);
  return unit.runRaw(
    async (query) => {
      const first = await batches.findStage(query, stageId);
      if (!first) throw notFound('This stage');
      await hold(query, { batchIds: [first.batchId] });
      const stage = (await batches.findStage(query, stageId))!;
      if (stage.kind !== 'cure') throw new ProblemError('invalid-value', `This is the ${stage.kind} stage. How fish was cured is told of its cure stage.`);
      if (stage.cancelledAt) throw new ProblemError('conflict', 'This stage was undone. Record it again instead.');
      const present = await store.findCure(query, stageId);
      if ((present?.version ?? 0) !== version) throw refuseStale('cure', { ...facts, version }, present ?? { version: 0 });
      if (present) await store.updateCure(query, present.id, facts);
      else await store.insertCure(query, { stageId, batchId: stage.batchId }, facts, actor.id, unit.now);
      return detailInside(query, actor, stage.batchId);
    },
    { reason },
  );
}
