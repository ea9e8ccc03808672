import type { BatchEvidence, EvidenceReadings } from '../../domain/rules/evidence.ts';
import { between } from '../../domain/rules/logs.ts';
import { replay } from './ledger.ts';
import { drawsInto, ledgerInput, sourceBatchOf, stagesOf } from './lineage.ts';
import type { Lineage, LineageDraw, LineageReadings } from './lineage.ts';

/**
 * What was read in the batches above while this batch's fish was still in them: lists of a stage before the draw, and other
 * readings up to when the draw was recorded. A list stands in it once, as long as any of the draws leaves it.
 */
export function readingsBefore(lineage: Lineage): EvidenceReadings[] {
  const kept = new Map<string, EvidenceReadings>();
  const seen = new Set<string>();
  const open = [lineage.id];
  for (let id = open.pop(); id !== undefined; id = open.pop()) {
    for (const draw of drawsInto(lineage, id)) {
      const source = sourceBatchOf(lineage, draw);
      if (source === null) continue;
      for (const list of lineage.readings.filter((l) => l.batchId === source)) {
        const part = upTo(lineage, list, draw);
        if (part && part.atMs.length > (kept.get(list.id)?.atMs.length ?? 0)) kept.set(list.id, part);
      }
      if (!seen.has(source)) open.push(source);
      seen.add(source);
    }
  }
  return [...kept.values()];
}

function upTo(lineage: Lineage, list: LineageReadings, draw: LineageDraw): EvidenceReadings | null {
  const stage = stagesOf(lineage, list.batchId).find((s) => s.id === list.stageId);
  if (!stage) return between(list, -Infinity, Date.parse(draw.createdAt));
  // What was packed went through every stage.
  return stage.eventNo < draw.eventNo || draw.sourcePackId !== null ? list : null;
}

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
