import type { Check } from '$contract/common.ts';
import { findRule } from '$domain/rules/registry.ts';

/** What nobody recorded and no rule asks for by itself, though it would stand against sharing if it were recorded as not met. */
export function unrecorded(checks: readonly Check[]): string[] {
  const open = checks.filter((c) => c.state === 'not-recorded' && c.means === 'nothing' && c.released === null && (findRule(c.ruleId)?.ifNotMet ?? 'nothing') !== 'nothing');
  return [...new Set(open.map((c) => c.title))];
}

/** "Cured in the cold" and the like within one sentence. */
export function sayUnrecorded(titles: readonly string[]): string {
  const words = titles.map((title) => title.charAt(0).toLowerCase() + title.slice(1));
  return words.length === 0 ? '' : `By what was recorded. Nobody recorded: ${words.join('; ')}.`;
}
