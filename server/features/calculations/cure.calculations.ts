import * as c from '../../contract/calculations/cure.ts';
import { changeBrine, coolBrineWithIce } from '../../domain/cure/brine-change.ts';
import { brineOf, brineStrength, saltForWater } from '../../domain/cure/brine.ts';
import { gramsOfMeasure, kitchenMeasure } from '../../domain/cure/kitchen-measures.ts';
import type { CureIngredient } from '../../domain/cure/kitchen-measures.ts';
import { calculation } from './calculation.ts';

/** Which kinds there are is the domain's to say: it answers another one with a list. */
const kind = (ingredient: string) => ingredient as CureIngredient;

export const cureCalculations = [
  calculation({ name: 'brine-strength', summary: 'A brine strength in every measure', body: c.brineStrengthBody, answer: c.brineStrengthAnswer, reckon: brineStrength }),
  calculation({ name: 'brine-of', summary: 'The strength of salt stirred into water', body: c.brineOfBody, answer: c.brineOfAnswer, reckon: brineOf }),
  calculation({ name: 'salt-for-water', summary: 'The salt for an amount of water', body: c.saltForWaterBody, answer: c.saltForWaterAnswer, reckon: saltForWater }),
  calculation({ name: 'brine-change', summary: 'What makes a brine weaker or stronger', body: c.brineChangeBody, answer: c.brineChangeAnswer, reckon: changeBrine }),
  calculation({ name: 'brine-cooling', summary: 'The ice that cools a brine', body: c.brineCoolingBody, answer: c.brineCoolingAnswer, reckon: coolBrineWithIce }),
  calculation({
    name: 'kitchen-measure', summary: 'Grams of salt or sugar as cups and spoons', body: c.kitchenMeasureBody, answer: c.kitchenMeasureAnswer,
    reckon: (q) => kitchenMeasure({ ...q, ingredient: kind(q.ingredient) }),
  }),
  calculation({
    name: 'grams-of-measure', summary: 'The weight of cups and spoons of salt or sugar', body: c.gramsOfMeasureBody, answer: c.gramsOfMeasureAnswer,
    reckon: (q) => gramsOfMeasure({ ...q, ingredient: kind(q.ingredient) }),
  }),
];
