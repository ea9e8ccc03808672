import type { CheckState } from '../evidence.ts';
import type { Certainty, PackageKind, ProductKind, StageKind, Working } from '../working.ts';

export type LimitUnit = 'C' | 'minutes' | 'hours' | 'percent' | 'ppm' | 'days' | 'months';

/** A number of a rule that a club may tighten: 'at-least' upward, 'at-most' downward. */
export type RuleLimit = {
  /** Such as 'smoke.core.celsius'. */
  id: string;
  name: string;
  value: number;
  unit: LimitUnit;
  direction: 'at-least' | 'at-most';
  /** The tightest that makes sense. */
  tightest: number;
};

/** What a rule that is not met means; 'nothing' for information. */
export type Effect = 'hold' | 'do-not-share' | 'nothing';

export type Rule = {
  id: string;
  title: string;
  appliesTo: { products: readonly ProductKind[]; hazard?: 'scombrotoxin'; packages?: readonly PackageKind[]; stages?: readonly StageKind[] };
  /** What has to be recorded, in words. */
  evidence: string;
  limits: readonly RuleLimit[];
  source: string;
  certainty: Certainty;
  whatToDo: string;
  ifNotMet: Effect;
  /** A rule that is asked for only where something was recorded says 'nothing'. */
  ifNotRecorded: Effect;
  /** Whether a captain may let a batch go with a reason; never for heat, cooling, histamine, parasites and packs without air. */
  releasable: boolean;
};

/** One rule held against the records of a batch, or against a part of them. */
export type Finding = {
  ruleId: string;
  /** Which part of the rule, when it has several. */
  part: string;
  state: CheckState;
  /** What was recorded, in words. */
  found: string;
  limit: string;
  whatToDo: string;
  /** Whether the club's own, tighter limit was used. */
  tightened: boolean;
  working: Working | null;
  /** Where it means something else than the rule says. */
  effect?: Effect;
};

export type ClubLimits = Readonly<Record<string, number>>;
