import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { useBy } from '../../server/domain/dates.ts';
import type { DateEvidence, DateInput } from '../../server/domain/dates.ts';
import { addDays, daysBetween } from '../../server/domain/time.ts';
import { DomainError } from '../../server/domain/working.ts';

const all: DateEvidence = { coreMet: true, coolingMet: true, saltAirMet: true, saltRopMet: true, warmestStoreC: 2.2 };
const input = (change: Partial<DateInput>): DateInput => ({
  product: 'hot-smoked', packageKind: 'tub', storage: 'refrigerated', smokeDay: '2025-05-01', mixedDay: null, ingredientLastDays: [], frozenDay: null, thawedDay: null, ...change,
});
const last = (change: Partial<DateInput>) => useBy(input(change)).lastDay;

describe('up to 14 days (date.fourteen MSU 1997; Missouri; OSU, with salt.air MI569.8)', () => {
  it('from smoking only at 2.2 C with core, cooling and salt shown; the label then says 2.2 C', () => {
    const answer = useBy(input({ evidence: all }));
    expect(answer).toMatchObject({ lastDay: '2025-05-14', kind: 'use-by', storageWords: 'Keep refrigerated at 36 F (2.2 C) or below' });
    expect(answer.reasons.map((r) => r.ruleId)).toEqual(['date.seven', 'date.fourteen', 'salt.air']);
  });
  it.each([{ coreMet: false }, { coolingMet: false }, { saltAirMet: false }, { warmestStoreC: null }, { warmestStoreC: 2.3 }, { warmestStoreC: 3.3 }])('stays at 7 with %j', (less) => {
    expect(useBy(input({ evidence: { ...all, ...less } }))).toMatchObject({ lastDay: '2025-05-07', storageWords: 'Keep refrigerated at 38 F (3.3 C) or below' });
  });
  it('is not for a pack that was frozen, one without air, a dip or raw fish', () => {
    expect(last({ evidence: all, frozenDay: '2025-05-03', thawedDay: '2025-05-10' })).toBe(last({ frozenDay: '2025-05-03', thawedDay: '2025-05-10' }));
    expect(last({ evidence: all, packageKind: 'vacuum' })).toBe('2025-05-07');
    expect(last({ evidence: all, product: 'dip', smokeDay: null, mixedDay: '2025-05-02', ingredientLastDays: ['2025-05-14'] })).toBe('2025-05-04');
    expect(last({ evidence: all, product: 'raw', smokeDay: null, caughtDay: '2025-05-01' })).toBe('2025-05-02');
  });
});

describe('a pack without air in the refrigerator (salt.rop HG ch. 13, rop.freeze FC 3-502.12(C))', () => {
  it.each(['vacuum', 'jar'] as const)('%s is refused without a laboratory figure for salt, and keeps 7 days with one', (packageKind) => {
    expect(() => useBy(input({ packageKind }))).toThrow(DomainError);
    expect(() => useBy(input({ packageKind, evidence: { ...all, saltRopMet: false } }))).toThrow(/botulinum/);
    const answer = useBy(input({ packageKind, evidence: all }));
    expect([answer.lastDay, answer.reasons.map((r) => r.ruleId)]).toEqual(['2025-05-07', ['date.seven', 'salt.rop']]);
  });
  it('is refused for raw fish and whatever was measured of it', () => {
    expect(() => useBy(input({ product: 'raw', smokeDay: null, caughtDay: '2025-05-01', packageKind: 'vacuum', evidence: all }))).toThrow(DomainError);
  });
});

describe("the club's own days", () => {
  it('shorten each date and lengthen none', () => {
    expect(last({ club: { 'date.seven.days': 5 } })).toBe('2025-05-05');
    expect(last({ club: { 'date.seven.days': 9 } })).toBe('2025-05-07');
    expect(last({ evidence: all, club: { 'date.fourteen.days': 10 } })).toBe('2025-05-10');
    expect(last({ evidence: all, club: { 'date.seven.days': 5 } })).toBe('2025-05-05');
    expect(last({ evidence: all, club: { 'date.fourteen.celsius': 1 } })).toBe('2025-05-07');
    expect(last({ storage: 'frozen', frozenDay: '2025-05-02', club: { 'date.frozen.months': 1 } })).toBe('2025-06-02');
    expect(last({ product: 'dip', smokeDay: null, mixedDay: '2025-05-02', ingredientLastDays: ['2025-05-07'], club: { 'date.dip.days': 2 } })).toBe('2025-05-03');
    expect(last({ product: 'raw', smokeDay: null, caughtDay: '2025-05-01', club: { 'date.raw.days': 0 } })).toBe('2025-05-01');
  });
});

describe('worked cases of rules.md hold with all evidence and with none', () => {
  it('made 1 May, discard 7 May', () => expect(last({})).toBe('2025-05-07'));
  it('cooked 1 October, frozen 3, thawed 10 October (day 3): last day 14 October', () => {
    for (const evidence of [undefined, all]) expect(last({ smokeDay: '2025-10-01', frozenDay: '2025-10-03', thawedDay: '2025-10-10', ...(evidence ? { evidence } : {}) })).toBe('2025-10-14');
  });
});

