import { describe, expect, it } from 'vitest';
import type { BatchEvidence, EvidenceLanding, EvidenceReadings } from '../../server/domain/rules/evidence.ts';
import type { ClubLimits } from '../../server/domain/rules/rule.ts';
import { after, batch, judged, landing, log } from '../support/rule-evidence.ts';

// Iced 360 minutes before the end of smoking, into the smoker 240 before: times count from there, in hours.
const START = -240;
/** Readings every 10 minutes on straight lines, in hours before the smoker; landed and iced when they begin. */
function before(...points: [hours: number, celsius: number][]): EvidenceReadings {
  const rows: [number, number][] = [];
  for (let i = 0; i + 1 < points.length; i += 1) {
    const [[h0, c0], [h1, c1]] = [points[i]!, points[i + 1]!];
    for (let m = Math.round(h0 * 60); m < Math.round(h1 * 60); m += 10) rows.push([m, c0 + ((c1 - c0) * (m - h0 * 60)) / (h1 * 60 - h0 * 60)]);
  }
  const [lastH, lastC] = points.at(-1)!;
  return log([...rows, [lastH * 60, lastC] as [number, number]].map(([m, c]): [number, number] => [START + m, c]), { stageId: null, probe: 'P1' });
}
const hour = (h: number) => after(START + h * 60);
const with_ = (readings: EvidenceReadings[], more: Partial<BatchEvidence> = {}, land: Partial<EvidenceLanding> = {}, club: ClubLimits = {}) =>
  judged(batch({}, { readings, landings: [{ ...landing, caughtAt: hour(-17), icedAt: hour(-12), landedAt: hour(-12), coreC: null, ...land }], ...more }), club);
const exposure = (readings: EvidenceReadings[], more: Partial<BatchEvidence> = {}, land: Partial<EvidenceLanding> = {}, club: ClubLimits = {}) => {
  const { checks, verdict } = with_(readings, more, land, club);
  const check = checks.find((c) => c.ruleId === 'chill.exposure')!;
  return [check.state, check.means, verdict];
};
const met = ['met', 'nothing', 'clear'];
const unknown = ['not-recorded', 'nothing', 'clear'];
const tooLong = ['not-met', 'do-not-share', 'do-not-share'];
/** At 2 C for twelve hours to the smoker, but for so many hours at that temperature; steep between. */
const warmFor = (hours: number, celsius: number) => before([-12, 2], [-10, 2], [-10 + 1e-9, celsius], [-10 + hours, celsius], [-10 + hours + 1e-9, 2], [0, 2]);

