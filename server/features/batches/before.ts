import type { BatchEvidence, EvidenceCure, EvidenceReadings } from '../../domain/rules/evidence.ts';
import { between } from '../../domain/rules/logs.ts';
import { replay } from './ledger.ts';
import { batchOf, drawsInto, ledgerInput, sourceBatchOf, stagesOf } from './lineage.ts';
import type { Lineage, LineageDraw, LineageReadings, LineageStage } from './lineage.ts';

/**
 * What was read in the batches above while this batch's fish was still in them: lists of a stage before the draw, and other
 * readings up to when the draw was recorded. A list stands in it once, as long as any of the draws leaves it.
 */
export function readingsBefore(lineage: Lineage): EvidenceReadings[] {
  const kept = new Map<string, EvidenceReadings>();
  for (const { draw, source } of drawsAbove(lineage)) {
    for (const list of lineage.readings.filter((l) => l.batchId === source)) {
      const part = upTo(lineage, list, draw);
      if (part && part.atMs.length > (kept.get(list.id)?.atMs.length ?? 0)) kept.set(list.id, part);
    }
  }
  return [...kept.values()];
}

/** The cures of the batches above that this batch's fish went through, each once. */
export function curesBefore(lineage: Lineage): EvidenceCure[] {
  const kept = new Map<string, EvidenceCure>();
  for (const { draw, source } of drawsAbove(lineage)) {
    for (const s of stagesOf(lineage, source)) {
      if (s.kind !== 'cure' || !wentThrough(s, draw)) continue;
      const stage = { id: s.id, kind: s.kind, startedAt: new Date(s.startedAt), finishedAt: s.finishedAt === null ? null : new Date(s.finishedAt), maxPlaceC: s.maxPlaceC };
      kept.set(s.id, { lot: batchOf(lineage, source).lot, stage, readings: lineage.readings.filter((l) => l.stageId === s.id) });
    }
  }
  return [...kept.values()];
}

/** Every draw from a batch into this one or into one above it. */
function drawsAbove(lineage: Lineage): { draw: LineageDraw; source: string }[] {
  const found: { draw: LineageDraw; source: string }[] = [];
  const seen = new Set<string>();
  const open = [lineage.id];
  for (let id = open.pop(); id !== undefined; id = open.pop()) {
    for (const draw of drawsInto(lineage, id)) {
      const source = sourceBatchOf(lineage, draw);
      if (source === null) continue;
      found.push({ draw, source });
      if (!seen.has(source)) open.push(source);
      seen.add(source);
    }
  }
  return found;
}

function upTo(lineage: Lineage, list: LineageReadings, draw: LineageDraw): EvidenceReadings | null {
  const stage = stagesOf(lineage, list.batchId).find((s) => s.id === list.stageId);
  if (!stage) return between(list, -Infinity, Date.parse(draw.createdAt));
  return wentThrough(stage, draw) ? list : null;
}

/** What was packed went through every stage. */
const wentThrough = (stage: LineageStage, draw: LineageDraw) => stage.eventNo < draw.eventNo || draw.sourcePackId !== null;

/** How much of a batch's fish came out of a freezer, as its preparing says or that of the batches above it. */
export function frozenBefore(lineage: Lineage): BatchEvidence['frozenBefore'] {
  const known = new Map<string, BatchEvidence['frozenBefore']>();
  const ofDraw = (draw: LineageDraw) => {
    const source = sourceBatchOf(lineage, draw);
    return source === null ? 'none' : of(source, draw.sourcePackId === null ? draw.eventNo : Infinity);
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
  return of(lineage.id);
}
