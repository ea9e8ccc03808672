import { describe, expect, it } from 'vitest';
import type { BatchEvidence, EvidenceLanding, EvidenceReadings, EvidenceStage } from '../../server/domain/rules/evidence.ts';
import { checksOf, foundOf, rawFindings, smokedFindings, verdictOf } from '../../server/domain/rules/judge.ts';
import { checkClubLimit, limitOf } from '../../server/domain/rules/limits.ts';
import { RULES } from '../../server/domain/rules/registry.ts';
import { parseCelsius } from '../../server/domain/units.ts';
import { after, batch, end, every5, judged, landing, log, smokeStage, state } from '../support/rule-evidence.ts';

const goodLog = log(every5([-240, 10], [-60, 63], [0, 66], [20, 57], [130, 20], [350, 4]));

describe('typed evidence of a smoke', () => {
  it('is clear at exactly 62.8 C, 30 minutes, 21 C within 2 hours and 5 C within 6 (smoke.core MI569.7, cool.fc FC 3-501.14)', () => {
    expect(judged(batch()).verdict).toBe('clear');
  });

  it('is not met one step short of each limit; too slow a cooling is never made good (smoke.core, cool.fc)', () => {
    expect(judged(batch({ maxCoreC: 62.7, holdMinutes: 0 })).verdict).toBe('hold');
    expect(judged(batch({ holdMinutes: 29.9 })).verdict).toBe('hold');
    expect(judged(batch({ cooledTo21At: after(121) })).verdict).toBe('do-not-share');
    expect(judged(batch({ cooledAt: new Date(end + 360 * 60_000 + 1) })).verdict).toBe('do-not-share');
  });

  it('takes the times of cooling from the cool stage too, and the stricter where two stages tell (cool.fc FC 3-501.14, cool.hg)', () => {
    const at = (cooledTo21At: number | null, cooledAt: number | null) => ({ id: `cool ${cooledTo21At}`, kind: 'cool' as const, startedAt: after(5), finishedAt: after(400), cooledTo21At: cooledTo21At === null ? null : after(cooledTo21At), cooledAt: cooledAt === null ? null : after(cooledAt) });
    const untold = batch({ cooledTo21At: null, cooledAt: null });
    const told = (...cool: ReturnType<typeof at>[]) => judged({ ...untold, stages: [...untold.stages, ...cool] }).verdict;
    expect([told(at(120, 360)), told(at(121, 360)), told(at(120, 361)), told(at(120, null))]).toEqual(['clear', 'do-not-share', 'do-not-share', 'hold']);
    expect([told(at(120, null), at(null, 360)), told(at(120, 300), at(null, 361)), told(at(90, 340), at(115, 350))]).toEqual(['clear', 'do-not-share', 'do-not-share']);
    const both = batch();
    expect(judged({ ...both, stages: [...both.stages, at(121, null)] }).verdict).toBe('do-not-share');
  });

  it('meets the core limit with a thermometer that reads 145 F, and not with 144.9 F (smoke.core pairs 62.8 C with 145 F)', () => {
    expect(state(judged(batch({ maxCoreC: parseCelsius('145', 'F') })).checks, 'smoke.core', 'core')).toBe('met');
    expect(state(judged(batch({ maxCoreC: parseCelsius('144.9', 'F'), holdMinutes: 0 })).checks, 'smoke.core', 'core')).toBe('not-met');
  });

  it('holds whenever anything is missing: never a pass', () => {
    for (const missing of ['maxCoreC', 'holdMinutes', 'cooledTo21At', 'cooledAt', 'finishedAt']) expect(judged(batch({ [missing]: null })).verdict, missing).toBe('hold');
    expect(judged(batch({}, { smoke: null, stages: [] })).verdict).toBe('hold');
  });

  it('knows that what was at 5 C within 2 hours was at 21 C by then', () => {
    expect(judged(batch({ cooledTo21At: null, cooledAt: after(119) })).verdict).toBe('clear');
  });

  it('shows the second step of cool.hg as not recorded, since 5 C is not 4.4 C, and too slow where it was (HG, memory)', () => {
    expect(state(judged(batch()).checks, 'cool.hg')).toBe('not-recorded');
    expect(judged(batch({ cooledTo21At: after(60), cooledAt: after(301) })).verdict).toBe('do-not-share');
  });
});

