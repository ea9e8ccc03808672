import type { z } from 'zod';
import type { BatchDetail } from '../../contract/batches.ts';
import type { releaseBody, releasePatch } from '../../contract/evidence.ts';
import { foundOf } from '../../domain/rules/judge.ts';
import { findRule } from '../../domain/rules/registry.ts';
import { need } from '../../platform/auth/access.ts';
import type { Context } from '../../platform/context.ts';
import { badField, notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import { newId } from '../../platform/new-id.ts';
import type { Unit } from '../../platform/unit.ts';
import * as batches from '../batches/batches.store.ts';
import { loadLineage } from '../batches/lineage.ts';
import { hold } from '../batches/locks.ts';
import { detailInside } from '../batches/page.service.ts';
import { recomputeBatch } from '../batches/recompute.ts';
import { judge } from '../batches/verdict.ts';
import * as store from './releases.store.ts';
import { needReason } from './withdrawal.ts';

/** A captain lets a batch go although one rule stands against it. Never for heat, cooling, histamine, parasites and packs without air. */
export async function addRelease(context: Context, unit: Unit, batchId: string, body: z.infer<typeof releaseBody>): Promise<BatchDetail> {
  const actor = need(unit.actor, 'captain');
  const rule = findRule(body.ruleId);
  if (!rule) throw badField('ruleId', body.ruleId, 'There is no such rule.', 'Choose one of the batch’s checks.');
  if (!rule.releasable) throw badField('ruleId', body.ruleId, `Nobody releases ${body.ruleId}: ${rule.title.toLowerCase()}.`, 'Hold the batch, or record what is missing.', 'not-allowed');
  return unit.runRaw(
    async (query) => {
      await hold(query, { batchIds: [batchId] });
      if (!(await batches.findBatch(query, batchId))) throw notFound('This batch');
      const zone = await batches.zoneOf(query);
      const { checks } = judge(await loadLineage(query, batchId), zone);
      const against = checks.filter((check) => check.ruleId === body.ruleId && check.means !== 'nothing');
      if (against.length === 0) throw badField('ruleId', body.ruleId, `${body.ruleId} does not stand against this batch.`, 'Nothing needs releasing.', 'conflict');
      const never = against.find((check) => !check.releasable);
      if (never) throw badField('ruleId', body.ruleId, `Nobody releases this: ${never.found}.`, never.whatToDo, 'not-allowed');
      await store.withdrawFormer(query, batchId, body.ruleId, unit.now);
      await store.insertRelease(query, { id: newId(unit.now, context.random), batchId, ruleId: body.ruleId, found: foundOf(checks, body.ruleId), reason: body.reason, by: actor.id, at: unit.now });
      await recomputeBatch(query, batchId, zone);
      return detailInside(query, actor, batchId);
    },
    { reason: body.reason },
  );
}

export async function endRelease(unit: Unit, id: string, patch: z.infer<typeof releasePatch>): Promise<BatchDetail> {
  const actor = need(unit.actor, 'captain');
  return unit.runRaw(
    async (query) => {
      const first = await store.findRelease(query, id);
      if (!first) throw notFound('This release');
      await hold(query, { batchIds: [first.batchId] });
      const was = (await store.findRelease(query, id))!;
      if (patch.version !== was.version) throw refuseStale('release', patch, { withdrawn: was.withdrawnAt !== null, version: was.version });
      if (was.withdrawnAt) throw new ProblemError('conflict', 'This release was ended already.');
      needReason(patch.reason, 'A release is ended with a reason.', 'Say what changed, or what was seen since.');
      await store.withdrawRelease(query, id, unit.now);
      await recomputeBatch(query, was.batchId, await batches.zoneOf(query));
      return detailInside(query, actor, was.batchId);
    },
    { reason: patch.reason },
  );
}
