import { hoursAndMinutes } from '../heat/crossing.ts';
import type { ChillCheck, ChillTimes, HistamineInput } from './histamine.ts';

/** Hours since death, from longest: the core at landing may be at most so warm. Source: rule chill.internal. */
const LIMITS: readonly (readonly [hours: number, maxC: number])[] = [[24, 4.4], [15, 10], [12, 15.6]];
/** How far below air and water is clearly below them: common practice, no source. */
const CLEARLY_C = 3;

/** The core at landing against its hours since death. What is not recorded is never a pass. */
export function internalCheck(input: HistamineInput, times: ChillTimes): ChillCheck {
  const { landingCoreC: core = null, maxAirC: air = null, maxWaterC: water = null } = input;
  const hours = times.counted === null || times.landed === null ? null : (times.landed - times.counted) / 3_600_000;
  const row = hours === null ? undefined : LIMITS.find(([from]) => hours >= from);
  const limit = hours === null ? 'core at landing by hours since death' : row ? `core at or below ${row[1]} C ${row[0]} h or more after death` : `core at least ${CLEARLY_C} C below air and water under 12 h`;
  const shared = { ruleId: 'chill.internal', limit, source: 'HG ch. 7, from memory' } as const;
  const missing = (what: string, whatToDo: string): ChillCheck => ({ ...shared, state: 'not-recorded', found: `${what} not recorded`, whatToDo });
  if (times.counted === null) return missing('death', 'Enter when it died, or when the lines went out.');
  if (hours === null) return missing('landing', 'Enter when it was landed.');
  if (core === null) return missing('core at landing', 'Enter the core of the largest fish at landing.');
  if (!row && (air === null || water === null)) return missing('air or water', 'Enter the hottest air and water.');
  const maxC = row ? row[1] : Math.min(air!, water!) - CLEARLY_C;
  const found = `${core} C, ${hoursAndMinutes(hours * 60)} after death`;
  if (core <= maxC) return { ...shared, state: 'met', found, whatToDo: '' };
  return { ...shared, state: 'not-met', found, whatToDo: 'Do not share it. It was not cold enough at landing.' };
}
