import { datesOfDip } from './dates-dip.ts';
import { endedByThaw } from './dates-out.ts';
import { datesOfRaw } from './dates-raw.ts';
import { COLDER_WORDS, FOOD_CODE_DATES, FROZEN_WORDS, REFRIGERATED_WORDS, daysUsedUp, frozenTooLate, notDated, reason } from './dates-shared.ts';
import type { DateAnswer, DateInput, DateReason } from './dates-shared.ts';
import { limitOf } from './rules/limits.ts';
import { addDays, addMonths, checkDay, daysBetween, earliestDay, localDay } from './time.ts';
import { DomainError } from './working.ts';
import type { Day, Working } from './working.ts';

export type { DateAnswer, DateEvidence, DateInput, DateReason, TimeOut } from './dates-shared.ts';


/**
 * The smoke day of a batch: the local day smoking began. Counting from the start is
 * the stricter reading when smoking runs past midnight.
 */
export function smokeDayOf(smokeStartedAt: Date, zone: string): Day {
  return localDay(smokeStartedAt, zone);
}

/**
 * The last day of a pack, with its reasons and the words for its label, by the date
 * rules (rules.md, Dates). `thawedDay` means the pack is in the refrigerator now,
 * whatever `storage` says. Missing evidence shortens: without the day it is counted
 * from, `lastDay` is null and the pack has no date to be shared by; only what `evidence`
 * shows lengthens, up to 14 days (date.fourteen with salt.air). What was out of the freezer
 * before (`outBefore`) keeps no longer than counted from then (date.freeze). Throws DomainError
 * where the pack may not be stored so at all (reduced-oxygen pack in the refrigerator
 * without a laboratory's salt, frozen dip), where days stand in the wrong order, and where the food was past its
 * last day before it was frozen or mixed.
 */
export function useBy(input: DateInput): DateAnswer {
  return endedByThaw(input, datesOf(input), datesOf);
}

function datesOf(input: DateInput): DateAnswer {
  checkInput(input);
  if (input.product === 'dip') return datesOfDip(input);
  if (input.product === 'raw') return datesOfRaw(input);
  return datesOfSmoked(input);
}

function checkInput(input: DateInput): void {
  for (const field of ['smokeDay', 'mixedDay', 'frozenDay', 'thawedDay', 'caughtDay'] as const) {
    const day = input[field];
    if (day !== null && day !== undefined) checkDay(day, field);
  }
  for (const day of input.ingredientLastDays) checkDay(day, 'ingredientLastDays');
  checkOrder(input.smokeDay, input.frozenDay, 'frozenDay', 'smoking');
  checkOrder(input.caughtDay ?? null, input.frozenDay, 'frozenDay', 'the catch');
  checkOrder(input.frozenDay, input.thawedDay, 'thawedDay', 'freezing');
  checkOrder(input.smokeDay, input.thawedDay, 'thawedDay', 'smoking');
  const reducedOxygen = input.packageKind === 'vacuum' || input.packageKind === 'jar';
  const neverFrozen = input.storage === 'refrigerated' && input.frozenDay === null;
  const measured = input.product === 'hot-smoked' && input.evidence?.saltRopMet === true;
  if (reducedOxygen && neverFrozen && !measured) throw refrigeratedWithoutAir(input);
}

function checkOrder(first: Day | null, then: Day | null, field: string, firstName: string): void {
  if (first === null || then === null || first <= then) return;
  throw new DomainError({
    code: 'date.order', field, value: then, shown: then,
    problem: `is before ${firstName} on ${first}`, remedy: 'correct one of the two days',
  });
}

function refrigeratedWithoutAir(input: DateInput): DomainError {
  return new DomainError({
    code: 'date.reduced-oxygen', field: 'storage', value: input.storage, shown: `${input.storage} in a ${input.packageKind} pack`,
    problem: 'is not allowed: without air and without a laboratory figure for salt, botulinum can grow (salt.rop, rop.freeze)',
    remedy: 'freeze it at once, or pack it in a tub or bag that lets air through',
  });
}

