import { describe, expect, it } from 'vitest';
import type { BatchEvidence, EvidenceReadings } from '../../server/domain/rules/evidence.ts';
import { RULES } from '../../server/domain/rules/registry.ts';
import type { ClubLimits } from '../../server/domain/rules/rule.ts';
import { after, batch, every5, judged, landing, log, smokeStage } from '../support/rule-evidence.ts';

/** The same numbers at every run: Park and Miller's minimal generator. */
function numbers(seed: number): () => number {
  let state = seed;
  return () => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
}
const RANK = { clear: 0, hold: 1, 'do-not-share': 2 } as const;
const rank = (evidence: BatchEvidence, club: ClubLimits = {}) => RANK[judged(evidence, club).verdict as keyof typeof RANK];

/** Evidence around the limits: some of it missing, some good, some not. */
function some(next: () => number): BatchEvidence {
  const near = (limit: number, span: number) => limit + (next() - 0.5) * span;
  const maybe = <T>(value: T): T | null => (next() < 0.15 ? null : value);
  const reading = (place: EvidenceReadings['place'], celsius: number, minute: number, stageId: string | null) => (next() < 0.5 ? [log([[minute, celsius], [minute + 30, celsius]], { place, stageId })] : []);
  const maxCoreC = maybe(near(62.8, 4));
  const stage = { ...smokeStage, maxCoreC, holdMinutes: maybe(maxCoreC !== null && maxCoreC < 62.8 ? 0 : near(35, 20)), cooledTo21At: maybe(after(near(110, 30))), cooledAt: maybe(after(near(340, 60))) };
  const cure = { id: 'cure', kind: 'cure', startedAt: after(-900), finishedAt: after(-600), maxPlaceC: maybe(near(3, 1.5)) } as const;
  const heat = log(every5([-240, 10], [-60, near(63.5, 2)], [0, near(65, 3)], [20, 57], [near(130, 20), 20], [near(350, 40), 4]));
  const raw = log(Array.from({ length: 40 }, (_, i): [number, number] => [-700 + i * 11, next() < 0.5 ? 2 : near(10, 18)]), { stageId: null, probe: 'raw' });
  // The core as it was kept, from within the hours of the cooling to more than a day after the smoke.
  const kept = log(Array.from({ length: 12 }, (_, i): [number, number] => [250 + i * 130, next() < 0.1 ? near(5, 3) : near(2.8, 2)]), { stageId: null, probe: 'kept' });
  return batch(stage as never, {
    stages: [cure, stage as never],
    readings: [...(next() < 0.5 ? [heat] : []), ...(next() < 0.3 ? [kept] : []), ...(next() < 0.4 ? [raw] : []), ...reading('brine', near(15, 3), -900, 'cure'), ...reading('storage', near(3, 1.5), -700, 'cure'), ...reading('storage', near(3, 1.5), -580, null), ...reading('storage', near(3, 1.5), 500, null)],
    landings: [{ ...landing, caughtAt: maybe(after(-900)), icedAt: maybe(after(-900 + near(8, 4) * 60)), landedAt: maybe(after(-400)), airC: maybe(near(26, 8)), waterC: maybe(near(20, 4)), coreC: next() < 0.5 ? null : near(6, 8) }],
    measurements: next() < 0.5 ? [{ kind: 'water-phase-salt', value: near(3.4, 1), part: 'loin' }, { kind: 'nitrite', value: near(190, 40), part: 'loin' }] : [],
    packs: next() < 0.4 ? [{ packageKind: 'vacuum', storage: next() < 0.5 ? 'refrigerated' : 'frozen' }] : [],
    frozenBefore: next() < 0.3 ? 'all' : 'none',
  });
}
const RUNS = 400;

