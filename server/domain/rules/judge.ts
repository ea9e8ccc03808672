import type { CheckState } from '../evidence.ts';
import type { ReadingPlace } from '../reading-flags.ts';
import type { Certainty, StageKind, Working } from '../working.ts';
import { chilling } from './chill.ts';
import { brine, parasite, rawCold, thawing } from './cold.ts';
import { cooling } from './cooling.ts';
import { cooledDip } from './dip.ts';
import type { BatchEvidence } from './evidence.ts';
import { exposure } from './exposure.ts';
import { holdCold } from './kept-cold.ts';
import { packFindings } from './packs.ts';
import { partsInWords } from './parts.ts';
import { dried, homeAdvice, nitrite, notColdSmoked, oneSpecies } from './process.ts';
import { ruleOf } from './registry.ts';
import type { ClubLimits, Effect, EvidenceAt, Finding, RuleGroup } from './rule.ts';
import { smokeCore, smokeLethality } from './smoke.ts';

export type Verdict = 'hold' | 'clear' | 'do-not-share';
/** A captain's word for one rule; it holds for what was found then. */
export type Released = { ruleId: string; found: string; reason: string; by: string };

/** A finding with what its rule says of it. */
export type RuleCheck = {
  ruleId: string; part: string; title: string;
  /** What it is about, in words, to follow the title; empty where no other check has the same one. */
  about: string;
  group: RuleGroup; state: CheckState; found: string; limit: string; source: string; certainty: Certainty; whatToDo: string;
  /** What it means for the batch as it stands: 'nothing' when it is met, released, or for information. */
  means: Effect;
  /** Whether the rule's state is part of the verdict at all. */
  counts: boolean;
  tightened: boolean; releasable: boolean; released: { by: string; reason: string } | null; working: Working | null;
  /** Where what it asks for is entered; the stage and what is read are null where it has none. */
  evidenceAt: EvidenceAt; evidenceStage: StageKind | null; evidencePlace: ReadingPlace | null;
};

/** What was found of hot-smoked fish that went into the smoker in this batch, rule by rule. */
export const smokedFindings = (evidence: BatchEvidence, club: ClubLimits): Finding[] => [
  ...chilling(evidence, club), ...exposure(evidence, club), ...rawCold(evidence, club), ...thawing(evidence, club), ...brine(evidence, club), ...oneSpecies(evidence), ...nitrite(evidence, club), ...dried(evidence),
  ...smokeCore(evidence, club), ...smokeLethality(evidence, club), ...homeAdvice(evidence, club), ...notColdSmoked(evidence, club), ...cooling(evidence, club), ...keptFindings(evidence, club),
];
/** What was found of fish that was smoked in the lots that it was taken from, beside what those say of it. */
export const partFindings = (evidence: BatchEvidence, club: ClubLimits): Finding[] => [
  ...brine({ ...evidence, curesBefore: [], curedBeforeMs: 0 }, club), ...nitrite({ ...evidence, measurementsBefore: [] }, club), ...keptFindings(evidence, club),
];
/** What was found of raw fish; of its cure too, where it was drawn from a cured lot. */
export const rawFindings = (evidence: BatchEvidence, club: ClubLimits): Finding[] => [
  ...chilling(evidence, club), ...exposure(evidence, club), ...rawCold(evidence, club), ...thawing(evidence, club), ...brine(evidence, club), ...nitrite(evidence, club), parasite(evidence, club), ...keptFindings(evidence, club),
];
/** What was found of a dip as it was mixed here. */
export const dipFindings = (evidence: BatchEvidence, club: ClubLimits): Finding[] => [...cooledDip(evidence, club), ...nitrite({ ...evidence, measurementsBefore: [] }, club), ...keptFindings(evidence, club)];
/** What was found of how it is kept and packed, whatever it is. */
export const keptFindings = (evidence: BatchEvidence, club: ClubLimits): Finding[] => [...holdCold(evidence, club), ...packFindings(evidence, club)];

/** The findings with their rules' words and with what they mean, a captain's releases taken into account. */
export function checksOf(findings: readonly Finding[], releases: readonly Released[]): RuleCheck[] {
  const parts = partsInWords(findings);
  const checks = findings.map((finding, i) => toCheck(finding, parts[i]!));
  return checks.map((check) => {
    const release = check.releasable && check.means !== 'nothing' ? releases.find((r) => r.ruleId === check.ruleId && r.found === foundOf(checks, check.ruleId)) : undefined;
    return release ? { ...check, means: 'nothing', released: { by: release.by, reason: release.reason } } : check;
  });
}

function toCheck({ effect, evidenceAt, evidenceStage, releasable, ...finding }: Finding, about: string): RuleCheck {
  const rule = ruleOf(finding.ruleId);
  const at = evidenceAt ?? rule.evidenceAt;
  if (at === 'nowhere') throw new RangeError(`${rule.id} is held against no batch.`);
  const ofRule = finding.state === 'not-met' ? rule.ifNotMet : rule.ifNotRecorded;
  const means = finding.state === 'met' ? 'nothing' : (effect ?? ofRule);
  // What another batch lacks is neither entered with a stage of this one nor read in it.
  const own = evidenceAt === undefined || evidenceAt === rule.evidenceAt;
  return {
    ...finding, about, title: rule.title, group: rule.group, evidenceAt: at, evidenceStage: evidenceStage ?? (own ? (rule.evidenceStage ?? null) : null), evidencePlace: own ? (rule.evidencePlace ?? null) : null, source: rule.source, certainty: rule.certainty, means, counts: finding.state === 'met' ? rule.ifNotMet !== 'nothing' : means !== 'nothing', releasable: rule.releasable && releasable !== false, released: null,
  };
}

/** What stands against a batch by one rule, in one text: what a release is given for. */
export function foundOf(checks: readonly RuleCheck[], ruleId: string): string {
  return checks.filter((check) => check.ruleId === ruleId && check.state !== 'met' && check.counts).map((check) => check.found).join('; ');
}

/**
 * Whether something was found that stands against the batch (a check that is not met, not let go and not for information alone); false
 * on a batch on hold means that only records are missing. It says nothing of a pass: that is the verdict's.
 */
export const isFoundWrong = (checks: readonly Pick<RuleCheck, 'state' | 'means'>[]): boolean => checks.some((check) => check.state === 'not-met' && check.means !== 'nothing');

/** The verdict that follows from the checks. A batch of which nothing is checked is on hold. */
export function verdictOf(checks: readonly RuleCheck[]): Verdict {
  if (checks.some((check) => check.means === 'do-not-share')) return 'do-not-share';
  return checks.some((check) => check.means === 'hold') || !checks.some((check) => check.counts) ? 'hold' : 'clear';
}
