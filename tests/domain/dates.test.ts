import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { smokeDayOf, useBy } from '../../server/domain/dates.ts';
import type { DateInput } from '../../server/domain/dates.ts';
import { addDays } from '../../server/domain/time.ts';
import { DomainError } from '../../server/domain/working.ts';

const input = (change: Partial<DateInput>): DateInput => ({
  product: 'hot-smoked', packageKind: 'tub', storage: 'refrigerated', smokeDay: null, mixedDay: null,
  ingredientLastDays: [], frozenDay: null, thawedDay: null, ...change,
});
const rules = (change: Partial<DateInput>) => useBy(input(change)).reasons.map((reason) => reason.ruleId);

describe('hot-smoked, refrigerated', () => {
  it('made 1 May is discarded after 7 May (rules.md, first worked case)', () => {
    expect(useBy(input({ smokeDay: '2025-05-01' }))).toMatchObject({ lastDay: '2025-05-07', kind: 'use-by', daysLeftAfterThaw: null });
    expect(rules({ smokeDay: '2025-05-01', packageKind: 'bag' })).toEqual(['date.seven']);
  });

  it('carries the storage words of rule label.words, word for word', () => {
    const answer = useBy(input({ smokeDay: '2025-05-01' }));
    expect(answer.storageWords).toBe('Keep refrigerated at 38 F (3.3 C) or below');
    expect(answer.labelWords).toContain(answer.storageWords);
  });

  it('takes the earliest date of its ingredients (rules.md date.mixed)', () => {
    expect(useBy(input({ smokeDay: '2025-05-01', ingredientLastDays: ['2025-05-20', '2025-05-04'] })).lastDay).toBe('2025-05-04');
    expect(useBy(input({ smokeDay: '2025-05-01', ingredientLastDays: ['2025-05-20'] })).lastDay).toBe('2025-05-07');
    expect(() => useBy(input({ smokeDay: '2025-05-01', ingredientLastDays: ['2025-04-30'] }))).toThrow(/before the smoke day/);
  });

  it('has no date without a smoke day: a missing record is never a pass', () => {
    const answer = useBy(input({}));
    expect(answer.lastDay).toBeNull();
    expect(answer.reasons.at(-1)!.text).toMatch(/not recorded/);
  });

  it('counts the smoke day from when smoking began, also past midnight', () => {
    expect(smokeDayOf(new Date('2025-05-01T21:30:00Z'), 'Europe/Oslo')).toBe('2025-05-01');
    expect(smokeDayOf(new Date('2025-05-01T22:30:00Z'), 'Europe/Oslo')).toBe('2025-05-02');
  });
});

describe('freezing and thawing (rules.md date.freeze)', () => {
  const worked = { smokeDay: '2025-10-01', frozenDay: '2025-10-03' };

  it('cooked 1 October, frozen 3, thawed 10 October: last day 14 October (second worked case, NC)', () => {
    const answer = useBy(input({ ...worked, thawedDay: '2025-10-10' }));
    expect(answer).toMatchObject({ lastDay: '2025-10-14', kind: 'use-by', daysLeftAfterThaw: 5 });
    expect(answer.storageWords).toMatch(/^Keep refrigerated/);
  });

  it('says while frozen that 5 days are left after thawing (second worked case, NC)', () => {
    const answer = useBy(input({ ...worked, storage: 'frozen' }));
    expect(answer.daysLeftAfterThaw).toBe(5);
    expect(answer.labelWords.join(' ')).toContain('within 5 days of thawing');
  });

  it('is best within 2 months of freezing, the stricter of 2 to 3 (rules.md date.frozen-quality)', () => {
    expect(useBy(input({ ...worked, storage: 'frozen' }))).toMatchObject({ lastDay: '2025-12-03', kind: 'best-before', storageWords: 'Keep frozen; thaw in refrigerator; open pack before thawing' });
    expect(rules({ ...worked, storage: 'frozen' })).toEqual(['date.seven', 'date.frozen-quality', 'date.freeze']);
  });

  it('counts the smoke day as used even when frozen that day (day it is made is day 1, FC 3-501.17)', () => {
    expect(useBy(input({ smokeDay: '2025-10-01', frozenDay: '2025-10-01', thawedDay: '2025-10-20' }))).toMatchObject({ daysLeftAfterThaw: 6, lastDay: '2025-10-25' });
  });

  it('keeps one day when frozen on the seventh, and is refused when frozen on the eighth', () => {
    expect(useBy(input({ smokeDay: '2025-10-01', frozenDay: '2025-10-07', thawedDay: '2025-11-01' }))).toMatchObject({ daysLeftAfterThaw: 1, lastDay: '2025-11-01' });
    expect(() => useBy(input({ smokeDay: '2025-10-01', frozenDay: '2025-10-08', storage: 'frozen' }))).toThrow(/never starts it again/);
  });

  it('takes a missing day of freezing or thawing as never frozen: shorter, never longer', () => {
    expect(useBy(input({ smokeDay: '2025-10-01', thawedDay: '2025-10-10' })).lastDay).toBe('2025-10-07');
    expect(useBy(input({ ...worked, storage: 'refrigerated' })).lastDay).toBe('2025-10-07');
    expect(useBy(input({ smokeDay: '2025-10-01', storage: 'frozen' }))).toMatchObject({ lastDay: '2025-12-01', daysLeftAfterThaw: null });
  });

  it('keeps an earlier ingredient date through the freezer', () => {
    expect(useBy(input({ ...worked, ingredientLastDays: ['2025-10-04'], thawedDay: '2025-10-10' }))).toMatchObject({ daysLeftAfterThaw: 2, lastDay: '2025-10-11' });
  });

  it('never gives more refrigerated days than seven in all, whatever the days (property)', () => {
    fc.assert(fc.property(fc.integer({ min: 0, max: 6 }), fc.integer({ min: 0, max: 400 }), (before, frozenFor) => {
      const frozenDay = addDays('2025-10-01', before);
      const answer = useBy(input({ smokeDay: '2025-10-01', frozenDay, thawedDay: addDays(frozenDay, frozenFor) }));
      // Thawed on the day it was frozen it counts as never frozen, and a smoke day that is that day is among what is left.
      const used = frozenFor === 0 ? before : Math.max(before, 1);
      expect(used + answer.daysLeftAfterThaw!).toBe(7);
      if (frozenFor === 0) expect(answer.lastDay).toBe('2025-10-07');
    }));
  });

  it.each([
    [{ smokeDay: '2025-10-05', frozenDay: '2025-10-03' }, /before smoking/],
    [{ ...worked, thawedDay: '2025-10-02' }, /before freezing/],
    [{ smokeDay: '2025-10-32' }, /day of the calendar/],
    [{ smokeDay: 'yesterday' }, /2025-06-30/],
  ])('refuses %j', (change, message) => {
    expect(() => useBy(input(change))).toThrow(message);
  });
});

