import { describe, expect, it } from 'vitest';
import type { BatchEvidence, EvidenceReadings } from '../../server/domain/rules/evidence.ts';
import { warmestStoreC } from '../../server/domain/rules/store-log.ts';
import type { ClubLimits } from '../../server/domain/rules/rule.ts';
import { after, batch, end, every5, judged, log, state } from '../support/rule-evidence.ts';

const prepare = { id: 'prepare', kind: 'prepare', startedAt: after(-600), finishedAt: after(-500) } as const;
const smoke = batch().smoke!;
const store = (points: [number, number][], stageId: string | null = null) => log(points, { place: 'storage', probe: 'fridge', stageId });
const fish = (readings: EvidenceReadings[], more: Partial<BatchEvidence> = {}, club: ClubLimits = {}) => judged(batch({}, { stages: [prepare, smoke], readings, ...more }), club);

describe('raw fish waits at or below 3.3 C (raw.cold NY262.3)', () => {
  it('at, just below and just above the limit; before the smoke, where kept fish is another rule', () => {
    for (const [celsius, verdict, found] of [[3.3, 'clear', 'met'], [3.2, 'clear', 'met'], [3.4, 'hold', 'not-met']] as const) {
      const { checks, verdict: is } = fish([store([[-500, celsius]])]);
      expect([is, state(checks, 'raw.cold'), state(checks, 'hold.cold')]).toEqual([verdict, found, '']);
    }
    const both = fish([store([[-500, 3.3], [400, 3.4]])]).checks;
    expect([state(both, 'raw.cold'), state(both, 'hold.cold')]).toEqual(['met', 'not-met']);
  });
  it('is asked of raw fish, which is kept until it is eaten, and held by a club’s own limit', () => {
    const raw = (celsius: number, club: ClubLimits = {}) => judged(batch({}, { product: 'raw', smoke: null, stages: [], readings: [store([[400, celsius]])] }), club).checks;
    expect([state(raw(3.3), 'raw.cold'), state(raw(3.4), 'raw.cold'), state(raw(3.3), 'hold.cold'), state(raw(3, { 'raw.cold.celsius': 2 }), 'raw.cold')]).toEqual(['met', 'not-met', '', 'not-met']);
  });
  it('a failed probe is no temperature, a cold Fahrenheit one puts the unit in doubt', () => {
    expect(state(fish([store([[-500, 3], [-490, -999], [-480, 9999]])]).checks, 'raw.cold')).toBe('met');
    expect(fish([store([[-500, 3], [-490, 100]])]).verdict).toBe('hold');
  });
});

describe('fish out of the freezer (thaw NY262: 3.3 C, never above 7.2 C; FC 3-501.13: running water at 21 C or below)', () => {
  const thaw = (readings: EvidenceReadings[], more: Partial<BatchEvidence> = {}, club: ClubLimits = {}) => {
    const { verdict, checks } = fish(readings, { frozenBefore: 'all', ...more }, club);
    return [state(checks, 'thaw'), verdict];
  };
  it('the fish and its place at, just below and just above 7.2 C', () => {
    for (const place of ['core', 'surface'] as const) {
      expect([place, ...[7.2, 7.1, 7.3].map((c) => thaw([log([[-590, c]], { place, stageId: 'prepare' })])[0])]).toEqual([place, 'met', 'met', 'not-met']);
    }
    // A place at 7.2 C thaws well enough and is too warm for fish that waits: raw.cold.
    expect(thaw([store([[-590, 7.2]], 'prepare')])).toEqual(['met', 'hold']);
    expect(thaw([store([[-590, 3.3]], 'prepare')])).toEqual(['met', 'clear']);
    expect(thaw([store([[-590, 7.3]], 'prepare')])[0]).toBe('not-met');
  });
  it('the water at, just below and just above 21 C', () => {
    expect([21, 20.9, 21.1].map((c) => thaw([log([[-590, c]], { place: 'brine', stageId: 'prepare' })]))).toEqual([['met', 'clear'], ['met', 'clear'], ['not-met', 'hold']]);
  });
  it('is shown as not recorded and holds nobody without readings; fresh fish is not asked', () => {
    expect(thaw([])).toEqual(['not-recorded', 'clear']);
    expect(thaw([], { frozenBefore: 'some' })).toEqual(['not-recorded', 'clear']);
    expect(thaw([], { frozenBefore: 'none' })).toEqual(['', 'clear']);
    expect(thaw([store([[-590, 5]], 'prepare')], {}, { 'thaw.celsius': 4 })[0]).toBe('not-met');
  });
});

