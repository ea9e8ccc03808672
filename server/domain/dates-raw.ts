import { FROZEN_WORDS, REFRIGERATED_WORDS, notDated, reason } from './dates-shared.ts';
import type { DateAnswer, DateInput, DateReason } from './dates-shared.ts';
import { limitOf } from './rules/limits.ts';
import { addDays, addMonths } from './time.ts';
import type { Day } from './working.ts';

/** Rule date.raw: 1 to 2 days in the refrigerator, frozen 6 months lean and 2 to 3 fatty: the stricter of each. */
const RAW_SOURCE = 'FDA chart, memory';
const COOK_WORDS = 'Raw fish: cook before eating';

/** Dates of raw fish: rule date.raw. From memory, so guidance. */
export function datesOfRaw(input: DateInput): DateAnswer {
  if (input.thawedDay !== null) return thawed(input, input.thawedDay);
  if (input.storage === 'frozen') return frozen(input);
  const { value: days } = limitOf(input.club ?? {}, 'date.raw.days');
  const reasons = [reason('date.raw', `Raw fish keeps ${days} ${days === 1 ? 'day' : 'days'} in the refrigerator after the day it was caught.`, RAW_SOURCE)];
  if (!input.caughtDay) return notDated(input, reasons, 'caughtDay', 'The day it was caught is not recorded, so there is no day to count from.');
  return answer(addDays(input.caughtDay, days), 'use-by', reasons, 'caught', input.caughtDay, `day caught + ${days} ${days === 1 ? 'day' : 'days'}`);
}

function frozen(input: DateInput): DateAnswer {
  const lean = input.fat === 'lean';
  const { value: months } = limitOf(input.club ?? {}, lean ? 'date.raw.lean-months' : 'date.raw.fatty-months');
  const reasons = [reason('date.raw', `Frozen raw fish is best within ${months} months when ${lean ? 'lean' : 'not lean'}.`, RAW_SOURCE)];
  const start = input.frozenDay ?? input.caughtDay;
  if (input.frozenDay === null && start) reasons.push(reason('date.raw', 'The day of freezing is not recorded: the months count from the catch.', RAW_SOURCE));
  if (!start) return notDated(input, reasons, 'frozenDay', 'Neither the day of freezing nor the day it was caught is recorded.');
  return { ...answer(addMonths(start, months), 'best-before', reasons, input.frozenDay ? 'frozen' : 'caught', start, `+ ${months} months`), daysLeftAfterThaw: 1 };
}

/** Raw fish had used its day before it froze: what is left is the day it thaws. */
function thawed(input: DateInput, thawedDay: Day): DateAnswer {
  const reasons = [reason('date.freeze', 'Thawed raw fish is cooked on the day it thaws: freezing stops the count and never starts it again.', 'FC 3-501.17; date.raw, memory')];
  const dated = answer(thawedDay, 'use-by', reasons, 'thawed', thawedDay, 'day of thawing');
  return { ...dated, daysLeftAfterThaw: input.frozenDay === null ? null : 1 };
}

function answer(lastDay: Day, kind: DateAnswer['kind'], reasons: DateReason[], name: string, day: Day, formula: string): DateAnswer {
  const words = kind === 'best-before' ? FROZEN_WORDS : REFRIGERATED_WORDS;
  return {
    lastDay, kind, storageWords: words, labelWords: [words, COOK_WORDS], reasons, daysLeftAfterThaw: null,
    working: { inputs: [{ name, value: day }], model: 'dates', formula, source: RAW_SOURCE, certainty: 'from memory' },
  };
}
