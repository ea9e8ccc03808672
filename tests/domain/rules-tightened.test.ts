import { describe, expect, it } from 'vitest';
import type { BatchEvidence } from '../../server/domain/rules/evidence.ts';
import type { ClubLimits } from '../../server/domain/rules/rule.ts';
import { after, batch, every5, judged, landing, log, state } from '../support/rule-evidence.ts';

const found = (evidence: BatchEvidence, club: ClubLimits, ruleId: string, part?: string) => {
  const { verdict, checks } = judged(evidence, club);
  return [verdict, state(checks, ruleId, part)];
};

describe('a colder limit of the place where it is kept (hold.cold NY262.3: 3.3 C) excuses no warmth that the rule does not', () => {
  const cooledAt = (minutes: number) => batch({ cooledAt: after(minutes) });
  const core = (...points: [hours: number, celsius: number][]) => ({ ...cooledAt(200), readings: [log(points.map(([h, c]): [number, number] => [h * 60, c]), { stageId: null, probe: 'spike' })] });
  const again = core([8, 3.2], ...Array.from({ length: 11 }, (_, i): [number, number] => [10 + i, 4.8]), [21, 2]);
  it('a core warm again after it was cold once stands against it, whatever the limit', () => {
    for (const celsius of [undefined, 3.1, 3, 2, 0, -2]) {
      expect([celsius, ...found(again, celsius === undefined ? {} : { 'hold.cold.celsius': celsius }, 'hold.cold')]).toEqual([celsius, 'hold', 'not-met']);
    }
  });
  it('on its way to the club’s own, fish that stays within the rule’s is not held', () => {
    const cools = core([6.5, 4.5], [8, 3.2], [10, 2.6], [12, 1.8], [20, 1.9]);
    expect(found(cools, {}, 'hold.cold')).toEqual(['clear', 'met']);
    expect(found(cools, { 'hold.cold.celsius': 2 }, 'hold.cold')).toEqual(['clear', 'met']);
    // A day after the smoke it is kept, not cooled.
    expect(found(core([8, 3.2], [20, 2.6], [25, 2.6]), { 'hold.cold.celsius': 2 }, 'hold.cold')).toEqual(['hold', 'not-met']);
    expect(found(core([8, 3.2], [20, 2.6], [25, 2.6]), {}, 'hold.cold')).toEqual(['clear', 'met']);
  });
  it('readings of the way alone never show that it was kept so cold', () => {
    const way = core([6.5, 4.5], [8, 3.2]);
    expect(found(way, {}, 'hold.cold')).toEqual(['clear', 'met']);
    expect(found(way, { 'hold.cold.celsius': 2 }, 'hold.cold')).toEqual(['clear', '']);
    expect(found(core([6.5, 4.5], [7, 4.2]), {}, 'hold.cold')).toEqual(['clear', '']);
    expect(found(core([6.5, 4.5], [7, 4.2], [7.1, -999]), {}, 'hold.cold'), 'a failed probe').toEqual(['clear', '']);
  });
});

