/** The club's formulas on screen: how one is written down, and how the planner starts from one. */
import type { Formula, FormulaBody } from '$contract/formulas.ts';
import { scaleFormula, type CureFormula, type ScaledFormula } from '$domain/cure/formula.ts';
import { CUP_WEIGHTS, CURE_INGREDIENTS, type CureIngredient } from '$domain/cure/kitchen-weights.ts';
import type { CurePlan } from '$domain/cure/planner.ts';
import { DomainError } from '$domain/working.ts';
import type { PlannerValues } from './values.ts';

export type IngredientChoice = CureIngredient | 'water' | 'other';
export const ingredientChoices: readonly { value: IngredientChoice; label: string }[] = [
  ...CURE_INGREDIENTS.map((value) => ({ value, label: CUP_WEIGHTS[value].name })), { value: 'water', label: 'Water' }, { value: 'other', label: 'Something else' },
];

export interface FormulaLine {
  key: number;
  choice: IngredientChoice | '';
  /** Of something else. */
  name: string;
  grams: number | null;
}
export interface FormulaValues {
  name: string;
  method: 'dry' | 'brine';
  fishGrams: number | null;
  lines: FormulaLine[];
  note: string;
}

let keys = 0;
export const newLine = (choice: IngredientChoice | '' = ''): FormulaLine => ({ key: keys++, choice, name: '', grams: null });

export const linesOf = (formula: Pick<Formula, 'items'>): FormulaLine[] =>
  formula.items.map((item) => ({ ...newLine((item.ingredient as IngredientChoice | null) ?? 'other'), name: item.ingredient === null ? item.name : '', grams: item.grams }));

/** What is sent; an unfinished line goes along, so that it is refused by name instead of being lost. */
export const bodyOf = (v: FormulaValues) => ({
  name: v.name, method: v.method, fishGrams: v.fishGrams, note: v.note,
  items: v.lines.map((line) => ({ name: line.choice === 'other' || line.choice === '' ? line.name : (ingredientChoices.find((c) => c.value === line.choice)?.label ?? ''), ingredient: line.choice === 'other' || line.choice === '' ? null : line.choice, grams: line.grams })),
});

/** The formula for another weight of fish, or why not. */
export function scaled(formula: Formula, fishGrams: number): { scaled: ScaledFormula } | { error: string } {
  try {
    return { scaled: scaleFormula({ formula: formula as CureFormula, fishGrams }) };
  } catch (cause) {
    if (cause instanceof DomainError) return { error: cause.message };
    throw cause;
  }
}

/** The planner's answers as the formula has them, for the fish that is planned. */
export function startFrom(formula: Formula, fishGrams: number): Partial<PlannerValues> {
  const result = scaled(formula, fishGrams);
  if ('error' in result) return {};
  const { items, strength, saltPercentOfFish } = result.scaled;
  const ofRole = (role: 'salt' | 'sugar') => items.filter((item) => item.ingredient !== null && item.ingredient !== 'water' && CUP_WEIGHTS[item.ingredient].role === role);
  const sum = (list: readonly { grams: number }[]) => list.reduce((total, { grams }) => total + grams, 0);
  const [salts, sugars] = [ofRole('salt'), ofRole('sugar')];
  const kind = (list: typeof items) => (list[0]?.ingredient ?? '') as CureIngredient | '';
  const others = items.flatMap((item) => (item.ingredient === null ? { name: item.name, grams: Math.round(item.grams) } : []));
  const shared = {
    others, method: formula.method, saltKind: kind(salts), sugarKind: kind(sugars), sugarPer100Salt: sugars.length === 0 ? null : Math.round((1000 * sum(sugars)) / sum(salts)) / 10,
  };
  if (formula.method === 'dry') return { ...shared, saltPercentOfFish };
  return { ...shared, brinePercent: strength?.percentByWeight ?? null, waterGrams: sum(items.filter((item) => item.ingredient === 'water')) };
}

/** A plan as a formula of the club, still without a name. */
export function formulaOf(plan: CurePlan, values: PlannerValues): FormulaBody {
  const { amounts } = plan;
  const items = amounts.ingredients.map((line): FormulaBody['items'][number] => ({ name: line.name, ingredient: line.ingredient, grams: line.grams }));
  items.push(...values.others.map((other) => ({ ...other, ingredient: null })));
  if (amounts.waterGrams > 0) items.push({ name: 'Water', ingredient: 'water', grams: amounts.waterGrams });
  return { name: '', method: values.method === 'dry' ? 'dry' : 'brine', fishGrams: plan.fishGrams, items, note: '' };
}