describe('properties', () => {
  const day = fc.integer({ min: 0, max: 40 }).map((n) => addDays('2025-05-01', n));
  const evidence = fc.record({ coreMet: fc.boolean(), coolingMet: fc.boolean(), saltAirMet: fc.boolean(), saltRopMet: fc.boolean(), warmestStoreC: fc.option(fc.double({ min: -1, max: 8, noNaN: true })) });
  const anyInput = fc.record({
    product: fc.constantFrom('hot-smoked', 'dip', 'raw'), packageKind: fc.constantFrom('tub', 'bag', 'vacuum', 'jar'), storage: fc.constantFrom('refrigerated', 'frozen'), smokeDay: fc.option(day), mixedDay: fc.option(day),
    ingredientLastDays: fc.array(day, { maxLength: 3 }), frozenDay: fc.option(day), thawedDay: fc.option(day), caughtDay: fc.option(day), evidence,
    club: fc.record({ 'date.seven.days': fc.integer({ min: 1, max: 10 }), 'date.fourteen.days': fc.integer({ min: 7, max: 20 }), 'date.dip.days': fc.integer({ min: 1, max: 5 }) }, { requiredKeys: [] }),
  }) as fc.Arbitrary<DateInput>;
  /** Days from a fixed day to the last day; nothing and a refusal come before every day. */
  const reach = (i: DateInput): number => {
    try {
      const { lastDay } = useBy(i);
      return lastDay === null ? -1e9 : daysBetween('2025-01-01', lastDay);
    } catch (error) {
      if (error instanceof DomainError) return -1e9;
      throw error;
    }
  };

  it('taking evidence away never lengthens a date', () => {
    fc.assert(fc.property(anyInput, fc.constantFrom('coreMet', 'coolingMet', 'saltAirMet', 'saltRopMet', 'warmestStoreC', 'all' as const), (whole, field) => {
      const less: DateInput = { ...whole, evidence: field === 'all' ? undefined : { ...whole.evidence!, [field]: field === 'warmestStoreC' ? null : false } } as DateInput;
      expect(reach(less)).toBeLessThanOrEqual(reach(whole));
    }), { numRuns: 400 });
  });

  it('frozen and thawed on the day it was smoked it keeps as if never frozen; frozen over night that day counts (date.freeze: the stricter where both are one day)', () => {
    const whole = input({ smokeDay: '2025-05-06', frozenDay: '2025-05-06', thawedDay: '2025-05-06' });
    expect([whole, { ...whole, frozenDay: null }, { ...whole, thawedDay: null }, { ...whole, frozenDay: null, thawedDay: null }].map((i) => useBy(i).lastDay)).toEqual(Array(4).fill('2025-05-12'));
    expect(useBy(whole).daysLeftAfterThaw).toBe(7);
    expect([useBy({ ...whole, thawedDay: '2025-05-07' }), useBy({ ...whole, thawedDay: '2025-05-08' })].map((a) => [a.lastDay, a.daysLeftAfterThaw])).toEqual([['2025-05-12', 6], ['2025-05-13', 6]]);
    // Thawed within a day after its last one, it is past, not new.
    expect(() => useBy({ ...whole, frozenDay: '2025-05-13', thawedDay: '2025-05-13' })).toThrow(/leaves no day of its count/);
  });

  it('taking away the smoke day, the day of mixing, of freezing or of thawing in the refrigerator never lengthens it', () => {
    fc.assert(fc.property(anyInput, fc.constantFrom('smokeDay', 'mixedDay', 'caughtDay', 'frozenDay', 'thawedDay'), (whole, field) => {
      // Without a day of thawing what is in the freezer is still there.
      // In the refrigerator with neither day it is said never to have been frozen, which is no evidence taken away.
      fc.pre(field !== 'frozenDay' || whole.thawedDay !== null || whole.storage === 'frozen');
      fc.pre(field !== 'thawedDay' || (whole.storage === 'refrigerated' && whole.frozenDay !== null && whole.product === 'hot-smoked'));
      // A dip's fish may be dated by itself or by its ingredients: without the one the other decides, as far as it goes.
      fc.pre(!(whole.product === 'dip' && field === 'smokeDay') && !(field === 'frozenDay' && whole.product !== 'hot-smoked'));
      fc.pre(reach(whole) > -1e9);
      expect(reach({ ...whole, [field]: null })).toBeLessThanOrEqual(reach(whole));
    }), { numRuns: 400 });
  });

  it('a warmer store never lengthens it, nor does any limit of a club', () => {
    fc.assert(fc.property(anyInput, fc.double({ min: 0, max: 5, noNaN: true }), (whole, warmer) => {
      const warm = { ...whole, evidence: { ...whole.evidence!, warmestStoreC: whole.evidence!.warmestStoreC === null ? null : whole.evidence!.warmestStoreC + warmer } };
      expect(reach(warm)).toBeLessThanOrEqual(reach(whole));
      expect(reach(whole)).toBeLessThanOrEqual(reach({ ...whole, club: {} }));
    }), { numRuns: 400 });
  });
});
