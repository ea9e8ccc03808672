import { describe, expect, it } from 'vitest';
import type { BatchEvidence, EvidenceReadings } from '../../server/domain/rules/evidence.ts';
import type { ClubLimits } from '../../server/domain/rules/rule.ts';
import { after, batch, every5, judged, landing, log, state } from '../support/rule-evidence.ts';

const smoke = batch().smoke!;

describe('a dip is at 5 C within 4 hours of mixing (cool.ambient FC 3-501.14(B))', () => {
  const mix = { id: 'mix', kind: 'mix', startedAt: after(0), finishedAt: after(20), cooledAt: null } as const;
  const dip = (cooledAt: Date | null, readings: EvidenceReadings[] = [], club: ClubLimits = {}) => {
    const { checks, verdict } = judged(batch({}, { product: 'dip', smoke: null, mix: { ...mix, cooledAt }, stages: [mix], readings, landings: [] }), club);
    return [state(checks, 'cool.ambient'), verdict];
  };
  const core = (...points: [number, number][]) => log(every5(...points), { stageId: 'mix', probe: 'bowl' });
  it('typed: at the limit, just within and just beyond; missing, it is on hold', () => {
    expect([dip(after(240)), dip(after(239)), dip(after(241))]).toEqual([['met', 'clear'], ['met', 'clear'], ['not-met', 'do-not-share']]);
    expect([dip(null), dip(after(0))]).toEqual([['not-recorded', 'hold'], ['met', 'clear']]);
  });
  it('logged: the middle of the bowl, from the start of mixing', () => {
    expect([dip(null, [core([0, 20], [240, 5])]), dip(null, [core([0, 20], [245, 5])]), dip(null, [core([0, 20], [235, 5])])]).toEqual([['met', 'clear'], ['not-met', 'do-not-share'], ['met', 'clear']]);
    // Where something was typed too, the stricter counts.
    expect(dip(after(60), [core([0, 20], [300, 5])])).toEqual(['not-met', 'do-not-share']);
    expect(dip(after(241), [core([0, 20], [200, 5])])).toEqual(['not-met', 'do-not-share']);
  });
  it('a log that ends early or has a gap where it would be cold decides nothing; in Fahrenheit it holds whatever was typed', () => {
    expect(dip(null, [core([0, 20], [100, 12])])).toEqual(['not-recorded', 'hold']);
    expect(dip(null, [log([[0, 20], [5, 19], [10, 18], [300, 4], [305, 4]], { stageId: 'mix' })])).toEqual(['not-recorded', 'hold']);
    expect(dip(after(60), [log([[0, 168], [5, 160]], { stageId: 'mix' })])).toEqual(['not-recorded', 'hold']);
    expect(dip(null, [{ ...core([0, 20], [200, 5]), atMs: [...core([0, 20], [200, 5]).atMs].reverse(), celsius: [...core([0, 20], [200, 5]).celsius].reverse() }])).toEqual(['met', 'clear']);
  });
  it('a club’s own minutes are tighter', () => {
    expect([dip(after(130), [], { 'cool.ambient.minutes': 120 }), dip(null, [core([0, 20], [130, 5])], { 'cool.ambient.minutes': 120 })]).toEqual([['not-met', 'do-not-share'], ['not-met', 'do-not-share']]);
  });
});

describe('nitrite, where a laboratory measured it (HG ch. 13: 100 to 200 ppm)', () => {
  const of = (...ppm: number[]) => {
    const { checks, verdict } = judged(batch({}, { measurements: ppm.map((value) => ({ kind: 'nitrite' as const, value, part: 'belly' as const })) }));
    return [state(checks, 'nitrite'), verdict];
  };
  it('at most 200 ppm in any part; not asked where none was measured', () => {
    expect([of(200), of(199), of(201), of(100, 201)]).toEqual([['met', 'clear'], ['met', 'clear'], ['not-met', 'hold'], ['not-met', 'hold']]);
    expect(of()).toEqual(['', 'clear']);
  });
});

