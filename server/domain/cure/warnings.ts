import { within } from '../bounds.ts';
import { BRINE_COLD_C, BRINE_START_C } from './brine-change.ts';

export type CureWarning = {
  ruleId: 'brine.cold' | 'brine.start' | 'brine.reuse' | 'brine.no-mix';
  /** 'must': it goes against the rule. 'check': it cannot be told from what was entered. */
  level: 'must' | 'check';
  text: string;
  source: string;
};

export type CureCircumstances = {
  plannedMinutes: number | null;
  /** The long end of a predicted time: the cold is asked for when it may run past 4 hours. */
  latestMinutes?: number | null;
  /** Where the fish stands while it cures. */
  placeTemperatureC: number | null;
  /** For brines, as the fish goes in. */
  brineTemperatureC: number | null;
  isBrine: boolean;
  brineUsedBefore: boolean | null;
  /** Species codes in one vessel. */
  species: readonly string[];
  /** The club's own limits, where it has stricter ones. */
  club?: CureLimits;
};

/** Of brine.cold: for how long a cure needs no cold place, and how cold that is; of brine.start: the brine as the fish goes in. */
export type CureLimits = Partial<Record<'coldAfterMinutes' | 'coldC' | 'startC', number>>;

/** Rule brine.cold: longer than this only in the cold. */
export const COLD_AFTER_MINUTES = 240;
const NY_MI = 'NY262.5, MI569.5';

/** The limits that count, from a club's own: the rules' where it has none, or a looser one. */
export const cureLimits = (club: CureLimits = {}): Required<CureLimits> => ({
  coldAfterMinutes: Math.min(COLD_AFTER_MINUTES, club.coldAfterMinutes ?? Infinity), coldC: Math.min(BRINE_COLD_C, club.coldC ?? Infinity), startC: Math.min(BRINE_START_C, club.startC ?? Infinity),
});
/** "4 hours", "1 hour", "2.5 hours"; in whole minutes below one. */
export const hoursInWords = (minutes: number): string => (minutes === 60 ? '1 hour' : minutes > 60 ? `${Math.round(minutes / 0.6) / 100} hours` : `${Math.round(minutes)} minutes`);

/**
 * What goes against the rules of brining, or cannot be told. An entry that is missing is
 * never a pass. Range: times to 14 days, temperatures -10 to 60 C. Throws DomainError
 * outside. Source: rules brine.cold, brine.start, brine.reuse, brine.no-mix.
 */
export function cureWarnings(input: CureCircumstances): CureWarning[] {
  const warnings: (CureWarning | null)[] = [coldPlace(input)];
  if (input.isBrine) warnings.push(coldStart(input), usedBrine(input), mixedBrine(input));
  return warnings.filter((warning) => warning !== null);
}

function coldPlace({ plannedMinutes, latestMinutes, placeTemperatureC, club }: CureCircumstances): CureWarning | null {
  const minutes = plannedMinutes === null ? null : within(plannedMinutes, { field: 'plannedMinutes', label: 'time in the cure', min: 0, max: 20_160, unit: 'minutes' });
  const longest = minutes === null || latestMinutes == null ? minutes : Math.max(minutes, within(latestMinutes, { field: 'latestMinutes', label: 'longest time in the cure', min: 0, max: 20_160, unit: 'minutes' }));
  const place = placeTemperatureC === null ? null : temperature(placeTemperatureC, 'placeTemperatureC', 'temperature of the place');
  const { coldAfterMinutes, coldC } = cureLimits(club);
  if ((longest !== null && longest <= coldAfterMinutes) || (place !== null && place <= coldC)) return null;
  const long = hoursInWords(coldAfterMinutes);
  const may = minutes !== null && minutes <= coldAfterMinutes ? `It may take more than ${long}. ` : '';
  const words = `${may}${coldAfterMinutes === 0 ? 'In' : `More than ${long} in`} brine or dry cure only at ${coldC === BRINE_COLD_C ? `${coldC} C (38 F)` : `${coldC} C`} or colder`;
  if (minutes !== null && place !== null) return { ruleId: 'brine.cold', level: 'must', text: `${words}; it is ${place} C there.`, source: NY_MI };
  return { ruleId: 'brine.cold', level: 'check', text: `${words}: enter ${place === null ? 'how cold the place is' : 'how long it stays'}.`, source: NY_MI };
}

function coldStart({ brineTemperatureC, club }: CureCircumstances): CureWarning | null {
  const { startC } = cureLimits(club);
  const words = `The brine is at ${startC === BRINE_START_C ? `${startC} C (60 F)` : `${startC} C`} or colder when the fish goes in`;
  if (brineTemperatureC === null) return { ruleId: 'brine.start', level: 'check', text: `${words}: measure it.`, source: NY_MI };
  const brine = temperature(brineTemperatureC, 'brineTemperatureC', 'brine temperature');
  return brine <= startC ? null : { ruleId: 'brine.start', level: 'must', text: `${words}; it is ${brine} C: cool it with ice first.`, source: NY_MI };
}

function usedBrine({ brineUsedBefore }: CureCircumstances): CureWarning | null {
  if (brineUsedBefore === false) return null;
  const level = brineUsedBefore ? 'must' : 'check';
  return { ruleId: 'brine.reuse', level, text: brineUsedBefore ? 'Make fresh brine: used brine is not used again.' : 'Make fresh brine for every batch.', source: 'AK34.310 (stricter default: never again)' };
}

function mixedBrine({ species }: CureCircumstances): CureWarning | null {
  const kinds = new Set(species);
  return kinds.size < 2 ? null : { ruleId: 'brine.no-mix', level: 'must', text: `One species in a brine vessel: there are ${kinds.size} here. Use a vessel for each.`, source: 'NY262.5' };
}

function temperature(celsius: number, field: string, label: string): number {
  return within(celsius, { field, label, min: -10, max: 60, unit: 'C', remedy: 'enter degrees Celsius' });
}
