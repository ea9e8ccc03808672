import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { repeatExample } from '../../server/domain/weight-list-repeat.ts';
import { parseWeightList } from '../../server/domain/weight-list.ts';

const grams = (text: string, unit: 'g' | 'kg' | 'lb' | 'oz' = 'g') => {
  const { weights, problems } = parseWeightList(text, unit);
  return problems.length === 0 ? weights.map((weight) => weight.grams) : problems;
};

describe('lists that read one way only', () => {
  it.each([
    ['250\n260\n255', 'g', [250, 260, 255]],
    ['250 260 255', 'g', [250, 260, 255]],
    ['250; 260;255', 'g', [250, 260, 255]],
    ['250, 260, 255', 'g', [250, 260, 255]],
    ['250 , 260', 'g', [250, 260]],
    ['0,31, 0,29', 'kg', [310, 290]],
    ['0.310\n0.295', 'kg', [310, 295]],
    ['0,310\r\n0,295\r', 'kg', [310, 295]],
    ['250g 260 g 0.3 kg', 'g', [250, 260, 300]],
    ['8 oz\n1 lb 4 oz\n1lb', 'g', [227, 567, 454]],
    ['1) 250\n2) 260', 'g', [250, 260]],
    ['1. 250\n2. 0.310 kg', 'g', [250, 310]],
    ['#1 250\n#2: 260', 'g', [250, 260]],
    ['1\t250\n2\t310\n3\t255', 'g', [250, 310, 255]],
    ['1 0,25\n2 0,31', 'kg', [250, 310]],
    ['250 x3', 'g', [250, 250, 250]],
    ['250x2 260', 'g', [250, 250, 260]],
    ['3 x 250', 'g', [250, 250, 250]],
    ['3x 250; 260', 'g', [250, 250, 250, 260]],
    ['2 × 0.25', 'kg', [250, 250]],
    ['0.25 x 2', 'kg', [250, 250]],
    ['250 g x2', 'kg', [250, 250]],
    ['2 x 80 g', 'kg', [80, 80]],
    ['20 x2', 'g', [20, 20]],
    ['3 x 3', 'oz', [85, 85, 85]],
    ['2x2', 'lb', [907, 907]],
    ['', 'g', []],
    ['\n  \n', 'g', []],
  ] as const)('reads %j (default %s)', (text, unit, expected) => {
    expect(grams(text, unit)).toEqual(expected);
  });

  it('counts lines from 1, empty ones too', () => {
    expect(parseWeightList('250\n\n260 270', 'g').weights).toEqual([{ lineNo: 1, grams: 250 }, { lineNo: 3, grams: 260 }, { lineNo: 3, grams: 270 }]);
  });

  it('takes forty weights as they come, and reads back any list it is given (property)', () => {
    const list = fc.array(fc.integer({ min: 100, max: 50_000 }), { minLength: 1, maxLength: 40 });
    fc.assert(fc.property(list, fc.constantFrom('\n', '; ', ' g\n', ', '), (weights, between) => {
      expect(grams(weights.join(between))).toEqual(weights);
      expect(grams(weights.map((weight) => (weight / 1000).toFixed(3)).join('\n'), 'kg')).toEqual(weights);
    }));
  });
});

describe('what cannot be read is named, never guessed', () => {
  it.each([
    ['1,250', 'g', '1,250'], ['250,260', 'g', '250,260'], ['250,260,255', 'g', '250,260,255'], ['1 250', 'g', '1 250'], ['20 x 30', 'g', '20 x 30'],
    ['mackerel', 'g', 'mackerel'], ['-250', 'g', '-250'], ['0', 'g', '0'], ['250 stone', 'g', '250 stone'], ['250', 'kg', '250'], ['0.310', 'g', '0.310'],
    ['60 kg', 'g', '60 kg'], ['1 250 g', 'g', '1 250 g'], ['🐟', 'g', '🐟'], ['600 x 250 g', 'g', '600 x 250 g'], ['250 x0', 'g', '250 x0'], ['250 g x', 'g', null],
  ] as const)('%j (default %s) is a problem that shows %j', (text, unit, shown) => {
    const { weights, problems } = parseWeightList(text, unit);
    expect(weights).toEqual([]);
    expect(problems.length).toBeGreaterThan(0);
    if (shown !== null) expect(problems).toMatchObject([{ lineNo: 1, text: shown }]);
    for (const problem of problems) expect(problem.remedy).not.toBe('');
  });

  it.each(['g', 'kg', 'lb', 'oz'] as const)('the way that is taught in %s reads one way only', (unit) => {
    const { weights, problems } = parseWeightList(repeatExample(unit), unit);
    expect([weights.length, new Set(weights.map((w) => w.grams)).size, problems]).toEqual([3, 1, []]);
    expect(parseWeightList('20 x 30', unit).problems[0]!.remedy).toContain(repeatExample(unit));
  });

  it('keeps the readable entries beside a bad one', () => {
    const { weights, problems } = parseWeightList('250 abc 260\n270', 'g');
    expect(weights.map((weight) => weight.grams)).toEqual([260, 270]);
    expect(problems).toMatchObject([{ lineNo: 1, text: '250 abc' }]);
  });

  it('survives anything that is pasted (property)', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 200 }), fc.constantFrom('g', 'kg', 'lb', 'oz'), (text, unit) => {
      const { weights, problems } = parseWeightList(text, unit as 'g');
      for (const weight of weights) expect(Number.isInteger(weight.grams) && weight.grams > 0 && weight.grams <= 50_000).toBe(true);
      for (const problem of problems) expect(problem.text.length).toBeLessThan(60);
      if (/\d/.test(text)) expect(weights.length + problems.length).toBeGreaterThan(0);
    }));
  });

  it('refuses a list that is too long', () => {
    expect(parseWeightList('250\n'.repeat(20_000), 'g').problems).toHaveLength(1);
    const many = parseWeightList('250 x500\n'.repeat(5), 'g');
    expect(many.weights).toHaveLength(2000);
    expect(many.problems).toMatchObject([{ lineNo: 5 }]);
  });
});
