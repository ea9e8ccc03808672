import { describe, expect, it } from 'vitest';
import { coolsYet, isBegun, runningMark, smokedWhen, standingInList, standingOnPage, verdictInFull } from '../../web/src/lib/batches/standing.ts';
import { states } from '../../web/src/lib/ui/states.ts';

type Known = Parameters<typeof standingInList>[0];
const fresh: Known = { verdict: 'hold', notMet: false, recalled: false, productKind: 'hot-smoked', smokeDay: null, running: null, lastStage: null };
const at = { id: 'r', startedAt: '2026-06-10T09:00:00.000Z', dueAt: null };

describe('how a batch stands (look.md: wreck for not met, buoy for not recorded)', () => {
  it('that is new is not smoked yet, with the mark of what is not recorded and no cross', () => {
    expect(standingOnPage(fresh)).toEqual({ state: 'not-yet', word: 'hold: not smoked yet' });
    expect(standingInList(fresh)).toEqual({ state: 'not-yet', word: 'not smoked yet' });
    expect(states['not-yet'].tone).toBe('buoy');
    expect(states['not-yet'].shape).not.toBe('cross');
  });

  it('that smokes or is mixed now is said to be not finished; one that was smoked is on hold in the list too', () => {
    const smokes: Known = { ...fresh, smokeDay: '2026-06-10', lastStage: 'smoke', running: { ...at, kind: 'smoke' } };
    expect(standingInList(smokes)).toEqual({ state: 'not-yet', word: 'smoking is not finished' });
    expect(standingOnPage(smokes)).toEqual({ state: 'not-yet', word: 'hold: smoking is not finished' });
    expect(standingInList({ ...smokes, productKind: 'dip', running: { ...at, kind: 'mix' } }).word).toBe('mixing is not finished');
    expect(standingInList({ ...fresh, running: { ...at, kind: 'cure' } }).word).toBe('not smoked yet');
    expect(standingInList({ ...fresh, smokeDay: '2026-06-10', lastStage: 'smoke' })).toEqual({ state: 'hold-unrecorded' });
    expect(isBegun({ ...fresh, smokeDay: '2026-06-10', lastStage: 'cool', running: { ...at, kind: 'cool' } })).toBe(true);
  });

  it('that is worked on says what is done, in the colour of heat for a smoke alone (look.md: ember)', () => {
    expect(runningMark('pack')).toEqual({ state: 'under-way', word: 'being packed' });
    expect([states[runningMark('smoke').state].tone, states[runningMark('pack').state].tone, states[runningMark('cure').state].tone]).toEqual(['ember', 'tide', 'tide']);
  });

  it('of which something is not met shows the cross, however early', () => {
    expect(standingOnPage({ ...fresh, notMet: true })).toEqual({ state: 'hold', word: 'hold, do not share: not met' });
    expect(standingInList({ ...fresh, notMet: true })).toEqual({ state: 'hold' });
    expect(standingInList({ ...fresh, verdict: 'do-not-share', notMet: true })).toEqual({ state: 'do-not-share' });
  });

  it('of which something is only not recorded is on hold without the cross, in the list and on its page', () => {
    const smoked = { ...fresh, smokeDay: '2026-06-10', lastStage: 'cool' } as const;
    expect(standingOnPage(smoked)).toEqual({ state: 'hold-unrecorded', word: 'hold, do not share yet: not recorded' });
    expect(standingInList(smoked)).toEqual({ state: 'hold-unrecorded' });
  });

  it('and hold tells the two apart by shape, word and colour, and neither looks like a pass', () => {
    const [missing, wrong, pass] = [states['hold-unrecorded'], states.hold, states.clear];
    expect([missing.tone, wrong.tone]).toEqual(['buoy', 'wreck']);
    expect([missing.shape, missing.word]).toEqual([states['not-recorded'].shape, expect.stringContaining(states['not-recorded'].word)]);
    expect([wrong.shape, wrong.word]).toEqual([states['not-met'].shape, expect.stringContaining(states['not-met'].word)]);
    for (const part of ['tone', 'shape', 'word'] as const) expect(new Set([missing[part], wrong[part], pass[part]]).size, part).toBe(3);
    expect(verdictInFull({ verdict: 'hold', notMet: false }).word).not.toBe(verdictInFull({ verdict: 'hold', notMet: true }).word);
    expect(verdictInFull({ verdict: 'clear', notMet: false })).toEqual({ state: 'clear' });
  });

  it('says of a dip that it is not mixed, and of raw fish that it is on hold; recalled comes first', () => {
    expect(standingInList({ ...fresh, productKind: 'dip', smokeDay: '2026-06-10' }).word).toBe('not mixed yet');
    expect(standingInList({ ...fresh, productKind: 'dip', lastStage: 'mix' })).toEqual({ state: 'hold-unrecorded' });
    expect(standingInList({ ...fresh, productKind: 'raw' })).toEqual({ state: 'hold-unrecorded' });
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