describe('frozen against parasites (parasite FC 3-402.11: -20 C for 168 h; or -35 C solid and 15 h; or -35 C solid, then -20 C for 24 h)', () => {
  /** Readings every half hour on steps. */
  const steps = (...parts: [hours: number, celsius: number][]) => {
    const points: [number, number][] = [];
    let at = 0;
    for (const [hours, celsius] of parts) for (let i = 0; i < hours * 2; i += 1) points.push([(at += 30), celsius]);
    return log([...points, [at + 30, parts.at(-1)![1]]], { stageId: null, probe: 'P1' });
  };
  const raw = (readings: EvidenceReadings[], club: ClubLimits = {}) => judged(batch({}, { product: 'raw', smoke: null, stages: [], readings }), club).verdict;
  it('168 hours at -20 C: at, below and above the limit', () => {
    expect([raw([steps([168, -20])]), raw([steps([167.5, -20])]), raw([steps([168, -20.1])]), raw([steps([168, -19.9])])]).toEqual(['clear', 'hold', 'clear', 'hold']);
  });
  it('15 hours at -35 C', () => {
    expect([raw([steps([15, -35])]), raw([steps([14.5, -35])]), raw([steps([15, -35.1])]), raw([steps([15, -34.9])])]).toEqual(['clear', 'hold', 'clear', 'hold']);
  });
  it('-35 C solid, then -20 C, 24 hours in all from when it was solid', () => {
    expect([raw([steps([1, -35], [23, -20])]), raw([steps([1, -35], [22.5, -20])]), raw([steps([1, -34.9], [23, -20])]), raw([steps([1, -35], [23, -19.9])])]).toEqual(['clear', 'hold', 'hold', 'hold']);
    expect(raw([steps([23, -20], [1, -35])])).toBe('hold');
  });
  it('a gap or a warm spell begins it anew, and it was then not solid at -35 C; the warmest probe counts', () => {
    const gap = (list: EvidenceReadings, i: number) => ({ ...list, atMs: list.atMs.filter((_t, n) => n < i || n > i + 1), celsius: list.celsius.filter((_c, n) => n < i || n > i + 1) });
    expect(raw([gap(steps([1, -35], [23, -20]), 20)])).toBe('hold');
    expect(raw([gap(steps([15, -35]), 20)])).toBe('hold');
    expect(raw([steps([1, -35], [10, -20], [0.5, -10], [20, -20])])).toBe('hold');
    expect(raw([steps([15, -35]), { ...steps([15, -30]), probe: 'P2' }])).toBe('hold');
    // One failed reading leaves an hour between its neighbours, which still join; two leave a gap.
    const failed = (...at: number[]) => ({ ...steps([15, -35]), celsius: steps([15, -35]).celsius.map((c, i) => (at.includes(i) ? -999 : c)) });
    expect([raw([failed(7)]), raw([failed(7, 8)])]).toEqual(['clear', 'hold']);
  });
  it('read every hour by a clock that is seconds or minutes off, they still join; 66 minutes are a gap', () => {
    const apart = (minutes: number, offMinutes = 0) => log(Array.from({ length: Math.ceil((169 * 60) / minutes) + 1 }, (_, i): [number, number] => [i * minutes + (i % 2) * offMinutes, -20]), { stageId: null, probe: 'P1' });
    expect([raw([apart(60, 4 / 60)]), raw([apart(60, 5)]), raw([apart(65)]), raw([apart(66)])]).toEqual(['clear', 'clear', 'clear', 'hold']);
  });
  it('a club’s own limits are tighter', () => {
    expect([raw([steps([15, -35])], { 'parasite.deep.hours': 20 }), raw([steps([1, -35], [23, -20])], { 'parasite.then.hours': 30 }), raw([steps([1, -35], [23, -20])], { 'parasite.celsius': -25 })]).toEqual(['hold', 'hold', 'hold']);
  });
});

