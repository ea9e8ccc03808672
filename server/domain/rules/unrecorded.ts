import type { RuleCheck } from './judge.ts';
import { findRule } from './registry.ts';

/**
 * The titles, once each, of what nobody recorded and no rule asks for by itself, though it would stand against sharing if it
 * were recorded as not met. Empty where nothing is open so. It changes no verdict: a clear one is clear by what was recorded.
 */
export function unrecorded(checks: readonly Pick<RuleCheck, 'ruleId' | 'title' | 'state' | 'means' | 'released'>[]): string[] {
  const open = checks.filter((c) => c.state === 'not-recorded' && c.means === 'nothing' && c.released === null && (findRule(c.ruleId)?.ifNotMet ?? 'nothing') !== 'nothing');
  return [...new Set(open.map((c) => c.title))];
}
