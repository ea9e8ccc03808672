import { describe, expect, it } from 'vitest';
import type { StageExpectation } from '$contract/yields.ts';
import { expectedWords, outside, weightQuestion } from '$lib/batches/yields.ts';

const working = { inputs: [], formula: '', source: '', certainty: 'arithmetic' as const };
const smoke: StageExpectation = {
  stage: 'smoke', known: true, reason: '', lowPct: 61.2, likelyPct: 66, highPct: 71.8, batches: 6, ownWeightPct: 80, leftOut: [], evidence: 'from 6 of your batches and the published range', working,
};

describe('a weight held against what is expected', () => {
  it('is asked about outside the range, in words that say what to do', () => {
    expect(weightQuestion([smoke], 'smoke', 1000, 600)).toMatchObject({ asks: true, standing: 'below', words: expect.stringContaining('less than usual: 61 to 72 % expected. Weigh again') });
    expect(weightQuestion([smoke], 'smoke', 1000, 720)).toMatchObject({ asks: true, standing: 'above' });
    expect(weightQuestion([smoke], 'smoke', 1000, 660)).toMatchObject({ asks: false, standing: 'within' });
  });

  it('is not asked about while there is nothing to hold it against', () => {
    for (const [items, massInG, massOutG] of [[undefined, 1000, 600], [[], 1000, 600], [[{ ...smoke, known: false, lowPct: null, highPct: null }], 1000, 600], [[smoke], 0, 600], [[smoke], 1000, null], [[smoke], 1000, -1]] as const) {
      expect(weightQuestion(items, 'smoke', massInG, massOutG)).toBeNull();
    }
  });

  it('of the whole batch is questioned outside its range, and not where no range or no weight is known', () => {
    expect([61.1, 61.2, 71.8, 71.9].map((pct) => outside(pct, smoke))).toEqual(['below', 'within', 'within', 'above']);
    expect([outside(null, smoke), outside(20, undefined), outside(20, null), outside(20, { lowPct: null, highPct: null })]).toEqual(['within', 'within', 'within', 'within']);
  });

  it('tells the range with what it rests on', () => {
    expect(expectedWords(smoke)).toBe('61 to 72 % expected, from 6 of your batches and the published range');
  });
});