describe('hours above 4.4 C before smoking (chill.exposure HG ch. 7, memory: 4 h if any of it above 21.1 C, else 8; once frozen 12 and 24)', () => {
  it('fresh and never above 21.1 C: 8 hours at and just below the limit, not above it', () => {
    // A line from 2 to 4.5 C in ten minutes is above 4.4 C for 0.4 minutes of them.
    expect(exposure([before([-12, 2], [-10, 2], [-9.9, 10], [-2.1, 10], [-2, 2], [0, 2])])).toEqual(met);
    expect(exposure([warmFor(7.9, 10)])).toEqual(met);
    expect(exposure([warmFor(8.5, 10)])).toEqual(tooLong);
    expect(exposure([warmFor(9, 21.1)])).toEqual(tooLong);
  });
  it('exactly at the limit is met, a minute more is not', () => {
    const flat = (minutes: number, celsius: number) => log([[START - 720, 4.4], [START - 700, 4.4], ...Array.from({ length: Math.ceil(minutes / 10) + 1 }, (_, i): [number, number] => [START - 700 + Math.min(i * 10, minutes), celsius]), ...Array.from({ length: 40 }, (_, i): [number, number] => [START - 700 + minutes + i * 10, 4.4]).filter(([m]) => m < START)], { stageId: null, probe: 'P1' });
    // Of two readings at one instant the warmer counts: 20 minutes up from 4.4 C, the stretch itself, and 10 minutes down are 480 with 450.
    const hoursOf = (minutes: number) => exposure([flat(minutes, 10)])[0];
    expect([hoursOf(449), hoursOf(450), hoursOf(451)]).toEqual(['met', 'met', 'not-met']);
  });
  it('any of it above 21.1 C: 4 hours', () => {
    expect(exposure([warmFor(3.5, 22)])).toEqual(met);
    expect(exposure([warmFor(4.5, 21)])).toEqual(met);
    expect(exposure([warmFor(4.5, 22)])).toEqual(tooLong);
  });
  it('fish that was frozen before: 24 hours, and 12 when any of it was above 21.1 C; only when all of it was', () => {
    expect(exposure([warmFor(9, 10)], { frozenBefore: 'all' })).toEqual(met);
    expect(exposure([warmFor(9, 10)], { frozenBefore: 'some' })).toEqual(tooLong);
    const long = (hours: number, celsius: number) => before([-30, 2], [-29, 2], [-29 + 1e-9, celsius], [-29 + hours, celsius], [-29 + hours + 1e-9, 2], [0, 2]);
    const since = { caughtAt: hour(-32), icedAt: hour(-30), landedAt: hour(-30) };
    expect([exposure([long(11, 22)], { frozenBefore: 'all' }, since), exposure([long(13, 22)], { frozenBefore: 'all' }, since)]).toEqual([met, tooLong]);
    expect([exposure([long(23, 10)], { frozenBefore: 'all' }, since), exposure([long(25, 10)], { frozenBefore: 'all' }, since)]).toEqual([met, tooLong]);
  });
  it('is not recorded without readings, and holds nobody: few crews have a logger', () => {
    expect(exposure([])).toEqual(unknown);
    expect(with_([], {}, { scombrotoxin: false, speciesCode: 'pollack' }).checks.some((c) => c.ruleId === 'chill.exposure')).toBe(false);
    expect(exposure([warmFor(9, 10)], {}, { scombrotoxin: null, speciesCode: 'own-eelpout' })).toEqual(tooLong);
  });
  it('a cure whose place was warm for longer than that may have cost them: on hold, not to be let go, until the place’s own readings show less', () => {
    const cured = (maxPlaceC: number | null, hours: number, readings: EvidenceReadings[] = [], more: Partial<BatchEvidence> = {}) => {
      const cure = { id: 'cure', kind: 'cure', startedAt: hour(-10), finishedAt: hour(-10 + hours), maxPlaceC } as const;
      const { verdict, checks } = judged(batch({}, { stages: [cure, batch().smoke!], readings, ...more }));
      const check = checks.find((c) => c.ruleId === 'chill.exposure')!;
      return [check.state, check.means, verdict, check.releasable];
    };
    const held = ['not-recorded', 'hold', 'hold', false];
    // Of 6 hours at 25 C more than 4 count against fresh fish; of 9 at 5 C more than 8.
    expect([cured(25, 6), cured(25, 4), cured(22, 4.1), cured(21.1, 6)]).toEqual([held, ['not-recorded', 'nothing', 'clear', false], held, ['not-recorded', 'nothing', 'hold', false]]);
    expect([cured(5, 9), cured(5, 8), cured(4.4, 9)].map((c) => c[1])).toEqual(['hold', 'nothing', 'nothing']);
    expect(cured(25, 6, [], { frozenBefore: 'all' })[1]).toBe('nothing');
    // Read every half hour, it was warm for one hour of the six; with only the ends read, nobody knows.
    const store = (points: [number, number][]) => log(points.map(([h, c]) => [START - 600 + h * 60, c]), { place: 'storage', stageId: 'cure', probe: 'shelf' });
    const read = store(Array.from({ length: 13 }, (_, i) => [i / 2, i === 2 ? 25 : 3]));
    expect([cured(25, 6, [read]), cured(null, 6, [read])].map((c) => c[1])).toEqual(['nothing', 'nothing']);
    expect([cured(null, 6, [store([[0, 25], [6, 25]])]), cured(25, 6, [store([[0, 3], [6, 3]])])].map((c) => c[1])).toEqual(['hold', 'hold']);
    // A failed reading is no temperature.
    expect(cured(3, 6, [store([[0, 3], [0.5, 999], [1, 3], [6, 3]])])[1]).toBe('nothing');
    const above = (lot: string, hours: number) => ({ lot, readings: [], stage: { id: lot, kind: 'cure', startedAt: hour(-20), finishedAt: hour(-20 + hours), maxPlaceC: 25 } as const });
    expect(cured(25, 2, [], { curesBefore: [above('A1', 3)], curedBeforeMs: 3 * 3_600_000 })[1]).toBe('hold');
    expect(cured(25, 1, [], { curesBefore: [above('A1', 2.5), above('A2', 2.5)], curedBeforeMs: 2.5 * 3_600_000 })[1]).toBe('nothing');
  });
  it('a log with a gap, one that ends early or one that begins late is never met, and settles what it shows', () => {
    const gap = (list: EvidenceReadings, from: number, to: number) => {
      const kept = list.atMs.flatMap((at, i) => (at > hour(from).getTime() && at < hour(to).getTime() ? [] : [i]));
      return { ...list, atMs: kept.map((i) => list.atMs[i]!), celsius: kept.map((i) => list.celsius[i]!) };
    };
    expect(exposure([gap(warmFor(0.5, 10), -8, -3)])).toEqual(unknown);
    expect(exposure([gap(warmFor(0.5, 10), -8, -6)])).toEqual(met);
    expect(exposure([before([-12, 2], [-6, 2])])).toEqual(unknown);
    expect(exposure([before([-5, 2], [0, 2])])).toEqual(unknown);
    expect(exposure([before([-12, 10], [-3, 10])])).toEqual(tooLong);
    expect(exposure([before([-12, 2], [0, 2])], {}, { icedAt: hour(-8), landedAt: null })).toEqual(met);
  });
  it('two probes one after the other add up; a store can show that it was too long and never that it was not', () => {
    const [first, second] = [before([-12, 10], [-7, 10]), before([-6.9, 10], [-2, 10])];
    expect(exposure([first, { ...second, probe: 'P2' }])).toEqual(tooLong);
    expect(exposure([{ ...before([-12, 2], [0, 2]), place: 'storage' }])).toEqual(unknown);
    expect(exposure([{ ...before([-12, 9], [0, 9]), place: 'storage' }])[0]).toBe('not-met');
    expect(exposure([], { readingsBefore: [{ ...warmFor(9, 10), lot: 'A1', stageKind: null, thawed: false, smokedFromMs: null }] })).toEqual(tooLong);
  });
  it('out of order, twice over and with -999 it comes to the same; in Fahrenheit it holds; what comes after the smoke began is another rule', () => {
    const good = warmFor(9, 10);
    const noisy = { ...good, atMs: [...good.atMs, ...good.atMs, good.atMs[3]! + 1].reverse(), celsius: [...good.celsius, ...good.celsius, -999].reverse() };
    expect(exposure([noisy])).toEqual(tooLong);
    expect(exposure([{ ...warmFor(1, 10), celsius: warmFor(1, 10).celsius.map((c) => c * 1.8 + 132) }])).toEqual(['not-recorded', 'hold', 'hold']);
    expect(exposure([before([-12, 2], [0, 2], [4, 60])])[0]).toBe('met');
  });
  it('a smoke that was read and not recorded is no time in the warm: it is on hold until the stage is there', () => {
    const smoked = before([-12, 2], [-10, 2], [-9, 60], [-2, 64]);
    expect(exposure([smoked], { smoke: null, stages: [] })).toEqual(['not-recorded', 'hold', 'hold']);
    // Not so hot, it may have been the deck.
    expect(exposure([warmFor(9, 44.9)], { smoke: null, stages: [] })[0]).toBe('not-met');
  });
  it('a club’s own hours are tighter', () => {
    expect(exposure([warmFor(3, 10)], {}, {}, { 'chill.exposure.hours': 2 })).toEqual(tooLong);
    expect(exposure([warmFor(3, 10)], {}, {}, { 'chill.exposure.hours': 20 })).toEqual(met);
  });
});

