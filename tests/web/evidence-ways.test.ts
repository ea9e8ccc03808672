import { describe, expect, it } from 'vitest';
import type { Check } from '../../server/contract/common.ts';
import { RULES } from '../../server/domain/rules/registry.ts';
import type { Rule } from '../../server/domain/rules/rule.ts';
import { evidenceWays } from '../../web/src/lib/batches/evidence-ways.ts';

const origin = { species: 'Pollack', speciesCode: 'pollack', landingId: 'l1' };
const batch = (more: object = {}) => ({ id: 'b1', origins: [origin, { ...origin }], stages: [{ kind: 'smoke' }], ...more }) as unknown as Parameters<typeof evidenceWays>[1];
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
    expect(evidenceWays(of(rule('smoke.core')), batch(), captain)).toEqual([{ label: 'Enter temperatures', href: '/batches/b1/readings' }, { label: 'Open smoke', stage: 'smoke' }]);
    expect(evidenceWays(of(rule('cool.fc')), batch(), captain)[1]).toEqual({ label: 'Record cool', stage: 'cool' });
  });

  it('leads to the one landing of that fish, and to the list when there are several', () => {
    expect(evidenceWays(of(rule('chill.mild')), batch(), captain)).toEqual([{ label: 'Open the landing', href: '/fish/landings/l1' }]);
    expect(evidenceWays(of(rule('chill.mild')), batch({ origins: [origin, { ...origin, landingId: 'l2' }] }), captain)).toEqual([{ label: 'See the landings', href: '#contents' }]);
  });

  it('offers a laboratory’s figure to captains alone, who may enter it', () => {
    expect(evidenceWays(of(rule('salt.rop')), batch(), { isCrew: true, isCaptain: false })).toEqual([]);
  });
});
