import type { z } from 'zod';
import type { BatchDetail, DrawBody, drawPatch } from '../../contract/batches.ts';
import { findSpecies } from '../../domain/species/index.ts';
import { formatGrams } from '../../domain/units.ts';
import { seals } from '../../domain/working.ts';
import type { Grams } from '../../domain/working.ts';
import { need } from '../../platform/auth/access.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { badField, notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import type { Unit } from '../../platform/unit.ts';
import * as store from './batches.store.ts';
import { fishOfBatch, fishOfLanding, fishOfPack, placedIn, refuseTwoSpecies, trayFor } from './contents.ts';
import type { Fish } from './contents.ts';
import { followNames } from './follow.ts';
import { loadLineage, stagesOf } from './lineage.ts';
import type { Lineage } from './lineage.ts';
import { hold } from './locks.ts';
import { detailInside } from './page.service.ts';
import { carryRecalls } from './recall.store.ts';
import { recomputeBatch } from './recompute.ts';
import { bareOf, refuseShort, withDraw } from './shortfall.ts';
import { isSmoked } from './smoked.ts';
import { stageWord } from './stage-rules.ts';

/** A weight off a batch is off all of its trays alike, so it would lay several owners' fish together. */
const SPLIT_BY_LANDING =
  'This lot holds fish of several people on trays of their own. To split it, lower the draw of one landing in that lot, and draw the weight from that landing instead; ' +
  'once a stage is recorded, weigh out packs tray by tray.';

const show = (grams: Grams) => formatGrams(grams, 'metric');
/** Fish is assigned to batches by captains; what is in a batch already may be moved on by crew. */
export const mayDraw = (unit: Unit, draws: readonly DrawBody[]) => need(unit.actor, draws.some((d) => d.source.kind === 'landing') ? 'captain' : 'crew');

export async function addDraws(unit: Unit, batchId: string, draws: readonly DrawBody[]): Promise<BatchDetail> {
  const actor = mayDraw(unit, draws);
  return unit.runRaw(async (query) => {
    await store.holdClub(query);
    const zone = await store.zoneOf(query);
    await holdForDraws(query, draws, [batchId]);
    await drawInto(query, unit, batchId, draws);
    await judgeAround(query, batchId, await packSources(query, draws), zone);
    await followNames(query, batchId);
    return detailInside(query, actor, batchId);
  });
}

/** Judges what was drawn into, after those lots that it was drawn from whose own verdict may be another by it. */
export async function judgeAround(query: RawQuery, batchId: string, sources: readonly string[], zone: string): Promise<void> {
  for (const id of [...new Set(sources), batchId]) await recomputeBatch(query, id, zone);
}

/** The lots whose packs were used up. */
export async function packSources(query: RawQuery, draws: readonly DrawBody[]): Promise<string[]> {
  const packs = await Promise.all(draws.filter((d) => d.source.kind === 'pack').map((d) => store.findPack(query, d.source.id)));
  return packs.flatMap((pack) => (pack ? [pack.batchId] : []));
}

/** Takes every row that these draws touch, in the one order. */
export async function holdForDraws(query: RawQuery, draws: readonly DrawBody[], batchIds: readonly string[]): Promise<void> {
  const ids = (kind: DrawBody['source']['kind']) => [...new Set(draws.filter((d) => d.source.kind === kind).map((d) => d.source.id))];
  const packs = await Promise.all(ids('pack').map((id) => store.findPack(query, id)));
  await hold(query, { landingIds: ids('landing'), batchIds: [...batchIds, ...ids('batch'), ...packs.flatMap((p) => (p ? [p.batchId] : []))], packIds: ids('pack') });
}

/** Moves weight into a batch. All rows must be held. */
export async function drawInto(query: RawQuery, unit: Unit, batchId: string, draws: readonly DrawBody[]): Promise<void> {
  const batch = await store.findBatch(query, batchId);
  if (!batch) throw notFound('This batch');
  for (const [i, body] of draws.entries()) {
    const lineage = await loadLineage(query, batchId);
    if (i === 0) refuseSealed(batch, lineage);
    const field = `draws.${i}`;
    const { fish, ...taken } = await take(query, batch, body, field);
    const placed = placedIn(lineage);
    refuseTwoSpecies(batch.productKind, placed, fish, `${field}.source`);
    const trayNo = trayFor(placed, fish, body.trayNo, `${field}.trayNo`, body.source.kind === 'batch' && new Set(fish.map((f) => f.catcherKey)).size > 1 ? SPLIT_BY_LANDING : '');
    await store.insertDraw(query, { batchId, trayNo, ...taken }, unit);
    if (taken.sourcePackId) await store.setPackStatus(query, taken.sourcePackId, 'used');
  }
}

