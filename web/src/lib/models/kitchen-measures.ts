import { gramsOfMeasure, kitchenMeasure } from '$domain/cure/kitchen-measures.ts';
import { frac, maths } from './maths.ts';
import { own } from './own/kitchen-measures.ts';
import type { ModelCheck, ModelPage } from './types.ts';

function checks(): ModelCheck[] {
  const cup = (ingredient: Parameters<typeof gramsOfMeasure>[0]['ingredient']) => gramsOfMeasure({ ingredient, amount: 1, measure: 'cup' }).grams;
  return [
    { what: 'A cup of table salt', source: 'USDA SR27 02047', published: 292, found: cup('table-salt'), unit: 'g', within: 0.5 },
    { what: 'A tablespoon of table salt', source: 'USDA SR27 02047', published: 18, found: gramsOfMeasure({ ingredient: 'table-salt', amount: 1, measure: 'tbsp' }).grams, unit: 'g', within: 0.5 },
    { what: 'A cup of granulated sugar', source: 'USDA SR27 19335', published: 200, found: cup('granulated-sugar'), unit: 'g', within: 0.5 },
    { what: 'A cup of brown sugar, packed', source: 'USDA SR27 19334', published: 220, found: cup('brown-sugar-packed'), unit: 'g', within: 0.5 },
    { what: 'A cup of kosher salt in flakes', source: 'from memory (128 to 142 g)', published: 135, found: cup('kosher-salt-flake'), unit: 'g', within: 0.5 },
    { what: '438 g of table salt, as measures', source: 'USDA SR27 02047, by arithmetic', published: '1 1/2 cups', found: kitchenMeasure({ ingredient: 'table-salt', grams: 438 }).text, unit: '', within: 0 },
    { what: '438 g of table salt, as those measures weigh', source: 'USDA SR27 02047', published: 438, found: kitchenMeasure({ ingredient: 'table-salt', grams: 438 }).measuredGrams, unit: 'g', within: 438 / 50 },
  ];
}

export const page: ModelPage = {
  slug: 'kitchen-measures',
  purpose: 'Turns a weight of salt or sugar into cups and spoons for a kitchen without a scale, and back.',
  own,
  equations: [
    { maths: maths('n =', frac('M', 'g_kind')), words: 'The number of cups or spoons is the weight over what one of them holds of that kind.' },
    { maths: maths('| M −', "'what the measures hold'", '| ≤ 0.02 M'), words: 'The simplest way of writing it that comes within 2 percent: cups alone, then with tablespoons, then with teaspoons.' },
  ],
  symbols: [
    { sign: maths('n'), meaning: 'cups, tablespoons or teaspoons, level' },
    { sign: maths('M'), meaning: 'salt or sugar', unit: 'g' },
    { sign: maths('g_kind'), meaning: 'what one measure holds of that kind', unit: 'g' },
  ],
  figures: [
    { what: 'Table salt, sugars, honey, molasses, maple syrup', source: 'USDA SR27', certainty: 'published' },
    { what: 'Kosher salts and sea salts, each with a range', source: 'What such salts usually weigh', certainty: 'from memory' },
    { what: 'A spoon that the table does not print', source: 'A sixteenth of the cup, or a forty-eighth', certainty: 'arithmetic' },
  ],
  range: { holds: 'US cups (237 ml) and spoons, filled level, up to 100 kg or 1,000 measures.', outside: 'A kind of salt that is not in the list is refused: nobody knows what a cup of it holds. Weigh it.' },
  checks,
  limits: [
    'A cup of flakes holds half the salt of a cup of table salt. That is why the kind is always asked for.',
    'How a cup is filled changes it by several percent; heaped cups by far more.',
    'Brands of kosher and sea salt differ. The range is shown; a scale ends the doubt.',
  ],
  never: 'Every amount is kept by weight. Cups are for the kitchen and never for the record.',
};
