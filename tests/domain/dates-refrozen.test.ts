import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { useBy } from '../../server/domain/dates.ts';
import type { DateInput } from '../../server/domain/dates.ts';
import { givesDaysBack } from '../../server/domain/pack-days.ts';
import { addDays } from '../../server/domain/time.ts';

const input = (change: Partial<DateInput>): DateInput => ({
  product: 'hot-smoked', packageKind: 'tub', storage: 'refrigerated', smokeDay: null, mixedDay: null, ingredientLastDays: [], frozenDay: null, thawedDay: null, ...change,
});

describe('frozen again after a thaw (rules.md date.freeze)', () => {
  const out = { frozenDay: '2025-10-03', thawedDay: '2025-10-10', outDay: '2025-10-10' };

  it('the worked case of NC, called frozen again on 3 October, still ends on 14 October', () => {
    const frozen = useBy(input({ smokeDay: '2025-10-01', storage: 'frozen', frozenDay: '2025-10-03', outBefore: [out] }));
    expect(frozen).toMatchObject({ lastDay: '2025-10-14', kind: 'use-by', daysLeftAfterThaw: null });
    expect(frozen.storageWords).toBe('Keep frozen; thaw in refrigerator; open pack before thawing');
    expect(frozen.reasons.at(-1)!.text).toMatch(/never starts/);
    expect(useBy(input({ smokeDay: '2025-10-01', frozenDay: '2025-10-01', thawedDay: '2025-11-01', outBefore: [out] })).lastDay).toBe('2025-10-14');
  });

  it('frozen again on or after the day it was out, all days before it are used up, and that alone counts', () => {
    const again = { smokeDay: '2025-10-01', frozenDay: '2025-10-06', outBefore: [{ frozenDay: '2025-10-03', thawedDay: '2025-10-05', outDay: '2025-10-05' }] };
    expect(useBy(input({ ...again, storage: 'frozen' }))).toMatchObject({ kind: 'best-before', daysLeftAfterThaw: 2 });
    expect(useBy(input({ ...again, thawedDay: '2025-11-01' })).lastDay).toBe('2025-11-02');
  });

  it('a thaw on record never makes it keep longer', () => {
    const day = (n: number) => addDays('2025-10-01', n);
    fc.assert(fc.property(fc.nat(6), fc.nat(40), fc.array(fc.record({ f: fc.nat(6), t: fc.nat(20), r: fc.nat(5) }), { maxLength: 4 }), fc.boolean(), (f, t, outs, isFrozen) => {
      const now = input({ smokeDay: day(0), frozenDay: day(f), ...(isFrozen ? { storage: 'frozen' as const } : { thawedDay: day(f + t) }) });
      const outBefore = outs.map((o) => ({ frozenDay: day(o.f), thawedDay: day(o.f + o.t), outDay: day(o.f + o.t + o.r) }));
      const [without, withThem] = [useBy(now).lastDay!, useBy({ ...now, outBefore }).lastDay!];
      expect(withThem <= without).toBe(true);
      for (const o of outBefore) if (day(f) < o.outDay) expect(withThem <= useBy(input({ smokeDay: day(0), frozenDay: o.frozenDay, thawedDay: o.thawedDay })).lastDay!).toBe(true);
    }));
  });

  it('asks why where a change would give days back, and never where it takes some', () => {
    const thawed = { storage: 'refrigerated', frozenDay: '2025-10-03', thawedDay: '2025-10-10', lastDay: '2025-10-14', wasOut: true } as const;
    const today = '2025-10-12';
    for (const next of [{ thawedDay: '2025-10-11' }, { thawedDay: null }, { storage: 'frozen', thawedDay: null }, { frozenDay: '2025-10-02' }] as const) expect(givesDaysBack(thawed, { ...thawed, ...next }, today), JSON.stringify(next)).toBe(true);
    for (const next of [{}, { thawedDay: '2025-10-09' }, { frozenDay: '2025-10-04' }, { storage: 'frozen', frozenDay: today, thawedDay: null }] as const) expect(givesDaysBack(thawed, { ...thawed, ...next }, today), JSON.stringify(next)).toBe(false);
    const fresh = { storage: 'refrigerated', frozenDay: null, thawedDay: null, lastDay: '2025-10-14', wasOut: false } as const;
    expect(givesDaysBack(fresh, { storage: 'frozen', frozenDay: '2025-10-11', thawedDay: null }, today)).toBe(false);
    expect(givesDaysBack({ ...fresh, lastDay: '2025-10-11' }, { storage: 'frozen', frozenDay: '2025-10-11', thawedDay: null }, today)).toBe(true);
  });
});

describe('raw fish frozen after its last day (rules.md date.raw, from memory; date.freeze)', () => {
  const raw = { product: 'raw', caughtDay: '2025-10-01', fat: 'lean' } as const;

  it('caught 1 October and frozen 5 October has no months: refused, as smoked fish is', () => {
    for (const more of [{ storage: 'frozen' as const }, { thawedDay: '2025-10-06' }]) expect(() => useBy(input({ ...raw, frozenDay: '2025-10-05', ...more }))).toThrow(/leaves no day/);
    expect(useBy(input({ ...raw, storage: 'frozen', frozenDay: '2025-10-02' })).lastDay).toBe('2026-04-02');
    expect(() => useBy(input({ ...raw, storage: 'frozen', frozenDay: '2025-10-02', club: { 'date.raw.days': 0 } }))).toThrow(/leaves no day/);
  });

  it('has no date where nobody knows when it was caught, and thawed with no day of freezing none beyond that of the catch', () => {
    expect(useBy(input({ product: 'raw', storage: 'frozen', frozenDay: '2025-10-05' })).lastDay).toBeNull();
    expect(useBy(input({ product: 'raw', frozenDay: '2025-10-05', thawedDay: '2025-10-06' })).lastDay).toBeNull();
    expect(useBy(input({ ...raw, thawedDay: '2025-10-20' })).lastDay).toBe('2025-10-02');
  });
});
