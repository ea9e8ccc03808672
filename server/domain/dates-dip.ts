import { REFRIGERATED_WORDS, daysUsedUp, notDated, reason } from './dates-shared.ts';
import type { DateAnswer, DateInput } from './dates-shared.ts';
import { limitOf } from './rules/limits.ts';
import { addDays, earliestDay } from './time.ts';
import { DomainError } from './working.ts';
import type { Day } from './working.ts';

const DIP_SOURCE = 'FDA/USDA storage chart for tuna salad: 3 to 4 days';

/** Dates of a dip or spread: rules date.dip (3 days, 4 at the most: the stricter; the day of mixing is day 1) and date.mixed. */
export function datesOfDip(input: DateInput): DateAnswer {
  if (input.storage === 'frozen' || input.frozenDay !== null || input.thawedDay !== null) throw frozenDip(input);
  const { value: days } = limitOf(input.club ?? {}, 'date.dip.days');
  const { value: smokedDays } = limitOf(input.club ?? {}, 'date.seven.days');
  const reasons = [reason('date.dip', `A dip keeps ${days} ${days === 1 ? 'day' : 'days'} from mixing, the day of mixing included.`, DIP_SOURCE)];
  if (input.mixedDay === null) return notDated(input, reasons, 'mixedDay', 'The day of mixing is not recorded, so there is no day to count from.');
  const ingredients = [...input.ingredientLastDays, ...(input.smokeDay === null ? [] : [addDays(input.smokeDay, smokedDays - 1)])];
  if (ingredients.length === 0) return notDated(input, reasons, 'ingredientLastDays', "The smoked fish's own date is not recorded, and the dip may not outlast it.");
  const earliest = earliestDay(ingredients);
  if (earliest < input.mixedDay) throw mixedTooLate(input.mixedDay, earliest);
  const ownLast = addDays(input.mixedDay, days - 1 - daysUsedUp(days, input.evidence, reasons));
  const lastDay = earliestDay([ownLast, earliest]);
  if (earliest < ownLast) reasons.push(reason('date.mixed', `An ingredient keeps only to ${earliest}; a mixed food carries the earliest date in it.`, 'FC 3-501.17(C)'));
  return {
    lastDay, kind: 'use-by', storageWords: REFRIGERATED_WORDS, labelWords: [REFRIGERATED_WORDS], reasons, daysLeftAfterThaw: null,
    working: {
      inputs: [{ name: 'mixed', value: input.mixedDay }, { name: "earliest ingredient's last day", value: earliest }],
      model: 'dates', formula: `the earlier of day of mixing + ${days - 1} days and the earliest ingredient`, source: `${DIP_SOURCE}; FC 3-501.17(C)`, certainty: 'published',
    },
  };
}

function frozenDip(input: DateInput): DomainError {
  return new DomainError({
    code: 'date.frozen-dip', field: 'storage', value: input.storage, shown: 'frozen',
    problem: 'does not suit a dip: it freezes badly and no rule dates it (date.dip)', remedy: 'pack it in a tub and keep it refrigerated',
  });
}

function mixedTooLate(mixedDay: Day, earliest: Day): DomainError {
  return new DomainError({
    code: 'date.mixed-too-late', field: 'mixedDay', value: mixedDay, shown: mixedDay,
    problem: `is after an ingredient's last day, ${earliest} (date.mixed)`, remedy: 'do not share it, or correct the day',
  });
}
