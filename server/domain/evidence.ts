import { checkTemperatureC } from './readings.ts';
import { DomainError } from './working.ts';

export type CheckState = 'met' | 'not-met' | 'not-recorded';

/** One rule held against what was recorded. */
export type EvidenceCheck = {
  ruleId: 'smoke.core' | 'cool.fc';
  /** Which part of the rule: smoke.core has two. */
  part: 'core' | 'hold' | 'cooling';
  state: CheckState;
  /** What was recorded, in words. */
  found: string;
  limit: string;
  source: string;
  whatToDo: string;
};

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

const SMOKE_SOURCE = 'MI569.7; HG ch. 13; AFDO';
const COOL_SOURCE = 'FC 3-501.14';
const LONGEST_HOLD_MINUTES = 48 * 60;

/**
 * Judges what the smoke stage recorded. 'clear' needs all three parts met; anything
 * short or missing is 'hold'. Cooling counts from the end of smoking: stricter than
 * from 57 C, and the first step of cool.fc (21 C within 2 hours) cannot be judged
 * without a temperature log. Throws DomainError on impossible input: a core that no
 * fish reaches, minutes below zero, cooled before smoking ended, or minutes held
 * above a temperature that the core never reached.
 */
export function smokeEvidence(input: SmokeEvidence): { verdict: 'hold' | 'clear'; checks: EvidenceCheck[] } {
  checkSmokeEvidence(input);
  const checks = [coreCheck(input.maxCoreC), holdCheck(input), coolCheck(input)];
  return { verdict: checks.every((check) => check.state === 'met') ? 'clear' : 'hold', checks };
}

/** The verdict in words. 'clear' never reads as an approval. */
export function verdictWords(verdict: 'hold' | 'clear'): string {
  return verdict === 'clear'
    ? 'Nothing recorded so far is against sharing it. This is a record, not an approval.'
    : 'Hold: do not share it until every check is met.';
}

/** Refuses evidence that cannot be, as smokeEvidence does. */
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

function coreCheck(maxCoreC: number | null): EvidenceCheck {
  const shared = { ruleId: 'smoke.core', part: 'core', limit: `at least ${CORE_LIMIT_C} C in the thickest part of the largest piece`, source: SMOKE_SOURCE } as const;
  if (maxCoreC === null) return { ...shared, state: 'not-recorded', found: 'not recorded', whatToDo: 'Enter the highest core temperature of the largest piece.' };
  const met = maxCoreC >= CORE_LIMIT_C;
  return { ...shared, state: met ? 'met' : 'not-met', found: `${maxCoreC} C`, whatToDo: met ? '' : 'Hold it. It did not get hot enough to count as hot-smoked.' };
}

function holdCheck({ holdMinutes }: SmokeEvidence): EvidenceCheck {
  const shared = { ruleId: 'smoke.core', part: 'hold', limit: `at least ${HOLD_LIMIT_MINUTES} unbroken minutes at ${CORE_LIMIT_C} C or more`, source: SMOKE_SOURCE } as const;
  if (holdMinutes === null) return { ...shared, state: 'not-recorded', found: 'not recorded', whatToDo: `Enter the minutes the core stayed at ${CORE_LIMIT_C} C or more.` };
  const met = holdMinutes >= HOLD_LIMIT_MINUTES;
  return { ...shared, state: met ? 'met' : 'not-met', found: `${holdMinutes} minutes`, whatToDo: met ? '' : 'Hold it. It was not hot for long enough.' };
}

function coolCheck({ smokeFinishedAt, cooledAt }: SmokeEvidence): EvidenceCheck {
  const shared = { ruleId: 'cool.fc', part: 'cooling', limit: `${COOL_TO_C} C or less within ${COOL_LIMIT_HOURS} hours of the end of smoking`, source: COOL_SOURCE } as const;
  if (cooledAt === null) return { ...shared, state: 'not-recorded', found: 'not recorded', whatToDo: `Enter when the fish was back at ${COOL_TO_C} C or less.` };
  if (smokeFinishedAt === null) return { ...shared, state: 'not-recorded', found: 'end of smoking not recorded', whatToDo: 'Enter when smoking ended.' };
  const minutes = (cooledAt.getTime() - smokeFinishedAt.getTime()) / 60_000;
  const met = minutes <= COOL_LIMIT_HOURS * 60;
  // Rounded up, so that a minute too long never reads as the limit.
  const whole = Math.ceil(minutes);
  return { ...shared, state: met ? 'met' : 'not-met', found: `${Math.floor(whole / 60)} h ${whole % 60} min`, whatToDo: met ? '' : 'Hold it. It stayed warm for too long, and cooling it again does not mend that.' };
}