function refuseSealed(batch: store.BatchRow, lineage: Lineage): void {
  if (batch.closedAt) throw new ProblemError('conflict', `Lot ${batch.lot} is packed and closed. Start a new batch.`);
  if (batch.recalledAt) throw new ProblemError('recalled', `Lot ${batch.lot} is recalled. Nothing is added to it.`);
  const stages = stagesOf(lineage);
  const running = stages.find((s) => s.finishedAt === null);
  if (running) throw badField('draws', undefined, `${stageWord(running.kind)} is running in lot ${batch.lot}.`, 'Finish it before anything joins.', 'conflict');
  const sealed = stages.find((s) => seals(s.kind));
  if (sealed) throw badField('draws', undefined, `Lot ${batch.lot} has been through ${sealed.kind}; what joins now would not have been.`, 'Start a new batch.', 'conflict');
}

type Taken = Omit<store.NewDraw, 'batchId' | 'trayNo'> & { fish: Fish[] };
const none = { landingId: null, sourceBatchId: null, sourcePackId: null };

function take(query: RawQuery, batch: store.BatchRow, body: DrawBody, field: string): Promise<Taken> {
  switch (body.source.kind) {
    case 'landing': return takeLanding(query, batch, body, field);
    case 'batch': return takeBatch(query, batch, body, field);
    case 'pack': return takePack(query, batch, body, field);
  }
}

async function takeLanding(query: RawQuery, batch: store.BatchRow, body: DrawBody, field: string): Promise<Taken> {
  const landing = await store.findLanding(query, body.source.id);
  if (!landing) throw notFound('The landing that it draws from');
  if (batch.productKind === 'dip') throw badField(`${field}.source`, landing.label, 'A dip is made from smoked fish.', 'Draw packs, or a smoked batch.', 'conflict');
  if (landing.withdrawn) throw badField(`${field}.source`, landing.label, `${landing.label}: this landing was taken out.`, 'Choose another.', 'conflict');
  if (landing.sharing === 'refuse') {
    const reason = findSpecies(landing.speciesCode)?.sharingReason ?? 'Not for sharing.';
    throw badField(`${field}.source`, landing.label, `${landing.species} does not go into a batch. ${reason}`, 'Leave it out.');
  }
  const left = landing.grams - landing.drawnGrams;
  return { ...none, landingId: landing.id, ...enough(left, body.grams, landing.label, field), fish: [fishOfLanding(landing)] };
}

async function takeBatch(query: RawQuery, batch: store.BatchRow, body: DrawBody, field: string): Promise<Taken> {
  const source = await store.findBatch(query, body.source.id);
  if (!source) throw notFound('The batch that it draws from');
  if (source.id === batch.id) throw badField(`${field}.source`, source.lot, 'A batch cannot draw from itself.', 'Choose another source.', 'conflict');
  if (source.recalledAt) throw badField(`${field}.source`, source.lot, `Lot ${source.lot} is recalled.`, 'Do not use it.', 'recalled');
  if (source.productKind === 'dip' && batch.productKind !== 'dip') {
    throw badField(`${field}.source`, source.lot, `Lot ${source.lot} is a dip, which keeps fewer days than fish (date.dip).`, 'Pack it as a dip.', 'conflict');
  }
  const lineage = await loadLineage(query, source.id);
  refuseCycle(lineage, batch, field);
  if (batch.productKind === 'raw' && isSmoked(lineage)) throw badField(`${field}.source`, source.lot, `Lot ${source.lot} is smoked; as raw fish nothing would ask how it was smoked and cooled.`, 'Make a hot-smoked batch of it.', 'conflict');
  const running = stagesOf(lineage).find((s) => s.finishedAt === null);
  if (running) throw badField(`${field}.source`, source.lot, `${stageWord(running.kind)} is running in lot ${source.lot}.`, 'Finish it before anything is taken out.', 'conflict');
  return { ...none, sourceBatchId: source.id, ...enough(source.onHandGrams, body.grams, `Lot ${source.lot}`, field), fish: fishOfBatch(lineage) };
}

async function takePack(query: RawQuery, batch: store.BatchRow, body: DrawBody, field: string): Promise<Taken> {
  const pack = await store.findPack(query, body.source.id);
  if (!pack) throw notFound('The pack that it draws from');
  const label = `${pack.lot}-${pack.packNo}`;
  if (batch.productKind !== 'dip') throw badField(`${field}.source`, label, 'Packs go into a dip alone.', 'Start a dip, or draw from a batch.', 'conflict');
  if (pack.recalled) throw badField(`${field}.source`, label, `Lot ${pack.lot} is recalled.`, 'Do not use it.', 'recalled');
  if (pack.status !== 'ready') throw badField(`${field}.source`, label, `Pack ${label} is ${pack.status}.`, 'Choose one that is ready.', 'conflict');
  if (body.grams !== null && body.grams !== pack.grams) throw badField(`${field}.grams`, body.grams, `Pack ${label} weighs ${show(pack.grams)} and goes in whole.`, 'Leave the weight out.');
  const lineage = await loadLineage(query, pack.batchId);
  refuseCycle(lineage, batch, field);
  return { ...none, sourcePackId: pack.id, grams: pack.grams, ofGrams: pack.grams, fish: fishOfPack(lineage, pack.id) };
}