describe('whatever is recorded', () => {
  it('tightening a limit never turns a hold into clear, nor makes any verdict milder (a club only tightens)', () => {
    const next = numbers(7);
    const limits = RULES.flatMap((rule) => rule.limits);
    let [held, moved] = [0, 0];
    for (let run = 0; run < RUNS; run += 1) {
      const evidence = some(next);
      const before = rank(evidence);
      const club = Object.fromEntries(limits.filter(() => next() < 0.3).map(({ id, value, tightest }) => [id, value + (tightest - value) * next() * 0.3]));
      const after_ = rank(evidence, club);
      expect(after_, JSON.stringify({ run, club })).toBeGreaterThanOrEqual(before);
      held += before > 0 ? 1 : 0;
      moved += after_ > before ? 1 : 0;
    }
    // It says something: some were clear, some held, and tightening moved some.
    expect([held > 20, held < RUNS, moved > 20]).toEqual([true, true, true]);
  });

  /** What was found, by rule and part; which of the chill rules judges the hours to ice is chosen by the temperatures, so those are one. */
  const statesAndRank = (evidence: BatchEvidence, club: ClubLimits) => {
    const { verdict, checks } = judged(evidence, club);
    return { states: new Map(checks.map((c) => [`${/^chill\.(hot|mild|gutted)$/.test(c.ruleId) ? 'iced' : c.ruleId} ${c.part} ${c.about}`, c.state])), rank: RANK[verdict as keyof typeof RANK] };
  };
  it('no tightening of one limit, alone or on top of another, however far, turns what is not met into met, nor into a check that is gone, nor makes the verdict milder', () => {
    const next = numbers(17);
    const limits = RULES.flatMap((rule) => rule.limits);
    const moved = new Set<string>();
    const steady = (celsius: number) => log(Array.from({ length: 64 }, (_, i): [number, number] => [-880 + i * 10, celsius]), { stageId: null, probe: 'raw' });
    for (let run = 0; run < RUNS / 5; run += 1) {
      const mixed = next() < 0.2;
      const mix = { id: 'mix', kind: 'mix', startedAt: after(0), finishedAt: after(20), cooledAt: next() < 0.3 ? null : after(200 + next() * 60) } as const;
      const evidence: BatchEvidence = mixed
        ? batch({}, { product: 'dip', smoke: null, mix, stages: [mix], landings: [], readings: next() < 0.6 ? [log(every5([0, 20], [200 + next() * 60, 3 + next() * 3]), { stageId: 'mix' })] : [] })
        : { ...some(next), guttedSource: next() < 0.5 ? 'Harbour Laboratory' : '', ...(next() < 0.2 ? { readings: [steady(4.4 + (next() - 0.5))] } : {}) };
      const landings = evidence.landings.map((l) => ({ ...l, guttedAt: l.caughtAt && l.icedAt ? new Date(Math.min(l.icedAt.getTime(), l.caughtAt.getTime() + 60_000)) : null }));
      // A cure of two to six hours, about the four of its rule.
      const cured = after(-780 + next() * 240);
      const stages = evidence.stages.map((stage) => (stage.kind === 'cure' ? { ...stage, finishedAt: cured } : stage));
      const told = (club: ClubLimits) => statesAndRank({ ...evidence, landings, stages }, club);
      const holds = (was: ReturnType<typeof told>, is: ReturnType<typeof told>, club: ClubLimits) => {
        expect(is.rank, JSON.stringify({ run, club })).toBeGreaterThanOrEqual(was.rank);
        for (const [key, state] of was.states) if (state === 'not-met') expect(['not-met', 'not-recorded'], JSON.stringify({ run, club, key })).toContain(is.states.get(key));
      };
      const before = told({});
      for (const { id, value, tightest } of limits) {
        const club = { [id]: value + (tightest - value) * next() };
        const now = told(club);
        holds(before, now, club);
        for (const [key, was] of before.states) if (was === 'met' && now.states.get(key) !== 'met') moved.add(id);
        for (const [key, is] of now.states) if (is !== 'met' && !before.states.has(key)) moved.add(id);
        // A second one on top, as often as not of the same rule.
        const others = limits.filter((other) => other.id !== id);
        const near = others.filter((other) => other.id.split('.')[1] === id.split('.')[1]);
        const from = near.length > 0 && next() < 0.5 ? near : others;
        const second = from[Math.floor(next() * from.length)]!;
        const both = { ...club, [second.id]: second.value + (second.tightest - second.value) * next() };
        holds(now, told(both), both);
      }
    }
    // It says something: each of the limits that open or close a case changed what was found.
    for (const id of ['hold.cold.celsius', 'chill.hot.celsius', 'chill.exposure.cold.celsius', 'chill.exposure.warm.celsius', 'brine.cold.hours', 'smoke.lethality.minutes', 'cool.fc.first.celsius', 'cool.fc.end.celsius', 'cool.hg.first.celsius', 'cool.hg.end.celsius', 'cool.ambient.celsius']) expect([...moved], id).toContain(id);
  });

  it('taking away what a rule always asks for never turns a hold into clear (missing evidence is never a pass)', () => {
    const next = numbers(11);
    const limits = RULES.flatMap((rule) => rule.limits);
    const without: ((e: BatchEvidence) => BatchEvidence)[] = [
      ...(['maxCoreC', 'holdMinutes', 'cooledTo21At', 'cooledAt', 'finishedAt'] as const).map((field) => (e: BatchEvidence) => {
        const smoke = { ...e.smoke!, [field]: null };
        return { ...e, smoke, stages: e.stages.map((s) => (s.kind === 'smoke' ? smoke : s)) };
      }),
      (e) => ({ ...e, smoke: null, stages: e.stages.filter((s) => s.kind !== 'smoke') }),
      ...(['caughtAt', 'icedAt'] as const).map((field) => (e: BatchEvidence) => ({ ...e, landings: e.landings.map((l) => ({ ...l, [field]: null })) })),
      (e) => ({ ...e, measurements: e.measurements.filter((m) => m.kind !== 'water-phase-salt') }),
    ];
    let held = 0;
    for (let run = 0; run < RUNS; run += 1) {
      // Without logs: a log that shows too much heat or too little is evidence of its own, which may stand against the fish.
      const { readings: _readings, ...rest } = some(next);
      const evidence: BatchEvidence = { ...rest, readings: [], landings: rest.landings.map((l) => ({ ...l, coreC: null })), measurements: rest.measurements.filter((m) => m.kind !== 'nitrite') };
      // By the rules alone, and by a club that tightened some of them.
      const club = run % 2 === 0 ? {} : Object.fromEntries(limits.filter(() => next() < 0.3).map(({ id, value, tightest }) => [id, value + (tightest - value) * next() * 0.3]));
      if (rank(evidence, club) === 0) continue;
      held += 1;
      for (const [i, take] of without.entries()) {
        const less = rank(take(evidence), club);
        // Too little salt in a pack without air is not shared; without any figure it is on hold.
        expect(less, JSON.stringify({ run, without: i, club })).toBeGreaterThanOrEqual(1);
      }
    }
    expect(held).toBeGreaterThan(50);
  });

  it('a check that holds nobody does not say to hold', () => {
    const next = numbers(17);
    let silent = 0;
    for (let run = 0; run < RUNS; run += 1) {
      const evidence = some(next);
      // Gaps in every log too, which leave open what a rule asks.
      const sparse = evidence.readings.map((list) => {
        const kept = list.atMs.flatMap((_at, i) => (next() < 0.6 ? [i] : []));
        return { ...list, atMs: kept.map((i) => list.atMs[i]!), celsius: kept.map((i) => list.celsius[i]!) };
      }).filter((list) => list.atMs.length > 0);
      for (const readings of [evidence.readings, sparse]) {
        for (const check of judged({ ...evidence, readings }).checks.filter((c) => c.means === 'nothing' && c.state !== 'met')) {
          silent += 1;
          expect([run, check.ruleId, check.part, check.whatToDo]).not.toEqual([run, check.ruleId, check.part, expect.stringMatching(/\bhold (it|on)\b|do not share|stays on hold/i)]);
        }
      }
    }
    expect(silent).toBeGreaterThan(RUNS);
  });

  it('putting the readings of a list in another order, or sending them twice, changes no verdict', () => {
    const next = numbers(13);
    for (let run = 0; run < RUNS / 4; run += 1) {
      const evidence = some(next);
      const shuffled = evidence.readings.map((list) => {
        const order = list.atMs.map((_at, i) => ({ i, key: next() })).sort((a, b) => a.key - b.key).map(({ i }) => i);
        return { ...list, atMs: [...order, ...order].map((i) => list.atMs[i]!), celsius: [...order, ...order].map((i) => list.celsius[i]!) };
      });
      // brine.start reads the first reading by time, so the order in which they came is nothing to it.
      expect(rank({ ...evidence, readings: shuffled }), `run ${run}`).toBe(rank(evidence));
    }
  });
});
