// What a record's own numbers come to: the last day of a pack, the weight of measured fish, a division by shares.
import { z } from 'zod';
import { dateKind, localDay, packageKind, productKind, storage, working } from '../common.ts';
import { cureGroup, curePiece } from './plan.ts';
import { clubDiffusivity } from './salt.ts';

const day = localDay.nullable();
const fat = z.enum(['lean', 'medium', 'fatty']);

export const lastDayBody = z.object({
  product: productKind,
  packageKind,
  storage,
  smokeDay: day.default(null).describe('The local day smoking began'),
  mixedDay: day.default(null),
  ingredientLastDays: z.array(localDay).max(100).default([]),
  frozenDay: day.default(null),
  thawedDay: day.default(null),
  caughtDay: day.default(null),
  fat: fat.optional().describe('Raw fish: not lean when left out, the stricter'),
  evidence: z
    .object({ coreMet: z.boolean(), coolingMet: z.boolean(), saltAirMet: z.boolean(), saltRopMet: z.boolean(), warmestStoreC: z.number().nullable() })
    .optional()
    .describe('What the records show; what is left out is not shown, which shortens'),
  club: z.record(z.string().max(60), z.number()).optional().describe("The club's own, tighter limits by name; a looser one is not looked at"),
});
export const lastDayAnswer = z.object({
  lastDay: day, kind: dateKind, storageWords: z.string(), labelWords: z.array(z.string()), reasons: z.array(z.object({ ruleId: z.string(), text: z.string(), source: z.string() })),
  daysLeftAfterThaw: z.number().nullable(), working,
});

export const lengthWeightBody = z.object({ speciesCode: z.string().max(80), lengthsCm: z.array(z.number()).max(1000), lengthKind: z.enum(['fork', 'total']) });
export const lengthWeightAnswer = z.object({ grams: z.number(), perFish: z.array(z.number()).describe('Grams, in the order of the lengths'), working });

export const cureGroupsBody = z.object({
  pieces: z.array(curePiece).min(1).max(500),
  targetPercent: z.number().describe('Water-phase salt aimed at'),
  surfacePercent: z.number().describe('Salt by weight of what the fish lies in; 26.395 for a dry cure'),
  brinePerFishWater: z.number().nullable().default(null),
  temperatureC: z.number(),
  club: clubDiffusivity.optional(),
  mostTimes: z.number().optional().describe('In one group the slowest piece takes at most so many times as long as the quickest'),
});
export const cureGroupsAnswer = z.object({ measured: z.literal(false), groups: z.array(cureGroup), clockPercent: z.number(), working });

export const shareOutBody = z.object({ total: z.number().describe('A whole number: grams, or packs'), weights: z.array(z.number()).max(500) });
export const shareOutAnswer = z.object({
  rows: z.array(z.object({ weight: z.number(), due: z.number().describe('The exact due'), whole: z.number(), extra: z.number(), share: z.number() })), working,
});
