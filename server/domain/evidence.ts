import { checkTemperatureC } from './readings.ts';
import { DomainError } from './working.ts';

export type CheckState = 'met' | 'not-met' | 'not-recorded';

export type SmokeEvidence = {
  maxCoreC: number | null;
  /** Unbroken minutes with the core at 62.8 C or more. */
  holdMinutes: number | null;
  smokeFinishedAt: Date | null;
  /** When the fish was back at 21 C or less: the first step of cool.fc. */
  cooledTo21At?: Date | null;
  /** When the fish was back at 5 C or less. */
  cooledAt: Date | null;
};

/** Rule smoke.core. */
export const CORE_LIMIT_C = 62.8;
export const HOLD_LIMIT_MINUTES = 30;
/** Rule cool.fc: back at 5 C within 6 hours in all. */
export const COOL_TO_C = 5;
export const COOL_LIMIT_HOURS = 6;

const LONGEST_HOLD_MINUTES = 48 * 60;

/** The verdict in words. 'clear' never reads as an approval. */
export function verdictWords(verdict: 'hold' | 'clear' | 'do-not-share'): string {
  if (verdict === 'do-not-share') return 'Do not share it. What failed here cannot be made good.';
  return verdict === 'clear'
    ? 'Nothing recorded so far is against sharing it. This is a record, not an approval.'
    : 'Hold: do not share it until every check is met.';
}

/**
 * Refuses typed evidence that cannot be, with a DomainError: a core that no fish reaches,
 * minutes below zero or held above a temperature that the core never reached, cold before
 * smoking ended, at 5 C before it was at 21 C. What it is worth is judged in rules/.
 */
export function checkSmokeEvidence(input: SmokeEvidence): void {
  const { maxCoreC, holdMinutes, smokeFinishedAt, cooledTo21At = null, cooledAt } = input;
  if (maxCoreC !== null) checkTemperatureC(maxCoreC, 'core', 'maxCoreC');
  if (holdMinutes !== null && !(holdMinutes >= 0 && holdMinutes <= LONGEST_HOLD_MINUTES)) {
    throw new DomainError({
      code: 'evidence.hold-minutes', field: 'holdMinutes', label: 'minutes held', value: holdMinutes,
      problem: `is not from 0 to ${LONGEST_HOLD_MINUTES}`, remedy: `enter the minutes the core stayed at ${CORE_LIMIT_C} C or more`,
    });
  }
  if (maxCoreC !== null && holdMinutes !== null && maxCoreC < CORE_LIMIT_C && holdMinutes > 0) {
    throw new DomainError({
      code: 'evidence.contradiction', field: 'holdMinutes', label: 'minutes held', value: holdMinutes,
      problem: `cannot be at ${CORE_LIMIT_C} C or more when the highest core is ${maxCoreC} C`, remedy: 'correct the core temperature, or enter 0 minutes',
    });
  }
  for (const [field, at] of [['smokeFinishedAt', smokeFinishedAt], ['cooledTo21At', cooledTo21At], ['cooledAt', cooledAt]] as const) {
    if (at !== null && Number.isNaN(at.getTime())) throw new DomainError({ code: 'evidence.time', field, value: at, problem: 'is no time', remedy: 'enter a day and a time' });
  }
  checkAfter(smokeFinishedAt, 'smoking ended', cooledTo21At, 'cooledTo21At', 'back at 21 C');
  checkAfter(smokeFinishedAt, 'smoking ended', cooledAt, 'cooledAt', 'cooled');
  checkAfter(cooledTo21At, 'it was at 21 C', cooledAt, 'cooledAt', 'cooled');
}

function checkAfter(first: Date | null, firstWords: string, then: Date | null, field: string, label: string): void {
  if (first === null || then === null || then.getTime() > first.getTime()) return;
  throw new DomainError({ code: 'evidence.order', field, label, value: then, problem: `is not after ${firstWords} at ${first.toISOString()}`, remedy: 'correct one of the two times' });
}
