import type { BatchEvidence, EvidenceBefore, EvidenceCure, EvidenceMeasurement, MeasurementBefore } from '../../domain/rules/evidence.ts';
import { between } from '../../domain/rules/logs.ts';
import { localDay } from '../../domain/time.ts';
import type { Day } from '../../domain/working.ts';
import { replay } from './ledger.ts';
import { batchOf, drawsInto, ledgerInput, once, sourceBatchOf, stagesOf } from './lineage.ts';
import type { Lineage, LineageBrineFigure, LineageDraw, LineageReadings, LineageStage } from './lineage.ts';
import { reached } from './reached.ts';
import type { Above } from './reached.ts';
import { liveStage, smokeOf, takenAt, wasSmoked, wentThrough } from './smoked.ts';

/** What a batch's fish went through in the batches above, before it was drawn from them. */
export type Before = Pick<BatchEvidence, 'readingsBefore' | 'curesBefore' | 'curedBeforeMs' | 'frozenBefore' | 'measurementsBefore' | 'joinedAt' | 'drawnAt'>;

export const beforeOf = (lineage: Lineage): Before =>
  once(lineage, 'before', () => {
    const { above } = reached(lineage);
    return {
      readingsBefore: readingsBefore(lineage, above), curesBefore: curesBefore(lineage, above), curedBeforeMs: longestCureMs(lineage, lineage.id), frozenBefore: frozenBefore(lineage),
      measurementsBefore: measurementsBefore(lineage, above), joinedAt: joinedAt(lineage), drawnAt: lastOf(drawsInto(lineage).map((draw) => new Date(draw.createdAt))),
    };
  });

/** Lists of a stage before the draw, and other readings up to when the draw was recorded. A list stands in it once, as long as any of the draws leaves it. */
function readingsBefore(lineage: Lineage, above: readonly Above[]): EvidenceBefore[] {
  const kept = new Map<string, EvidenceBefore>();
  for (const { draw, source } of above) {
    for (const list of lineage.readings.filter((l) => l.batchId === source)) {
      const part = upTo(lineage, list, draw);
      if (part && part.atMs.length > (kept.get(list.id)?.atMs.length ?? 0)) kept.set(list.id, part);
    }
  }
  return [...kept.values()];
}

function upTo(lineage: Lineage, list: LineageReadings, draw: LineageDraw): EvidenceBefore | null {
  const stage = stagesOf(lineage, list.batchId).find((s) => s.id === list.stageId);
  const part = !stage ? between(list, -Infinity, Date.parse(draw.createdAt)) : wentThrough(stage, draw) ? list : null;
  if (!part) return null;
  const smoke = smokeOf(lineage, draw);
  return { ...part, lot: batchOf(lineage, list.batchId).lot, stageKind: stage?.kind ?? null, thawed: frozenBefore(lineage, list.batchId) !== 'none', smokedFromMs: smoke ? Date.parse(smoke.startedAt) : null };
}

/** The cures of the batches above that this batch's fish went through, each once. */
function curesBefore(lineage: Lineage, above: readonly Above[]): EvidenceCure[] {
  const kept = new Map<string, EvidenceCure>();
  for (const { draw, source } of above) {
    for (const s of curesThrough(lineage, draw)) {
      const stage = { id: s.id, kind: s.kind, startedAt: new Date(s.startedAt), finishedAt: endOf(s, draw), maxPlaceC: s.maxPlaceC };
      kept.set(s.id, { lot: batchOf(lineage, source).lot, stage, readings: lineage.readings.filter((l) => l.stageId === s.id) });
    }
  }
  return [...kept.values()];
}

const curesThrough = (lineage: Lineage, draw: LineageDraw): LineageStage[] => {
  const source = sourceBatchOf(lineage, draw);
  return source === null ? [] : stagesOf(lineage, source).filter((s) => s.kind === 'cure' && wentThrough(s, draw));
};
/** A cure that was opened again after the draw had lasted until then. */
const endOf = (cure: LineageStage, draw: LineageDraw) => new Date(cure.finishedAt ?? draw.createdAt);

/** How long fish of a batch had been cured before it came there: along one way cures add up, and of several ways the longest counts. */
const longestCureMs = (lineage: Lineage, id: string): number =>
  once(lineage, `cured for ${id}`, () => Math.max(0, ...drawsInto(lineage, id).map((draw) => {
    const source = sourceBatchOf(lineage, draw);
    if (source === null) return 0;
    return curesThrough(lineage, draw).reduce((sum, s) => sum + endOf(s, draw).getTime() - Date.parse(s.startedAt), longestCureMs(lineage, source));
  })));

/** Laboratory figures of the batches above whose fish had been cured when this batch's was drawn from there, and nitrite of lots that shared its brine. */
function measurementsBefore(lineage: Lineage, above: readonly Above[]): MeasurementBefore[] {
  const measured = lineage.measurements.filter((m) => m.batchId !== lineage.id);
  const counted = new Set<string>();
  const ofLots = measured.flatMap((m) => {
    const draws = above.filter(({ draw, source }) => source === m.batchId && wasCured(lineage, draw)).map(({ draw }) => draw);
    if (draws.length === 0) return [];
    counted.add(m.id);
    return [{ kind: m.kind, value: m.value, part: m.part, lot: batchOf(lineage, m.batchId).lot, smoked: draws.some((draw) => wasSmoked(lineage, draw)) }];
  });
  return [...ofLots, ...ofSameBrine(lineage, above).filter((m) => !counted.has(m.id)).map(({ value, part, lot }) => ({ kind: 'nitrite' as const, value, part, lot, smoked: false }))];
}