describe('logged evidence', () => {
  it('of a good smoke is clear with nothing typed, its lethality for information (smoke.core, HG appendix 4 table A-3, memory)', () => {
    const { verdict, checks } = judged(batch({ maxCoreC: null, holdMinutes: null, cooledTo21At: null, cooledAt: null }, { readings: [goodLog] }));
    expect(verdict).toBe('clear');
    expect(checks.find((c) => c.ruleId === 'smoke.lethality')).toMatchObject({ state: 'met', counts: false, working: { source: expect.stringContaining('A-3') } });
    expect(state(checks, 'cool.hg')).toBe('met met');
  });

  it('the stricter counts where something was typed too', () => {
    expect(judged(batch({ holdMinutes: 20 }, { readings: [goodLog] })).verdict).toBe('hold');
    expect(judged(batch({ cooledTo21At: after(121) }, { readings: [goodLog] })).verdict).toBe('do-not-share');
    expect(judged(batch({}, { readings: [log(every5([-240, 10], [-60, 63], [-45, 63], [0, 60], [120, 20], [350, 4]))] })).verdict).toBe('hold');
  });

  it('that contradicts what was typed holds, and says that one of the two must be corrected; where both are too low it says that it was not hot enough', () => {
    const core = (typed: Parameters<typeof batch>[0], logged = goodLog) => {
      const { checks, verdict } = judged(batch(typed, { readings: [logged] }));
      const words = (part: string) => checks.find((c) => c.ruleId === 'smoke.core' && c.part === part)!.whatToDo;
      return { verdict, hot: words('core'), held: words('hold') };
    };
    const corrects = /contradict each other.*Correct the typed one.*or withdraw the log/;
    expect(core({ maxCoreC: 60 })).toEqual({ verdict: 'hold', hot: expect.stringMatching(corrects), held: '' });
    expect(core({ holdMinutes: 20 })).toEqual({ verdict: 'hold', hot: '', held: expect.stringMatching(corrects) });
    const cool = log(every5([-240, 10], [-60, 61], [0, 61], [100, 20], [300, 4]));
    expect(core({ maxCoreC: 66 }, cool)).toEqual({ verdict: 'hold', hot: expect.stringMatching(corrects), held: expect.stringMatching(/^Hold it\. It needs 30/) });
    expect(core({ maxCoreC: 60 }, cool).hot).toMatch(/did not get hot enough/);
  });

  it('of several probes the coldest counts (smoke.core: the coldest spot)', () => {
    const cold = log(every5([-240, 10], [-60, 61], [0, 61], [100, 20], [300, 4]), { probe: 'back left' });
    expect(judged(batch({}, { readings: [{ ...goodLog, probe: 'front' }, cold] })).verdict).toBe('hold');
  });

  describe('of a probe that was put in for the cooling (smoke.core: the coldest spot in the smoke)', () => {
    const smoking = { ...log(every5([-240, 10], [-60, 63], [0, 66])), probe: 'front' };
    const cooling = (points: [number, number][]) => log(points, { probe: 'cold room' });
    const fine = every5([10, 62], [20, 57], [130, 20], [350, 4]);
    const typed = { maxCoreC: null, holdMinutes: null, cooledTo21At: null, cooledAt: null };
    const hold = (readings: EvidenceReadings[], smoke: Parameters<typeof batch>[0] = typed) => state(judged(batch(smoke, { readings })).checks, 'smoke.core', 'hold');

    it('says nothing against the hold, and tells the cooling', () => {
      const { verdict, checks } = judged(batch(typed, { readings: [smoking, cooling(fine)] }));
      expect([verdict, state(checks, 'smoke.core'), state(checks, 'cool.fc')]).toEqual(['clear', 'met met', 'met met']);
      expect(checks.find((c) => c.ruleId === 'smoke.lethality')).toMatchObject({ state: 'met' });
      expect(judged(batch({ cooledTo21At: null, cooledAt: null }, { readings: [cooling(fine)] })).verdict, 'beside a typed hold').toBe('clear');
      expect(hold([smoking, cooling([...fine, [351, 999]])]), 'with a broken reading').toBe('met');
      expect(hold([smoking, cooling(every5([10, 62], [300, 4], [600, 15]))]), 'taken out to be packed').toBe('met');
    });

    it('too slow it is still do-not-share (cool.fc FC 3-501.14)', () => {
      expect(judged(batch(typed, { readings: [smoking, cooling(every5([10, 62], [20, 57], [160, 20], [400, 4]))] })).verdict).toBe('do-not-share');
    });

    it('is no evidence of a hold: alone it leaves it not recorded', () => {
      expect(hold([cooling(fine)])).toBe('not-recorded');
      expect(judged(batch(typed, { readings: [cooling(fine)] })).verdict).toBe('hold');
    });

    it('counts with one reading in the smoke, its last minute and an odd reading too: the fish in it stayed cold', () => {
      for (const minute of [-239, -30, 0]) expect(hold([smoking, cooling([[minute, 40], ...fine])]), `a reading at ${minute}`).toBe('not-met');
      expect(hold([smoking, cooling([[-30, -999], ...fine])])).toBe('not-met');
      expect(hold([smoking, cooling(every5([-200, 10], [0, 55], [100, 20], [300, 4]))])).toBe('not-met');
    });

    it('counts while smoking is not finished, and where nobody recorded a smoke', () => {
      // Nothing has failed while it runs, and nothing is met by a colder probe.
      expect(hold([smoking, cooling(fine)], { ...typed, finishedAt: null })).toBe('not-recorded');
      expect(state(judged(batch(typed, { readings: [{ ...smoking, stageId: null }, { ...cooling(fine), stageId: null }], smoke: null, stages: [] })).checks, 'smoke.core', 'hold')).toBe('not-met');
    });

    it('while the smoke runs says how far it is, and holds (smoke.core MI569.7)', () => {
      const running = judged(batch({ maxCoreC: 44.1, holdMinutes: 0, finishedAt: null }));
      const core = running.checks.filter((c) => c.ruleId === 'smoke.core');
      expect([running.verdict, core.map((c) => [c.part, c.state, c.found])]).toEqual(['hold', [['core', 'not-recorded', '44.1 C, so far'], ['hold', 'not-recorded', '0 minutes, so far'], ['ended', 'not-recorded', 'smoking is not finished']]]);
    });

    it('counts when it was heated: its clock or the end of smoking is wrong, and no later end is made of it', () => {
      const heated = every5([-240, 10], [0, 55], [100, 20], [300, 4]).map(([m, c]): [number, number] => [m + 1440, c]);
      expect(hold([smoking, cooling(heated)]), 'a clock a day late').toBe('not-met');
      expect(hold([smoking, cooling(every5([-170, 30], [0, 55], [100, 20], [300, 4]))], { ...typed, finishedAt: after(-180) }), 'smoking said to have ended early').toBe('not-met');
      expect(hold([cooling(heated)], { maxCoreC: 66, holdMinutes: 40 }), 'beside a typed hold').toBe('not-met');
      expect(hold([smoking, cooling(every5([-170, 58], [-60, 57], [60, 20], [300, 4]))], { ...typed, finishedAt: after(-180) }), 'still at its stall, smoking said to have ended early').toBe('not-met');
    });

    it('counts when it was in before smoking began', () => {
      expect(hold([smoking, cooling([[-300, 4], [-295, 4], [-290, 4]])])).toBe('not-met');
    });

    it('of two smokes the later one ends it', () => {
      const second = { ...smokeStage, ...typed, id: 'smoke-2', startedAt: after(5), finishedAt: after(60) };
      const evidence = batch(typed, { readings: [smoking, cooling(fine)] });
      expect(state(judged({ ...evidence, stages: [...evidence.stages, second] }).checks, 'smoke.core', 'hold')).toBe('not-met');
    });
  });

  it('that ends before the hold is complete is not met, not nearly', () => {
    const { verdict, checks } = judged(batch({ holdMinutes: null, cooledTo21At: null, cooledAt: null }, { readings: [log(every5([-240, 10], [-29, 63], [0, 66]))] }));
    expect([verdict, state(checks, 'smoke.core', 'hold')]).toEqual(['hold', 'not-met']);
  });

  it('with a gap in the hold counts no more than the log shows', () => {
    const points = every5([-240, 10], [-60, 63], [0, 66]).filter(([m]) => m < -35 || m > -15);
    expect(state(judged(batch({}, { readings: [log(points)] })).checks, 'smoke.core', 'hold')).toBe('not-met');
  });

  it('read every 15 minutes leaves what was typed open, and says no more than that; one that shows it too short is told as such', () => {
    const sparse = (hotFrom: number) => log(every5([-240, 10], [hotFrom, 63], [0, 66]).filter(([m]) => m % 15 === 0));
    const { verdict, checks } = judged(batch({}, { readings: [sparse(-60)] }));
    const held = checks.find((c) => c.ruleId === 'smoke.core' && c.part === 'hold')!;
    expect([verdict, held.state, held.means, held.found]).toEqual(['hold', 'not-met', 'hold', '0 minutes at 62.8 C or more logged, 30 minutes typed']);
    expect(held.whatToDo).toMatch(/^A gap in the log leaves it open, and the stricter counts\. Read the core at least every 10 minutes/);
    const short = judged(batch({}, { readings: [sparse(-15)] })).checks.find((c) => c.ruleId === 'smoke.core' && c.part === 'hold')!;
    expect([short.state, short.whatToDo]).toEqual(['not-met', expect.stringMatching(/^Hold it\. It needs 30 unbroken minutes\./)]);
    const nothingTyped = judged(batch({ holdMinutes: null }, { readings: [sparse(-60)] })).checks.find((c) => c.ruleId === 'smoke.core' && c.part === 'hold')!;
    expect(nothingTyped.whatToDo).toMatch(/^Hold it\./);
  });

  it('in Fahrenheit entered as Celsius is not judged, whatever was typed', () => {
    const { verdict, checks } = judged(batch({}, { readings: [log(every5([-240, 50], [-60, 146], [0, 150]))] }));
    expect(verdict).toBe('hold');
    expect(state(checks, 'smoke.core', 'hold')).toBe('not-recorded');
  });

  it('out of order, with duplicates and a probe that reads -999 comes to the same', () => {
    const mixed = { ...goodLog, atMs: [...goodLog.atMs].reverse(), celsius: [...goodLog.celsius].reverse() };
    const noisy = { ...mixed, atMs: [...mixed.atMs, ...mixed.atMs.slice(0, 9), end - 100 * 60_000 + 1], celsius: [...mixed.celsius, ...mixed.celsius.slice(0, 9), -999] };
    const found = (readings: EvidenceReadings[]) => judged(batch({}, { readings })).checks.map((c) => [c.ruleId, c.part, c.state, c.found]);
    expect(found([noisy])).toEqual(found([goodLog]));
  });

  it('cooled too slowly is do-not-share (cool.fc FC 3-501.14)', () => {
    expect(judged(batch({ cooledTo21At: null, cooledAt: null }, { readings: [log(every5([-240, 10], [-60, 63], [0, 66], [20, 57], [160, 20], [400, 4]))] })).verdict).toBe('do-not-share');
  });
});