describe('the first step of cooling, from 60 C (cool.hg HG, memory; a smoked-fish text agrees)', () => {
  const of = (...points: [number, number][]) => judged(batch({ maxCoreC: null, holdMinutes: null, cooledTo21At: null, cooledAt: null }, { readings: [log(every5([-240, 10], [-60, 63], [0, 66], ...points))] }));
  it('within 2 hours and just beyond, where 57 C to 21 C alone was within', () => {
    expect([of([10, 60], [130, 21], [300, 4]).checks.find((c) => c.ruleId === 'cool.hg' && c.part === 'to-21')!.state, of([10, 60], [130, 21], [300, 4]).verdict]).toEqual(['met', 'clear']);
    const slow = of([10, 60], [25, 57], [140, 21], [300, 4]);
    expect([state(slow.checks, 'cool.hg', 'to-21'), state(slow.checks, 'cool.fc', 'to-21'), slow.verdict]).toEqual(['not-met', 'met', 'do-not-share']);
  });
});

describe('told for information, and no part of the verdict', () => {
  const told = (more: Partial<BatchEvidence>, ruleId: string, part?: string) => {
    const { checks, verdict } = judged(batch({}, more));
    return [state(checks, ruleId, part), verdict, checks.some((c) => c.ruleId === ruleId && c.counts)];
  };
  const stage = (kind: 'cure' | 'dry', from: number, to: number | null) => ({ id: kind, kind, startedAt: after(from), finishedAt: to === null ? null : after(to) });
  it('about an hour of drying (dry.pellicle, common practice)', () => {
    for (const [minutes, found] of [[60, 'met'], [61, 'met'], [59, 'not-met']] as const) expect(told({ stages: [stage('dry', -400, -400 + minutes), smoke] }, 'dry.pellicle')).toEqual([found, 'clear', false]);
    expect(told({ stages: [stage('dry', -400, null), smoke] }, 'dry.pellicle')).toEqual(['', 'clear', false]);
  });
  it('two species in one cure (brine.no-mix NY262.5)', () => {
    const two = [landing, { ...landing, species: 'Haddock', speciesCode: 'haddock', scombrotoxin: false }];
    expect(told({ stages: [stage('cure', -800, -600), smoke], landings: two }, 'brine.no-mix')).toEqual(['not-recorded', 'clear', false]);
    expect(told({ stages: [stage('cure', -800, -600), smoke] }, 'brine.no-mix')[0]).toBe('');
    expect(told({ landings: two }, 'brine.no-mix')[0]).toBe('');
  });
  it('65.6 C for 30 minutes, and the smoker at 93 to 107 C at the end (smoke.core-home OSU and WSU extension)', () => {
    const core = (celsius: number, minutes: number) => log(every5([-240, 10], [-minutes, celsius], [0, celsius], [20, 57], [130, 20], [350, 4]));
    expect([told({ readings: [core(65.6, 30)] }, 'smoke.core-home'), told({ readings: [core(65.5, 30)] }, 'smoke.core-home'), told({ readings: [core(65.6, 25)] }, 'smoke.core-home')].map((t) => t[0])).toEqual(['met', 'not-met', 'not-met']);
    expect([told({}, 'smoke.core-home'), judged(batch({ maxCoreC: 66 })).checks.find((c) => c.ruleId === 'smoke.core-home')!.state]).toEqual([['not-met', 'clear', false], 'not-recorded']);
    for (const [celsius, found] of [[93, 'met'], [107, 'met'], [92.9, 'not-met'], [107.1, 'not-met']] as const) expect(told({ readings: [log([[-120, 60], [-1, celsius]], { place: 'chamber' })] }, 'smoke.core-home', 'air')[0]).toBe(found);
  });
});

