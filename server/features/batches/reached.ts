import { replay } from './ledger.ts';
import { drawsInto, ledgerInput, once, sourceBatchOf, stagesOf } from './lineage.ts';
import type { Lineage, LineageDraw, LineageStage } from './lineage.ts';

export type Above = { draw: LineageDraw; source: string };
type Reached = { above: Above[]; landingIds: ReadonlySet<string> };

/**
 * From where a batch's fish may have come: the draws out of batches above it, and the landings. Left out is what joined a lot on the
 * way only after this fish had left it, where both the order of the records and the times that were typed say so. Times are those when it was taken
 * as recorded, and fish is never taken later than that. Whatever is in doubt may have been there.
 */
export const reached = (lineage: Lineage): Reached =>
  once(lineage, 'reached', () => {
    const above = new Map<string, Above>();
    const landingIds = new Set<string>();
    const seen = new Set<string>();
    // `left` is the first draw, as recorded, on the way down from there: by then the fish was out of every lot above.
    const open: { id: string; left: LineageDraw | null }[] = [{ id: lineage.id, left: null }];
    for (let at = open.pop(); at !== undefined; at = open.pop()) {
      for (const draw of drawsInto(lineage, at.id)) {
        if (at.left && joinedAfter(lineage, draw, at.left)) continue;
        const source = sourceBatchOf(lineage, draw);
        if (source === null) landingIds.add(draw.landingId!);
        else {
          above.set(draw.id, { draw, source });
          const left = at.left && at.left.eventNo < draw.eventNo ? at.left : draw;
          const key = `${source} ${left.id}`;
          if (!seen.has(key)) open.push({ id: source, left });
          seen.add(key);
        }
      }
    }
    return { above: [...above.values()], landingIds };
  });

/**
 * Whether all that a draw brought came for certain after `left`: caught later, or, all of it, still going into a stage of the lot that it came
 * from. A draw whose weight was changed may have been of other fish than when it was recorded.
 */
function joinedAfter(lineage: Lineage, draw: LineageDraw, left: LineageDraw): boolean {
  if (draw.sourcePackId !== null || draw.eventNo < left.eventNo || left.corrected) return false;
  const leftMs = Date.parse(left.createdAt);
  if (draw.sourceBatchId !== null) return wholeIn(lineage, draw.sourceBatchId, draw.eventNo).some((s) => Date.parse(s.startedAt) > leftMs);
  const caughtAt = lineage.landings.find((l) => l.id === draw.landingId)?.caughtAt ?? null;
  return caughtAt !== null && Date.parse(caughtAt) > leftMs;
}

/** The stages that all the fish went through which a batch held at one of its records. */
const wholeIn = (lineage: Lineage, id: string, eventNo: number): LineageStage[] =>
  once(lineage, `whole ${id} ${eventNo}`, () => {
    const last = Math.max(...drawsInto(lineage, id).map((d) => d.eventNo).filter((no) => no < eventNo));
    const { before } = replay(ledgerInput(lineage, id));
    return stagesOf(lineage, id).filter((s) => s.eventNo < eventNo && s.eventNo > last && s.massInG >= before.get(s.id)!);
  });
