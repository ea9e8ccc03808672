/** The order in which checks are read, and their words. */
import type { Check } from '$contract/common.ts';
import { findRule } from '$domain/rules/registry.ts';

export const meansWords: Record<Check['means'], string> = { hold: 'Holds the batch.', 'do-not-share': 'Do not share it.', nothing: '' };

/** The title of a check with what it is about, where others have the same title. */
export const titleOf = ({ title, about }: Pick<Check, 'title' | 'about'>): string => (about ? `${title}: ${about}` : title);

/** What was found, where that is more than the mark beside its title says already. */
export const foundBesideMark = ({ state, found }: Pick<Check, 'state' | 'found'>): string => (state === 'not-recorded' && found === 'not recorded' ? '' : found);

/** Which of the two counts, where one figure was logged and another typed. */
export const whichCounts = ({ found }: Pick<Check, 'found'>): string => (/ typed\b/.test(found) && / logged\b/.test(found) ? 'The stricter of the two counts.' : '');

/** Rules that stand beside another one for the same thing. */
const BESIDE_ANOTHER: ReadonlySet<string> = new Set(['cool.hg']);
/** Why there are two of them and which decides, said once in a list: at the first check of the second rule. */
export function whyTwo(check: Pick<Check, 'ruleId'>, list: readonly Pick<Check, 'ruleId'>[]): string {
  if (!BESIDE_ANOTHER.has(check.ruleId) || list.find((other) => other.ruleId === check.ruleId) !== check) return '';
  return findRule(check.ruleId)?.words ?? '';
}

const MEANS = { 'do-not-share': 0, hold: 1, nothing: 2 };
const STATE = { 'not-met': 0, 'not-recorded': 1, met: 2 };

/**
 * What stands against it first, the worst before; then what is met or let go, as the work goes; what is no part of the verdict
 * apart. A released rule counts and stands against nothing.
 */
export function inOrder(checks: readonly Check[]): { counting: Check[]; forInformation: Check[] } {
  const sorted = [...checks].sort((a, b) => MEANS[a.means] - MEANS[b.means] || STATE[a.state] - STATE[b.state]);
  return { counting: sorted.filter((c) => c.counts || c.released !== null), forInformation: sorted.filter((c) => !c.counts && c.released === null) };
}