function datesOfSmoked(input: DateInput): DateAnswer {
  const { days, cold, reasons } = daysInTheCold(input);
  if (input.smokeDay === null) return notDated(input, reasons, 'smokeDay', 'The smoke day is not recorded, so there is no day to count from.');
  const ownLast = addDays(input.smokeDay, days - 1 - daysUsedUp(days, input.evidence, reasons));
  const coldLast = earliestDay([ownLast, ...input.ingredientLastDays]);
  if (coldLast < ownLast) reasons.push(reason('date.mixed', `An ingredient keeps only to ${coldLast}.`, 'FC 3-501.17(C)'));
  if (coldLast < input.smokeDay) throw ingredientPast(input.smokeDay, coldLast);
  // Frozen and thawed within one day, it was not frozen as far as its days go.
  const left = input.frozenDay === null ? null : input.frozenDay === input.thawedDay ? daysInAll(input.thawedDay, coldLast) : daysLeft(input.smokeDay, input.frozenDay, coldLast);
  if (input.thawedDay !== null) return thawed(input, input.thawedDay, coldLast, left, reasons);
  if (input.storage === 'frozen') return frozen(input, input.smokeDay, left, reasons);
  if (input.frozenDay !== null) return frozenThenRefrigerated(input, coldLast, reasons);
  return {
    lastDay: coldLast, kind: 'use-by', storageWords: cold, labelWords: [cold], reasons,
    daysLeftAfterThaw: null, working: working(input, `smoke day + ${days - 1} days, or an ingredient's earlier day`),
  };
}

/**
 * How many days it keeps refrigerated, the smoke day included, and why. More than 7 only with air around it, never frozen, and
 * with everything that date.fourteen and salt.air ask for shown; not where the club keeps to fewer than 7 days.
 */
function daysInTheCold(input: DateInput): { days: number; cold: string; reasons: DateReason[] } {
  const club = input.club ?? {};
  const seven = limitOf(club, 'date.seven.days');
  const reasons = [reason('date.seven', `Hot-smoked fish keeps ${seven.value} days in the refrigerator${seven.tightened ? ', as the club has it' : ''}; the smoke day is day 1.`, FOOD_CODE_DATES)];
  const closed = input.packageKind === 'vacuum' || input.packageKind === 'jar';
  if (closed && input.storage === 'refrigerated' && input.frozenDay === null) reasons.push(reason('salt.rop', 'A laboratory measured enough salt to keep it without air unfrozen; its days stay the same.', 'HG ch. 13; Maine 01-001 ch. 359'));
  const keptCold = input.storage === 'refrigerated' && input.frozenDay === null && input.thawedDay === null && !closed;
  if (!keptCold || seven.tightened || !showsFourteen(input)) return { days: seven.value, cold: REFRIGERATED_WORDS, reasons };
  const { value: days } = limitOf(club, 'date.fourteen.days');
  reasons.push(reason('date.fourteen', `Core, cooling and store are shown, and the store was at ${limitOf(club, 'date.fourteen.celsius').value} C or below: ${days} days from smoking.`, 'MSU 1997; Missouri; OSU'));
  reasons.push(reason('salt.air', 'A laboratory measured enough salt for more than 7 days.', 'MI569.8'));
  return { days: Math.max(days, seven.value), cold: COLDER_WORDS, reasons };
}

function showsFourteen({ evidence, club }: DateInput): boolean {
  if (!evidence || evidence.warmestStoreC === null || (evidence.warmShare ?? 0) > 0) return false;
  return evidence.coreMet && evidence.coolingMet && evidence.saltAirMet && evidence.warmestStoreC <= limitOf(club ?? {}, 'date.fourteen.celsius').value;
}

/**
 * Days that remain when the count resumes. The day of freezing is not counted as used
 * (date.freeze), but the smoke day always is: the stricter where both are one day.
 */
function daysLeft(smokeDay: Day, frozenDay: Day, coldLast: Day): number {
  return atLeastOne(Math.min(daysBetween(frozenDay, coldLast) + 1, daysBetween(smokeDay, coldLast)), frozenDay, coldLast);
}

const daysInAll = (from: Day, coldLast: Day): number => atLeastOne(daysBetween(from, coldLast) + 1, from, coldLast);