describe('fish that forms histamine (HG ch. 7, memory)', () => {
  const of = (change: Partial<EvidenceLanding>) => judged(batch({}, { landings: [{ ...landing, ...change }] }));
  it('is on hold while a time is missing, and is not shared when it was iced too late', () => {
    expect(of({ caughtAt: null }).verdict).toBe('hold');
    expect(of({ icedAt: null }).verdict).toBe('hold');
    expect(of({ icedAt: after(-900 + 9 * 60) }).verdict).toBe('clear');
    expect(of({ icedAt: after(-900 + 9 * 60 + 1) }).verdict).toBe('do-not-share');
  });
  it('counts as hot above 28.3 C, and where the air or the water is not recorded: 6 hours (chill.hot)', () => {
    for (const hot of [{ airC: 28.4 }, { waterC: 28.4 }, { airC: null }, { waterC: null }]) {
      expect(of({ ...hot, coreC: null, icedAt: after(-900 + 6 * 60) }).verdict, JSON.stringify(hot)).toBe('clear');
      expect(of({ ...hot, coreC: null, icedAt: after(-900 + 6 * 60 + 1) }).verdict, JSON.stringify(hot)).toBe('do-not-share');
    }
  });
  it('is asked of a species of which nobody knows, and not of one that forms none', () => {
    expect(of({ speciesCode: 'own-lumpfish', scombrotoxin: null, caughtAt: null }).verdict).toBe('hold');
    expect(of({ speciesCode: 'pollack', scombrotoxin: false, caughtAt: null }).verdict).toBe('clear');
  });
  it('that was warm inside at landing is not shared, whenever that was (chill.internal)', () => {
    expect(of({ coreC: 20 }).verdict).toBe('do-not-share');
    expect(of({ coreC: 9 }).checks.find((c) => c.ruleId === 'chill.internal')).toMatchObject({ state: 'not-recorded', means: 'nothing' });
  });
});

