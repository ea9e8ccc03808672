// What people who eat the fish are told.
import { z } from 'zod';
import { adviceItem, allergenFound } from '../advice.ts';
import { productKind, working } from '../common.ts';

const ingredients = z.string().max(10_000).describe('As on the label');

export const adviceBody = z.object({
  speciesCodes: z.array(z.string().max(60)).max(50),
  area: z.string().max(200).nullable().default(null).describe('Where it was caught; never repeated in the answer'),
  product: productKind,
  ingredients: ingredients.default(''),
  allergens: z.array(z.string().max(40)).max(100).default([]).describe('That somebody named'),
});
export const adviceAnswer = z.object({ items: z.array(adviceItem), label: z.array(z.string()), contains: z.array(z.string()), unticked: z.array(allergenFound), working });

export const allergensFoundBody = z.object({ ingredients });
export const allergensFoundAnswer = z.object({ found: z.array(allergenFound) });

export const servingBody = z.object({ ageYears: z.number() });
export const servingAnswer = z.object({ rawGrams: z.number(), working });

export const mercuryMealsBody = z.object({
  speciesCode: z.string().max(60),
  bodyKg: z.number(),
  mealGrams: z.number(),
  yieldPct: z.number().optional().describe('Smoked weight over raw; the meal is raw when left out'),
  area: z.string().max(200).nullable().optional(),
});
export const mercuryMealsAnswer = z.object({ mealsPerMonth: z.number(), exact: z.number(), meanPpm: z.number(), rawMealGrams: z.number(), words: z.string(), working });
