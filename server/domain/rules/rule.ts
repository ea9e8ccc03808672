import type { CheckState } from '../evidence.ts';
import type { ReadingPlace } from '../reading-flags.ts';
import type { Certainty, PackageKind, ProductKind, StageKind, Working } from '../working.ts';

/** 'degrees': Celsius degrees between two temperatures. */
export type LimitUnit = 'C' | 'degrees' | 'minutes' | 'hours' | 'percent' | 'ppm' | 'days' | 'months';

/** A number of a rule that a club may tighten: 'at-least' and 'above' upward, 'at-most' downward. */
export type RuleLimit = {
  /** Such as 'smoke.core.celsius'. */
  id: string;
  name: string;
  value: number;
  unit: LimitUnit;
  direction: 'at-least' | 'above' | 'at-most';
  /** The tightest that makes sense. */
  tightest: number;
};

/** What a rule that is not met means; 'nothing' for information. */
export type Effect = 'hold' | 'do-not-share' | 'nothing';

/** Where in the work a rule belongs; screens show the rules in this order. */
export const RULE_GROUPS = ['start', 'boat', 'cure', 'smoke', 'cool', 'keep', 'dates', 'people'] as const;
export type RuleGroup = (typeof RULE_GROUPS)[number];

/** Where what a rule asks for is entered; 'contents': what the batch was made of, and the batches before it. */
export type EvidenceAt = 'landing' | 'readings' | 'laboratory' | 'stage' | 'packs' | 'contents';

/** 'check' is held against a batch; 'guidance' is what no record can show; 'advice' is for those who eat it. The last two are never met or not met. */
export type RuleKind = 'check' | 'guidance' | 'advice';

export type Rule = {
  kind: RuleKind;
  id: string;
  title: string;
  group: RuleGroup;
  appliesTo: { products: readonly ProductKind[]; hazard?: 'scombrotoxin'; packages?: readonly PackageKind[]; stages?: readonly StageKind[] };
  /** What has to be recorded, in words. */
  evidence: string;
  /** 'nowhere': no record shows it. */
  evidenceAt: EvidenceAt | 'nowhere';
  /** The stage that it is entered with, or whose readings they are. */
  evidenceStage?: StageKind;
  /** What is read, where readings show it too. */
  evidencePlace?: ReadingPlace;
  limits: readonly RuleLimit[];
  /** What it asks, where its limits do not say it. */
  words?: string;
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
  /** What it is held against, in words, where that tells it from another finding of the same rule. */
  about?: string;
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
  /** false: what was found is not to be released, although its rule may be. */
  releasable?: boolean;
  /** Where it is entered somewhere else than the rule says. */
  evidenceAt?: EvidenceAt;
  /** At which stage that is, where it is not the rule's own. */
  evidenceStage?: StageKind;
};

export type ClubLimits = Readonly<Record<string, number>>;