describe('14 days rest on the store after the smoke (date.fourteen MSU 1997)', () => {
  /** Every hour at one temperature. */
  const hourly = (from: number, to: number, celsius: number) => store(Array.from({ length: (to - from) / 60 + 1 }, (_, i): [number, number] => [from + i * 60, celsius]));
  const warmest = (readings: EvidenceReadings[], present: number) => warmestStoreC(batch({}, { readings, judgedAt: after(present) }));
  it('a log of the raw fish’s store says nothing of where the smoked fish was kept', () => {
    expect(warmest([hourly(-2000, -440, 2)], -440)).toBeNull();
    expect(warmest([hourly(400, 1840, 2.1)], 1840)).toBe(2.1);
  });
  it('24 hours with an hour and five minutes between readings, and 24 hours from the last one to the present, at the most', () => {
    expect([warmest([hourly(400, 1840, 2)], 1840), warmest([hourly(400, 1840, 2)], 3280), warmest([hourly(400, 1840, 2)], 3281)]).toEqual([2, 2, null]);
    // Hours without a reading are none of the log's.
    expect([warmest([hourly(460, 1840, 2)], 1840), warmest([hourly(460, 1840, 2)], 1900), warmest([hourly(460, 1840, 2)], 3280)]).toEqual([null, null, null]);
    const gap = { ...hourly(400, 1840, 2), atMs: hourly(400, 1840, 2).atMs.map((at, i) => at + (i >= 20 ? 6 * 60_000 : 0)) };
    expect(warmest([gap], 1846)).toBeNull();
    expect(warmestStoreC(batch({}, { readings: [hourly(400, 1840, 2)] }))).toBeNull();
    // Of what left the store, up to where its log ends.
    expect(warmestStoreC(batch({}, { readings: [hourly(400, 1840, 2)] }), 'its end')).toBe(2);
  });
  it('not before it was typed to be cold, nor what is read later than the present', () => {
    expect(warmest([hourly(0, 1620, 2)], 1620)).toBeNull();
    expect(warmest([hourly(0, 1800, 2)], 1800)).toBe(2);
    expect(warmest([hourly(400, 1840, 2)], 1000)).toBeNull();
  });
  it('of fish that was smoked elsewhere, only from when it was taken from there; what its lot was kept in shows too warm alone', () => {
    const taken = (drawn: number, before: EvidenceReadings[] = []) => warmestStoreC(batch({}, { smoke: null, stages: [], drawnAt: after(drawn), judgedAt: after(1840), readings: [hourly(400, 1840, 2)], readingsBefore: before.map((list) => ({ ...list, lot: 'A', stageKind: null, thawed: false, smokedFromMs: end })) }));
    expect([taken(400), taken(401), taken(400, [hourly(40, 400, 3)])]).toEqual([2, null, 3]);
    expect(warmestStoreC(batch({}, { smoke: null, stages: [], judgedAt: after(1840), readings: [hourly(400, 1840, 2)] }))).toBeNull();
  });
  it('a Fahrenheit reading puts the unit in doubt; a freezer is no store of what is unfrozen', () => {
    expect(warmest([hourly(400, 1840, 2), { ...store([[1840, 100]]), probe: 'other' }], 1840)).toBeNull();
    expect(warmest([hourly(400, 1840, 2), { ...hourly(400, 1840, -18), probe: 'freezer' }], 1840)).toBe(2);
    expect([warmest([hourly(400, 1840, -2)], 1840), warmest([hourly(400, 1840, -2.1)], 1840)]).toEqual([-2, null]);
  });
});

describe('a probe of the cooling whose unit is in doubt (rules.md cool.fc FC 3-501.14)', () => {
  const cooling = (unit: (celsius: number) => number) => judged(batch({}, { readings: [log(every5([10, 60], [110, 20], [340, 4], [360, 4]).map(([m, c]) => [m, unit(c)]), { probe: 'late' })] }));
  it('holds the batch, whatever was typed', () => {
    expect(cooling((c) => c).verdict).toBe('clear');
    const { verdict, checks } = cooling((c) => c * 1.8 + 32);
    expect([verdict, state(checks, 'cool.fc')]).toEqual(['hold', 'not-recorded not-recorded']);
  });
});
