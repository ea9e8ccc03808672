import { describe, expect, it } from 'vitest';
import { asksWhy, keepingChange } from '$lib/packs/keeping.ts';

const fresh = { frozenDay: null, thawedDay: null };
const frozen = { frozenDay: '2026-06-10', thawedDay: null };

describe('the days a pack was frozen and thawed, as a correction', () => {
  it('says nothing when they stayed', () => {
    expect(keepingChange(fresh, '', '')).toEqual({});
    expect(keepingChange(frozen, '2026-06-10', '')).toEqual({});
  });

  it('keeps it frozen until it thawed', () => {
    expect(keepingChange(fresh, '2026-06-10', '')).toEqual({ frozenDay: '2026-06-10', thawedDay: null, storage: 'frozen' });
    expect(keepingChange(frozen, '2026-06-10', '2026-06-12')).toEqual({ frozenDay: '2026-06-10', thawedDay: '2026-06-12', storage: 'refrigerated' });
  });

  it('takes the thawing away with the freezing', () => {
    expect(keepingChange({ frozenDay: '2026-06-10', thawedDay: '2026-06-12' }, '', '2026-06-12')).toEqual({ frozenDay: null, thawedDay: null, storage: 'refrigerated' });
  });
});

describe('the reason for a correction that would give days back (date.freeze, FC 3-501.17)', () => {
  const thawed = { storage: 'refrigerated', frozenDay: '2026-06-10', thawedDay: '2026-06-12', lastDay: '2026-06-17' } as const;
  it('is asked for where the thaw is taken out or moved later, and not where it is moved earlier or nothing changed', () => {
    for (const [frozenDay, thawedDay] of [['2026-06-10', ''], ['2026-06-10', '2026-06-14'], ['2026-06-09', '2026-06-12'], ['', '']]) expect(asksWhy(thawed, frozenDay!, thawedDay!, '2026-06-16')).toBe(true);
    for (const [frozenDay, thawedDay] of [['2026-06-10', '2026-06-12'], ['2026-06-10', '2026-06-11'], ['2026-06-16', '']]) expect(asksWhy(thawed, frozenDay!, thawedDay!, '2026-06-16')).toBe(false);
  });
  it('is not asked for of the first freezing while it keeps', () => {
    expect(asksWhy({ ...fresh, storage: 'refrigerated', lastDay: '2026-06-17' }, '2026-06-10', '', '2026-06-12')).toBe(false);
  });
});
