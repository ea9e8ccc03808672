import type { Landing } from '$contract/catch.ts';
import type { Check } from '$contract/common.ts';
import { chillingOf } from '$domain/rules/chill.ts';
import { checksOf } from '$domain/rules/judge.ts';
import type { ClubLimits } from '$domain/rules/rule.ts';

const at = (instant: string | null) => (instant === null ? null : new Date(instant));

/** What the chill rules say of one landing as it is recorded, by the club's limits where they are tighter and its source for gutted fish. Empty for fish that forms no histamine. */
export function chillChecks(landing: Landing, guttedSource = '', club: ClubLimits = {}): Check[] {
  const evidence = {
    species: landing.species.name, speciesCode: landing.species.code, scombrotoxin: landing.species.scombrotoxin, caughtAt: at(landing.caughtAt), guttedAt: at(landing.guttedAt), icedAt: at(landing.icedAt), landedAt: at(landing.landedAt), coreC: landing.coreC,
    airC: landing.airC, waterC: landing.waterC, form: landing.form, recordedAt: new Date(landing.createdAt),
  };
  return checksOf(chillingOf(evidence, club, guttedSource), []);
}