describe('what a check is about', () => {
  const titles = (evidence: BatchEvidence) => judged(evidence).checks.map((c) => (c.about ? `${c.title}: ${c.about}` : c.title));
  const called = (name: string): EvidenceLanding => ({ ...landing, called: name });

  it('is said of each landing where there are two, and of none where the title says enough', () => {
    const two = titles(batch({}, { landings: [called('landing of 3 May, Atlantic mackerel'), called('landing of 4 May, Atlantic mackerel')] }));
    expect(two).toContain('Chilled soon enough in mild air and water: landing of 3 May, Atlantic mackerel');
    expect(two).toContain('Chilled soon enough in mild air and water: landing of 4 May, Atlantic mackerel');
    expect(titles(batch())).toContain('Chilled soon enough in mild air and water');
  });

  it('is never the same twice, even for two landings of one day (each by its number) and two times of drying', () => {
    const dry = (id: string) => ({ id, kind: 'dry', startedAt: after(-400), finishedAt: after(-300) }) as const;
    const all = titles(batch({}, { landings: [called('landing of 3 May, Atlantic mackerel'), called('landing of 3 May, Atlantic mackerel')], stages: [dry('d1'), dry('d2'), { ...smokeStage }], readings: [goodLog] }));
    expect(all.filter((title, i) => all.indexOf(title) !== i)).toEqual([]);
    expect(all).toContain('Chilled soon enough in mild air and water: landing of 3 May, Atlantic mackerel, 2 of 2');
    expect(all).toContain('Hot enough for long enough: for how long');
  });
});

