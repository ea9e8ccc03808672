import type { BatchEvidence, EvidenceLanding, EvidenceReadings } from '../../server/domain/rules/evidence.ts';
import { checksOf, dipFindings, rawFindings, smokedFindings, verdictOf } from '../../server/domain/rules/judge.ts';
import type { RuleCheck } from '../../server/domain/rules/judge.ts';
import type { ClubLimits } from '../../server/domain/rules/rule.ts';

/** The end of smoking, from which the minutes below count. */
export const end = Date.parse('2026-06-10T13:00:00Z');
export const after = (minutes: number) => new Date(end + minutes * 60_000);
export const smokeStage = { id: 'smoke', kind: 'smoke', startedAt: after(-240), finishedAt: after(0), maxCoreC: 62.8, holdMinutes: 30, cooledTo21At: after(120), cooledAt: after(360) } as const;
export const landing: EvidenceLanding = {
  species: 'Atlantic mackerel', speciesCode: 'atlantic-mackerel', scombrotoxin: true, caughtAt: after(-900), guttedAt: null, icedAt: after(-360), landedAt: null, coreC: 3, airC: 12, waterC: 10, form: 'whole', recordedAt: after(-300),
};
export const batch = (smoke: Partial<typeof smokeStage> | Record<string, unknown> = {}, more: Partial<BatchEvidence> = {}): BatchEvidence => {
  const stage = { ...smokeStage, ...smoke } as BatchEvidence['smoke'] & object;
  return { product: 'hot-smoked', smoke: stage, mix: null, stages: [stage], readings: [], readingsBefore: [], curesBefore: [], curedBeforeMs: 0, joinedAt: null, drawnAt: null, judgedAt: null, frozenBefore: 'none', guttedSource: '', measurements: [], measurementsBefore: [], landings: [landing], packs: [], ...more };
};
const findings = { 'hot-smoked': smokedFindings, raw: rawFindings, dip: dipFindings } as const;
export const judged = (evidence: BatchEvidence, club: ClubLimits = {}): { verdict: string; checks: RuleCheck[] } => {
  const checks = checksOf(findings[evidence.product](evidence, club), []);
  return { verdict: verdictOf(checks), checks };
};
export const state = (checks: RuleCheck[], ruleId: string, part?: string) => checks.filter((c) => c.ruleId === ruleId && (part === undefined || c.part === part)).map((c) => c.state).join(' ');
export const log = (points: [minutes: number, celsius: number][], more: Partial<EvidenceReadings> = {}): EvidenceReadings => ({
  place: 'core', probe: '', stageId: 'smoke', unitConfirmed: false, atMs: points.map(([m]) => end + m * 60_000), celsius: points.map(([, c]) => c), ...more,
});
/** Every five minutes along straight lines between the points. */
export function every5(...points: [number, number][]): [number, number][] {
  const out: [number, number][] = [];
  for (let i = 0; i + 1 < points.length; i += 1) {
    const [[m0, c0], [m1, c1]] = [points[i]!, points[i + 1]!];
    for (let m = m0; m < m1; m += 5) out.push([m, c0 + ((c1 - c0) * (m - m0)) / (m1 - m0)]);
  }
  return [...out, points.at(-1)!];
}
