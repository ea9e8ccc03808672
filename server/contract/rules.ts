import { z } from 'zod';
import { evidenceAt, instant, packageKind, personRef, productKind, readingPlace, ruleGroup, stageKind, text, version } from './common.ts';

const effect = z.enum(['hold', 'do-not-share', 'nothing']);
/** A number of a rule, and the club's own where it tightened it. */
export const ruleLimit = z.object({
  id: z.string(),
  name: z.string(),
  value: z.number(),
  /** 'degrees': Celsius degrees between two temperatures. */
  unit: z.enum(['C', 'degrees', 'minutes', 'hours', 'percent', 'ppm', 'days', 'months']),
  /** 'at-least' and 'above': a club may ask for more; 'at-most': for less. */
  direction: z.enum(['at-least', 'above', 'at-most']),
  tightest: z.number(),
  club: z.object({ value: z.number(), by: personRef, at: instant, version }).nullable(),
});
export const rule = z.object({
  /** 'check': held against a batch. 'guidance': what no record can show. 'advice': for those who eat it. */
  kind: z.enum(['check', 'guidance', 'advice']),
  id: z.string(),
  title: z.string(),
  group: ruleGroup,
  appliesTo: z.object({ products: z.array(productKind), hazard: z.enum(['scombrotoxin']).nullable(), packages: z.array(packageKind), stages: z.array(stageKind) }),
  evidence: z.string(),
  /** 'nowhere': no record shows it. */
  evidenceAt: z.enum([...evidenceAt.options, 'nowhere']),
  evidenceStage: stageKind.nullable(),
  evidencePlace: readingPlace.nullable(),
  limits: z.array(ruleLimit),
  /** What it asks or advises, where its limits do not say it. */
  words: z.string(),
  source: z.string(),
  certainty: z.enum(['published', 'from memory', 'common practice', 'arithmetic']),
  whatToDo: z.string(),
  ifNotMet: effect,
  ifNotRecorded: effect,
  releasable: z.boolean(),
});
export const ruleList = z.object({ items: z.array(rule) });
export const limitParams = z.object({ id: z.string().min(1).max(60) });
/** Tightens a limit for the club; null gives the rule's own back. The version is that of the club's limit, 0 when it has none. */
export const limitBody = z.strictObject({ value: z.number().nullable(), version: z.int().min(0), reason: text(300, 'reason').default('') });
export const limitChanged = z.object({
  limit: ruleLimit,
  judged: z.int().meta({ description: 'Batches judged anew' }),
  /** Of those, what stands worse than before; packsOut: packs of these that are with somebody. */
  stopped: z.object({ onHold: z.int(), doNotShare: z.int(), packsOut: z.int() }),
});

export type LimitChanged = z.infer<typeof limitChanged>;
export type RuleRecord = z.infer<typeof rule>;
export type RuleLimitRecord = z.infer<typeof ruleLimit>;
