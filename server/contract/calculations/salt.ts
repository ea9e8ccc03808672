// Salt on its way into the fish. Every answer is a prediction: `measured` is false, and no rule that asks for a measurement is met by it.
import { z } from 'zod';
import { working } from '../common.ts';

const fat = z.enum(['lean', 'medium', 'fatty']);
const percent = z.number();
const predicted = { measured: z.literal(false) };
const profile = z.array(z.object({ depthMm: z.number(), percent })).describe('From the open face inward, in per cent water-phase salt');
export const clubDiffusivity = z.object({ m2PerSAt5C: z.number(), bandFactor: z.number() });
export const clubByFat = z.object({ lean: clubDiffusivity.optional(), medium: clubDiffusivity.optional(), fatty: clubDiffusivity.optional() });

const fishConditions = z.object({
  fat,
  temperatureC: z.number(),
  onceFrozen: z.boolean(),
  club: clubDiffusivity.optional().describe("The club's own figure, from salt-refit"),
});
export const cureConditions = fishConditions.extend({
  thicknessMm: z.number(),
  openFaces: z.union([z.literal(1), z.literal(2)]).describe('2 without skin, 1 with skin on one face'),
  brinePercent: percent.describe('Salt by weight of what the fish lies in; 26.395 for a dry cure that has not run out'),
  startPercent: percent.optional(),
  brinePerFishWater: z.number().nullable().optional().describe('Brine over the water in the fish, by weight; left out: so much brine that it stays as strong'),
});

export const diffusivityBody = fishConditions;
export const diffusivityAnswer = z.object({ m2PerS: z.number(), lowM2PerS: z.number(), highM2PerS: z.number(), bandFactor: z.number(), working });

export const saltUptakeBody = cureConditions.extend({ minutes: z.number() });
export const saltUptakeAnswer = z.object({
  ...predicted, meanPercent: percent, meanLowPercent: percent, meanHighPercent: percent, centrePercent: percent, centreLowPercent: percent, centreHighPercent: percent,
  equilibriumPercent: percent, accomplishedPercent: percent, fourier: z.number(), profile, diffusivity: diffusivityAnswer, working,
});

export const timeToSaltBody = cureConditions.extend({ targetPercent: percent });
const minutes = z.number().nullable();
export const timeToSaltAnswer = z.object({
  ...predicted, reachable: z.boolean(), reason: z.string(), minutes, earliestMinutes: minutes, latestMinutes: minutes,
  halfHourLessPercent: percent.nullable(), halfHourMorePercent: percent.nullable(), working,
});

export const saltCourseBody = cureConditions.extend({ untilMinutes: z.number() });
export const saltCourseAnswer = z.object({
  ...predicted, equilibriumPercent: percent, points: z.array(z.object({ minutes: z.number(), meanPercent: percent, lowPercent: percent, highPercent: percent, centrePercent: percent })), working,
});

const drying = z.object({ curedWaterPercent: percent.describe('Water in the fish after the cure'), keptPercent: percent.describe('Finished weight in per cent of that after the cure') });
export const saltAfterDryingBody = drying.extend({ curedPercent: percent });
export const saltBeforeDryingBody = drying.extend({ finishedPercent: percent });
const dried = z.object({ ...predicted, waterPhaseSaltPercent: percent, waterPercentAfter: percent, working });
export const saltAfterDryingAnswer = dried;
export const saltBeforeDryingAnswer = dried;

const spread = z.object({
  ...predicted, meanPercent: percent, centrePercent: percent, surfacePercent: percent, meanLowPercent: percent, meanHighPercent: percent, profile, working,
});
export const equaliseSaltBody = cureConditions.extend({ minutes: z.number(), restMinutes: z.number(), restTemperatureC: z.number() });
export const equaliseSaltAnswer = spread;
export const freshenSaltBody = cureConditions.extend({ minutes: z.number(), waterMinutes: z.number(), waterTemperatureC: z.number() });
export const freshenSaltAnswer = spread;

export const saltRefitBody = z.object({
  fat,
  measurements: z.array(cureConditions.omit({ fat: true, club: true }).extend({ minutes: z.number(), measuredPercent: percent, sdPercent: percent.optional(), keptPercent: percent.optional(), curedWaterPercent: percent.optional() })).max(200),
});
export const saltRefitAnswer = clubDiffusivity.extend({ startM2PerSAt5C: z.number(), measurements: z.number(), residuals: z.array(z.number()), notes: z.array(z.string()), working });

export const waterPhaseSaltBody = z.object({ saltPercent: percent, moisturePercent: percent });
export const waterPhaseSaltAnswer = z.object({ waterPhaseSaltPercent: percent, working });
export const saltForTargetBody = z.object({ targetPercent: percent, fishWaterGrams: z.number() });
export const saltForTargetAnswer = z.object({ saltGrams: z.number(), working });
export const equilibriumSaltBody = z.object({ saltGrams: z.number(), brineWaterGrams: z.number(), fishWaterGrams: z.number() });
export const equilibriumSaltAnswer = z.object({ ...predicted, percent, working });
export const waterActivityBody = z.object({ waterPhaseSaltPercent: percent });
export const waterActivityAnswer = z.object({ waterActivity: z.number(), model: z.enum(['Resnik-Chirife', 'Pitzer']), working });

export const weightAfterCureBody = z.object({ grams: z.number(), cure: z.discriminatedUnion('kind', [z.object({ kind: z.literal('dry') }), z.object({ kind: z.literal('wet'), brinePct: percent })]) });
export const weightAfterCureAnswer = z.object({ lowGrams: z.number(), likelyGrams: z.number(), highGrams: z.number(), changePercent: percent, working });