function refuseCycle(source: Lineage, batch: store.BatchRow, field: string): void {
  if (!source.batches.some((b) => b.id === batch.id)) return;
  throw badField(`${field}.source`, batch.lot, `That fish came out of lot ${batch.lot} itself.`, 'Undo that draw instead.', 'conflict');
}

function enough(left: Grams, asked: Grams | null, label: string, field: string): { grams: Grams; ofGrams: Grams } {
  const grams = asked ?? left;
  if (left <= 0) throw badField(`${field}.grams`, asked, `${label}: nothing left${asked === null ? '' : `, ${show(asked)} asked`}.`, 'Choose another source.', 'not-enough-left');
  if (grams > left) throw badField(`${field}.grams`, grams, `${label}: ${show(left)} left, ${show(grams)} asked.`, 'Take less.', 'not-enough-left');
  return { grams, ofGrams: left };
}

/** Corrects a draw's weight, or undoes it. The record keeps what it was. */
export async function changeDraw(unit: Unit, drawId: string, patch: z.infer<typeof drawPatch>): Promise<BatchDetail> {
  const actor = need(unit.actor, 'crew');
  return unit.runRaw(
    async (query) => {
      await store.holdClub(query);
      const first = await store.findDraw(query, drawId);
      if (!first) throw notFound('This draw');
      if (first.landingId) need(actor, 'captain');
      const source = first.sourceBatchId ?? first.packBatchId;
      await hold(query, {
        landingIds: first.landingId ? [first.landingId] : [], batchIds: [first.batchId, ...(source ? [source] : [])], packIds: first.sourcePackId ? [first.sourcePackId] : [],
      });
      const draw = (await store.findDraw(query, drawId))!;
      if (patch.version !== draw.version) throw refuseStale('draw', patch, { grams: draw.grams, cancelled: draw.cancelled, version: draw.version });
      if (draw.cancelled) throw new ProblemError('conflict', 'This draw was undone already. Draw again instead.');
      const grams = patch.grams ?? draw.grams;
      await checkChange(query, draw, patch.cancelled ? 0 : grams);
      await store.updateDraw(query, drawId, grams, patch.cancelled ? unit.now : null);
      if (patch.cancelled && draw.sourcePackId) await store.setPackStatus(query, draw.sourcePackId, 'ready');
      await judgeAround(query, draw.batchId, source ? [source] : [], await store.zoneOf(query));
      await followNames(query, draw.batchId);
      await carryRecalls(query, draw.batchId);
      return detailInside(query, actor, draw.batchId);
    },
    { reason: patch.reason },
  );
}

/** Whether the draw may come to `grams` (0: undone), with everything that happened to both ends since. */
async function checkChange(query: RawQuery, draw: store.DrawRow, grams: Grams): Promise<void> {
  const target = (await store.findBatch(query, draw.batchId))!;
  if (target.closedAt && grams !== draw.grams) throw new ProblemError('conflict', `Lot ${target.lot} is packed and closed. Open its packing stage again first.`);
  if (draw.sourcePackId && grams !== 0 && grams !== draw.grams) throw badField('grams', grams, `A pack goes in whole, with its ${show(draw.grams)}.`, 'Undo the draw instead.');
  if (draw.landingId) {
    const landing = (await store.findLanding(query, draw.landingId))!;
    const left = landing.grams - landing.drawnGrams + draw.grams;
    if (grams > left) throw badField('grams', grams, `${landing.label}: ${show(left)} left, ${show(grams)} asked.`, 'Take less.', 'not-enough-left');
  }
  if (draw.sourceBatchId) {
    const source = (await store.findBatch(query, draw.sourceBatchId))!;
    if (source.closedAt && grams !== draw.grams) throw new ProblemError('conflict', `Lot ${source.lot}, which it came from, is packed and closed. Open its packing stage again first.`);
    const left = source.onHandGrams + draw.grams;
    if (grams > left) throw badField('grams', grams, `Lot ${source.lot}: ${show(left)} left, ${show(grams)} asked.`, 'Take less.', 'not-enough-left');
    refuseShort(withDraw(await loadLineage(query, source.id), draw.id, grams), 'grams', grams);
  }
  const lineage = withDraw(await loadLineage(query, draw.batchId), draw.id, grams);
  refuseShort(lineage, 'grams', grams);
  const bare = bareOf(lineage);
  if (bare) throw badField('cancelled', true, `Packs of tray ${bare.trayNo} were weighed out, and this is the fish on it.`, 'Correct the packs first.', 'conflict');
}
