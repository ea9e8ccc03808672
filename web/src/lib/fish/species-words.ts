import type { Species } from '$contract/catch.ts';

/** What a species of the club's own goes without, so that nobody takes its silence for a pass. */
export const OWN_SPECIES_LACK = 'It has no expected yield, and no weight from lengths. Where nothing is known about it, the strictest rule applies.';

export type Histamine = 'unknown' | 'yes' | 'no';
export const histamineWords: Record<Histamine, string> = { unknown: 'Not known', yes: 'Yes', no: 'No' };
export const histamineValue: Record<Histamine, boolean | null> = { unknown: null, yes: true, no: false };
export const histamineOf = (species: Pick<Species, 'scombrotoxin'>): Histamine => (species.scombrotoxin === null ? 'unknown' : species.scombrotoxin ? 'yes' : 'no');

/** One line on a species, in the order in which it matters when landing it. */
export function speciesDetail(species: Species, showWeight: (grams: number) => string): string {
  const histamine = { unknown: 'histamine not known, treated as yes', yes: 'can form histamine', no: species.scombrotoxinSource ? `forms no histamine, by ${species.scombrotoxinSource}` : 'forms no histamine' }[histamineOf(species)];
  return [species.scientificName, `at most ${showWeight(species.maxFishGrams)} each`, histamine, species.hasLengthWeight ? 'weight from lengths' : ''].filter(Boolean).join(' · ');
}