function atLeastOne(left: number, frozenDay: Day, coldLast: Day): number {
  if (left > 0) return left;
  throw frozenTooLate(frozenDay, coldLast);
}

function ingredientPast(smokeDay: Day, coldLast: Day): DomainError {
  return new DomainError({
    code: 'date.ingredient-past', field: 'ingredientLastDays', label: "an ingredient's last day", value: coldLast, shown: coldLast,
    problem: `is before the smoke day, ${smokeDay} (date.mixed)`, remedy: 'do not share it, or correct one of the two days',
  });
}

function frozen(input: DateInput, smokeDay: Day, left: number | null, reasons: DateReason[]): DateAnswer {
  const from = input.frozenDay ?? smokeDay;
  const { value: months } = limitOf(input.club ?? {}, 'date.frozen.months');
  reasons.push(reason('date.frozen-quality', `Frozen smoked fish is best within ${months} ${months === 1 ? 'month' : 'months'} (sources say 2 to 3).`, 'MSU 1997; Missouri'));
  reasons.push(left === null
    ? reason('date.freeze', 'The day of freezing is not recorded: the months count from the smoke day, and after thawing it counts as never frozen.', FOOD_CODE_DATES)
    : reason('date.freeze', `Freezing stops the count: ${left} ${left === 1 ? 'day is' : 'days are'} left after thawing.`, FOOD_CODE_DATES));
  if (input.packageKind === 'vacuum' || input.packageKind === 'jar') {
    reasons.push(reason('rop.freeze', 'A pack without air is frozen at once, and opened before it thaws in the refrigerator.', 'FC 3-502.12(C), 3-501.13(E)'));
  }
  const after = left === null ? [] : [`Use within ${left} ${left === 1 ? 'day' : 'days'} of thawing, the day of thawing included`];
  return {
    lastDay: addMonths(from, months), kind: 'best-before', storageWords: FROZEN_WORDS, labelWords: [FROZEN_WORDS, ...after], reasons,
    daysLeftAfterThaw: left, working: working(input, `${input.frozenDay ? 'day of freezing' : 'smoke day'} + ${months} months`),
  };
}

function thawed(input: DateInput, thawedDay: Day, coldLast: Day, left: number | null, reasons: DateReason[]): DateAnswer {
  const lastDay = left === null ? coldLast : addDays(thawedDay, left - 1);
  const text = left === null
    ? 'The day of freezing is not recorded, so the count never stopped.'
    : `Frozen with ${left} ${left === 1 ? 'day' : 'days'} left; the day of thawing is the next of them.`;
  reasons.push(reason('date.freeze', text, FOOD_CODE_DATES));
  if (input.packageKind === 'vacuum' || input.packageKind === 'jar') {
    reasons.push(reason('rop.freeze', 'Only if the pack was opened before it thawed.', 'FC 3-502.12(C), 3-501.13(E)'));
  }
  return {
    lastDay, kind: 'use-by', storageWords: REFRIGERATED_WORDS, labelWords: [REFRIGERATED_WORDS], reasons, daysLeftAfterThaw: left,
    working: working(input, left === null ? 'as if never frozen' : 'day of thawing + days left when frozen - 1'),
  };
}

/** In the refrigerator after freezing, with no day of thawing: the count is taken as never stopped. */
function frozenThenRefrigerated(input: DateInput, coldLast: Day, reasons: DateReason[]): DateAnswer {
  reasons.push(reason('date.freeze', 'The day of thawing is not recorded, so the count never stopped.', FOOD_CODE_DATES));
  return {
    lastDay: coldLast, kind: 'use-by', storageWords: REFRIGERATED_WORDS, labelWords: [REFRIGERATED_WORDS], reasons,
    daysLeftAfterThaw: null, working: working(input, 'as if never frozen'),
  };
}

function working(input: DateInput, formula: string): Working {
  const days = [['smoke day', input.smokeDay], ['frozen', input.frozenDay], ['thawed', input.thawedDay]] as const;
  return {
    inputs: [...days.filter(([, day]) => day !== null).map(([name, day]) => ({ name, value: day! })), { name: 'package', value: input.packageKind }],
    model: 'dates', formula, source: FOOD_CODE_DATES, certainty: 'published',
  };
}
