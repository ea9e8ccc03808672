/** What was withdrawn, in one line at the check that it was read for. */
import type { Check } from '$contract/common.ts';
import type { Withdrawal } from '$contract/evidence.ts';
import { showCount, showDayTime, showNumber } from '$lib/show.ts';
import { inOrder } from '$lib/ui/checks.ts';
import { kindUnits, kindWords } from './lab.ts';

function whatOf(w: Withdrawal): string {
  if (w.kind === 'release') return 'the captain’s release';
  if (w.kind === 'figure') return `${kindWords[w.measured!]} ${showNumber(w.value!)} ${kindUnits[w.measured!]}`.trim();
  const readings = `${w.place} ${w.of === 1 ? 'reading' : 'readings'}`;
  return `${w.readings === w.of ? showCount(w.of!, `${w.place} reading`) : `${w.readings} of ${w.of} ${readings}`}${w.probe ? ` (${w.probe})` : ''}`;
}

/** "Withdrawn: 79 core readings, by Rory Vik, 10 June 20:00. Why: the other smoker’s log" */
export const withdrawnLine = (w: Withdrawal): string =>
  `${w.kind === 'release' ? 'Ended' : 'Withdrawn'}: ${whatOf(w)}${w.by ? `, by ${w.by.name}` : ''}, ${showDayTime(w.at)}. Why: ${w.reason || 'not said'}`;

/** Each at the first check on the screen of every rule that it was read for; `rest` are those whose rules show no check now. */
export function atChecks(withdrawals: readonly Withdrawal[], checks: readonly Check[]): { at: (check: Check) => Withdrawal[]; rest: Withdrawal[] } {
  const { counting, forInformation } = inOrder(checks);
  const firsts = new Map<string, Check>();
  for (const check of [...counting, ...forInformation]) if (!firsts.has(check.ruleId)) firsts.set(check.ruleId, check);
  return {
    at: (check) => (firsts.get(check.ruleId) === check ? withdrawals.filter((w) => w.ruleIds.includes(check.ruleId)) : []),
    rest: withdrawals.filter((w) => !w.ruleIds.some((id) => firsts.has(id))),
  };
}
