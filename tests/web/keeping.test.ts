import { describe, expect, it } from 'vitest';
import { keepingChange } from '$lib/packs/keeping.ts';

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
