import { describe, expect, it } from 'vitest';
import { checkClubLimit } from '../../server/domain/rules/limits.ts';
import type { BatchEvidence } from '../../server/domain/rules/evidence.ts';
import type { ClubLimits } from '../../server/domain/rules/rule.ts';
import { after, batch, every5, judged, landing, log } from '../support/rule-evidence.ts';

const of = (ruleId: string, evidence: BatchEvidence, club: ClubLimits = {}, part?: string) => {
  const { checks, verdict } = judged(evidence, club);
  const check = checks.find((c) => c.ruleId === ruleId && (part === undefined || c.part === part));
  return [check?.state, verdict];
};
const find = (ruleId: string, evidence: BatchEvidence, club: ClubLimits) => judged(evidence, club).checks.find((c) => c.ruleId === ruleId && c.state !== 'met')!;

describe('a club tightens the temperatures and hours that open or close a case', () => {
  it('what counts as warm air and water (chill.hot HG ch. 7, memory: above 28.3 C)', () => {
    const fish = (hoursToIce: number, airC = 24) => batch({}, { landings: [{ ...landing, caughtAt: after(-360 - hoursToIce * 60), airC }] });
    expect([of('chill.mild', fish(8)), of('chill.hot', fish(8), { 'chill.hot.celsius': 23 })]).toEqual([['met', 'clear'], ['not-met', 'do-not-share']]);
    expect(find('chill.hot', fish(8), { 'chill.hot.celsius': 23 })).toMatchObject({ tightened: true, limit: expect.stringContaining('within 6 h') });
    // At the limit itself it is not warm.
    expect(of('chill.mild', fish(8), { 'chill.hot.celsius': 24 })).toEqual(['met', 'clear']);
    // Warm by the club alone, it has no more hours than it would have by the rule.
    expect(of('chill.hot', fish(5), { 'chill.hot.celsius': 23, 'chill.mild.hours': 4 })).toEqual(['not-met', 'do-not-share']);
    expect(of('chill.mild', fish(5), { 'chill.mild.hours': 4 })).toEqual(['not-met', 'do-not-share']);
    // A looser one, from whatever source, is not looked at.
    expect(of('chill.hot', fish(8, 29), { 'chill.hot.celsius': 35 })).toEqual(['not-met', 'do-not-share']);
  });

  const START = -240;
  /** At 2 C for eight hours to the smoker, but for some hours at another temperature. */
  const warm = (hours: number, celsius: number) => batch({}, {
    landings: [{ ...landing, caughtAt: after(START - 500), icedAt: after(START - 480), landedAt: after(START - 480), coreC: null }],
    readings: [log(every5([-480, 2], [-470, 2], [-470 + 1e-6, celsius], [-470 + hours * 60, celsius], [-470 + hours * 60 + 1e-6, 2], [0, 2]).map(([m, c]) => [START + m, c]), { stageId: null })],
  });
  it('above what the hours in the warm count, and above what fewer hold (chill.exposure HG ch. 7, memory: 4.4 and 21.1 C)', () => {
    expect([of('chill.exposure', warm(7.5, 4)), of('chill.exposure', warm(7.5, 4), { 'chill.exposure.cold.celsius': 3, 'chill.exposure.hours': 7 })]).toEqual([['met', 'clear'], ['not-met', 'do-not-share']]);
    expect([of('chill.exposure', warm(5, 20)), of('chill.exposure', warm(5, 20), { 'chill.exposure.warm.celsius': 19 })]).toEqual([['met', 'clear'], ['not-met', 'do-not-share']]);
    expect(find('chill.exposure', warm(5, 20), { 'chill.exposure.warm.celsius': 19 })).toMatchObject({ tightened: true, limit: 'above 4.4 C for 8 hours at most, 4 when any of it was above 19 C' });
    // Warm by the club alone, it has no more hours than it would have by the rule.
    const short = { 'chill.exposure.hours': 2 };
    expect([of('chill.exposure', warm(3, 20), short), of('chill.exposure', warm(3, 20), { ...short, 'chill.exposure.warm.celsius': 19 })]).toEqual([['not-met', 'do-not-share'], ['not-met', 'do-not-share']]);
  });

  it('after how long a cure needs a cold place (brine.cold NY262.5, MI569.5: 4 hours)', () => {
    const cure = { id: 'cure', kind: 'cure', startedAt: after(-460), finishedAt: after(-280), maxPlaceC: null } as const;
    const cured = (maxPlaceC: number | null) => batch({}, { stages: [{ ...cure, maxPlaceC }, batch().smoke!] });
    expect([of('brine.cold', cured(null)), of('brine.cold', cured(null), { 'brine.cold.hours': 2 }), of('brine.cold', cured(3), { 'brine.cold.hours': 2 }), of('brine.cold', cured(5), { 'brine.cold.hours': 2 })])
      .toEqual([[undefined, 'clear'], ['not-recorded', 'hold'], ['met', 'clear'], ['not-met', 'hold']]);
  });

  it('how much the heat has to be worth, for information (smoke.lethality HG appendix 4 table A-3: 2 minutes at 70 C, six reductions)', () => {
    // 35 minutes at 66 C are 35 x 10^(-4/7.5) = 10.2 minutes at 70 C.
    const smoked = batch({}, { readings: [log(every5([-240, 10], [-60, 66], [-25, 66], [0, 50], [20, 40]))] });
    const check = (club: ClubLimits) => judged(smoked, club).checks.find((c) => c.ruleId === 'smoke.lethality')!;
    expect([check({}).state, check({}).limit]).toEqual(['met', '2 minutes at 70 C: six decimal reductions of Listeria monocytogenes']);
    expect(check({ 'smoke.lethality.minutes': 15 })).toMatchObject({ state: 'not-met', tightened: true, means: 'nothing', limit: '15 minutes at 70 C: 45 decimal reductions of Listeria monocytogenes' });
  });
});

