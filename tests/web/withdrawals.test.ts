import { describe, expect, it } from 'vitest';
import type { Check } from '$contract/common.ts';
import type { Withdrawal } from '$contract/evidence.ts';
import { atChecks, withdrawnLine } from '$lib/batches/withdrawals.ts';

const log: Withdrawal = {
  kind: 'readings', ruleIds: ['smoke.core', 'cool.fc', 'brine.start'], place: 'core', probe: '', readings: 79, of: 79, measured: null, value: null, at: '2026-06-10T20:00:00.000Z', by: { id: 'x', name: 'Rory Vik' }, reason: 'The other smoker’s log',
};
const check = (ruleId: string, part = '', more: Partial<Check> = {}) => ({ ruleId, part, means: 'hold', state: 'not-recorded', counts: true, released: null, ...more }) as Check;

describe('what was withdrawn', () => {
  it('is one line: what, by whom, when and why', () => {
    expect(withdrawnLine(log)).toMatch(/^Withdrawn: 79 core readings, by Rory Vik, .*10 Jun.*\. Why: The other smoker’s log$/);
    expect(withdrawnLine({ ...log, place: 'storage', readings: 1, of: 1, probe: 'Shelf' })).toContain('Withdrawn: 1 storage reading (Shelf), by');
    expect(withdrawnLine({ ...log, readings: 2 })).toContain('Withdrawn: 2 of 79 core readings, by');
    expect(withdrawnLine({ ...log, kind: 'figure', measured: 'water-phase-salt', value: 3.4 })).toContain('Withdrawn: Water-phase salt 3.4 %, by');
    expect(withdrawnLine({ ...log, kind: 'release', by: null, reason: '' })).toMatch(/^Ended: the captain’s release, .* Why: not said$/);
  });

  it('stands at the first check of each of its rules, and apart where none of them is shown', () => {
    const [core, hold, fc, other] = [check('smoke.core', 'core', { means: 'nothing', state: 'met' }), check('smoke.core', 'hold'), check('cool.fc'), check('salt.rop')];
    const told = atChecks([log], [core, hold, fc, other]);
    expect([core, hold, fc, other].map((c) => told.at(c).length), 'what stands against the fish is read first').toEqual([0, 1, 1, 0]);
    expect(told.rest).toEqual([]);
    expect(atChecks([log], [other])).toMatchObject({ rest: [log] });
  });
});
