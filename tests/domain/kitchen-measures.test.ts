import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CUP_WEIGHTS, CURE_INGREDIENTS, gramsOfMeasure, kitchenMeasure } from '../../server/domain/cure/kitchen-measures.ts';
import { refused } from '../support/refused.ts';
import { table } from '../support/table.ts';

describe('cup weights, row by row (cup-weights.csv, USDA SR27; kosher and sea salts from memory)', () => {
  const codes: Record<string, (typeof CURE_INGREDIENTS)[number]> = {
    'table salt': 'table-salt', 'granulated sugar': 'granulated-sugar', 'brown sugar packed': 'brown-sugar-packed', 'brown sugar unpacked': 'brown-sugar-unpacked', 'turbinado sugar': 'turbinado-sugar',
    'honey': 'honey', 'molasses': 'molasses', 'maple syrup': 'maple-syrup', 'kosher salt flake': 'kosher-salt-flake', 'kosher salt compacted': 'kosher-salt-compacted',
    'fine sea salt': 'fine-sea-salt', 'coarse sea salt': 'coarse-sea-salt',
  };

  it.each(table('cup-weights'))('%s (%s): %s g a cup, %s a tablespoon, %s a teaspoon', (name, ndb, cup, tbsp, tsp, source) => {
    const row = CUP_WEIGHTS[codes[name!]!];
    expect(row.gramsPerCup).toBe(Number(cup));
    if (tbsp) expect(row.gramsPerTbsp).toBe(Number(tbsp));
    if (tsp) expect(row.gramsPerTsp).toBe(Number(tsp));
    expect(row.certainty).toBe(source!.startsWith('USDA') ? 'published' : 'from memory');
    if (ndb) expect(row.source).toBe(`USDA SR27 ${ndb}`);
    const range = /range (\d+)-(\d+)/.exec(source!);
    expect(row.cupRange).toEqual(range ? [Number(range[1]), Number(range[2])] : null);
  });

  it('has no row that the table lacks', () => {
    expect(Object.values(codes).sort()).toEqual([...CURE_INGREDIENTS].sort());
  });
});

describe('kitchenMeasure', () => {
  it.each([
    ['table-salt', 292, '1 cup'], ['table-salt', 438, '1 1/2 cups'], ['table-salt', 6, '1 tsp'], ['table-salt', 18, '1 tbsp'], ['table-salt', 9, '1 1/2 tsp'], ['table-salt', 97.33, '1/3 cup'],
    ['table-salt', 310, '1 cup + 1 tbsp'], ['granulated-sugar', 200, '1 cup'], ['brown-sugar-packed', 165, '3/4 cup'], ['kosher-salt-flake', 292, '2 cups + 3 tbsp'], ['table-salt', 0, 'none'],
  ] as const)('%s, %d g: %s (USDA SR27 cup weights; flakes from memory)', (ingredient, grams, text) => {
    expect(kitchenMeasure({ ingredient, grams }).text).toBe(text);
  });

  it('shows that flakes hold about half of table salt, with the range (from memory, 128 to 142 g)', () => {
    const flakes = kitchenMeasure({ ingredient: 'kosher-salt-flake', grams: 135 });
    expect(flakes).toMatchObject({ text: '1 cup', lowGrams: 128, highGrams: 142, working: { certainty: 'from memory' } });
    expect(kitchenMeasure({ ingredient: 'table-salt', grams: 135 }).cups).toBeLessThan(0.5);
  });

  it('measures weigh what was asked: within 2 %, or within an eighth of a teaspoon and the table\'s own rounding', () => {
    fc.assert(fc.property(fc.constantFrom(...CURE_INGREDIENTS), fc.double({ min: 0, max: 20_000, noNaN: true }), (ingredient, grams) => {
      const amount = kitchenMeasure({ ingredient, grams });
      expect(Math.abs(amount.measuredGrams - grams)).toBeLessThanOrEqual(Math.max(grams / 50, CUP_WEIGHTS[ingredient].gramsPerTsp / 8 + 0.1));
      expect(amount.text).toMatch(/^(none|\d.*)$/);
    }));
  });

  it('turns measures into grams and back', () => {
    fc.assert(fc.property(fc.constantFrom(...CURE_INGREDIENTS), fc.integer({ min: 1, max: 40 }), (ingredient, quarters) => {
      const { grams } = gramsOfMeasure({ ingredient, amount: quarters / 4, measure: 'cup' });
      expect(kitchenMeasure({ ingredient, grams }).cups).toBeCloseTo(quarters / 4, 6);
    }));
  });

  it.each([['sand', 5], ['table-salt', -1], ['table-salt', Number.NaN], ['table-salt', 1e6]] as const)('refuses %s of %d g', (ingredient, grams) => {
    expect(refused(() => kitchenMeasure({ ingredient: ingredient as never, grams })).remedy).not.toBe('');
    expect(refused(() => gramsOfMeasure({ ingredient: ingredient as never, amount: grams, measure: 'cup' }))).toHaveProperty('field');
  });
});
