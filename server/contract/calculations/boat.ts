// Ice, chilling and histamine, from the catch to the landing and after.
import { z } from 'zod';
import { instant, working } from '../common.ts';
import { checkState, loggedReadings, seriesFlag, seriesGap } from './series.ts';

const grams = z.number();
export const iceToLoadBody = z.object({
  catchG: grams, fishC: z.number(), targetC: z.number().optional(), hours: z.number(), airC: z.number(),
  boxMelt: z.object({ gPerDay: grams, airC: z.number() }).optional().describe("The box's own melt, measured empty"),
});
export const iceToLoadAnswer = z.object({ coolingG: grams, meltG: grams.nullable(), ruleOfThumbG: grams, loadG: grams, advice: z.array(z.string()), working });

export const chillingTimeBody = z.object({ thicknessMm: z.number() });
export const chillingTimeAnswer = z.object({ hours: z.number(), working });

const when = instant.nullable().optional();
const reading = z.number().nullable().optional();
export const histamineLineBody = z.object({
  speciesCode: z.string().max(60), deathAt: when, earliestDeathAt: when, maxAirC: reading, maxWaterC: reading, guttedAt: when, icedAt: when, medium: z.enum(['ice', 'slurry']).nullable().optional(),
  mediumC: reading, landedAt: when, landingCoreC: reading, guttedTwelveHourSource: z.string().max(300).nullable().optional(), clubMaxHours: z.number().optional(),
  clubCoreC: z.strictObject({ from24h: z.number().optional(), from15h: z.number().optional(), from12h: z.number().optional(), below: z.number().optional() }).optional().describe('Colder limits of the core at landing, by hours since death; below: Celsius degrees under air and water'),
});
export const histamineLineAnswer = z.object({
  applies: z.boolean(), state: checkState, chosenCase: z.enum(['hot', 'mild', 'gutted']), reasons: z.array(z.string()), countedFromAt: z.string().nullable(),
  checks: z.array(z.object({ ruleId: z.string(), state: checkState, found: z.string(), limit: z.string(), source: z.string(), whatToDo: z.string() })),
  timeline: z.array(z.object({ at: z.string(), what: z.string(), hours: z.number().nullable() })), noRescue: z.string(), working,
});

export const warmExposureBody = z.object({ readings: loggedReadings, previouslyFrozen: z.boolean(), maxGapMinutes: z.number().optional() });
const band = z.object({ fromC: z.number(), toC: z.number().nullable(), hours: z.number(), maxHours: z.number() });
export const warmExposureAnswer = z.object({
  state: checkState, hoursAbove4C4: z.number(), hoursAbove21C1: z.number(), gapHours: z.number(), limitHours: z.number(), found: z.string(), whatToDo: z.string(),
  organisms: z.array(z.object({ organism: z.string(), bands: z.array(band), shareUsed: z.number(), state: checkState })), gaps: z.array(seriesGap), flags: z.array(seriesFlag), working,
});
