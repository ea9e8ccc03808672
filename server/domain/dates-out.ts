import { FOOD_CODE_DATES, reason } from './dates-shared.ts';
import type { DateAnswer, DateInput } from './dates-shared.ts';
import { earliestDay } from './time.ts';

/**
 * The answer for a pack that was out of the freezer before (date.freeze): whatever is recorded later, it keeps no longer than as
 * it was counted then. Only a freezing on or after the day on which it was recorded to be out needs no such end, since every day up
 * to it counts as used. `datesOf` gives the dates of one history of freezing.
 */
export function endedByThaw(input: DateInput, answer: DateAnswer, datesOf: (input: DateInput) => DateAnswer): DateAnswer {
  const counted = (input.outBefore ?? []).filter((out) => input.frozenDay === null || input.frozenDay < out.outDay);
  if (counted.length === 0 || answer.lastDay === null) return answer;
  const { evidence, outBefore: _all, ...plain } = input;
  // Warmth shortens those days too; nothing lengthens them.
  const shown = evidence ? { evidence: { ...evidence, warmestStoreC: null } } : {};
  // How it was packed then makes no other day; without air it could not have been out at all.
  const days = counted.map((out) => datesOf({ ...plain, ...shown, packageKind: 'tub', storage: 'refrigerated', frozenDay: out.frozenDay, thawedDay: out.thawedDay }).lastDay);
  const known = days.filter((day) => day !== null);
  if (known.length < days.length) return { ...answer, lastDay: null, daysLeftAfterThaw: null };
  const earliest = earliestDay(known);
  const inFreezer = input.storage === 'frozen' && input.thawedDay === null;
  if (earliest >= answer.lastDay && !inFreezer) return answer;
  const words = inFreezer && input.product !== 'raw' ? [answer.storageWords] : answer.labelWords;
  return {
    ...answer, lastDay: earliestDay([earliest, answer.lastDay]), kind: 'use-by', labelWords: words, daysLeftAfterThaw: null,
    reasons: [...answer.reasons, reason('date.freeze', `It was out of the freezer before: counted from then it ends on ${earliest}, and freezing never starts the count again.`, FOOD_CODE_DATES)],
  };
}
