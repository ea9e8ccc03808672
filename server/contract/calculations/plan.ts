// A whole cure planned from the fish in it, and its parts.
import { z } from 'zod';
import { fishForm, working } from '../common.ts';
import { brineStrengthAnswer, kitchenMeasureAnswer } from './cure.ts';
import { clubByFat, clubDiffusivity, cureConditions, timeToSaltAnswer, weightAfterCureAnswer } from './salt.ts';

const grams = z.number();
const percent = z.number();
const predicted = { measured: z.literal(false) };
const named = z.string().max(200);

export const curePiece = z.object({
  id: named,
  grams,
  thicknessMm: z.number(),
  skin: z.boolean(),
  form: fishForm,
  species: named.optional(),
  fat: z.enum(['lean', 'medium', 'fatty']).optional(),
  part: z.enum(['loin', 'belly', 'tail']).optional(),
  onceFrozen: z.boolean().optional(),
  waterPercent: percent.optional(),
});
const ingredientGrams = z.object({ ingredient: named, grams });
const packageSize = z.object({ ingredient: named, packageGrams: grams });

export const curePlanBody = z.object({
  pieces: z.array(curePiece).min(1).max(500),
  method: z.enum(['dry', 'brine', 'equilibrium-brine']),
  targetPercent: percent.describe('Water-phase salt aimed at, after the cure; or in the finished fish when finishedKeptPercent is given'),
  finishedKeptPercent: percent.optional().describe('The most of its weight after the cure that the finished fish may keep'),
  saltKind: named,
  sugarKind: named.optional(),
  sugarPer100Salt: z.number().optional(),
  waterGrams: grams.optional(),
  brinePercent: percent.optional(),
  saltPercentOfFish: percent.optional(),
  placeTemperatureC: z.number(),
  brineTemperatureC: z.number().nullable().optional(),
  plannedMinutes: z.number().optional(),
  brineUsedBefore: z.boolean().nullable().optional(),
  vessel: z.object({ litres: z.number(), headspacePercent: percent.optional() }).optional(),
  layers: z.number().optional(),
  stock: z.array(ingredientGrams).max(100).optional(),
  packages: z.array(packageSize).max(200).optional(),
  club: clubDiffusivity.optional(),
  clubByFat: clubByFat.optional().describe("The club's own figures by fat class, as /api/salt-figures has them; go before `club`"),
});

const cureAmounts = z.object({
  ...predicted, method: z.enum(['dry', 'brine', 'equilibrium-brine']), saltGrams: grams, sugarGrams: grams, waterGrams: grams, ingredients: z.array(kitchenMeasureAnswer),
  strength: brineStrengthAnswer.nullable(), cureGrams: grams, cureLitres: z.number(), equilibriumPercent: percent, brinePerFishWater: z.number().nullable(), surfacePercent: percent, working,
});
const pieceClock = z.object({ id: z.string(), thicknessMm: z.number(), time: timeToSaltAnswer });
export const cureGroup = z.object({
  name: z.string(), ids: z.array(z.string()), grams, thinnestMm: z.number(), thickestMm: z.number(), first: pieceClock, last: pieceClock, takeOutMinutes: z.number().nullable(),
  firstThenPercent: percent.nullable(), firstThenLowPercent: percent.nullable(), firstThenHighPercent: percent.nullable(),
});
export const vesselFitBody = z.object({ fishGrams: grams, cureLitres: z.number(), vesselLitres: z.number(), headspacePercent: percent.optional() });
export const vesselFitAnswer = z.object({
  fits: z.boolean(), needLitres: z.number(), usableLitres: z.number(), vessels: z.number(), perVessel: z.array(z.object({ fishGrams: grams, cureLitres: z.number() })), working,
});
const cureLayer = z.object({ layer: z.number(), what: z.string(), fishGrams: grams, cureGrams: grams, leftGrams: grams });
export const layerPortionsBody = z.object({ cureGrams: grams, layersFishGrams: z.array(grams).max(100) });
export const layerPortionsAnswer = z.object({ layers: z.array(cureLayer), working });
export const shoppingListBody = z.object({ needs: z.array(ingredientGrams).max(100), stock: z.array(ingredientGrams).max(100), packages: z.array(packageSize).max(200) });
export const shoppingListAnswer = z.object({
  enough: z.boolean(), short: z.array(z.string()), words: z.string(),
  lines: z.array(z.object({
    ingredient: z.string(), needGrams: grams, haveGrams: grams, shortGrams: grams, buy: z.array(z.object({ packageGrams: grams, packages: z.number() })), leftOverGrams: grams,
  })),
  working,
});
const cureWarning = z.object({ ruleId: z.string(), level: z.enum(['must', 'check']), text: z.string(), source: z.string() });

export const curePlanAnswer = z.object({
  ...predicted, fishGrams: grams, fishWaterGrams: grams, water: z.array(z.object({ id: z.string(), percent, source: z.string() })), amounts: cureAmounts, curedTargetPercent: percent, curedTargetWorking: working.nullable(), groups: z.array(cureGroup),
  clockPercent: percent, longestMinutes: z.number().nullable(), latestMinutes: z.number().nullable(), vessel: vesselFitAnswer.nullable(), layers: z.array(cureLayer).nullable(), shopping: shoppingListAnswer.nullable(),
  warnings: z.array(cureWarning), weightAfter: weightAfterCureAnswer.omit({ changePercent: true }), note: z.string(), working,
});

export const tooSaltyBody = cureConditions.extend({ minutes: z.number(), targetPercent: percent, waterTemperatureC: z.number(), nowPercent: percent.optional() });
export const tooSaltyAnswer = z.object({
  ...predicted, isTooSalty: z.boolean(), nowPercent: percent, waterMinutes: z.number().nullable(), afterPercent: percent.nullable(), afterLowPercent: percent.nullable(), afterHighPercent: percent.nullable(),
  course: z.array(z.object({ minutes: z.number(), meanPercent: percent })), steps: z.array(z.string()), working,
});

const formulaItem = z.object({ name: named, ingredient: named.nullable(), grams });
export const cureFormulaScaleBody = z.object({ formula: z.object({ name: named, method: z.enum(['dry', 'brine']), fishGrams: grams, items: z.array(formulaItem).max(50) }), fishGrams: grams });
export const cureFormulaScaleAnswer = z.object({
  name: z.string(), fishGrams: grams, factor: z.number(), items: z.array(formulaItem.extend({ kitchen: kitchenMeasureAnswer.nullable() })), strength: brineStrengthAnswer.nullable(), saltPercentOfFish: percent, working,
});