describe('a club asks for a colder end of the cooling', () => {
  const logged = (...points: [number, number][]) => batch({ cooledTo21At: null, cooledAt: null }, { readings: [log(every5([-240, 10], [-60, 63], [0, 66], ...points))] });
  it('by readings (cool.fc FC 3-501.14, cool.hg HG, memory)', () => {
    const fish = logged([20, 57], [130, 20], [350, 4]);
    expect(of('cool.fc', fish)).toEqual(['met', 'clear']);
    expect(of('cool.fc', fish, { 'cool.fc.end.celsius': 4 })).toEqual(['met', 'clear']);
    // The log ends at 4 C, 5 h 30 min after 57 C: of 3 C it says nothing yet.
    expect(of('cool.fc', fish, { 'cool.fc.end.celsius': 3 }, 'to-end')).toEqual(['not-recorded', 'hold']);
    expect(find('cool.fc', fish, { 'cool.fc.first.celsius': 18 })).toMatchObject({ state: 'not-met', tightened: true, limit: '57 C to 18 C within 2 hours' });
    const cold = logged([10, 60], [20, 57], [130, 20], [350, 4]);
    expect([of('cool.hg', cold, {}, 'to-21'), of('cool.hg', cold, { 'cool.hg.first.celsius': 18 }, 'to-21')]).toEqual([['met', 'clear'], ['not-met', 'do-not-share']]);
    // 21 C at minute 127, 4 C at minute 350: less than the further 4 hours; 2 C only after them.
    const later = logged([20, 57], [130, 20], [350, 4], [400, 2]);
    expect([of('cool.hg', later, {}, 'to-end'), of('cool.hg', later, { 'cool.hg.end.celsius': 2 }, 'to-end')]).toEqual([['met', 'clear'], ['not-met', 'do-not-share']]);
  });

  it('typed times are for 21 C and 5 C: in time they say nothing of colder fish, and too late they stay too late', () => {
    const typed = (to21: number | null, to5: number | null) => batch({ cooledTo21At: to21 === null ? null : after(to21), cooledAt: to5 === null ? null : after(to5) });
    const [first, end] = [{ 'cool.fc.first.celsius': 18 }, { 'cool.fc.end.celsius': 4 }];
    expect(of('cool.fc', typed(100, 300), end, 'to-end')).toEqual(['not-recorded', 'hold']);
    expect(find('cool.fc', typed(100, 300), end)).toMatchObject({ found: '5 C 5 h 0 min after smoking ended', limit: '57 C to 4 C within 6 hours in all', whatToDo: 'The club asks for 4 C: record core readings.' });
    expect(of('cool.fc', typed(100, 361), end, 'to-end')).toEqual(['not-met', 'do-not-share']);
    expect(of('cool.fc', typed(100, 300), first, 'to-21')).toEqual(['not-recorded', 'hold']);
    expect(of('cool.fc', typed(121, 300), first, 'to-21')).toEqual(['not-met', 'do-not-share']);
    // What was at 5 C in time was at 18 C before.
    expect([of('cool.fc', typed(100, 119), first, 'to-21'), of('cool.fc', typed(null, 119), first, 'to-21')]).toEqual([['met', 'clear'], ['met', 'clear']]);
  });

  it('of a dip (cool.ambient FC 3-501.14(B): 5 C)', () => {
    const mix = { id: 'mix', kind: 'mix', startedAt: after(0), finishedAt: after(20), cooledAt: null } as const;
    const dip = (cooledAt: Date | null, points: [number, number][] = []) => batch({}, { product: 'dip', smoke: null, mix: { ...mix, cooledAt }, stages: [mix], landings: [], readings: points.length === 0 ? [] : [log(every5(...points), { stageId: 'mix' })] });
    const end = { 'cool.ambient.celsius': 4 };
    expect([of('cool.ambient', dip(after(200))), of('cool.ambient', dip(after(200)), end), of('cool.ambient', dip(after(241)), end)]).toEqual([['met', 'clear'], ['not-recorded', 'hold'], ['not-met', 'do-not-share']]);
    expect([of('cool.ambient', dip(null, [[0, 20], [230, 4]]), end), of('cool.ambient', dip(null, [[0, 20], [235, 5], [260, 4]])), of('cool.ambient', dip(null, [[0, 20], [235, 5], [260, 4]]), end)]).toEqual([['met', 'clear'], ['met', 'clear'], ['not-met', 'do-not-share']]);
  });
});

