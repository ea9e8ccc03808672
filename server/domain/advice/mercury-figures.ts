import { MERCURY } from '../species/hazards.ts';
import type { Mercury, Species } from '../species/types.ts';

/** Where two waters have a figure each, the lower one counts only for fish that is plainly from there. */
const LOWER_ROW: Readonly<Record<string, { row: string; area: RegExp }>> = {
  'spanish-mackerel': { row: 'Spanish mackerel (S Atlantic)', area: /\bs(?:outh)?\.? ?atlantic\b/i },
  'tilefish': { row: 'tilefish (Atlantic)', area: /\batlantic\b/i },
};

/** The mercury figure for a species caught in an area, in the club's own words; the higher when in doubt. Null where none is published. */
export function mercuryOf(species: Species, area: string | null): Mercury | null {
  const lower = LOWER_ROW[species.code];
  if (lower && area && lower.area.test(area) && !/gulf|mexico/i.test(area)) return MERCURY[lower.row]!;
  return species.mercury ?? null;
}
