// What fish is to weigh after each stage, from published figures and a club's own batches.
import { z } from 'zod';
import { fishForm, productKind, stageKind, working } from '../common.ts';

const grams = z.number();
const percent = z.number().nullable();
const MOST_BATCHES = 2000;
const ownBatches = z.array(z.object({ id: z.string().max(60), massInG: grams, massOutG: grams })).max(MOST_BATCHES).describe("The club's own batches at this stage");
const cure = z.discriminatedUnion('kind', [z.object({ kind: z.literal('dry') }), z.object({ kind: z.literal('wet'), brinePct: z.number() })]);
const fish = z.object({ species: z.string().max(60).describe('A species code'), form: fishForm, product: productKind, to: fishForm.optional(), cure: cure.optional() });

export const yieldExpectedBody = fish.extend({ stage: stageKind.or(z.literal('overall')), batches: ownBatches.default([]) });
export const yieldExpectedAnswer = z.object({
  known: z.boolean(), reason: z.string(), lowPct: percent, likelyPct: percent, highPct: percent, batches: z.number(), ownWeightPct: z.number(), leftOut: z.array(z.string()), evidence: z.string(), words: z.string(), working,
});

export const yieldQuestionBody = yieldExpectedBody.extend({ massInG: grams, massOutG: grams });
export const yieldQuestionAnswer = z.object({
  asks: z.boolean(), standing: z.enum(['within', 'below', 'above', 'unknown']), actualPct: z.number(), words: z.string(), expected: yieldExpectedAnswer,
});

export const yieldWeightsBody = fish.extend({ massInG: grams, batches: z.partialRecord(stageKind, ownBatches).optional() });
const weight = z.number().nullable();
export const yieldWeightsAnswer = z.object({
  stages: z.array(z.object({ stage: stageKind, estimate: yieldExpectedAnswer, lowGrams: weight, likelyGrams: weight, highGrams: weight, note: z.string() })),
  overall: z.object({ lowPct: z.number(), likelyPct: z.number(), highPct: z.number() }).nullable(),
});
