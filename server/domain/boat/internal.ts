import { rounded } from '../bounds.ts';
import { hoursAndMinutes } from '../heat/crossing.ts';
import type { ChillCheck, ChillTimes, HistamineInput } from './histamine.ts';

/**
 * A club's own limits of the core at landing, in degrees Celsius by the hours since death from which each counts; `below`: how many
 * degrees colder than air and water before the first of them. One that is warmer than the rule counts for nothing.
 */
export type ClubCore = { from24h?: number | undefined; from15h?: number | undefined; from12h?: number | undefined; below?: number | undefined };

/** Hours since death, from longest: the core at landing may be at most so warm. Source: rule chill.internal. */
const LIMITS = [[24, 4.4, 'from24h'], [15, 10, 'from15h'], [12, 15.6, 'from12h']] as const;
/** How far below air and water is clearly below them: common practice, no source. */
const CLEARLY_C = 3;

/** The core at landing against its hours since death. What is not recorded is never a pass. */
export function internalCheck(input: HistamineInput, times: ChillTimes): ChillCheck {
  const { landingCoreC: core = null, maxAirC: air = null, maxWaterC: water = null, clubCoreC: club = {} } = input;
  const hours = times.counted === null || times.landed === null ? null : (times.landed - times.counted) / 3_600_000;
  const from = hours === null ? undefined : LIMITS.find(([h]) => hours >= h)?.[0];
  const belowC = from === undefined ? (air === null || water === null ? null : rounded(Math.min(air, water) - stricter(Math.max, CLEARLY_C, club.below), 6)) : null;
  const maxC = from === undefined ? belowC : mostC(from, club);
  const limit = hours === null ? 'core at landing by hours since death'
    : from !== undefined ? `core at or below ${maxC} C ${from} h or more after death`
    : `core clearly below air and water under 12 h${maxC === null ? '' : `: at or below ${maxC} C`}`;
  const shared = { ruleId: 'chill.internal', limit, source: 'HG ch. 7, from memory' } as const;
  const missing = (what: string, whatToDo: string): ChillCheck => ({ ...shared, state: 'not-recorded', found: `${what} not recorded`, whatToDo });
  if (times.counted === null) return missing('death', 'Enter when it died, or when the lines went out.');
  if (hours === null) return missing('landing', 'Enter when it was landed.');
  if (core === null) return missing('core at landing', 'Enter the core of the largest fish at landing.');
  if (maxC === null) return missing('air or water', 'Enter the hottest air and water.');
  const found = `${core} C, ${hoursAndMinutes(hours * 60)} after death`;
  if (core <= maxC) return { ...shared, state: 'met', found, whatToDo: '' };
  return { ...shared, state: 'not-met', found, whatToDo: 'Do not share it. It was not cold enough at landing.' };
}

/** What fish of so many hours may be at most: by its own row, and by every club's limit of fewer hours, as fish only gets less fresh. */
const mostC = (hours: number, club: ClubCore): number =>
  LIMITS.filter(([from]) => from <= hours).reduce((least, [from, celsius, name]) => stricter(Math.min, from === hours ? Math.min(least, celsius) : least, club[name]), Infinity);

/** A club's own counts where it is stricter; what is no number counts for nothing. */
const stricter = (pick: typeof Math.min, rule: number, own: number | undefined): number => (own === undefined || !Number.isFinite(own) ? rule : pick(rule, own));