describe('packs without air (rules.md salt.rop, rop.freeze)', () => {
  it.each(['vacuum', 'jar'] as const)('refuses a %s in the refrigerator, with the remedy', (packageKind) => {
    for (const product of ['hot-smoked', 'dip', 'raw'] as const) {
      const refuse = () => useBy(input({ product, packageKind, smokeDay: '2025-05-01', mixedDay: '2025-05-01', caughtDay: '2025-05-01' }));
      expect(refuse).toThrow(DomainError);
      expect(refuse).toThrow(/freeze it at once/);
    }
  });

  it('takes a frozen vacuum pack, to be opened before thawing', () => {
    const answer = useBy(input({ packageKind: 'vacuum', storage: 'frozen', smokeDay: '2025-05-01', frozenDay: '2025-05-01' }));
    expect(answer.lastDay).toBe('2025-07-01');
    expect(answer.storageWords).toContain('open pack before thawing');
    expect(answer.reasons.map((reason) => reason.ruleId)).toContain('rop.freeze');
    expect(rules({ packageKind: 'vacuum', smokeDay: '2025-05-01', frozenDay: '2025-05-01', thawedDay: '2025-05-09' })).toContain('rop.freeze');
  });
});

describe('dip (rules.md date.dip, date.mixed)', () => {
  const dip = { product: 'dip', mixedDay: '2025-05-02' } as const;

  it('keeps 3 days from mixing, the stricter of 3 to 4 (FDA/USDA chart)', () => {
    expect(useBy(input({ ...dip, ingredientLastDays: ['2025-05-30'] }))).toMatchObject({ lastDay: '2025-05-04', kind: 'use-by' });
  });

  it("never outlasts the smoked fish's own date", () => {
    expect(useBy(input({ ...dip, smokeDay: '2025-04-27' })).lastDay).toBe('2025-05-03');
    expect(useBy(input({ ...dip, ingredientLastDays: ['2025-05-03', '2025-05-30'] })).lastDay).toBe('2025-05-03');
    expect(rules({ ...dip, smokeDay: '2025-04-27' })).toEqual(['date.dip', 'date.mixed']);
  });

  it('has no date without the day of mixing or the date of its fish', () => {
    expect(useBy(input({ ...dip })).lastDay).toBeNull();
    expect(useBy(input({ product: 'dip', ingredientLastDays: ['2025-05-30'] })).lastDay).toBeNull();
  });

  it('is refused when made of food past its date, and when frozen', () => {
    expect(() => useBy(input({ ...dip, smokeDay: '2025-04-25' }))).toThrow(/after an ingredient's last day/);
    expect(() => useBy(input({ ...dip, smokeDay: '2025-05-01', storage: 'frozen' }))).toThrow(/freezes badly/);
  });
});

describe('raw fish (rules.md date.raw, from memory)', () => {
  const raw = { product: 'raw', caughtDay: '2025-05-01' } as const;

  it('keeps one day after the catch in the refrigerator, the stricter of 1 to 2', () => {
    expect(useBy(input(raw))).toMatchObject({ lastDay: '2025-05-02', kind: 'use-by', working: { certainty: 'from memory' } });
    expect(useBy(input({ product: 'raw' })).lastDay).toBeNull();
  });

  it('keeps 6 months frozen when lean and 2 when not, or when not known', () => {
    const frozen = { ...raw, storage: 'frozen', frozenDay: '2025-05-02' } as const;
    expect(useBy(input({ ...frozen, fat: 'lean' })).lastDay).toBe('2025-11-02');
    expect(useBy(input({ ...frozen, fat: 'fatty' })).lastDay).toBe('2025-07-02');
    expect(useBy(input(frozen)).lastDay).toBe('2025-07-02');
    expect(useBy(input({ ...raw, storage: 'frozen' })).lastDay).toBe('2025-07-01');
    expect(useBy(input({ product: 'raw', storage: 'frozen' })).lastDay).toBeNull();
  });

  it('is cooked on the day it thaws', () => {
    expect(useBy(input({ ...raw, frozenDay: '2025-05-02', thawedDay: '2025-06-01' }))).toMatchObject({ lastDay: '2025-06-01', daysLeftAfterThaw: 1 });
  });
});
