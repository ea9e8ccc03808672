import type { z } from 'zod';
import type { BatchDetail } from '../../contract/batches.ts';
import type { MeasurementBody, measurementPatch } from '../../contract/evidence.ts';
import { formatDay, localDay } from '../../domain/time.ts';
import { need } from '../../platform/auth/access.ts';
import type { Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { badField, notFound } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import { newId } from '../../platform/new-id.ts';
import type { Unit } from '../../platform/unit.ts';
import * as batches from '../batches/batches.store.ts';
import { beforeOf, finishedFishSince } from '../batches/before.ts';
import { loadLineage, stagesOf } from '../batches/lineage.ts';
import type { Lineage } from '../batches/lineage.ts';
import { hold } from '../batches/locks.ts';
import { detailInside } from '../batches/page.service.ts';
import { recomputeFigure } from '../batches/recompute.ts';
import * as store from './measurements.store.ts';
import { needReason } from './withdrawal.ts';

/** The largest value each kind can have; salt does not dissolve beyond 26.4 per cent. */
const MOST: Record<MeasurementBody['kind'], { value: number; words: string }> = {
  'water-phase-salt': { value: 27, words: 'Water-phase salt is 0 to 27 per cent.' },
  nitrite: { value: 5000, words: 'Nitrite is 0 to 5,000 ppm.' },
  'water-activity': { value: 1, words: 'Water activity is 0 to 1.' },
};

/** Records what a laboratory found. A captain's word: packs without air may rest on it. */
export async function addMeasurement(context: Context, unit: Unit, batchId: string, body: MeasurementBody): Promise<BatchDetail> {
  const actor = need(unit.actor, 'captain');
  const most = MOST[body.kind];
  if (body.value > most.value) throw badField('value', body.value, most.words, 'Check the number and its unit.');
  return unit.runRaw(async (query) => {
    const brineOf = await holdWithBrine(query, { batchId, kind: body.kind, createdAt: unit.now });
    if (!(await batches.findBatch(query, batchId))) throw notFound('This batch');
    const zone = await batches.zoneOf(query);
    checkDays(body, localDay(unit.now, zone));
    checkSample(body, await loadLineage(query, batchId), zone);
    await store.insertMeasurement(query, newId(unit.now, context.random), batchId, body, actor.id, unit.now);
    await recomputeFigure(query, batchId, brineOf, zone);
    return detailInside(query, actor, batchId);
  });
}

/** Takes the batch and, for nitrite, the lots whose brine it is about; gives those as they stand once the rows are taken. */
async function holdWithBrine(query: RawQuery, { batchId, kind, createdAt }: Pick<store.MeasurementRow, 'batchId' | 'kind' | 'createdAt'>): Promise<string[]> {
  const lots = async () => (kind === 'nitrite' ? store.lotsOfBrine(query, batchId, createdAt) : []);
  await hold(query, { batchIds: [batchId, ...(await lots())] });
  return lots();
}

function checkDays({ sampledDay, reportedDay }: MeasurementBody, today: string): void {
  if (sampledDay > today) throw badField('sampledDay', sampledDay, `${formatDay(sampledDay)} has not come yet.`, 'Enter the day the sample was taken.');
  if (reportedDay > today) throw badField('reportedDay', reportedDay, `${formatDay(reportedDay)} has not come yet.`, 'Enter the day of the report.');
  if (reportedDay < sampledDay) throw badField('reportedDay', reportedDay, `The sample was taken later, on ${formatDay(sampledDay)}.`, 'Check both days.');
}

/** Refuses the day of a sample on which there was none of this fish as it is; salt and nitrite may have been measured after the cure: the one for what the club learns of it, the other as it may be too much. */
function checkSample({ kind, sampledDay }: MeasurementBody, lineage: Lineage, zone: string): void {
  const caught = lineage.landings.map((l) => (l.caughtAt === null ? l.day : localDay(new Date(l.caughtAt), zone))).sort()[0];
  if (caught !== undefined && sampledDay < caught) throw badField('sampledDay', sampledDay, `None of this fish was caught before ${formatDay(caught)}.`, 'Check the day of the sample, and whether it is of this batch.');
  const finished = finishedFishSince(lineage, zone);
  const cures = [...stagesOf(lineage).filter((s) => s.kind === 'cure'), ...beforeOf(lineage).curesBefore.map(({ stage }) => stage)];
  const cured = kind !== 'water-activity' && cures.some((s) => s.finishedAt !== null && localDay(new Date(s.finishedAt), zone) <= sampledDay);
  if (finished !== null && sampledDay < finished && !cured) throw badField('sampledDay', sampledDay, `This fish was smoked, and all of it in this batch, on ${formatDay(finished)}.`, 'Check the day of the sample, and whether it is of this batch.');
}

export async function changeMeasurement(unit: Unit, id: string, patch: z.infer<typeof measurementPatch>): Promise<BatchDetail> {
  const actor = need(unit.actor, 'captain');
  return unit.runRaw(
    async (query) => {
      const first = await store.findMeasurement(query, id);
      if (!first) throw notFound('This measurement');
      const brineOf = await holdWithBrine(query, first);
      const was = (await store.findMeasurement(query, id))!;
      if (patch.version !== was.version) throw refuseStale('measurement', patch, { withdrawn: was.withdrawnAt !== null, version: was.version });
      if (patch.withdrawn && was.withdrawnAt === null) needReason(patch.reason, 'A laboratory’s figure is withdrawn with a reason.', 'Say why it does not count: of which fish the sample was, or what the laboratory corrected.');
      await store.withdrawMeasurement(query, id, patch.withdrawn ? (was.withdrawnAt ?? unit.now) : null);
      await recomputeFigure(query, was.batchId, brineOf, await batches.zoneOf(query));
      return detailInside(query, actor, was.batchId);
    },
    { reason: patch.reason },
  );
}
