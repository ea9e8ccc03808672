// What the calculations of brine and kitchen measures are asked and answer. What a number may be is said by the domain, in a person's words.
import { z } from 'zod';
import { working } from '../common.ts';

const strength = z.object({
  percentByWeight: z.number().describe('Per cent salt by weight of brine'),
  degreesSaturated: z.number().describe('Salometer degrees, on the scale that reads 100 in saturated brine (26.395 %)'),
  degreesCanning: z.number().nullable().describe('Salometer degrees, on the scale that reads 100 at 25 %'),
  specificGravity: z.number().describe('At 60 F (15.6 C)'),
  saltGramsPerLitreWater: z.number(),
  saltLbPerUsGallonWater: z.number(),
  saltGramsPerLitreBrine: z.number(),
  coldest: z.object({ temperatureC: z.number(), because: z.enum(['freezes', 'salt-falls-out']) }),
  working,
});
export const brineStrengthBody = z.object({
  given: z.enum(['percent', 'degrees-saturated', 'degrees-canning', 'specific-gravity']),
  value: z.number(),
});
export const brineStrengthAnswer = strength;

export const brineOfBody = z.object({ saltGrams: z.number(), waterGrams: z.number() });
export const brineOfAnswer = strength;

export const saltForWaterBody = z.object({
  percentByWeight: z.number(),
  waterAmount: z.number(),
  waterUnit: z.enum(['g', 'litre', 'us-gallon', 'us-quart', 'us-cup']),
});
export const saltForWaterAnswer = z.object({ saltGrams: z.number(), saltLb: z.number(), waterGrams: z.number(), brineGrams: z.number(), brineLitres: z.number(), working });

export const brineChangeBody = z.object({ brineGrams: z.number(), fromPercent: z.number(), toPercent: z.number() });
export const brineChangeAnswer = z.object({ waterToAddGrams: z.number(), saltToAddGrams: z.number(), brineGramsAfter: z.number(), percentAfter: z.number(), working });

export const brineCoolingBody = z.object({ brineGrams: z.number(), percentByWeight: z.number(), fromC: z.number(), toC: z.number() });
export const brineCoolingAnswer = z.object({ iceGrams: z.number(), percentAfter: z.number(), saltToKeepStrengthGrams: z.number(), readyForFish: z.boolean(), working });

const cureIngredient = z.string().max(60).describe('Which salt or sugar: a cup of one weighs twice a cup of another');
export const kitchenMeasureBody = z.object({ ingredient: cureIngredient, grams: z.number() });
export const kitchenMeasureAnswer = z.object({
  ingredient: z.string(), name: z.string(), grams: z.number(), text: z.string(), cups: z.number(), tbsp: z.number(), tsp: z.number(),
  measuredGrams: z.number(), lowGrams: z.number().nullable(), highGrams: z.number().nullable(), working,
});
export const gramsOfMeasureBody = z.object({ ingredient: cureIngredient, amount: z.number(), measure: z.enum(['cup', 'tbsp', 'tsp']) });
export const gramsOfMeasureAnswer = z.object({ grams: z.number(), lowGrams: z.number().nullable(), highGrams: z.number().nullable(), working });