describe('gutted fish (chill.gutted HG ch. 7, memory: 12 h, not confirmed, so 9 stay without the club’s own source)', () => {
  const gutted = (icedHours: number, more: Partial<EvidenceLanding> = {}, guttedSource = 'County health department, letter of 3 May 2026', club: ClubLimits = {}) => {
    const { verdict, checks } = judged(batch({}, { guttedSource, landings: [{ ...landing, form: 'gutted', caughtAt: after(-1200), guttedAt: after(-1140), icedAt: after(-1200 + icedHours * 60), coreC: null, ...more }] }), club);
    return [checks[0]!.ruleId, checks[0]!.state, verdict];
  };
  it('with a source: 12 hours at the limit and not a minute more', () => {
    expect(gutted(12)).toEqual(['chill.gutted', 'met', 'clear']);
    expect(gutted(12 + 1 / 60)).toEqual(['chill.gutted', 'not-met', 'do-not-share']);
    expect(gutted(10, {}, undefined, { 'chill.gutted.hours': 9.5 })).toEqual(['chill.gutted', 'not-met', 'do-not-share']);
  });
  it('without one, or gutted after it was iced, or not gutted: 9; in hot air 6', () => {
    for (const [more, source] of [[{}, ''], [{}, '   '], [{ guttedAt: null }, undefined], [{ guttedAt: after(-1200 + 11.5 * 60) }, undefined]] as const) expect(gutted(9 + 1 / 60, { ...more }, source)).toEqual(['chill.mild', 'not-met', 'do-not-share']);
    expect(gutted(7, { airC: 28.4 })).toEqual(['chill.hot', 'not-met', 'do-not-share']);
    expect(gutted(7, { airC: null })).toEqual(['chill.hot', 'not-met', 'do-not-share']);
  });
});

