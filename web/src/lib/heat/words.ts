/** Words on screen for where a temperature was taken. */
import { MAX_GAP_MINUTES } from '$domain/heat/series.ts';
import type { Place } from './log.ts';

export const placeWords: Record<Place, string> = { core: 'Core', chamber: 'Chamber', surface: 'On the fish', storage: 'Storage', brine: 'Brine' };
/** Which piece the core is read in, wherever it is read (rule smoke.core: the thickest part of the largest piece in the coldest spot). */
export const CORE_PIECE = 'Of the largest piece, at its thickest. Choose one that lies where the smoker is coldest.';
export const placeHints: Record<Place, string> = {
  core: `${CORE_PIECE} Read it at least every ${MAX_GAP_MINUTES} minutes: what lies further apart does not count as held.`,
  chamber: 'Air in the smoker',
  surface: 'Surface of a piece',
  storage: 'Where it is kept or cured',
  brine: 'In the brine',
};