describe('packs without air', () => {
  const vacuum = { packageKind: 'vacuum', storage: 'refrigerated' } as const;
  const salt = (value: number, part: 'loin' | 'belly' = 'loin') => ({ kind: 'water-phase-salt', value, part }) as const;
  const nitrite = (value: number) => ({ kind: 'nitrite', value, part: 'loin' }) as const;
  const verdict = (measurements: BatchEvidence['measurements'], packs: BatchEvidence['packs'] = [vacuum]) => judged(batch({}, { packs, measurements })).verdict;
  it('need 3.5 % salt in the loin, or 3.0 % with 100 to 200 ppm nitrite, measured (salt.rop HG ch. 13)', () => {
    expect(verdict([])).toBe('hold');
    expect(verdict([salt(9, 'belly')])).toBe('hold');
    expect(verdict([salt(3.5)])).toBe('clear');
    expect(verdict([salt(3.49)])).toBe('do-not-share');
    expect(verdict([salt(3.6), salt(3.4)])).toBe('do-not-share');
    expect(verdict([salt(3.0), nitrite(100), nitrite(200)])).toBe('clear');
    for (const ppm of [99, 201]) expect(verdict([salt(3.4), nitrite(ppm)])).toBe('do-not-share');
    expect(verdict([salt(2.9), nitrite(150)])).toBe('do-not-share');
  });
  it('need none when they are frozen (rop.freeze FC 3-502.12(C))', () => {
    expect(verdict([], [{ packageKind: 'vacuum', storage: 'frozen' }])).toBe('clear');
  });
});

