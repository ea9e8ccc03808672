import type { RawQuery } from '../../platform/database/open.ts';
import * as store from './batches.store.ts';
import { packStageMasses, replay } from './ledger.ts';
import { ledgerInput } from './lineage.ts';
import type { Lineage, LineageStage } from './lineage.ts';
import { refuseOverPacked, settledPackStage } from './recompute.ts';
import { refuseShort } from './shortfall.ts';

type Masses = { massInG: number; massOutG: number | null; trimG: number; lossG: number };

/** The masses of the packing stage with this trim, finished or not. */
export function packMassesWith(lineage: Lineage, stageId: string, trimG: number, finished: boolean): Masses {
  const input = ledgerInput(lineage);
  const masses = packStageMasses(replay(input).before.get(stageId)!, input.packedGrams, trimG, finished);
  refuseOverPacked(masses);
  return masses;
}

/** The lineage as if the stage were recorded so, or (null) not at all. */
function withStage(lineage: Lineage, id: string, next: store.StageFields | null): Lineage {
  if (next === null) return { ...lineage, stages: lineage.stages.filter((s) => s.id !== id) };
  const stages = lineage.stages.map((s): LineageStage => {
    if (s.id !== id) return s;
    return { ...s, massInG: next.massInG, addedG: next.addedG, massOutG: next.massOutG, trimG: next.trimG, lossG: next.lossG, finishedAt: next.finishedAt?.toISOString() ?? null };
  });
  return { ...lineage, stages };
}

/**
 * Writes a stage as corrected, or undone (null), together with what the packing stage then comes to. Of the two, whatever
 * gives weight back to the batch goes first, since the database lets it hold less than nothing at no moment.
 */
export async function writeCorrection(query: RawQuery, lineage: Lineage, stage: store.StageRow, next: store.StageFields | null, now: Date): Promise<void> {
  const after = withStage(lineage, stage.id, next);
  refuseShort(after, next === null ? 'cancelled' : 'massOutG', next === null ? true : next.massOutG);
  const write = () => store.updateStage(query, stage.id, next ?? { ...stage, cancelledAt: now });
  if (stage.kind === 'pack') {
    // Opened again before weight comes back; closed in one with what is written off.
    await store.closeBatch(query, stage.batchId, next?.finishedAt ?? null);
    await write();
    return;
  }
  const packing = settledPackStage(after, ledgerInput(after));
  const given = kept(next) - kept(stage);
  if (given >= 0) await write();
  if (packing) await store.updateStageMasses(query, packing.id, packing);
  if (given < 0) await write();
}

/** What a stage adds to what is on hand, mostly below zero. */
const kept = (s: Pick<store.StageFields, 'addedG' | 'trimG' | 'lossG'> | null) => (s === null ? 0 : s.addedG - s.trimG - s.lossG);
