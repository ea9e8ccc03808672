import { describe, expect, it } from 'vitest';
import { coolsYet, isBegun, smokedWhen, standingInList, standingOnPage } from '../../web/src/lib/batches/standing.ts';
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

  it('that smokes or is mixed now is said to be not finished; one that was smoked is on hold in the list too', () => {
    const smokes: Known = { ...fresh, smokeDay: '2026-06-10', lastStage: 'smoke', running: { ...at, kind: 'smoke' } };
    expect(standingInList(smokes)).toEqual({ state: 'not-yet', word: 'smoking is not finished' });
    expect(standingOnPage(smokes, [missing])).toEqual({ state: 'not-yet', word: 'hold: smoking is not finished' });
    expect(standingInList({ ...smokes, productKind: 'dip', running: { ...at, kind: 'mix' } }).word).toBe('mixing is not finished');
    expect(standingInList({ ...fresh, running: { ...at, kind: 'cure' } }).word).toBe('not smoked yet');
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

  it('was smoked once its smoke has ended, here or before it came here; cooling is ahead until it is cold or packed', () => {
    const smoke = { kind: 'smoke', startedAt: '2026-06-10T09:00:00.000Z', finishedAt: null, cooledAt: null };
    const of = (stages: object[], smokeDay: string | null = '2026-06-10') => ({ productKind: 'hot-smoked', smokeDay, lastStage: 'smoke', stages }) as unknown as Parameters<typeof smokedWhen>[0] & Parameters<typeof coolsYet>[0];
    const ended = { ...smoke, finishedAt: '2026-06-10T13:00:00.000Z' };
    expect(smokedWhen(of([], null))).toBeNull();
    expect(smokedWhen(of([smoke]))).toBeNull();
    expect(smokedWhen(of([ended]))).toEqual({ startedAt: smoke.startedAt, finishedAt: ended.finishedAt });
    expect(smokedWhen(of([]))).toEqual({ day: '2026-06-10' });
    expect(coolsYet(of([ended]))).toBe(true);
    expect(coolsYet(of([ended, { kind: 'cool', finishedAt: null, cooledAt: null }]))).toBe(true);
    expect(coolsYet(of([ended, { kind: 'cool', finishedAt: '2026-06-10T19:00:00.000Z', cooledAt: null }]))).toBe(false);
    expect(coolsYet(of([{ ...ended, cooledAt: '2026-06-10T19:00:00.000Z' }]))).toBe(false);
    expect(coolsYet({ ...of([ended]), lastStage: 'pack' })).toBe(false);
  });
});
