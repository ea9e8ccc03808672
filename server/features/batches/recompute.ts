import { formatGrams } from '../../domain/units.ts';
import type { RawQuery, Tx } from '../../platform/database/open.ts';
import { badField } from '../../platform/errors/problem-error.ts';
import { packStageMasses, replay } from './ledger.ts';
import type { LedgerInput } from './ledger.ts';
import { ledgerInput, loadLineage, stagesOf } from './lineage.ts';
import type { Lineage } from './lineage.ts';
import { asQuery } from './locks.ts';
import * as store from './batches.store.ts';
import { dated, dateInput, judge } from './verdict.ts';

/**
 * Brings everything that follows from a batch's draws, stages and packs into step, in the transaction that changed them:
 * what the packing stage comes to, what each draw was a part of, the verdict and its days, the last day of every pack, and
 * the same for all that was made from the batch. Take the batch's row (locks.ts, hold) before the change.
 */
export async function recomputeBatch(tx: Tx | RawQuery, batchId: string, clubZone: string): Promise<void> {
  const query = asQuery(tx);
  await settleMasses(query, batchId);
  for (const id of await store.downstreamInOrder(query, batchId)) await settleVerdict(query, id, clubZone);
}

/**
 * As recomputeBatch, after a laboratory's figure of a batch or its cure undone: nitrite is also about the lots whose brine its fish was in, and
 * all that was made from those. Take those rows before the change: `brineOf` names them.
 */
export async function recomputeFigure(query: RawQuery, batchId: string, brineOf: readonly string[], clubZone: string): Promise<void> {
  for (const id of new Set([...brineOf, batchId])) await recomputeBatch(query, id, clubZone);
}

/** Brings the packing stage and the draws out of a batch into step with what it held at the time. */
export async function settleMasses(query: RawQuery, batchId: string): Promise<void> {
  const lineage = await loadLineage(query, batchId);
  const input = ledgerInput(lineage);
  const pack = settledPackStage(lineage, input);
  if (pack) await store.updateStageMasses(query, pack.id, pack);
  const { before } = replay(input);
  const moved = lineage.draws.filter((d) => d.sourceBatchId === batchId && before.get(d.id) !== d.ofGrams);
  for (const draw of moved) await store.updateDrawOf(query, draw.id, before.get(draw.id)!);
}

/** The packing stage with the masses that follow from the ledger, or null when there is none or they stand already. */
export function settledPackStage(lineage: Lineage, input: LedgerInput): { id: string; massInG: number; massOutG: number | null; trimG: number; lossG: number } | null {
  const stage = stagesOf(lineage).find((s) => s.kind === 'pack');
  if (!stage) return null;
  const masses = packStageMasses(replay(input).before.get(stage.id)!, input.packedGrams, stage.trimG, stage.finishedAt !== null);
  refuseOverPacked(masses);
  const same = masses.massInG === stage.massInG && masses.massOutG === stage.massOutG && masses.lossG === stage.lossG && masses.trimG === stage.trimG;
  return same ? null : { id: stage.id, ...masses };
}

export function refuseOverPacked({ massInG, massOutG, trimG, lossG }: { massInG: number; massOutG: number | null; trimG: number; lossG: number }): void {
  if (lossG >= 0) return;
  const trim = trimG > 0 ? ` and ${formatGrams(trimG, 'metric')} trim` : '';
  throw badField('grams', massOutG, `The packs weigh ${formatGrams(massOutG ?? 0, 'metric')}${trim}, more than the ${formatGrams(massInG, 'metric')} that went into packing.`, 'Weigh again, or correct an earlier stage.', 'not-enough-left');
}

/** Judges one batch anew and dates its packs; the batches above it must stand already. */
export async function settleVerdict(query: RawQuery, batchId: string, zone: string): Promise<void> {
  await store.markJudged(query, batchId);
  const lineage = await loadLineage(query, batchId);
  const judged = judge(lineage, zone);
  // Written even when it stays the same: the page shows more of the lots above than the verdict.
  await store.updateVerdict(query, batchId, judged);
  // While it is there no pack without air is made of the batch (pack_without_air_let_go_warm).
  const warm = judged.checks.some((check) => check.ruleId === 'hold.cold' && check.state !== 'met');
  if (!warm && lineage.releases.some((release) => release.ruleId === 'hold.cold')) await store.endRelease(query, batchId, 'hold.cold');
  const changed = lineage.packs
    .filter((p) => p.batchId === batchId)
    .map((p) => {
      const dates = dated(dateInput(lineage, p, judged, zone));
      return { id: p.id, lastDay: dates?.lastDay ?? null, dateKind: dates?.kind ?? p.dateKind, was: p };
    })
    .filter((p) => p.lastDay !== p.was.lastDay || p.dateKind !== p.was.dateKind);
  if (changed.length > 0) await store.updatePackDates(query, changed);
}