it('a warm cure in one lot counts beside a longer, cooler one in another (chill.exposure: the lots’ fish was cured side by side)', () => {
  const lot = (name: string, hours: number, maxPlaceC: number) => ({ lot: name, stage: { id: name, kind: 'cure', startedAt: after(-900), finishedAt: after(-900 + hours * 60), maxPlaceC } as const, readings: [] });
  const cured = (...curesBefore: ReturnType<typeof lot>[]) => of('chill.exposure', batch({}, { curesBefore, curedBeforeMs: 7 * 3_600_000 }));
  expect(cured(lot('A', 5, 22))[0]).toBe('not-recorded');
  const held = (...lots: ReturnType<typeof lot>[]) => judged(batch({}, { curesBefore: lots, curedBeforeMs: 0 })).checks.find((c) => c.ruleId === 'chill.exposure')!;
  expect([held(lot('B', 7, 10)).means, held(lot('A', 5, 22)).means, held(lot('B', 7, 10), lot('A', 5, 22)).means]).toEqual(['nothing', 'hold', 'hold']);
  expect(held(lot('B', 7, 10), lot('A', 5, 22)).found).toBe('cured at up to 22 C, for 5 h 0 min that may have been warm');
});

it.each([['chill.hot.celsius', 28.4, '28.3 C'], ['chill.exposure.warm.celsius', 22, '21.1 C'], ['brine.cold.hours', 5, '4 hours'], ['smoke.lethality.minutes', 1.9, '2 minutes'], ['cool.fc.end.celsius', 5.1, '5 C'], ['cool.hg.first.celsius', 22, '21 C']])(
  'a looser %s is refused with the field, the rule’s value and what to do', (id, value, asked) => {
    expect(() => checkClubLimit(id, value)).toThrow(expect.objectContaining({ code: 'limit.looser', field: 'value', message: expect.stringContaining(`asks for ${asked}`), remedy: 'a club may tighten a limit and never loosen it' }));
  });
