import { describe, expect, it } from 'vitest';
import { againstSharing, CLAIM_REMEDY } from '../../web/src/lib/packs/against.ts';
import { states } from '../../web/src/lib/ui/states.ts';

const good = { recalled: false, verdict: 'clear', notMet: false, lastDay: '2026-06-10' } as const;

describe('what stands against a claimed pack', () => {
  it('is nothing up to and on its last day, and its date from the day after (date.seven, FC 3-501.17: the last day is the 7th)', () => {
    expect(againstSharing(good, '2026-06-09')).toBeNull();
    expect(againstSharing(good, '2026-06-10')).toBeNull();
    expect(againstSharing(good, '2026-06-11')).toBe('past');
  });

  it('is the gravest of what there is; a day that cannot be told is no pass', () => {
    const day = '2026-06-11';
    expect(againstSharing({ ...good, recalled: true, verdict: 'hold', notMet: true }, day)).toBe('recalled');
    expect(againstSharing({ ...good, verdict: 'do-not-share', notMet: true }, day)).toBe('do-not-share');
    expect(againstSharing({ ...good, verdict: 'hold', notMet: true }, day)).toBe('hold');
    expect(againstSharing({ ...good, verdict: 'hold', lastDay: null }, day)).toBe('hold-unrecorded');
    expect(againstSharing({ ...good, lastDay: null }, day)).toBe('unknown');
  });

  it('comes with a mark that is no pass and with what to do', () => {
    for (const [state, words] of Object.entries(CLAIM_REMEDY)) {
      expect(states[state as keyof typeof CLAIM_REMEDY].tone, state).toMatch(/^(buoy|wreck)$/);
      expect(words, state).toMatch(/refuse/);
    }
    expect(CLAIM_REMEDY.past).toMatch(/throw this pack away/);
  });
});
