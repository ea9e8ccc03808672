import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { balance, leastAddedG, overall } from '../../server/domain/mass.ts';
import { DomainError, STAGE_ORDER } from '../../server/domain/working.ts';
import type { StageKind } from '../../server/domain/working.ts';

const stage = (kind: StageKind, massInG: number, massOutG: number, trimG = 0, addedG = 0) => ({ kind, massInG, massOutG, trimG, addedG });

describe('balance', () => {
  it('mass in + added = mass out + trim + loss (product.md)', () => {
    expect(balance(stage('prepare', 10_000, 5100, 4800)).lossG).toBe(100);
    expect(balance(stage('cure', 5000, 5300, 0, 400)).lossG).toBe(100);
    expect(balance(stage('smoke', 5000, 5000)).lossG).toBe(0);
  });

  it('holds for any weights that balance (property)', () => {
    const grams = fc.integer({ min: 0, max: 1_000_000 });
    fc.assert(fc.property(fc.constantFrom(...STAGE_ORDER), grams, grams, grams, (kind, out, trim, loss) => {
      expect(balance(stage(kind, out + trim + loss, out, trim)).lossG).toBe(loss);
    }));
  });

  it('refuses more out than in, naming both', () => {
    expect(() => balance(stage('smoke', 5000, 5001))).toThrow(/Weight out 5001 g is 1 g more than the 5000 g that went in/);
    expect(() => balance(stage('prepare', 5000, 4000, 1001))).toThrow(DomainError);
    expect(() => balance(stage('cure', 5000, 5100))).toThrow(/enter what was added/);
  });

  it('takes a cure up to +20 % and a rinse up to +10 % (common practice, above the +2 to +8 % of models.md)', () => {
    expect(balance(stage('cure', 1000, 1200, 0, 200)).lossG).toBe(0);
    expect(() => balance(stage('cure', 1000, 1200, 0, 201))).toThrow(/more than 20 %/);
    expect(balance(stage('rinse', 1000, 1100, 0, 100)).lossG).toBe(0);
    expect(() => balance(stage('rinse', 1000, 1100, 0, 101))).toThrow(/more than 10 %/);
    expect(balance(stage('mix', 500, 5000, 0, 4500)).lossG).toBe(0);
    expect(() => balance(stage('mix', 500, 5000, 0, 4501))).toThrow(DomainError);
  });

  it('adds nothing in any other stage', () => {
    for (const kind of ['prepare', 'dry', 'smoke', 'cool', 'pack'] as const) expect(() => balance(stage(kind, 1000, 900, 0, 1))).toThrow(/nothing is added/);
  });

  it.each([stage('dry', -1, 0), stage('dry', 1.5, 1), stage('dry', 10, Number.NaN), stage('dry', 10, 5, -1), stage('cure', 10, 5, 0, -1), stage('dry', 1e12, 1)])('refuses %j', (bad) => {
    expect(() => balance(bad)).toThrow(DomainError);
  });

  it('tells the least that a cure took up', () => {
    expect(leastAddedG({ kind: 'cure', massInG: 1000, massOutG: 1050, trimG: 10 })).toBe(60);
    expect(leastAddedG({ kind: 'cure', massInG: 1000, massOutG: 950, trimG: 10 })).toBe(0);
    expect(leastAddedG({ kind: 'smoke', massInG: 1000, massOutG: 1050, trimG: 0 })).toBe(0);
  });
});

describe('overall', () => {
  const weights = (kind: StageKind, massInG: number | null, massOutG: number | null, addedG = 0) => ({ kind, massInG, massOutG, addedG });

  it('multiplies the stages (arithmetic)', () => {
    const result = overall([weights('prepare', 10_000, 5000), weights('cure', 5000, 5200), weights('smoke', 5200, 4160)]);
    expect(result.stages.map((one) => one.yieldPct)).toEqual([50, 104, 80]);
    expect(result.overallPct).toBeCloseTo(41.6, 10);
    expect(result.missing).toEqual([]);
  });

  it('does not take fish drawn off between two stages for a loss', () => {
    expect(overall([weights('prepare', 10_000, 5000), weights('smoke', 2500, 2000)]).overallPct).toBeCloseTo(40, 10);
  });

  it('shows what is missing as missing, and bridges a gap in the middle', () => {
    const gap = overall([weights('prepare', 10_000, 5000), weights('rinse', null, null), weights('smoke', 4900, 4000)]);
    expect(gap.stages[1]).toEqual({ kind: 'rinse', yieldPct: null });
    expect(gap.missing).toEqual(['rinse']);
    expect(gap.overallPct).toBeCloseTo(40, 10);
    const half = overall([weights('prepare', 10_000, null), weights('smoke', 4900, 4000)]);
    expect(half.overallPct).toBeCloseTo(40, 10);
  });

  it('has no overall yield without the first mass in or the last mass out', () => {
    expect(overall([weights('prepare', null, 5000), weights('smoke', 5000, 4000)]).overallPct).toBeNull();
    expect(overall([weights('prepare', 10_000, 5000), weights('smoke', 5000, null)]).overallPct).toBeNull();
    expect(overall([weights('prepare', 0, 0)]).overallPct).toBeNull();
    expect(overall([]).overallPct).toBeNull();
  });

  it('counts what a mix adds as going in', () => {
    expect(overall([weights('mix', 500, 1450, 1000)]).stages[0]!.yieldPct).toBeCloseTo(96.667, 3);
  });
});
