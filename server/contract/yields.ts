// What a batch is to weigh after each stage, by the club's own finished batches and the published figures.
import { z } from 'zod';
import { id, stageKind, working } from './common.ts';

const pct = z.number().nullable();
export const stageExpectation = z.object({
  stage: stageKind.or(z.literal('overall')),
  known: z.boolean(),
  /** Why nothing is expected; empty when known. */
  reason: z.string(),
  lowPct: pct,
  likelyPct: pct,
  highPct: pct,
  /** How many of the club's own batches count, and for how much of the answer. */
  batches: z.int(),
  ownWeightPct: z.number(),
  /** Own batches that are far from the others and do not count. */
  leftOut: z.array(z.object({ batchId: id, lot: z.string() })),
  /** "from 6 of your batches and the published range" */
  evidence: z.string(),
  working,
});
export const batchYields = z.object({
  /** Every stage that the product goes through, recorded or not, and 'overall'. */
  items: z.array(stageExpectation),
});

export type StageExpectation = z.infer<typeof stageExpectation>;
export type BatchYields = z.infer<typeof batchYields>;
