import { FROZEN_WORDS, REFRIGERATED_WORDS, frozenTooLate, notDated, reason } from './dates-shared.ts';
import type { DateAnswer, DateInput, DateReason } from './dates-shared.ts';
import { limitOf } from './rules/limits.ts';
import { addDays, addMonths } from './time.ts';
import type { Day } from './working.ts';

/** Rule date.raw: 1 to 2 days in the refrigerator, frozen 6 months lean and 2 to 3 fatty: the stricter of each. */
const RAW_SOURCE = 'FDA chart, memory';
const COOK_WORDS = 'Raw fish: cook before eating';

/**
 * Dates of raw fish: rule date.raw. From memory, so guidance. Throws DomainError where it was frozen after its last day in the
 * refrigerator; no date where nobody knows when it was caught.
 */
export function datesOfRaw(input: DateInput): DateAnswer {
  const { value: days } = limitOf(input.club ?? {}, 'date.raw.days');
  const inWords = `${days} ${days === 1 ? 'day' : 'days'}`;
  const reasons = [reason('date.raw', `Raw fish keeps ${inWords} in the refrigerator after the day it was caught.`, RAW_SOURCE)];
  if (!input.caughtDay) return notDated(input, reasons, 'caughtDay', 'The day it was caught is not recorded, so there is no day to count from.');
  const coldLast = addDays(input.caughtDay, days);
  if (input.frozenDay !== null && input.frozenDay > coldLast) throw frozenTooLate(input.frozenDay, coldLast);
  if (input.thawedDay !== null && input.frozenDay !== null) return thawed(input.thawedDay);
  if (input.storage === 'frozen' && input.thawedDay === null) return frozen(input, input.caughtDay);
  if (input.thawedDay !== null) reasons.push(reason('date.freeze', 'The day of freezing is not recorded, so the count never stopped.', 'FC 3-501.17'));
  return answer(coldLast, 'use-by', reasons, 'caught', input.caughtDay, `day caught + ${inWords}`);
}

function frozen(input: DateInput, caughtDay: Day): DateAnswer {
  const lean = input.fat === 'lean';
  const { value: months } = limitOf(input.club ?? {}, lean ? 'date.raw.lean-months' : 'date.raw.fatty-months');
  const reasons = [reason('date.raw', `Frozen raw fish is best within ${months} months when ${lean ? 'lean' : 'not lean'}.`, RAW_SOURCE)];
  if (input.frozenDay === null) reasons.push(reason('date.raw', 'The day of freezing is not recorded: the months count from the catch.', RAW_SOURCE));
  const start = input.frozenDay ?? caughtDay;
  return { ...answer(addMonths(start, months), 'best-before', reasons, input.frozenDay ? 'frozen' : 'caught', start, `+ ${months} months`), daysLeftAfterThaw: 1 };
}

/** Raw fish had used its day before it froze: what is left is the day it thaws. */
function thawed(thawedDay: Day): DateAnswer {
  const reasons = [reason('date.freeze', 'Thawed raw fish is cooked on the day it thaws: freezing stops the count and never starts it again.', 'FC 3-501.17; date.raw, memory')];
  return { ...answer(thawedDay, 'use-by', reasons, 'thawed', thawedDay, 'day of thawing'), daysLeftAfterThaw: 1 };
}

function answer(lastDay: Day, kind: DateAnswer['kind'], reasons: DateReason[], name: string, day: Day, formula: string): DateAnswer {
  const words = kind === 'best-before' ? FROZEN_WORDS : REFRIGERATED_WORDS;
  return {
    lastDay, kind, storageWords: words, labelWords: [words, COOK_WORDS], reasons, daysLeftAfterThaw: null,
    working: { inputs: [{ name, value: day }], model: 'dates', formula, source: RAW_SOURCE, certainty: 'from memory' },
  };
}
