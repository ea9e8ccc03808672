// How long iced fish keeps, as its temperatures have it.
import { z } from 'zod';
import { working } from '../common.ts';
import { loggedReadings, seriesFlag } from './series.ts';

const days = z.number();
export const daysUsedBody = z.object({ readings: loggedReadings, icedLifeDays: days.optional(), longestGapMinutes: z.number().optional() });
export const daysUsedAnswer = z.object({
  usedDays: days, isAtLeast: z.boolean(), usedWithGapsDays: days, loggedHours: z.number(), frozenHours: z.number(), isComplete: z.boolean(), leftDays: days.nullable(),
  gaps: z.array(z.object({ fromAt: z.string(), toAt: z.string(), hours: z.number(), mayAddDays: days })),
  warmest: z.array(z.object({ fromAt: z.string(), toAt: z.string(), highestC: z.number(), extraDays: days })),
  flags: z.array(seriesFlag), notes: z.array(z.string()), working,
});
export const keepingTimeBody = z.object({ icedLifeDays: days, temperatureC: z.number() });
export const keepingTimeAnswer = z.object({ days, timesAsFast: z.number(), working });
export const warmSpellBody = z.object({ usualC: z.number(), warmC: z.number(), hours: z.number() });
export const warmSpellAnswer = z.object({ usedDays: days, extraDays: days, working });
export const listeriaGrowthBody = z.object({ logPerDay: z.number(), atC: z.number(), toC: z.number() });
export const listeriaGrowthAnswer = z.object({ logPerDay: z.number(), timesAsFast: z.number(), informationOnly: z.literal(true), working });
