import { expect, it } from 'vitest';
import type { Check } from '../../server/contract/common.ts';
import { findRule } from '../../server/domain/rules/registry.ts';
import { unrecorded } from '../../server/domain/rules/unrecorded.ts';
import { sayUnrecorded } from '../../web/src/lib/batches/unrecorded.ts';

const check = (ruleId: string, more: Partial<Check> = {}) => ({ ruleId, part: '', title: findRule(ruleId)!.title, state: 'not-recorded', means: 'nothing', released: null, ...more }) as Check;

it('a clear verdict names what nobody recorded of the thawing and the warm hours (thaw, chill.exposure), once each', () => {
  const checks = [check('thaw'), check('thaw'), check('chill.exposure'), check('smoke.core', { state: 'met' })];
  expect(sayUnrecorded(unrecorded(checks))).toBe('By what was recorded. Nobody recorded: thawed in the cold; hours in the warm before smoking.');
});

it('says nothing of what bears on dates alone, holds the batch already, or was let go (salt.air, smoke.core)', () => {
  const checks = [check('salt.air'), check('smoke.core', { means: 'hold' }), check('thaw', { released: { by: 'Cap', reason: 'so' } }), check('thaw', { state: 'met' }), check('brine.cold', { means: 'hold' })];
  expect([unrecorded(checks), sayUnrecorded([])]).toEqual([[], '']);
});