describe('brine, cold stores and parasites, where something was recorded', () => {
  const cure = { id: 'cure', kind: 'cure', startedAt: after(-900), finishedAt: after(-600) } as const;
  const with_ = (readings: EvidenceReadings[], more: Partial<EvidenceStage> = { maxPlaceC: 3 }) => judged(batch({}, { stages: [{ ...cure, ...more }, batch().smoke!], readings }));
  it('a warm brine or a warm place holds (brine.start, brine.cold NY262.5)', () => {
    expect(with_([]).verdict).toBe('clear');
    expect(with_([log([[-900, 15.6], [-700, 18]], { place: 'brine', stageId: 'cure' })]).verdict).toBe('clear');
    expect(with_([log([[-900, 15.7]], { place: 'brine', stageId: 'cure' })]).verdict).toBe('hold');
    expect(with_([log([[-900, 3.3], [-700, 3.4]], { place: 'storage', stageId: 'cure' })]).verdict).toBe('hold');
  });
  it('a cure of more than 4 hours holds until somebody says how warm its place was; the worse of what was typed and read counts (brine.cold NY262.5)', () => {
    const found = (readings: EvidenceReadings[], more: Partial<EvidenceStage>) => {
      const { verdict, checks } = with_(readings, more);
      return [verdict, checks.filter((c) => c.ruleId === 'brine.cold').map((c) => c.state).join(' ')];
    };
    const store = (celsius: number) => log([-900, -840, -780, -720, -660, -600].map((minute) => [minute, celsius]), { place: 'storage', stageId: 'cure' });
    expect([found([], {}), found([], { maxPlaceC: null }), found([], { maxPlaceC: 3.3 }), found([], { maxPlaceC: 3.4 })]).toEqual([['hold', 'not-recorded'], ['hold', 'not-recorded'], ['clear', 'met'], ['hold', 'not-met']]);
    expect([found([store(3.3)], {}), found([store(3.3)], { maxPlaceC: 3.4 }), found([store(3.4)], { maxPlaceC: 3.3 })]).toEqual([['clear', 'met'], ['hold', 'not-met'], ['hold', 'not-met']]);
    // Four hours are not more than four.
    expect([found([], { finishedAt: after(-660) }), found([], { finishedAt: after(-659) })]).toEqual([['clear', ''], ['hold', 'not-recorded']]);
  });
  it('hours in two cures, here or in the lot it came from, are added up (brine.cold NY262.5)', () => {
    const cured = (from: number, to: number, more: Partial<EvidenceStage> = {}): EvidenceStage => ({ id: `cure ${from}`, kind: 'cure', startedAt: after(from), finishedAt: after(to), ...more });
    const told = (own: EvidenceStage[], curesBefore: BatchEvidence['curesBefore'] = [], hoursBefore = 0) => {
      const { verdict, checks } = judged(batch({}, { stages: [...own, batch().smoke!], curesBefore, curedBeforeMs: hoursBefore * 3_600_000 }));
      return [verdict, ...checks.filter((c) => c.ruleId === 'brine.cold').map((c) => `${c.state}: ${c.found}`)];
    };
    expect(told([cured(-900, -720), cured(-700, -600)])).toEqual(['hold', 'not-recorded: not recorded', 'not-recorded: not recorded']);
    expect(told([cured(-900, -720), cured(-700, -640)])).toEqual(['clear']);
    const above = (lot: string, stage: EvidenceStage) => ({ lot, stage, readings: [] });
    expect(told([], [above('A1', cured(-900, -600))], 5)).toEqual(['hold', 'not-recorded: lot A1: not recorded']);
    expect(told([], [above('A1', cured(-900, -600, { maxPlaceC: 5 }))], 5)).toEqual(['hold', 'not-met: lot A1: at most 5 C']);
    expect(told([], [above('A1', cured(-900, -600, { maxPlaceC: 3 }))], 5)).toEqual(['clear', 'met: lot A1: at most 3 C']);
    // Two lots of three hours each lay side by side, so no piece was cured for six.
    expect(told([], [above('A1', cured(-900, -720)), above('A2', cured(-900, -720))], 3)).toEqual(['clear']);
    expect(told([cured(-500, -430, { maxPlaceC: 2 })], [above('A1', cured(-900, -720)), above('A2', cured(-900, -720))], 3)[0]).toBe('hold');
    // One after the other they are six.
    expect(told([], [above('A1', cured(-900, -720)), above('A2', cured(-700, -520))], 6)[0]).toBe('hold');
  });
  it('a store above 3.3 C holds (hold.cold NY262)', () => {
    expect(with_([log([[400, 3.3]], { place: 'storage', stageId: null })]).verdict).toBe('clear');
    expect(with_([log([[400, 3.4]], { place: 'storage', stageId: null })]).verdict).toBe('hold');
  });
  it('raw fish is clear with a core of -20 C for 168 hours without a gap, and on hold short of it (parasite FC 3-402.11)', () => {
    const raw = (hours: number, celsius: number, skip = -1) => {
      const points = Array.from({ length: hours * 2 + 1 }, (_, i): [number, number] => [i * 30, celsius]).filter((_p, i) => i < skip || i > skip + 2 || skip < 0);
      return verdictOf(checksOf(rawFindings(batch({}, { product: 'raw', smoke: null, stages: [], readings: [log(points, { stageId: null })] }), {}), []));
    };
    expect([raw(168, -20), raw(167, -20), raw(168, -19.9), raw(168, -20, 100)]).toEqual(['clear', 'hold', 'hold', 'hold']);
  });
});

