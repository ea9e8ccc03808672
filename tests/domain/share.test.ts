import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { largestRemainder, largestRemainderRows } from '../../server/domain/share.ts';
import { DomainError } from '../../server/domain/working.ts';

const CENSUS_1790 = [
  ['VA', 630560, 21], ['MA', 475327, 16], ['PA', 432879, 14], ['NC', 353523, 12], ['NY', 331589, 11], ['MD', 278514, 9], ['CT', 236841, 8], ['SC', 206236, 7],
  ['NJ', 179570, 6], ['NH', 141822, 5], ['VT', 85533, 3], ['GA', 70835, 2], ['KY', 68705, 2], ['RI', 68446, 2], ['DE', 55540, 2],
] as const;

describe('largestRemainder', () => {
  it('seats the 1790 United States census as published (models.md, Sharing)', () => {
    expect(largestRemainder(120, CENSUS_1790.map((row) => row[1]))).toEqual(CENSUS_1790.map((row) => row[2]));
  });

  it('shows the Alabama paradox for weights 6, 6, 2 (models.md, Sharing)', () => {
    expect(largestRemainder(10, [6, 6, 2])).toEqual([4, 4, 2]);
    expect(largestRemainder(11, [6, 6, 2])).toEqual([5, 5, 1]);
  });

  it('gives ties to whoever stands first', () => {
    expect(largestRemainder(2, [1, 1, 1])).toEqual([1, 1, 0]);
  });

  it('takes half shares exactly', () => {
    expect(largestRemainder(100, [1, 0.5, 0.5])).toEqual([50, 25, 25]);
    expect(largestRemainder(3, [0.1, 0.2])).toEqual([1, 2]);
  });

  it('sums exactly, and no part strays a whole unit from its due', () => {
    const weights = fc.array(fc.integer({ min: 0, max: 100_000_000 }), { minLength: 1, maxLength: 60 }).filter((list) => list.some((w) => w > 0));
    fc.assert(fc.property(fc.integer({ min: 0, max: 1_000_000_000 }), weights, (total, list) => {
      const parts = largestRemainder(total, list);
      const sum = list.reduce((a, b) => a + b, 0);
      expect(parts.reduce((a, b) => a + b, 0)).toBe(total);
      parts.forEach((part, i) => expect(Math.abs(part - (total * list[i]!) / sum)).toBeLessThan(1.001));
      list.forEach((weight, i) => { if (weight === 0) expect(parts[i]).toBe(0); });
    }));
  });

  it('explains each part', () => {
    expect(largestRemainderRows(10, [6, 6, 2]).map(({ whole, extra, share }) => [whole, extra, share])).toEqual([[4, 0, 4], [4, 0, 4], [1, 1, 2]]);
    expect(largestRemainderRows(10, [6, 6, 2])[2]!.due).toBeCloseTo(1.4286, 4);
  });

  it.each([[-1, [1]], [1.5, [1]], [Number.NaN, [1]], [1, [-1, 2]], [1, [Number.POSITIVE_INFINITY]], [1, [0, 0]], [1, []]])('refuses %d by %j', (total, weights) => {
    expect(() => largestRemainder(total, weights)).toThrow(DomainError);
  });

  it('divides nothing among nobody', () => {
    expect(largestRemainder(0, [])).toEqual([]);
    expect(largestRemainder(0, [0, 0])).toEqual([0, 0]);
  });
});
