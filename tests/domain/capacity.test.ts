import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fits, peakLoad } from '../../server/domain/capacity.ts';
import type { CapacitySlot } from '../../server/domain/capacity.ts';
import { checkStageOrder } from '../../server/domain/stage-order.ts';
import type { StageKind } from '../../server/domain/working.ts';

const at = (hour: number) => new Date(Date.UTC(2025, 5, 1) + hour * 3_600_000);
const slot = (from: number, to: number, amount: number): CapacitySlot => ({ startsAt: at(from), endsAt: at(to), amount });

describe('capacity (half-open slots)', () => {
  it('finds the highest load and when it starts', () => {
    expect(peakLoad([slot(0, 4, 5), slot(2, 6, 7), slot(6, 8, 11)])).toEqual({ peak: 12, at: at(2) });
    expect(peakLoad([])).toEqual({ peak: 0, at: null });
  });

  it('lets one slot start as another ends', () => {
    expect(fits(10, [slot(0, 4, 10)], slot(4, 8, 10))).toEqual({ ok: true });
  });

  it('says by how much and when it is over', () => {
    expect(fits(10, [slot(2, 4, 6), slot(3, 5, 2)], slot(0, 8, 5))).toEqual({ ok: false, over: 3, from: at(2), to: at(4) });
    expect(fits(4, [], slot(0, 8, 5))).toEqual({ ok: false, over: 1, from: at(0), to: at(8) });
  });

  it('is not troubled by an overload outside the new slot', () => {
    expect(fits(10, [slot(0, 4, 11)], slot(4, 8, 10))).toEqual({ ok: true });
  });

  it('agrees with counting hour by hour (property)', () => {
    const slots = fc.array(fc.tuple(fc.nat(20), fc.integer({ min: 1, max: 10 }), fc.nat(9)).map(([from, long, amount]) => ({ from, to: from + long, amount })), { minLength: 1, maxLength: 12 });
    fc.assert(fc.property(slots, fc.integer({ min: 0, max: 30 }), (list, capacity) => {
      const [next, ...existing] = list as [(typeof list)[0], ...typeof list];
      const load = (hour: number) => list.filter((one) => one.from <= hour && hour < one.to).reduce((sum, one) => sum + one.amount, 0);
      const hours = Array.from({ length: next.to - next.from }, (_, i) => next.from + i);
      const worst = Math.max(...hours.map(load));
      const answer = fits(capacity, existing.map((one) => slot(one.from, one.to, one.amount)), slot(next.from, next.to, next.amount));
      expect(answer.ok).toBe(worst <= capacity);
      if (!answer.ok) expect(answer.over).toBe(worst - capacity);
      expect(peakLoad(list.map((one) => slot(one.from, one.to, one.amount))).peak).toBe(Math.max(...Array.from({ length: 31 }, (_, hour) => load(hour))));
    }));
  });

  it.each([[slot(4, 4, 1)], [slot(5, 4, 1)], [slot(0, 1, -1)], [slot(0, 1, Number.NaN)]])('refuses %j', (bad) => {
    expect(() => fits(10, [], bad)).toThrow();
    expect(() => peakLoad([bad])).toThrow();
  });

  it('refuses a capacity that is no number', () => {
    expect(() => fits(Number.NaN, [], slot(0, 1, 1))).toThrow();
  });
});

describe('checkStageOrder', () => {
  const stage = (kind: StageKind, from: number, to: number) => ({ kind, startsAt: at(from), endsAt: at(to) });

  it('takes stages one after the other, in any order of listing, with stages left out', () => {
    expect(checkStageOrder([stage('smoke', 9, 13), stage('cure', 0, 8), stage('cool', 13, 15)])).toEqual({ ok: true });
    expect(checkStageOrder([])).toEqual({ ok: true });
  });

  it('says which stages a slot breaks', () => {
    expect(checkStageOrder([stage('cure', 0, 8), stage('dry', 7, 9), stage('smoke', 6, 10)])).toEqual({
      ok: false,
      breaks: [
        { kind: 'dry', otherKind: 'cure', text: 'Dry would start before cure ends.' },
        { kind: 'smoke', otherKind: 'cure', text: 'Smoke would start before cure ends.' },
        { kind: 'smoke', otherKind: 'dry', text: 'Smoke would start before dry ends.' },
      ],
    });
  });

  it('lets two tubs of one stage overlap, and names a pair once', () => {
    expect(checkStageOrder([stage('cure', 0, 8), stage('cure', 2, 9)])).toEqual({ ok: true });
    const broken = checkStageOrder([stage('cure', 0, 8), stage('cure', 2, 9), stage('smoke', 7, 10)]);
    expect(broken.ok === false && broken.breaks).toHaveLength(1);
  });

  it('refuses a finish before the start', () => {
    expect(() => checkStageOrder([stage('cure', 8, 8)])).toThrow(/later end/);
  });
});
