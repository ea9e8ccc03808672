import { describe, expect, it } from 'vitest';
import { isBegun, standingInList, standingOnPage } from '../../web/src/lib/batches/standing.ts';
import { states } from '../../web/src/lib/ui/states.ts';

type Known = Parameters<typeof standingInList>[0];
const fresh: Known = { verdict: 'hold', recalled: false, productKind: 'hot-smoked', smokeDay: null, running: null, lastStage: null };
const at = { id: 'r', startedAt: '2026-06-10T09:00:00.000Z', dueAt: null };
const missing = { state: 'not-recorded', means: 'hold' } as const;
const wrong = { state: 'not-met', means: 'hold' } as const;

describe('how a batch stands (look.md: wreck for not met, buoy for not recorded)', () => {
  it('that is new is not smoked yet, with the mark of what is not recorded and no cross', () => {
    expect(standingOnPage(fresh, [missing])).toEqual({ state: 'not-yet', word: 'hold: not smoked yet' });
    expect(standingInList(fresh)).toEqual({ state: 'not-yet', word: 'not smoked yet' });
    expect(states['not-yet'].tone).toBe('buoy');
    expect(states['not-yet'].shape).not.toBe('cross');
  });

  it('that smokes now is not smoked yet; one that was smoked is on hold in the list too', () => {
    expect(standingInList({ ...fresh, smokeDay: '2026-06-10', lastStage: 'smoke', running: { ...at, kind: 'smoke' } }).word).toBe('not smoked yet');
    expect(standingInList({ ...fresh, smokeDay: '2026-06-10', lastStage: 'smoke' })).toEqual({ state: 'hold' });
    expect(isBegun({ ...fresh, smokeDay: '2026-06-10', lastStage: 'cool', running: { ...at, kind: 'cool' } })).toBe(true);
  });

  it('of which something is not met shows the cross, however early', () => {
    expect(standingOnPage(fresh, [missing, wrong])).toEqual({ state: 'hold', word: 'hold, do not share yet' });
    expect(standingInList({ ...fresh, verdict: 'do-not-share' })).toEqual({ state: 'do-not-share' });
  });

  it('of which something is only not recorded is on hold without the cross; what was let go is no cross either', () => {
    const smoked = { ...fresh, smokeDay: '2026-06-10', lastStage: 'cool' } as const;
    expect(standingOnPage(smoked, [missing, { state: 'not-met', means: 'nothing' }])).toEqual({ state: 'not-yet', word: 'hold, do not share yet' });
  });

  it('says of a dip that it is not mixed, and of raw fish that it is on hold; recalled comes first', () => {
    expect(standingInList({ ...fresh, productKind: 'dip', smokeDay: '2026-06-10' }).word).toBe('not mixed yet');
    expect(standingInList({ ...fresh, productKind: 'dip', lastStage: 'mix' })).toEqual({ state: 'hold' });
    expect(standingInList({ ...fresh, productKind: 'raw' })).toEqual({ state: 'hold' });
    expect(standingInList({ ...fresh, recalled: true }).state).toBe('recalled');
  });
});
