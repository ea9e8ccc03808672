import { describe, expect, it } from 'vitest';
import type { RuleRecord } from '$contract/rules.ts';
import { stageHints } from '$lib/batches/stage-hints.ts';
import { RULES } from '../../server/domain/rules/registry.ts';

const club = (own: Record<string, number>) => RULES.map((rule) => ({ ...rule, limits: rule.limits.map((l) => ({ ...l, club: own[l.id] === undefined ? null : { value: own[l.id]! } })) })) as unknown as RuleRecord[];

describe('what a stage asks for', () => {
  it('is what the rules ask for, before they are read too (brine.cold NY262.5; cool.fc FC 3-501.14)', () => {
    for (const rules of [undefined, club({})]) {
      expect(stageHints(rules)).toEqual({
        curePlace: 'In the refrigerator or ice box. Needed before sharing when it cured for more than 4 hours.', held: 'Without a break. Needed before sharing.', dipCold: 'Within 4 hours of when mixing began. Needed before sharing.',
        readDown: 'Core readings down to 5 °C say this too. Then leave it empty.', to21: 'Within 2 hours of smoking', to5: 'Within 6 hours of smoking. You can add this later.',
      });
    }
  });

  it('goes by the club’s shorter times, and says where typed figures will not do', () => {
    const hints = stageHints(club({ 'brine.cold.hours': 1, 'cool.fc.first-minutes': 90, 'cool.fc.total-minutes': 60, 'cool.fc.first.celsius': 15, 'cool.fc.end.celsius': 3, 'cool.ambient.celsius': 4, 'smoke.core.celsius': 65 }));
    expect(hints).toEqual({
      curePlace: 'In the refrigerator or ice box. Needed before sharing when it cured for more than 1 hour.', held: 'Without a break. Needed before sharing. The club asks for 65 °C: record core readings too.',
      dipCold: 'Within 4 hours of when mixing began. Needed before sharing. The club asks for 4 °C: record core readings too.', readDown: 'Core readings down to 3 °C say this too. Then leave it empty.',
      to21: 'Within 1.5 hours of smoking. The club asks for 15 °C: record core readings too.', to5: 'Within 1 hour of smoking. You can add this later. The club asks for 3 °C: record core readings too.',
    });
    expect(stageHints(club({ 'brine.cold.hours': 0 })).curePlace).toBe('In the refrigerator or ice box. Needed before sharing.');
    expect(stageHints(club({ 'brine.cold.hours': 0.5 })).curePlace).toMatch(/more than 30 minutes\.$/);
  });
});
