import { chillingHours } from '$domain/boat/chilling.ts';
import { iceToLoad, type IceToLoad } from '$domain/boat/ice.ts';
import { DomainError } from '$domain/working.ts';

export interface IceValues {
  catchG: number | null;
  fishC: number | null;
  airC: number | null;
  hours: number | null;
  /** What the club's own box melts in a day; null when it was never measured. */
  meltG: number | null;
  meltAirC: number | null;
}

export const usualIce: IceValues = { catchG: 50_000, fishC: 14, airC: 16, hours: 10, meltG: null, meltAirC: null };

export type IceAnswer = { ice: IceToLoad; errors: Record<string, never> } | { ice: null; errors: Record<string, string> };

/** The domain's names of inputs by the fields of the screen. */
const fieldOf: Record<string, keyof IceValues> = { 'boxMelt.gPerDay': 'meltG', 'boxMelt.airC': 'meltAirC' };

/** The ice for what was entered, or what is wrong at which field. */
export function iceFor(v: IceValues): IceAnswer {
  const missing = (['catchG', 'fishC', 'airC', 'hours'] as const).filter((field) => v[field] === null);
  if (missing.length > 0) return { ice: null, errors: Object.fromEntries(missing.map((field) => [field, 'Enter a number.'])) };
  if (v.meltG !== null && v.meltAirC === null) return { ice: null, errors: { meltAirC: 'Enter how warm it was that day.' } };
  try {
    const boxMelt = v.meltG === null ? {} : { boxMelt: { gPerDay: Math.round(v.meltG), airC: v.meltAirC! } };
    return { ice: iceToLoad({ catchG: Math.round(v.catchG!), fishC: v.fishC!, airC: v.airC!, hours: v.hours!, ...boxMelt }), errors: {} };
  } catch (error) {
    if (!(error instanceof DomainError)) throw error;
    return { ice: null, errors: { [fieldOf[error.field] ?? error.field]: error.message } };
  }
}

/** The published layers, for the table under the answer. */
export const layers = [75, 100, 125].map((thicknessMm) => ({ thicknessMm, ...chillingHours({ thicknessMm }) }));