/** Nitrite of other lots whose fish lay in one brine with this batch's: the cure of a lot that both were taken from, or this batch's own. */
function ofSameBrine(lineage: Lineage, above: readonly Above[]): LineageBrineFigure[] {
  if (lineage.brineFigures.length === 0) return [];
  const cures = new Set([...stagesOf(lineage, lineage.id).filter((s) => s.kind === 'cure'), ...above.flatMap(({ draw }) => curesThrough(lineage, draw))].map((s) => s.id));
  return lineage.brineFigures.filter((m) => m.batchId !== lineage.id && m.cureIds.some((id) => cures.has(id)));
}
/** The laboratory's figures of a batch itself. A sample's day is a local one, and one of the day of joining may have come first. */
export function measurementsOf(lineage: Lineage, zone: string): EvidenceMeasurement[] {
  const joined = joinedAt(lineage);
  const joinedDay = joined ? localDay(joined, zone) : '';
  const finished = finishedFishSince(lineage, zone);
  return lineage.measurements.filter((m) => m.batchId === lineage.id).map(({ kind, value, part, sampledDay }) => ({ kind, value, part, ofAll: finished !== null && sampledDay >= finished && sampledDay > joinedDay }));
}

/**
 * The first local day on which a sample of a batch can have been of its fish as it is: where that is hot-smoked, the day its smoke ended, or on which the
 * last of it was taken from the lots that it was smoked in. Null while some of it is not smoked.
 */
export function finishedFishSince(lineage: Lineage, zone: string): Day | null {
  const draws = drawsInto(lineage);
  if (batchOf(lineage).productKind !== 'hot-smoked') return '';
  const smoke = liveStage(lineage, 'smoke');
  if (smoke) return smoke.finishedAt === null ? null : localDay(new Date(smoke.finishedAt), zone);
  const since = draws.every((draw) => wasSmoked(lineage, draw)) ? lastOf(draws.flatMap((draw) => [new Date(draw.createdAt), ...smokeEnds(lineage, draw)])) : null;
  return since && localDay(since, zone);
}

/** When each smoke ended that what a draw took may have been in. */
function smokeEnds(lineage: Lineage, draw: LineageDraw): Date[] {
  const source = sourceBatchOf(lineage, draw);
  if (source === null) return [];
  const own = liveStage(lineage, 'smoke', source);
  return own?.finishedAt && wentThrough(own, draw) ? [new Date(own.finishedAt)] : once(lineage, `smoke ends above ${source} ${takenAt(draw)}`, () => drawsInto(lineage, source).filter((d) => d.eventNo < takenAt(draw)).flatMap((d) => smokeEnds(lineage, d)));
}

const lastOf = (times: readonly Date[]): Date | null => (times.length === 0 ? null : new Date(Math.max(...times.map((at) => at.getTime()))));

function wasCured(lineage: Lineage, draw: LineageDraw): boolean {
  const source = sourceBatchOf(lineage, draw);
  return source !== null && once(lineage, `cured ${source} ${takenAt(draw)}`, () => curesThrough(lineage, draw).length > 0 || wasSmoked(lineage, draw) || drawsInto(lineage, source).some((d) => wasCured(lineage, d)));
}

/** When the last fish was drawn into a batch after the first. */
function joinedAt(lineage: Lineage): Date | null {
  const times = drawsInto(lineage).map((draw) => Date.parse(draw.createdAt));
  const last = Math.max(...times);
  return times.length > 0 && last > Math.min(...times) ? new Date(last) : null;
}

/** How much of a batch's fish came out of a freezer, as its preparing says or that of the batches above it. */
function frozenBefore(lineage: Lineage, batchId = lineage.id): BatchEvidence['frozenBefore'] {
  const known = new Map<string, BatchEvidence['frozenBefore']>();
  const ofDraw = (draw: LineageDraw) => {
    const source = sourceBatchOf(lineage, draw);
    return source === null ? 'none' : of(source, takenAt(draw));
  };
  // Of fish that was drawn on before it was prepared nothing is said, nor of what joined after that or was not prepared then.
  const of = (id: string, beforeNo = Infinity): BatchEvidence['frozenBefore'] => {
    const thawed = stagesOf(lineage, id).filter((s) => s.fromFrozen && s.eventNo < beforeNo);
    if (thawed.length > 0) {
      const { before } = replay(ledgerInput(lineage, id));
      const whole = thawed.findLast((s) => s.massInG >= before.get(s.id)!);
      return whole && drawsInto(lineage, id).every((draw) => draw.eventNo < whole.eventNo || ofDraw(draw) === 'all') ? 'all' : 'some';
    }
    const before = known.get(id);
    if (before !== undefined) return before;
    const each = drawsInto(lineage, id).map(ofDraw);
    const found = each.every((one) => one === 'none') ? 'none' : each.every((one) => one === 'all') ? 'all' : 'some';
    known.set(id, found);
    return found;
  };
  return once(lineage, `frozen ${batchId}`, () => of(batchId));
}