describe('core at landing, once it is known when that was (chill.internal HG ch. 7, memory)', () => {
  const at = (hours: number, coreC: number, more: Partial<EvidenceLanding> = {}, club: ClubLimits = {}) => {
    const { verdict, checks } = judged(batch({}, { landings: [{ ...landing, caughtAt: after(-2400), icedAt: after(-2400 + 60), landedAt: after(-2400 + hours * 60), coreC, airC: 22, waterC: 20, ...more }] }), club);
    return [checks.find((c) => c.ruleId === 'chill.internal')!.state, verdict];
  };
  const [yes, no] = [['met', 'clear'], ['not-met', 'do-not-share']];
  it('24 hours or more: 4.4 C; 15 to 24: 10 C; 12 to 15: 15.6 C, at each limit and just above it', () => {
    for (const [hours, limit] of [[24, 4.4], [30, 4.4], [23.9, 10], [15, 10], [14.9, 15.6], [12, 15.6]] as const) {
      expect([hours, at(hours, limit), at(hours, limit - 0.1), at(hours, limit + 0.1)]).toEqual([hours, yes, yes, no]);
    }
  });
  it('under 12 hours: clearly below air and water, which needs both', () => {
    expect([at(11.9, 17), at(11.9, 17.1), at(4, 16)]).toEqual([yes, no, yes]);
    // Air that nobody recorded counts as hot, iced within the hour: the core alone stays open.
    expect(at(4, 3, { airC: null })).toEqual(['not-recorded', 'clear']);
  });
  it('landed before it died is no time that can be, and nothing is met by it', () => {
    expect(at(-1, 3)[0]).toBe('not-recorded');
  });
  it('when it landed is not known, it counts only where every hour says the same', () => {
    expect(at(0, 3, { landedAt: null })).toEqual(yes);
    expect(at(0, 9, { landedAt: null })[0]).toBe('not-recorded');
    expect(at(0, 20, { landedAt: null })).toEqual(no);
  });
  it('a club’s own limit of each row is tighter, at it and just above it; a looser one or none that is a number counts for nothing', () => {
    for (const [hours, id, own, rule] of [[24, '24h.celsius', 2, 4.4], [15, '15h.celsius', 6, 10], [12, '12h.celsius', 8, 15.6]] as const) {
      const club = { [`chill.internal.${id}`]: own };
      expect([hours, at(hours, own, {}, club), at(hours, own + 0.1, {}, club), at(hours, rule)]).toEqual([hours, yes, no, yes]);
      for (const loose of [rule + 1, 40, Number.NaN, Infinity, -Infinity, -3]) expect([loose, at(hours, rule, {}, { [`chill.internal.${id}`]: loose }), at(hours, rule + 0.1, {}, { [`chill.internal.${id}`]: loose })]).toEqual([loose, yes, no]);
    }
    const below = { 'chill.internal.below.degrees': 5 };
    expect([at(4, 15, {}, below), at(4, 15.1, {}, below), at(4, 17, {}, { 'chill.internal.below.degrees': 1 }), at(4, 17.1, {}, { 'chill.internal.below.degrees': 1 })]).toEqual([yes, no, yes, no]);
  });
  it('a club’s limit for fewer hours since death holds for more hours too, never the other way', () => {
    const club = { 'chill.internal.12h.celsius': 3 };
    expect([12, 15, 24, 30].map((hours) => [at(hours, 3, {}, club), at(hours, 3.1, {}, club)])).toEqual([[yes, no], [yes, no], [yes, no], [yes, no]]);
    expect([at(11.9, 17, {}, club), at(12, 15.6, {}, { 'chill.internal.24h.celsius': 1 }), at(15, 10, {}, { 'chill.internal.24h.celsius': 1 })]).toEqual([yes, yes, yes]);
  });
  it('says the limit that counted and whether it was the club’s own; unknown hours take all of them', () => {
    const check = (hours: number | null, coreC: number, club: ClubLimits) => {
      const found = judged(batch({}, { landings: [{ ...landing, caughtAt: after(-2400), icedAt: after(-2340), landedAt: hours === null ? null : after(-2400 + hours * 60), coreC, airC: 22, waterC: 20 }] }), club).checks.find((c) => c.ruleId === 'chill.internal')!;
      return [found.state, found.limit, found.tightened];
    };
    const club = { 'chill.internal.15h.celsius': 6, 'chill.internal.below.degrees': 4 };
    expect(check(16, 6, club)).toEqual(['met', 'core at or below 6 C 15 h or more after death', true]);
    expect(check(13, 6, club)).toEqual(['met', 'core at or below 15.6 C 12 h or more after death', false]);
    expect(check(3, 16, club)).toEqual(['met', 'core clearly below air and water under 12 h: at or below 16 C', true]);
    expect(check(null, 4, { 'chill.internal.24h.celsius': 3 })).toEqual(['not-recorded', 'cold enough for its hours since death: from clearly below air and water to 3 C after 24 h', true]);
    expect(check(null, 4, {}).slice(0, 1)).toEqual(['met']);
  });
});