describe('club limits', () => {
  it.each(RULES.flatMap((rule) => rule.limits))('$id tightens and never loosens', (limit) => {
    const step = limit.direction === 'at-most' ? -0.5 : 0.5;
    expect(() => checkClubLimit(limit.id, limit.value - step)).toThrow(String(limit.value));
    expect(checkClubLimit(limit.id, limit.value)).toBe(limit);
    expect(limitOf({ [limit.id]: limit.value - step }, limit.id)).toEqual({ value: limit.value, tightened: false });
    expect(limitOf({ [limit.id]: limit.tightest }, limit.id)).toEqual({ value: limit.tightest, tightened: limit.tightest !== limit.value });
    for (const no of [Number.NaN, Infinity, -Infinity]) expect(() => checkClubLimit(limit.id, no)).toThrow();
  });
  it('of a hotter core need readings: typed minutes are minutes at 62.8 C', () => {
    const club = { 'smoke.core.celsius': 65.6 };
    expect(judged(batch({ maxCoreC: 66, holdMinutes: 60 }), club).verdict).toBe('hold');
    const hot = log(every5([-240, 10], [-60, 65.6], [0, 68], [20, 57], [130, 20], [350, 4]));
    expect(judged(batch({ maxCoreC: null, holdMinutes: null, cooledTo21At: null, cooledAt: null }, { readings: [hot] }), club).verdict).toBe('clear');
    expect(judged(batch({}, { readings: [hot] }), { 'cool.fc.first-minutes': 60 }).verdict).toBe('do-not-share');
  });
});

