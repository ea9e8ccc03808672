import { gramsOfMeasure, kitchenMeasure } from '$domain/cure/kitchen-measures.ts';
import { CUP_WEIGHTS, CURE_INGREDIENTS, type CureIngredient } from '$domain/cure/kitchen-weights.ts';
import { showWeight } from '../../show.ts';
import { choice, number, part } from './part.ts';

const kinds = Object.fromEntries(CURE_INGREDIENTS.map((kind) => [kind, CUP_WEIGHTS[kind].name])) as Record<CureIngredient, string>;
const range = (low: number | null, high: number | null): { band?: string } => (low === null || high === null ? {} : { band: `${showWeight(low)} to ${showWeight(high)}` });

export const own = [
  part({
    title: 'What do these cups or spoons weigh?',
    calculations: ['grams-of-measure'],
    fields: { ingredient: choice('Of what', kinds, 'table-salt'), amount: number('How many', 1), measure: choice('Measure', { cup: 'US cups', tbsp: 'Tablespoons', tsp: 'Teaspoons' }, 'cup') },
    reckon: (v) => {
      const g = gramsOfMeasure(v);
      return { rows: [{ label: 'Weighs', value: showWeight(g.grams), exact: g.grams, ...range(g.lowGrams, g.highGrams), working: g.working }], cautions: [{ level: 'mind', text: 'A cup varies with how it is filled: weigh it when you can.' }] };
    },
  }),
  part({
    title: 'How many cups is this weight?',
    calculations: ['kitchen-measure'],
    fields: { ingredient: choice('Of what', kinds, 'table-salt'), grams: number('Weight', 300, { kind: 'weight', small: true }) },
    reckon: (v) => {
      const k = kitchenMeasure(v);
      return { rows: [{ label: 'About', value: k.text, exact: k.text, working: k.working }, { label: 'Those measures weigh', value: showWeight(k.measuredGrams), exact: k.measuredGrams, ...range(k.lowGrams, k.highGrams), working: k.working }] };
    },
  }),
];
