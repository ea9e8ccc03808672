import { SPECIES } from './table.ts';
import type { Species } from './types.ts';

export { SPECIES } from './table.ts';
export type { Advice, Conversion, EdibleYield, FatClass, Hazard, LengthKind, LengthWeight, Mercury, Proximate, Species } from './types.ts';

/** The species with a code, or undefined when the tables do not have it. */
export function findSpecies(code: string): Species | undefined {
  return SPECIES.find((species) => species.code === code);
}

/**
 * Species whose names hold the text, whatever its case and accents: names that start
 * with it first, then names with a word that starts with it, then the rest. All of
 * them, by name, when the text is empty.
 */
export function searchSpecies(text: string): Species[] {
  const wanted = plainText(text.slice(0, 80));
  return SPECIES.map((species) => ({ species, rank: rank(species, wanted) }))
    .filter((row) => row.rank < 4)
    .sort((a, b) => a.rank - b.rank || (a.species.name < b.species.name ? -1 : 1))
    .map((row) => row.species);
}

function rank(species: Species, wanted: string): number {
  const name = plainText(species.name);
  const names = [name, ...species.alsoCalled.map(plainText), plainText(species.scientificName)];
  if (name.startsWith(wanted)) return 0;
  if (names.some((other) => other.startsWith(wanted))) return 1;
  if (names.some((other) => other.includes(` ${wanted}`))) return 2;
  return names.some((other) => other.includes(wanted)) ? 3 : 4;
}

function plainText(text: string): string {
  return text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase().replace(/[\s-]+/g, ' ').trim();
}
