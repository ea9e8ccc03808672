import { drawsInto, once, sourceBatchOf, stagesOf } from './lineage.ts';
import type { Lineage, LineageDraw, LineageStage } from './lineage.ts';

export const liveStage = (lineage: Lineage, kind: LineageStage['kind'], id = lineage.id) => stagesOf(lineage, id).find((s) => s.kind === kind);

/** Up to which of its source's records what a draw took was there: what was packed went through every stage. */
export const takenAt = (draw: LineageDraw) => (draw.sourcePackId === null ? draw.eventNo : Infinity);

/** Whether what a draw took had been through the smoker by then. Told by the order of the records, not by typed times. */
export function wasSmoked(lineage: Lineage, draw: LineageDraw): boolean {
  const source = sourceBatchOf(lineage, draw);
  return source !== null && smokedBy(lineage, source, takenAt(draw));
}

/** Whether what a batch holds has been through the smoker, here or before. */
export const isSmoked = (lineage: Lineage): boolean => smokedBy(lineage, lineage.id, Infinity);

const smokedBy = (lineage: Lineage, id: string, eventNo: number): boolean =>
  once(lineage, `smoked ${id} ${eventNo}`, () => {
    if (smokeBy(lineage, id, eventNo)) return true;
    const before = drawsInto(lineage, id).filter((d) => d.eventNo < eventNo);
    return before.length > 0 && before.every((d) => wasSmoked(lineage, d));
  });

/**
 * The lots that smoked fish in a batch was taken from, each once: those that it was drawn from smoked, and of a lot that was not smoked whole by then those
 * whose smoked fish had gone into it.
 */
export const smokedLots = (lineage: Lineage, id = lineage.id, eventNo = Infinity): string[] =>
  once(lineage, `smoked lots ${id} ${eventNo}`, () => [
    ...new Set(drawsInto(lineage, id).filter((d) => d.eventNo < eventNo).flatMap((d) => {
      const source = sourceBatchOf(lineage, d);
      if (source === null) return [];
      return wasSmoked(lineage, d) ? [source] : smokedLots(lineage, source, takenAt(d));
    })),
  ]);

function smokeBy(lineage: Lineage, id: string, eventNo: number): LineageStage | null {
  const smoke = liveStage(lineage, 'smoke', id);
  return smoke && smoke.finishedAt !== null && smoke.eventNo < eventNo ? smoke : null;
}

/** The smoke that what a draw took went through last; of several side by side the one that ended first, since cooling counts from there. */
export function smokeOf(lineage: Lineage, draw: LineageDraw): LineageStage | null {
  const source = sourceBatchOf(lineage, draw);
  if (source === null) return null;
  return once(lineage, `smoke of ${source} ${takenAt(draw)}`, () => {
    const own = smokeBy(lineage, source, takenAt(draw));
    if (own) return own;
    const above = drawsInto(lineage, source).filter((d) => d.eventNo < takenAt(draw)).flatMap((d) => smokeOf(lineage, d) ?? []);
    return above.sort((a, b) => Date.parse(a.finishedAt!) - Date.parse(b.finishedAt!))[0] ?? null;
  });
}

/** Whether what a draw took had been through a stage of its source by then. */
export const wentThrough = (stage: LineageStage, draw: LineageDraw): boolean => stage.eventNo < takenAt(draw);
