// What a smoker learns from the logs of its own smokes.
import { z } from 'zod';
import { estimate, logFit } from './calculations/cooling.ts';
import { heatTransfer } from './calculations/heat.ts';
import { id, instant, personRef, working } from './common.ts';

export const draught = z.enum(['natural', 'fan']);
const facesOpen = z.enum(['both', 'one']);

export const learntFit = z.object({
  draught,
  hWPerM2K: estimate,
  relativeHumidityPct: estimate,
  /** For a forecast. */
  heat: heatTransfer,
  /** Typical difference of core and model. */
  residualC: z.number(),
  pointsUsed: z.int(),
  smokes: z.int(),
  found: z.string(),
  madeBy: personRef,
  madeAt: instant,
  /** Readings or stages that it was fitted to have changed since: nothing should rest on it until it is fitted anew. */
  stale: z.boolean(),
  working,
});

const batchRef = z.object({ id, lot: z.string(), name: z.string() });
export const learntSmoke = z.object({
  id,
  batch: batchRef,
  stageId: id,
  startedAt: instant,
  finishedAt: instant,
  speciesCode: z.string(),
  thicknessMm: z.number(),
  facesOpen,
  saltPct: z.number().nullable(),
  addedBy: personRef,
  addedAt: instant,
  /** How it lies beside the fit; null when the fit there is was made without it. */
  fit: logFit.nullable(),
});

/** A finished smoke with readings of the core and of the chamber that no smoker learns from yet. */
export const smokeToLearnFrom = z.object({
  batch: batchRef,
  stageId: id,
  startedAt: instant,
  finishedAt: instant,
  /** What most of it is; null when the tables do not say what its flesh is made of. */
  speciesCode: z.string().nullable(),
  /** As its cure was told; null when it was not. */
  thicknessMm: z.number().nullable(),
  /** Salt in its water, as a laboratory measured it. */
  saltPct: z.number().nullable(),
  /** Where its slot says that it was smoked; null without a slot. */
  smokedAt: z.object({ id, name: z.string() }).nullable(),
});

export const smokerLearning = z.object({
  station: z.object({ id, name: z.string() }),
  fit: learntFit.nullable(),
  smokes: z.array(learntSmoke),
  /** The latest first. */
  others: z.array(smokeToLearnFrom),
});

export const learnBody = z.strictObject({
  draught,
  add: z
    .strictObject({
      batchId: id,
      /** The thickest piece. */
      thicknessMm: z.number().min(3, 'Enter 3 to 150 mm').max(150, 'Enter 3 to 150 mm'),
      facesOpen,
      /** null: not known. */
      saltPct: z.number().min(0).max(20, 'Enter 0 to 20 %').nullable().default(null),
      /** null: what most of the batch is. For fish that the tables do not have: one of like fat. */
      speciesCode: z.string().max(60).nullable().default(null),
      /** Somebody says that it was smoked here; asked for where no slot says so. */
      smokedHere: z.boolean().default(false),
    })
    .nullable()
    .default(null),
  /** Smokes to take out of the list. */
  remove: z.array(id).max(20).default([]),
});

export type LearntFit = z.infer<typeof learntFit>;
export type LearntSmoke = z.infer<typeof learntSmoke>;
export type SmokeToLearnFrom = z.infer<typeof smokeToLearnFrom>;
export type SmokerLearning = z.infer<typeof smokerLearning>;
export type LearnBody = z.output<typeof learnBody>;
