import * as c from '../../contract/calculations/plan.ts';
import { scaleFormula } from '../../domain/cure/formula.ts';
import type { CureFormula } from '../../domain/cure/formula.ts';
import { layerPortions } from '../../domain/cure/layers.ts';
import { planCure } from '../../domain/cure/planner.ts';
import type { CurePlanInput } from '../../domain/cure/planner.ts';
import { shoppingList } from '../../domain/cure/shopping.ts';
import { putTooSaltyRight } from '../../domain/cure/too-salty.ts';
import { vesselFit } from '../../domain/cure/vessel.ts';
import { calculation } from './calculation.ts';

// Which kinds of salt and sugar there are is the domain's to say: it answers another one with a list.
export const planCalculations = [
  calculation({ name: 'cure-plan', summary: 'A whole cure, from the fish in it', body: c.curePlanBody, answer: c.curePlanAnswer, reckon: (q) => planCure(q as CurePlanInput) }),
  calculation({ name: 'cure-layers', summary: 'A dry cure shared out layer by layer', body: c.layerPortionsBody, answer: c.layerPortionsAnswer, reckon: layerPortions }),
  calculation({ name: 'cure-vessel', summary: 'Whether fish and cure fit a vessel', body: c.vesselFitBody, answer: c.vesselFitAnswer, reckon: vesselFit }),
  calculation({ name: 'cure-shopping', summary: 'What is short, what to buy and what is left over', body: c.shoppingListBody, answer: c.shoppingListAnswer, reckon: shoppingList }),
  calculation({ name: 'cure-too-salty', summary: 'Too salty, put right in fresh water', body: c.tooSaltyBody, answer: c.tooSaltyAnswer, reckon: putTooSaltyRight }),
  calculation({
    name: 'cure-formula', summary: "A club's formula for another weight of fish", body: c.cureFormulaScaleBody, answer: c.cureFormulaScaleAnswer,
    reckon: (q) => scaleFormula({ ...q, formula: q.formula as CureFormula }),
  }),
];
