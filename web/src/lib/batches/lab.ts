/** Words and units on screen for what a laboratory measures. */
import type { Measurement } from '$contract/evidence.ts';

export const FIGURE_SAVED = 'Figure saved.';
export const kindWords: Record<Measurement['kind'], string> = { 'water-phase-salt': 'Water-phase salt', nitrite: 'Nitrite', 'water-activity': 'Water activity' };
export const kindUnits: Record<Measurement['kind'], string> = { 'water-phase-salt': '%', nitrite: 'ppm', 'water-activity': '' };
export const partWords: Record<Measurement['part'], string> = { loin: 'Loin', belly: 'Belly', tail: 'Tail', whole: 'Whole piece' };
