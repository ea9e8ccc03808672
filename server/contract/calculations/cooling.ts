// Cooling after the smoke, and a smoker fitted to its own logs.
import { z } from 'zod';
import { instant, working } from '../common.ts';
import { heatTransfer, slab } from './heat.ts';
import { checkState, loggedReadings, seriesFlag, seriesGap } from './series.ts';

export const coolingChecksBody = z.object({
  readings: loggedReadings,
  kind: z.enum(['smoked', 'ambient']).describe('Ambient: made from ingredients at room temperature, such as a dip'),
  startedAt: instant.nullable().optional(),
  maxGapMinutes: z.number().optional(),
});
const coolingCheck = z.object({
  ruleId: z.enum(['cool.fc', 'cool.hg', 'cool.ambient']), part: z.enum(['to-21', 'to-end']), state: checkState, minutes: z.number().nullable(), limitMinutes: z.number(),
  found: z.string(), limit: z.string(), source: z.string(), whatToDo: z.string(),
});
export const coolingChecksAnswer = z.object({ state: checkState, checks: z.array(coolingCheck), gaps: z.array(seriesGap), flags: z.array(seriesFlag), working });

const coolingLimits = z.object({ to21Minutes: z.number(), to5Minutes: z.number(), to4C4Minutes: z.number() }).describe("Minutes allowed from 57 to 21 C, from 57 to 5 C, and from 21 to 4.4 C: the rules' 120, 360 and 240, or less");
export const coolingForecastBody = slab.extend({
  stages: z.array(z.object({ medium: z.enum(['room', 'cabinet', 'fan-cabinet', 'ice-bath']), mediumC: z.number(), minutes: z.number(), heat: heatTransfer.optional() })).min(1).max(50),
  thicknessUncertaintyMm: z.number().optional(),
  sampleMinutes: z.number().optional(),
  limits: coolingLimits.optional(),
});
const minutes = z.number().nullable();
export const coolingRun = z.object({
  points: z.array(z.object({ minutes: z.number(), mediumC: z.number(), coreC: z.number(), meanC: z.number(), surfaceC: z.number() })),
  minutesTo57C: minutes, minutesTo21C: minutes, minutesTo5C: minutes, minutesTo4C4: minutes, meetsFc: z.boolean(), meetsHg: z.boolean(),
});
export const coolingForecastAnswer = z.object({
  slow: coolingRun, likely: coolingRun, fast: coolingRun, passes: z.boolean(), deepestMm: z.number().nullable().describe('The deepest tray that passes'), limits: coolingLimits, advice: z.string(), caution: z.string(), working,
});

export const smokerFitBody = z.object({
  logs: z.array(slab.omit({ startC: true }).extend({ chamber: loggedReadings, core: loggedReadings, unitConfirmed: z.boolean().optional() })).min(1).max(20),
  priorHeat: heatTransfer,
  priorHumidityPct: z.number().optional(),
});
export const estimate = z.object({ value: z.number(), standardError: z.number(), low: z.number(), high: z.number(), logWeightPct: z.number() });
/** How one log lies beside the fit. */
export const logFit = z.object({ pointsUsed: z.number(), residualC: z.number(), gaps: z.number(), leftOut: z.number() });
export const smokerFitAnswer = z.object({
  hWPerM2K: estimate, relativeHumidityPct: estimate, heat: heatTransfer, residualC: z.number(), pointsUsed: z.number(), logs: z.array(logFit), converged: z.boolean(), flags: z.array(seriesFlag), found: z.string(), working,
});
