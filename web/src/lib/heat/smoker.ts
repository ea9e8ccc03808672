/** What a smoker has learnt from its own smokes, in words. */
import type { LearntFit, LearntSmoke } from '$contract/smokers.ts';
import { findSpecies } from '$domain/species/index.ts';
import { showThickness } from '../show.ts';

export type Draught = LearntFit['draught'];
export const draughtWords: Record<Draught, string> = { natural: 'Natural', fan: 'Fan' };
export const liesWords = { both: 'on a rack', one: 'on a tray or its skin' } as const;

/** A coefficient with as many digits as its error leaves sense in. */
export const showH = (value: number, error: number): string => (error < 1 ? value.toFixed(1) : String(Math.round(value)));
export const showError = (error: number): string => (error < 1 ? Math.max(0.1, error).toFixed(1) : String(Math.round(error)));

/** "17 W/m² K, give or take 2" */
export const sayHeat = ({ value, standardError }: LearntFit['hWPerM2K']): string => `${showH(value, standardError)} W/m² K, give or take ${showError(standardError)}`;
export const sayHumidity = ({ value }: LearntFit['relativeHumidityPct']): string => `${Math.round(value)} %`;
export const countSmokes = (count: number): string => `${count} ${count === 1 ? 'smoke' : 'smokes'}`;

export const sayLearnt = (fit: LearntFit): string => `Heat transfer ${sayHeat(fit.hWPerM2K)}, from ${countSmokes(fit.smokes)}; humidity ${sayHumidity(fit.relativeHumidityPct)}`;

/** "Atlantic mackerel, 25 mm, on a rack" */
export function saySmoke({ speciesCode, thicknessMm, facesOpen, saltPct }: Pick<LearntSmoke, 'speciesCode' | 'thicknessMm' | 'facesOpen' | 'saltPct'>): string {
  return [findSpecies(speciesCode)?.name ?? speciesCode, showThickness(thicknessMm), liesWords[facesOpen], ...(saltPct === null ? [] : [`${saltPct} % salt`])].join(', ');
}

/** How one smoke lies beside the fit of them all; a core that misses by more is a wrong thickness, a probe off its place or another smoker's smoke. */
const FAR_OFF_C = 3;
export const isFarOff = ({ fit }: Pick<LearntSmoke, 'fit'>): boolean => fit !== null && fit.residualC > FAR_OFF_C;

/** What to mind of such a smoke among so many; of a single one there are no others to lie off from. `away` tells degrees of difference. */
export function sayFarOff({ fit, batch }: Pick<LearntSmoke, 'fit' | 'batch'>, smokes: number, away: (celsius: number) => string): string {
  return smokes === 1 ? `The fit does not follow the log of lot ${batch.lot} well: it is off by ${away(fit!.residualC)}.` : `Lot ${batch.lot} lies far off the others.`;
}
