import { DomainError } from './working.ts';
import type { Day, PackageKind, ProductKind, Storage, Working } from './working.ts';
import type { FatClass } from './species/types.ts';
import type { ClubLimits } from './rules/rule.ts';

export type DateInput = {
  product: ProductKind;
  packageKind: PackageKind;
  storage: Storage;
  /** The local day smoking began. For a dip: the smoked fish's, or null when ingredientLastDays holds the fish's own last day. */
  smokeDay: Day | null;
  mixedDay: Day | null;
  /** The last day of each ingredient that has one. */
  ingredientLastDays: readonly Day[];
  frozenDay: Day | null;
  thawedDay: Day | null;
  /** Each time that it was recorded to be out of the freezer, before now or now. */
  outBefore?: readonly TimeOut[];
  /** Raw fish only: the earliest day it was caught. */
  caughtDay?: Day | null;
  /** Raw fish only; not lean when left out, the stricter. */
  fat?: FatClass;
  /** What the batch's records show; what is left out is not shown, which shortens. */
  evidence?: DateEvidence;
  /** The club's own, tighter limits. */
  club?: ClubLimits;
};

/** A pack as it was recorded out of the freezer: the days that were told then, and the day on which that was recorded. */
export type TimeOut = { frozenDay: Day | null; thawedDay: Day | null; outDay: Day };

/** What a longer date rests on, each as the checks found it. */
export type DateEvidence = {
  coreMet: boolean;
  coolingMet: boolean;
  /** A laboratory measured enough salt for more than 7 days with air (salt.air), or for a pack without air unfrozen (salt.rop). */
  saltAirMet: boolean;
  saltRopMet: boolean;
  /** The warmest reading of the place where it is kept, logged for a day at least; null when it was not. */
  warmestStoreC: number | null;
  /** The share of its days that hours above 5 C may have used up (hold.cold); Infinity where nobody knows for how long. */
  warmShare?: number;
};

export type DateReason = { ruleId: string; text: string; source: string };

export type DateAnswer = {
  /** The last day it may be eaten (use-by) or is at its best; null when what it rests on is not recorded. */
  lastDay: Day | null;
  kind: 'use-by' | 'best-before';
  storageWords: string;
  labelWords: string[];
  reasons: DateReason[];
  /** Days of the count that remain once thawed, the day of thawing included; null when never frozen or not known. */
  daysLeftAfterThaw: number | null;
  working: Working;
};

/** Rule label.words, word for word. */
export const REFRIGERATED_WORDS = 'Keep refrigerated at 38 F (3.3 C) or below';
/** For what keeps up to 14 days only in the cold (date.fourteen). */
export const COLDER_WORDS = 'Keep refrigerated at 36 F (2.2 C) or below';
export const FROZEN_WORDS = 'Keep frozen; thaw in refrigerator; open pack before thawing';

export const FOOD_CODE_DATES = 'FC 3-501.17';

export function reason(ruleId: string, text: string, source: string): DateReason {
  return { ruleId, text, source };
}

/** Frozen after its last day: freezing gives no day back. */
export function frozenTooLate(frozenDay: Day, coldLast: Day): DomainError {
  return new DomainError({
    code: 'date.frozen-too-late', field: 'frozenDay', value: frozenDay, shown: frozenDay,
    problem: `leaves no day of its count, which ends on ${coldLast}, and freezing never starts it again (date.freeze)`,
    remedy: 'do not share it, or correct the day it was frozen',
  });
}

/** The answer when a day that the count needs is missing: no date, never a later one. */
export function notDated(input: DateInput, reasons: DateReason[], missing: string, text: string): DateAnswer {
  const isFrozen = input.storage === 'frozen' && input.thawedDay === null;
  const words = isFrozen ? FROZEN_WORDS : REFRIGERATED_WORDS;
  return {
    lastDay: null,
    kind: isFrozen ? 'best-before' : 'use-by',
    storageWords: words,
    labelWords: [words],
    reasons: [...reasons, reason(reasons[0]!.ruleId, text, reasons[0]!.source)],
    daysLeftAfterThaw: null,
    working: { inputs: [{ name: missing, value: 'not recorded' }], model: 'dates', formula: 'none: a day is missing', source: reasons[0]!.source, certainty: 'published' },
  };
}

/**
 * Of so many days those that hours above 5 C used up, whole days upward, with the reason; throws DomainError where none is left (hold.cold). Source:
 * tables/cumulative-exposure.csv.
 */
export function daysUsedUp(days: number, evidence: DateEvidence | undefined, reasons: DateReason[]): number {
  const share = evidence?.warmShare ?? 0;
  if (share <= 0) return 0;
  const used = Math.ceil(share * days - 1e-9);
  if (!(used < days)) {
    throw new DomainError({
      code: 'date.kept-warm', field: 'lastDay', label: 'last day', value: used, shown: `${days} days`, problem: 'were used up by hours above 5 C, or nobody knows for how long it was warm (hold.cold)', remedy: 'do not share it, or record when it was cold again',
    });
  }
  reasons.push(reason('hold.cold', `It was above 5 C for a while, which used up ${used} of ${days} days.`, 'tables/cumulative-exposure.csv'));
  return used;
}
