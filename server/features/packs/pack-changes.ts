import type { z } from 'zod';
import type { PackLine, packPatch } from '../../contract/packs.ts';
import { givesDaysBack } from '../../domain/pack-days.ts';
import { localDay } from '../../domain/time.ts';
import { formatGrams } from '../../domain/units.ts';
import { isCrew, need } from '../../platform/auth/access.ts';
import { clubSettings } from '../../platform/club-settings.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { badField, notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import type { Unit } from '../../platform/unit.ts';
import { loadLineage, packOf } from '../batches/lineage.ts';
import { hold } from '../batches/locks.ts';
import { takeBackFromLoss } from '../batches/pack-stage.ts';
import { recomputeBatch } from '../batches/recompute.ts';
import { judge, saltOfPackWithoutAir } from '../batches/verdict.ts';
import { checkHolder } from './pack-holder.ts';
import { checkKeeping, refuseLateFreezing, refuseMendingWarm } from './pack-keeping.ts';
import { packCode, toPackLine } from './packs.lines.ts';
import * as store from './packs.store.ts';

type Patch = z.infer<typeof packPatch>;

/**
 * Corrects a pack's weight, how it is kept, or that it was thrown away; its dates and its batch's loss follow. A member who has
 * it records when it was frozen and thawed.
 */
export async function changePack(unit: Unit, id: string, patch: Patch): Promise<PackLine> {
  const actor = need(unit.actor, 'member');
  return unit.runRaw(async (query) => {
    const before = await present(query, id, patch);
    const { timeZone } = await clubSettings(query);
    const today = localDay(unit.now, timeZone);
    const next = changed(before, patch, today);
    if (!isCrew(actor)) checkHolder(actor, before, next, patch, today);
    checkStatus(before, patch);
    if (changesKeeping(before, next)) await checkDays(query, before, next, patch.reason, { today, timeZone });
    if (next.grams > before.grams) await makeRoom(query, before, next.grams - before.grams);
    if (before.status === 'claimed' && next.status === 'discarded') await store.endClaim(query, id, { reason: patch.reason || 'The pack was thrown away.', by: actor.id, at: unit.now });
    if (!(await store.updatePack(query, id, patch.version, next))) throw new ProblemError('stale-edit', 'Somebody changed this pack just now. Look at it again.');
    await recomputeBatch(query, before.batchId, timeZone);
    const [row] = await store.findLines(query, [id]);
    return toPackLine(row!, actor);
  }, { reason: patch.reason });
}

async function present(query: RawQuery, id: string, patch: Patch): Promise<store.PackDetailRow> {
  const first = await store.findPack(query, id);
  if (!first) throw notFound('This pack');
  await hold(query, { batchIds: [first.batchId], packIds: [id] });
  const row = (await store.findPack(query, id)) ?? first;
  if (row.version !== patch.version) throw refuseStale('pack', patch, { ...row, discarded: row.status === 'discarded' });
  return row;
}

function changed(before: store.PackDetailRow, patch: Patch, today: string): store.PackFields {
  const storage = patch.storage ?? before.storage;
  // Out of the freezer and in again: how long it was out is not known, so an earlier freezing stops no count.
  const kept = storage === 'frozen' && before.storage !== 'frozen' ? null : before.frozenDay;
  const givenDay = patch.frozenDay === undefined ? kept : patch.frozenDay;
  // Put into the freezer with no day told: today, the latest it can be, since an earlier day would lengthen its count.
  const frozenDay = givenDay ?? (storage === 'frozen' && patch.frozenDay === undefined ? today : null);
  const status = patch.discarded === undefined ? before.status : patch.discarded ? 'discarded' : before.status === 'discarded' ? 'ready' : before.status;
  return {
    grams: patch.grams ?? before.grams, packageKind: patch.packageKind ?? before.packageKind, storage, frozenDay,
    thawedDay: patch.thawedDay === undefined ? before.thawedDay : patch.thawedDay, status,
  };
}

async function checkDays(query: RawQuery, before: store.PackDetailRow, next: store.PackFields, reason: string, { today, timeZone }: { today: string; timeZone: string }): Promise<void> {
  const lineage = await loadLineage(query, before.batchId);
  if (next.status !== 'discarded') refuseMendingWarm(before, next, () => judge(lineage, timeZone).checks.some((check) => check.ruleId === 'hold.cold' && check.state === 'not-met'));
  const saltMeasured = saltOfPackWithoutAir(lineage, timeZone);
  const wasOut = packOf(lineage, before.id).outBefore.length > 0;
  refuseLateFreezing(before, next, saltMeasured);
  checkKeeping({ ...next, productKind: before.productKind, packedDay: localDay(before.packedAt, timeZone), today, saltMeasured, wasOut });
  if (reason.trim().length >= 3 || !givesDaysBack({ ...before, wasOut }, next, today)) return;
  throw badField('reason', reason, 'That would give it days back, and freezing never does (date.freeze: FC 3-501.17).', 'If a day was typed wrong, say what was wrong. Once it was out of the freezer it keeps the shorter date.');
}

const changesKeeping = (a: store.PackDetailRow, b: store.PackFields) =>
  a.packageKind !== b.packageKind || a.storage !== b.storage || a.frozenDay !== b.frozenDay || a.thawedDay !== b.thawedDay;

function checkStatus(before: store.PackDetailRow, patch: Patch): void {
  const code = packCode(before);
  if (before.status === 'used') throw new ProblemError('conflict', `${code} went into another batch. Take it out of there first.`);
  if (patch.discarded && before.status === 'handed-over') throw new ProblemError('conflict', `${code} is with ${before.holderName}. Undo that hand-over first.`);
}

/** A heavier pack needs the weight from somewhere: what is on hand, or what packing wrote off. */
async function makeRoom(query: RawQuery, pack: store.PackDetailRow, extraG: number): Promise<void> {
  if (pack.closed) return takeBackFromLoss(query, pack.batchId, extraG);
  if (extraG <= pack.onHandGrams) return;
  throw badField('grams', pack.grams + extraG, `Lot ${pack.lot} holds ${formatGrams(pack.onHandGrams, 'metric')} more, and the pack would grow by ${formatGrams(extraG, 'metric')}.`, 'Weigh it again, or correct an earlier stage.', 'not-enough-left');
}
