import { formatGrams } from '../../domain/units.ts';
import { badField } from '../../platform/errors/problem-error.ts';
import { replay } from './ledger.ts';
import { batchOf, drawsInto, ledgerInput, stagesOf } from './lineage.ts';
import type { Lineage, LineageDraw, LineagePack } from './lineage.ts';
import { stageWord } from './stage-rules.ts';

const show = (grams: number) => formatGrams(grams, 'metric');

/** Refuses a correction after which something that happened later would have taken more than there was; names it. */
export function refuseShort(lineage: Lineage, field: string, value: unknown): void {
  const { short } = replay(ledgerInput(lineage));
  if (!short) return;
  const { event, held, asked } = short;
  const lot = batchOf(lineage).lot;
  if (event === null) {
    throw badField(field, value, `Lot ${lot} would have held ${show(Math.max(0, held))} to pack, but its packs weigh ${show(asked)}.`, 'Correct the packs first.', 'not-enough-left');
  }
  if (event.kind === 'stage') {
    const stage = stagesOf(lineage).find((s) => s.id === event.id)!;
    const took = stage.kind === 'pack' ? '' : `, but ${stage.kind} took in ${show(stage.massInG)}`;
    throw badField(field, value, `${stageWord(stage.kind)} of lot ${lot} would not be possible: ${show(Math.max(0, held))} on hand${took}.`, `Correct ${stage.kind} first.`, 'not-enough-left');
  }
  throw badField(field, value, `Lot ${lot} would have held ${show(Math.max(0, held))} when ${show(event.grams)} was drawn from it.`, 'Correct that draw first.', 'not-enough-left');
}

/** The lineage as if the draw had taken this much. */
export function withDraw(lineage: Lineage, drawId: string, grams: number): Lineage {
  const draws = lineage.draws.map((d) => (d.id === drawId ? { ...d, grams } : d));
  return { ...lineage, draws: grams === 0 ? draws.filter((d) => d.id !== drawId) : draws };
}

/** A pack of the batch with no fish on its tray. */
export const bareOf = (lineage: Lineage): LineagePack | undefined => lineage.packs.find((p) => p.batchId === lineage.id && !drawsInto(lineage).some((d) => d.trayNo === p.trayNo));

/** Whether the lot that weight was drawn from is packed and closed, so that it takes none back. Closing it judges anew, and so tags, the pages below it. */
export const isSourceClosed = (lineage: Lineage, draw: Pick<LineageDraw, 'sourceBatchId'>): boolean => draw.sourceBatchId !== null && batchOf(lineage, draw.sourceBatchId).closed;

/** Whether a draw into the batch may be undone: the batch and the lot that it came from are open, and nothing since took the weight. */
export function mayUndo(lineage: Lineage, drawId: string): boolean {
  if (batchOf(lineage).closed || lineage.draws.some((d) => d.id === drawId && isSourceClosed(lineage, d))) return false;
  const without = withDraw(lineage, drawId, 0);
  return replay(ledgerInput(without)).short === null && bareOf(without) === undefined;
}