describe('a colder end of the cooling (cool.fc FC 3-501.14; cool.hg HG) undoes no shorter time of it', () => {
  const heat = (...points: [number, number][]) => log(every5([-240, 10], [-120, 64], [-80, 64], ...points));
  const slow = batch({ cooledTo21At: null, cooledAt: after(60) }, { readings: [heat([-40, 57], [40, 21], [55, 20.5])] });
  it('80 minutes to 21 C are too many where 60 are allowed, whatever end is asked for on top', () => {
    expect(found(slow, {}, 'cool.fc', 'to-21')).toEqual(['clear', 'met']);
    for (const more of [{}, { 'cool.fc.first.celsius': 15 }, { 'cool.fc.first.celsius': 5 }] as ClubLimits[]) {
      expect(found(slow, { 'cool.fc.first-minutes': 60, ...more }, 'cool.fc', 'to-21')).toEqual(['do-not-share', 'not-met']);
    }
    // A gap over the start leaves at the most more than 60 minutes to 21 C, and less than that to the log's end: the rule's own end tells.
    const gap = log([[-240, 10], [-125, 64], [-120, 64], [-115, 64], [-110, 64], [-105, 64], [-100, 64], [-95, 64], [-90, 64], [-85, 64], [-80, 64], [-10, 50], [-5, 35], [0, 20.9], [5, 20.5]]);
    const open = batch({ cooledTo21At: null, cooledAt: after(60) }, { readings: [gap] });
    for (const more of [{}, { 'cool.fc.first.celsius': 15 }] as ClubLimits[]) expect(found(open, { 'cool.fc.first-minutes': 60, ...more }, 'cool.fc', 'to-21')[1]).toBe('not-met');
    const { checks } = judged(slow, { 'cool.fc.first-minutes': 60, 'cool.fc.first.celsius': 15 });
    expect(checks.find((c) => c.ruleId === 'cool.fc' && c.part === 'to-21')!.limit).toBe('57 C to 15 C within 1 hour');
  });
  it('a log that ends before the step, later than the club allows, is too slow as one that goes on is', () => {
    const ends = batch({ cooledTo21At: after(50), cooledAt: after(200) }, { readings: [heat([-90, 57], [10, 25])] });
    expect(found(ends, { 'cool.fc.first-minutes': 60 }, 'cool.fc', 'to-21')).toEqual(['do-not-share', 'not-met']);
    expect(found(ends, {}, 'cool.fc', 'to-21')[1]).toBe('met');
  });
  it('so does a dip’s (cool.ambient FC 3-501.14(B))', () => {
    const mix = { id: 'mix', kind: 'mix', startedAt: after(0), finishedAt: after(20), cooledAt: null } as const;
    const dip = batch({}, { product: 'dip', smoke: null, mix, stages: [mix], landings: [], readings: [log(every5([0, 20], [100, 5], [120, 4.5]), { stageId: 'mix' })] });
    expect(found(dip, {}, 'cool.ambient')).toEqual(['clear', 'met']);
    for (const more of [{}, { 'cool.ambient.celsius': 3 }] as ClubLimits[]) expect(found(dip, { 'cool.ambient.minutes': 60, ...more }, 'cool.ambient')).toEqual(['do-not-share', 'not-met']);
  });
});

describe('a club’s fewer hours of the milder case (chill.mild, chill.exposure; HG ch. 7) hold in the warmer one', () => {
  const iced = (hours: number, more: Partial<typeof landing> = {}) => batch({}, { landings: [{ ...landing, caughtAt: after(-900), icedAt: after(-900 + hours * 60), coreC: null, airC: 20, waterC: 15, ...more }] });
  it('iced after 5 hours where 3 are allowed in mild air, with the air warm, hot or not recorded', () => {
    const club = { 'chill.mild.hours': 3 };
    for (const airC of [20, 29, null]) expect([airC, ...judgedIced(iced(5, { airC }), club)]).toEqual([airC, 'do-not-share', 'not-met']);
    for (const airC of [20, 29, null]) expect([airC, ...judgedIced(iced(5, { airC }), {})]).toEqual([airC, 'clear', 'met']);
  });
  it('a fish that nobody gutted has no more hours than a gutted one', () => {
    const gutted = { ...iced(5, { guttedAt: after(-890) }), guttedSource: 'Harbour Laboratory' };
    for (const more of [{}, { guttedAt: null }, { airC: null }]) {
      const evidence = { ...gutted, landings: gutted.landings.map((l) => ({ ...l, ...more })) };
      expect(judgedIced(evidence, { 'chill.gutted.hours': 2 })).toEqual(['do-not-share', 'not-met']);
      expect(judgedIced(evidence, {})).toEqual(['clear', 'met']);
    }
  });
  const judgedIced = (evidence: BatchEvidence, club: ClubLimits) => {
    const { verdict, checks } = judged(evidence, club);
    return [verdict, checks.find((c) => /^chill\.(hot|mild|gutted)$/.test(c.ruleId))!.state];
  };
  const warmFor = (hours: number, celsius: number, peak: number, more: Partial<BatchEvidence> = {}) => batch({}, {
    readings: [log(Array.from({ length: hours * 6 + 1 }, (_, i): [number, number] => [-800 + i * 10, i === 6 ? peak : celsius]), { stageId: null, probe: 'raw' })], ...more,
  });
  it('3 hours at 15 C where 2 are allowed, with a warm reading among them or without', () => {
    for (const peak of [15, 25]) {
      expect(found(warmFor(3, 15, peak), { 'chill.exposure.hours': 2 }, 'chill.exposure')).toEqual(['do-not-share', 'not-met']);
      expect(found(warmFor(3, 15, peak, { frozenBefore: 'all' }), { 'chill.exposure.frozen-hours': 2 }, 'chill.exposure')).toEqual(['do-not-share', 'not-met']);
      expect(found(warmFor(3, 15, peak), { 'chill.exposure.frozen-hours': 2 }, 'chill.exposure'), 'not known to have been frozen').toEqual(['do-not-share', 'not-met']);
      expect(found(warmFor(3, 15, peak), {}, 'chill.exposure')[0]).toBe('clear');
    }
  });
});
