/** Fish of a recorded cure that came out too salty: what it lay in, and for how long. */
import type { BatchDetail, Stage } from '$contract/batches.ts';
import { curedConditions } from '$domain/cure/learnt-salt.ts';
import { fleshWater } from '$domain/cure/pieces.ts';
import type { ClubByFat } from '$domain/salt/diffusivity.ts';
import type { CureConditions } from '$domain/salt/uptake.ts';
import type { FatClass } from '$domain/species/index.ts';

/** The last cure that is finished. */
export const lastCure = (stages: readonly Stage[]): Stage | null => stages.findLast((s) => s.kind === 'cure' && s.finishedAt !== null) ?? null;

export const minutesOf = ({ startedAt, finishedAt }: Pick<Stage, 'startedAt' | 'finishedAt'>): number | null => (finishedAt === null ? null : (Date.parse(finishedAt) - Date.parse(startedAt)) / 60_000);

/** What it lay in; null where nobody told how it was cured. `fat` stands in for fish of several fat classes. */
export function recordedConditions(stage: Pick<Stage, 'cure' | 'massInG'>, origins: BatchDetail['origins'], fat: FatClass, clubByFat: ClubByFat = {}): CureConditions | null {
  const facts = stage.cure;
  if (facts === null) return null;
  const kinds = new Set(origins.map(({ speciesCode }) => speciesCode));
  const told = facts.fat === 'mixed' ? fat : facts.fat;
  const { waterPercent } = fleshWater(kinds.size === 1 ? [...kinds][0] : undefined, told);
  const club = clubByFat[told];
  return { ...curedConditions({ facts, massInG: stage.massInG }, waterPercent), fat: told, ...(club && { club }) };
}
