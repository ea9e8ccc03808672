// What fish does in a smoker: a forecast, and what readings show. A forecast never stands in for a reading.
import { z } from 'zod';
import { instant, working } from '../common.ts';
import { checkState, loggedReadings, seriesFlag, seriesGap } from './series.ts';

const composition = z.object({ waterPct: z.number(), proteinPct: z.number(), fatPct: z.number(), ashPct: z.number(), carbohydratePct: z.number().optional() }).describe('Per cent of the weight');

export const thermalPropertiesBody = composition.extend({ temperatureC: z.number() });
export const thermalPropertiesAnswer = z.object({ conductivityWPerMK: z.number(), specificHeatKjPerKgK: z.number(), densityKgPerM3: z.number(), working });

export const humidAirBody = z.object({ airC: z.number(), relativeHumidityPct: z.number(), pressureKPa: z.number().optional() });
export const humidAirAnswer = z.object({ saturationKPa: z.number(), vapourKPa: z.number(), vapourDensityGPerM3: z.number(), dewPointC: z.number(), wetBulbC: z.number(), working });

export const slabThetaBody = z.object({ biot: z.number(), fourier: z.number(), depth: z.number().describe('0 at the centre, 1 at the face') });
export const slabThetaAnswer = z.object({ theta: z.number(), working });

/** A piece of fish as a slab: of a species in the tables, or of a composition that is given. */
export const slab = z.object({
  speciesCode: z.string().max(60).optional(),
  composition: composition.optional(),
  thicknessMm: z.number(),
  facesOpen: z.enum(['both', 'one']),
  startC: z.number(),
  waterPhaseSaltPct: z.number().optional(),
});
export const heatTransfer = z.object({ likelyWPerM2K: z.number(), lowWPerM2K: z.number(), highWPerM2K: z.number() }).describe('Heat transfer of the place: a smoker with natural draft has 8 to 15, with a fan 20 to 45');

export const smokeForecastBody = slab.extend({
  heat: heatTransfer,
  thicknessUncertaintyMm: z.number().optional(),
  stages: z.array(z.object({ airC: z.number(), relativeHumidityPct: z.number(), minutes: z.number() })).max(100).optional(),
  log: z.object({ readings: loggedReadings, relativeHumidityPct: z.number(), startAt: instant.optional() }).optional().describe('With stages too, those go on where the log ends'),
  heatFrom: z.string().max(200).optional(),
  limitC: z.number().optional(),
  holdMinutes: z.number().optional(),
  sampleMinutes: z.number().optional(),
});
const stall = z.object({ fromMinutes: z.number(), toMinutes: z.number(), coreC: z.number(), withinRule: z.boolean(), text: z.string() });
export const smokeRun = z.object({
  points: z.array(z.object({ minutes: z.number(), airC: z.number(), coreC: z.number(), surfaceC: z.number(), meanC: z.number(), lossGPerKg: z.number() })),
  minutesToLimit: z.number().nullable(),
  minutesToHold: z.number().nullable(),
  maxCoreC: z.number(),
  endCoreC: z.number(),
  lossGPerKg: z.number(),
  stall: stall.nullable(),
});
export const smokeForecastAnswer = z.object({
  slow: smokeRun, likely: smokeRun, fast: smokeRun, limitC: z.number(), holdMinutes: z.number(), lastsMinutes: z.number(), loggedMinutes: z.number().nullable(), wetBulbAtEndC: z.number(),
  flags: z.array(seriesFlag), gaps: z.array(seriesGap), caution: z.string(), working,
});

const judged = { maxGapMinutes: z.number().optional(), unitConfirmed: z.boolean().optional().describe('Somebody has looked at the unit of an unusually hot log') };
export const lethalityBody = z.object({ readings: loggedReadings, organism: z.enum(['listeria', 'botulinum-fda', 'botulinum-uk']).optional(), ...judged });
export const lethalityAnswer = z.object({
  state: checkState, equivalentMinutes: z.number(), trapezoidMinutes: z.number(), neededMinutes: z.number(), decimalReductions: z.number(), referenceC: z.number(),
  recordedMinutes: z.number(), found: z.string(), gaps: z.array(seriesGap), flags: z.array(seriesFlag), working,
});

export const holdBody = z.object({ readings: loggedReadings, limitC: z.number().optional(), neededMinutes: z.number().optional(), ...judged });
export const holdAnswer = z.object({
  state: checkState, longestMinutes: z.number(), fromAt: z.string().nullable(), toAt: z.string().nullable(), maxCoreC: z.number().nullable(), limitC: z.number(), neededMinutes: z.number(),
  endsInHold: z.boolean(), found: z.string(), whatToDo: z.string(), gaps: z.array(seriesGap), flags: z.array(seriesFlag), working,
});
