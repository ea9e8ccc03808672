import { describe, expect, it } from 'vitest';
import type { Check } from '../../server/contract/common.ts';
import { RULES } from '../../server/domain/rules/registry.ts';
import type { Rule } from '../../server/domain/rules/rule.ts';
import { asksCore, hasNextStage, opensFor, stagesAhead, stageTitle } from '../../web/src/lib/batches/ahead.ts';
import { evidenceWays } from '../../web/src/lib/batches/evidence-ways.ts';

const ended = (kind: string) => ({ kind, finishedAt: '2026-06-10T13:00:00.000Z' });
const origin = { species: 'Pollack', speciesCode: 'pollack', landingId: 'l1' };
const batch = (more: object = {}) => ({ id: 'b1', origins: [origin, { ...origin }], productKind: 'hot-smoked', lastStage: 'smoke', stages: [ended('smoke')], ...more }) as unknown as Parameters<typeof evidenceWays>[1];
const of = (rule: Rule, more: Partial<Check> = {}): Check =>
  ({ ruleId: rule.id, part: 'Pollack', state: 'not-recorded', released: null, evidenceAt: rule.evidenceAt, evidenceStage: rule.evidenceStage ?? null, evidencePlace: rule.evidencePlace ?? null, ...more }) as Check;
const captain = { isCrew: true, isCaptain: true };
const rule = (id: string) => RULES.find((r) => r.id === id)!;

describe('the way from a check to where it is entered (rules.md: each rule with its evidence)', () => {
  it.each(RULES.filter((r) => r.kind === 'check').map((r) => [r.id, r] as const))('%s has one for a captain, and none once it is met or let go, nor for a member', (_id, r) => {
    expect(evidenceWays(of(r), batch(), captain).length).toBeGreaterThan(0);
    expect(evidenceWays(of(r, { state: 'met' }), batch(), captain)).toEqual([]);
    expect(evidenceWays(of(r, { released: { by: 'Cap', reason: 'so' } }), batch(), captain)).toEqual([]);
    expect(evidenceWays(of(r), batch(), { isCrew: false, isCaptain: false })).toEqual([]);
  });

  it('leads to the readings or the stage for heat and cooling, and cooling to the cool stage', () => {
    expect(evidenceWays(of(rule('smoke.core')), batch(), captain)).toEqual([{ label: 'Enter temperatures', href: '/batches/b1/readings' }, { label: 'Correct smoke', stage: 'smoke' }]);
    expect(evidenceWays(of(rule('cool.fc')), batch(), captain)[1]).toEqual({ label: 'Record cool', stage: 'cool' });
  });

  it('is called what opens: of a packed batch the smoke, where its cooling stands; while another stage runs, that one', () => {
    const label = (more: object) => evidenceWays(of(rule('cool.fc')), batch(more), captain)[1]?.label;
    expect(label({ lastStage: 'pack', stages: [ended('smoke'), ended('pack')] })).toBe('Correct smoke');
    expect(label({ lastStage: 'pack', stages: [ended('smoke'), ended('cool'), ended('pack')] })).toBe('Correct cool');
    expect(label({ stages: [{ kind: 'smoke', finishedAt: null }] })).toBe('Finish smoke');
    expect(label({ lastStage: 'cool', stages: [ended('smoke'), { kind: 'cool', finishedAt: null }] })).toBe('Finish cool');
    // While it cures nothing that is asked of the smoke or the cooling can be entered; what is asked of the cure itself can.
    const curing = { lastStage: 'cure', stages: [{ kind: 'cure', finishedAt: null }] };
    for (const id of ['smoke.core', 'cool.fc']) expect([id, evidenceWays(of(rule(id)), batch(curing), captain)]).toEqual([id, []]);
    expect(evidenceWays(of(rule('brine.cold')), batch(curing), captain).map((way) => way.label)).toContain('Finish cure');
    // Packed with neither: no stage can follow, the readings alone are left.
    expect(label({ lastStage: 'pack', stages: [ended('pack')] })).toBeUndefined();
    const opens = opensFor(batch({ lastStage: 'pack', stages: [ended('smoke'), ended('pack')] }), 'cool');
    expect(opens).toEqual({ stage: ended('smoke'), says: 'Correct smoke' });
    expect(stageTitle({ kind: 'pack', finishedAt: null })).toBe('Finish packing');
  });

  it('leads to the one landing of that fish, and to the list when there are several', () => {
    expect(evidenceWays(of(rule('chill.mild')), batch(), captain)).toEqual([{ label: 'Open the landing', href: '/fish/landings/l1' }]);
    expect(evidenceWays(of(rule('chill.mild')), batch({ origins: [origin, { ...origin, landingId: 'l2' }] }), captain)).toEqual([{ label: 'See the landings', href: '#contents' }]);
  });

  it('offers a laboratory’s figure to captains alone, who may enter it', () => {
    expect(evidenceWays(of(rule('salt.rop')), batch(), { isCrew: true, isCaptain: false })).toEqual([]);
  });
});

describe('the stages of a batch', () => {
  const of = (productKind: string, ...kinds: string[]) => ({ productKind, lastStage: kinds.at(-1) ?? null, stages: kinds.map(ended) }) as unknown as Parameters<typeof hasNextStage>[0];
  it('come one after another; with nothing but a repeat left it is for packing', () => {
    expect(stagesAhead(of('hot-smoked', 'prepare', 'smoke'))).toEqual(['smoke', 'cool']);
    expect([of('hot-smoked'), of('hot-smoked', 'prepare', 'smoke'), of('dip', 'prepare'), of('raw', 'prepare')].map(hasNextStage)).toEqual([true, true, true, true]);
    expect([of('hot-smoked', 'smoke', 'cool'), of('hot-smoked', 'cool'), of('dip', 'mix'), of('raw', 'rinse'), of('hot-smoked', 'smoke', 'cool', 'pack')].map(hasNextStage)).toEqual([false, false, false, false, false]);
  });

  it('ask for the core of a smoke once it is finished or corrected, not when it starts', () => {
    expect([asksCore('smoke', false, true), asksCore('smoke', true, true), asksCore('smoke', true, false), asksCore('smoke', false, false), asksCore('cool', true, true)]).toEqual([false, true, true, true, false]);
  });
});