describe('the registry', () => {
  it('names each rule and limit once, each with a source and what to do', () => {
    const ids = [...RULES.map((r) => r.id), ...RULES.flatMap((r) => r.limits.map((l) => l.id))];
    expect(new Set(ids).size).toBe(ids.length);
    for (const rule of RULES) {
      expect([rule.source, rule.kind === 'check' ? rule.evidence : rule.words!, rule.title].every((text) => text.length > 3), rule.id).toBe(true);
      if (rule.ifNotMet !== 'nothing') expect(rule.whatToDo.length, rule.id).toBeGreaterThan(10);
    }
  });
  it('says where what each check asks for is entered, with the stage and the place of a reading', () => {
    const entered = new Map(judged(batch({ maxCoreC: null, cooledAt: null }, { packs: [{ packageKind: 'vacuum', storage: 'refrigerated' }] })).checks.map((c) => [c.ruleId, [c.evidenceAt, c.evidenceStage, c.evidencePlace]]));
    expect(entered.get('chill.mild')).toEqual(['landing', null, null]);
    expect(entered.get('smoke.core')).toEqual(['stage', 'smoke', 'core']);
    expect(entered.get('cool.hg')).toEqual(['readings', 'cool', 'core']);
    expect(entered.get('salt.rop')).toEqual(['laboratory', null, null]);
    for (const rule of RULES) expect(rule.evidenceAt !== 'readings' || rule.evidencePlace !== undefined, rule.id).toBe(true);
  });
  it('lets nobody release heat, cooling, histamine, parasites or packs without air', () => {
    expect(RULES.filter((r) => /^(smoke|cool|chill|salt|rop|parasite)\b/.test(r.id) && r.releasable)).toEqual([]);
  });
  it('a release holds for what was found then, and not for something worse', () => {
    const store = (celsius: number) => smokedFindings(batch({}, { readings: [log([[400, celsius]], { place: 'storage', stageId: null })] }), {});
    const checks = checksOf(store(4), []);
    const release = { ruleId: 'hold.cold', found: foundOf(checks, 'hold.cold'), reason: 'Ten minutes while it was loaded', by: 'Isla' };
    expect(verdictOf(checks)).toBe('hold');
    expect(verdictOf(checksOf(store(4), [release]))).toBe('clear');
    expect(verdictOf(checksOf(store(9), [release]))).toBe('hold');
    expect(verdictOf(checksOf(smokedFindings(batch({ holdMinutes: 10 }), {}), [{ ...release, ruleId: 'smoke.core', found: '10 minutes' }]))).toBe('hold');
  });
  it('taking any record away never makes a batch clearer', () => {
    const rank = { clear: 2, hold: 1, 'do-not-share': 0 } as Record<string, number>;
    const cases: BatchEvidence[] = [batch(), batch({}, { readings: [goodLog] }), batch({}, { packs: [{ packageKind: 'vacuum', storage: 'refrigerated' }], measurements: [{ kind: 'water-phase-salt', value: 3.6, part: 'loin' }] })];
    for (const whole of cases) {
      expect(judged(whole).verdict).toBe('clear');
      const less: BatchEvidence[] = [
        ...['maxCoreC', 'holdMinutes', 'cooledTo21At', 'cooledAt', 'finishedAt'].map((f) => ({ ...whole, smoke: { ...whole.smoke!, [f]: null } })),
        { ...whole, smoke: null }, { ...whole, measurements: [] }, { ...whole, readings: [] }, ...['caughtAt', 'icedAt', 'airC', 'waterC', 'coreC'].map((f) => ({ ...whole, landings: [{ ...landing, [f]: null }] })),
      ];
      for (const fewer of less) expect(rank[judged(fewer).verdict]).toBeLessThanOrEqual(rank[judged(whole).verdict]!);
    }
  });
});