describe('the hotter core of home advice as a club asks for it (smoke.core-home OSU and WSU extension: better 71.1 C)', () => {
  const core = (celsius: number, minutes: number) => log(every5([-240, 10], [-minutes, celsius], [0, celsius], [20, 57], [130, 20], [350, 4]));
  const of = (readings: EvidenceReadings[], club: ClubLimits, part = 'core') => {
    const { checks, verdict } = judged(batch({}, { readings }), club);
    const check = checks.find((c) => c.ruleId === 'smoke.core-home' && c.part === part)!;
    return [check.state, check.tightened, check.counts, verdict];
  };
  it('tightens the core, its minutes and both sides of the air, decides nothing still, and never loosens', () => {
    const hotter = { 'smoke.core-home.celsius': 71.1 };
    expect([of([core(71.1, 30)], hotter), of([core(71, 30)], hotter)]).toEqual([['met', true, false, 'clear'], ['not-met', true, false, 'clear']]);
    expect([of([core(66, 60)], { 'smoke.core-home.minutes': 60 })[0], of([core(66, 55)], { 'smoke.core-home.minutes': 60 })[0]]).toEqual(['met', 'not-met']);
    expect([of([core(65.5, 30)], { 'smoke.core-home.celsius': 60 }), of([core(66, 25)], { 'smoke.core-home.minutes': 5 })].map((told) => told.slice(0, 2))).toEqual([['not-met', false], ['not-met', false]]);
    const air = (celsius: number, club: ClubLimits) => of([log([[-120, 60], [-1, celsius]], { place: 'chamber' })], club, 'air')[0];
    const narrow = { 'smoke.core-home.air-from.celsius': 96, 'smoke.core-home.air-to.celsius': 104 };
    expect([95.9, 96, 104, 104.1].map((celsius) => air(celsius, narrow))).toEqual(['not-met', 'met', 'met', 'not-met']);
    expect([92.9, 107.1].map((celsius) => air(celsius, { 'smoke.core-home.air-from.celsius': 50, 'smoke.core-home.air-to.celsius': 150 }))).toEqual(['not-met', 'not-met']);
  });
  it('names the better core only where it is hotter than what is asked', () => {
    const limit = (club: ClubLimits) => judged(batch(), club).checks.find((c) => c.ruleId === 'smoke.core-home')!.limit;
    expect([limit({}), limit({ 'smoke.core-home.celsius': 71.1 })]).toEqual(['65.6 C for 30 minutes, better 71.1 C', '71.1 C for 30 minutes']);
  });
});

describe('a smoker that was never above 32.2 C (smoke.cold HG ch. 13: not offered for sharing)', () => {
  const airOf = (club: ClubLimits, ...points: [number, number][]) => {
    const { checks, verdict } = judged(batch({}, { readings: [log(points, { place: 'chamber' })] }), club);
    return [state(checks, 'smoke.cold'), verdict];
  };
  const air = (...points: [number, number][]) => airOf({}, ...points);
  it('a club may ask for a hotter smoker, and never for a colder one', () => {
    const club = { 'smoke.cold.celsius': 60 };
    expect([airOf(club, [-200, 25], [-5, 60]), airOf(club, [-200, 25], [-5, 60.1]), airOf(club, [-200, 25], [-5, 40])]).toEqual([['not-met', 'hold'], ['met', 'clear'], ['not-met', 'hold']]);
    for (const loose of [20, -5, Number.NaN, 81]) expect([airOf({ 'smoke.cold.celsius': loose }, [-200, 25], [-5, 32.2]), airOf({ 'smoke.cold.celsius': loose }, [-200, 25], [-5, 32.3])]).toEqual([['not-met', 'hold'], ['met', 'clear']]);
  });
  it('holds whatever core was typed, at the limit and below it; just above it does not', () => {
    expect([air([-200, 25], [-5, 32.2]), air([-200, 25], [-5, 30]), air([-200, 25], [-5, 32.3])]).toEqual([['not-met', 'hold'], ['not-met', 'hold'], ['met', 'clear']]);
  });
  it('a log that ends early decides nothing, and a failed probe is no heat', () => {
    expect(air([-230, 20], [-200, 25])).toEqual(['not-recorded', 'clear']);
    expect(air([-200, 25], [-100, 9999], [-5, 30])[0]).toBe('not-met');
  });
});
