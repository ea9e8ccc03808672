import type { BatchYields, StageExpectation } from '../../contract/yields.ts';
import { overall } from '../../domain/mass.ts';
import { STAGES_OF } from '../../domain/working.ts';
import type { StageKind } from '../../domain/working.ts';
import { countsAsEvidence, estimateYield } from '../../domain/yield-evidence.ts';
import type { OwnBatch } from '../../domain/yield-evidence.ts';
import type { YieldQuestion } from '../../domain/yield.ts';
import { need } from '../../platform/auth/access.ts';
import type { Actor, Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { batchOf, loadLineage } from './lineage.ts';
import type { Lineage } from './lineage.ts';
import { questionOf } from './yields.ts';
import { stagesAlike } from './yields.store.ts';
import type { OwnStage } from './yields.store.ts';

/**
 * What to expect of a batch at each stage, by the club's own finished batches. It is no part of the batch's page: other
 * batches move it, and they would have to give up every kept page with each of their weights.
 */
export async function batchYields(context: Context, asker: Actor | null, id: string): Promise<BatchYields> {
  need(asker, 'member');
  const { query } = context.database;
  const lineage = await loadLineage(query, id);
  const own = await ownStages(query, lineage);
  const kinds = STAGES_OF[batchOf(lineage).productKind].filter((kind) => kind !== 'pack');
  return { items: [...kinds, 'overall' as const].map((stage) => expectation(stage, questionOf(lineage, stage), own)) };
}

/** Fish of several species or forms is like no other batch. */
async function ownStages(query: RawQuery, lineage: Lineage): Promise<OwnStage[]> {
  const [species, ...otherSpecies] = new Set(lineage.landings.map((l) => l.speciesCode));
  const [form, ...otherForms] = new Set(lineage.landings.map((l) => l.form));
  if (species === undefined || form === undefined || otherSpecies.length + otherForms.length > 0) return [];
  return stagesAlike(query, { batchId: lineage.id, product: batchOf(lineage).productKind, species, form });
}

function expectation(stage: StageKind | 'overall', asked: { question: YieldQuestion } | { reason: string }, own: readonly OwnStage[]): StageExpectation {
  if ('reason' in asked) {
    const working = { inputs: [], formula: 'none', source: 'none', certainty: 'arithmetic' as const };
    return { stage, known: false, reason: asked.reason, lowPct: null, likelyPct: null, highPct: null, batches: 0, ownWeightPct: 0, leftOut: [], evidence: '', working };
  }
  const { leftOut, words: _words, ...estimate } = estimateYield({ question: asked.question, batches: evidenceAt(asked.question, own) });
  return { stage, ...estimate, leftOut: leftOut.map((batchId) => ({ batchId, lot: own.find((s) => s.batchId === batchId)!.lot })) };
}

/** One pair of weights for each batch. A stage that was taken in parts tells nothing of the whole. */
function evidenceAt({ stage, form, product }: YieldQuestion, own: readonly OwnStage[]): OwnBatch[] {
  const byBatch = Map.groupBy(own, (s) => s.batchId);
  return [...byBatch].flatMap(([id, stages]): OwnBatch[] => {
    const pair = stage === 'overall' ? overallPair(stages, product === 'raw' || form !== 'fillet', product === 'hot-smoked') : onlyOne(stages, stage);
    return pair && countsAsEvidence(stage, pair) ? [{ id, ...pair }] : [];
  });
}

function onlyOne(stages: readonly OwnStage[], kind: StageKind): Omit<OwnBatch, 'id'> | null {
  const [first, ...more] = stages.filter((s) => s.kind === kind);
  return first && more.length === 0 ? { massInG: first.massInG, massOutG: first.massOutG } : null;
}

const THOUSAND_KG = 1_000_000;

/** Stage by stage, as a batch's own page reckons it: parts may have been taken out between. */
function overallPair(stages: readonly OwnStage[], isPrepared: boolean, isSmoked: boolean): Omit<OwnBatch, 'id'> | null {
  const needed: StageKind[] = [...(isPrepared ? ['prepare' as const] : []), ...(isSmoked ? ['smoke' as const] : [])];
  if (!needed.every((kind) => onlyOne(stages, kind))) return null;
  const { overallPct } = overall(stages);
  return overallPct === null ? null : { massInG: THOUSAND_KG, massOutG: Math.round((overallPct / 100) * THOUSAND_KG) };
}
