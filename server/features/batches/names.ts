import { findSpecies, SPECIES } from '../../domain/species/index.ts';
import type { ProductKind } from '../../domain/working.ts';

type Named = { speciesCode: string; species: string };

/** What the service calls a batch that nobody named: by what it is and the fish in it, in the order in which that came. */
export function defaultName(productKind: ProductKind, fish: readonly Named[]): string {
  const species = [...new Map(fish.map((f) => [f.speciesCode, inSentence(f)])).values()];
  const words = species.length === 0 ? 'fish' : species.join(' and ');
  const name = productKind === 'hot-smoked' ? `Hot-smoked ${words}` : productKind === 'raw' ? `Raw ${words}` : `${words.charAt(0).toUpperCase()}${words.slice(1)} dip`;
  return [...name].slice(0, 80).join('').trim();
}

/** "Sea trout" becomes "sea trout" inside a name; "Atlantic mackerel" keeps its capital, and so does a club's own name. */
function inSentence({ speciesCode, species }: Named): string {
  if (!findSpecies(speciesCode) || /^(Atlantic|Pacific|Spanish|Chinook|Arctic|Alaska|Greenland|American)\b/.test(species)) return species;
  return species.charAt(0).toLowerCase() + species.slice(1);
}

/** A name and the word that it ends with: people write "mackerel" for Atlantic mackerel. */
function wordsFor(name: string): string[] {
  const plain = name.toLowerCase().replace(/\(.*?\)/g, '').trim();
  return [plain, plain.split(' ').at(-1)!];
}
const wordsOf = (code: string, name: string) => [name, ...(findSpecies(code)?.alsoCalled ?? [])].flatMap(wordsFor);

const escaped = (word: string) => word.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
const whole = (words: Iterable<string>) => new RegExp(`(?<![\\p{L}-])(?:${[...words].sort((a, b) => b.length - a.length).map(escaped).join('|')})(?![\\p{L}-])`, 'u');
const anySpecies = whole(new Set(SPECIES.flatMap((s) => wordsOf(s.code, s.name))));

/** The fish that a typed name tells of when that is none of the fish in the batch; null when the name tells of no fish, or of the right one. */
export function otherFishInName(name: string, fish: readonly Named[]): string | null {
  if (fish.length === 0) return null;
  const text = name.toLowerCase();
  if (whole(new Set(fish.flatMap((f) => wordsOf(f.speciesCode, f.species)))).test(text)) return null;
  return anySpecies.exec(text)?.[0] ?? null;
}
