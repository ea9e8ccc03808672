import { hoursAndMinutes } from '../heat/crossing.ts';
import type { CheckState } from '../evidence.ts';
import { checkTemperatureC } from '../readings.ts';
import { findSpecies } from '../species/index.ts';
import { DomainError } from '../working.ts';
import type { Working } from '../working.ts';
import { internalCheck } from './internal.ts';
import type { ClubCore } from './internal.ts';

type Instant = Date | string;

export type HistamineInput = {
  speciesCode: string;
  /** Null when nobody knows: then the earliest possible time counts. */
  deathAt?: Instant | null;
  /** Lines out, or the trip's start. */
  earliestDeathAt?: Instant | null;
  /** The hottest air and water the fish met; null counts as hot. */
  maxAirC?: number | null;
  maxWaterC?: number | null;
  /** Gilled and gutted before it was chilled. */
  guttedAt?: Instant | null;
  icedAt?: Instant | null;
  /** Ice is cold by itself; slurry and cold sea water need their temperature. */
  medium?: 'ice' | 'slurry' | null;
  mediumC?: number | null;
  landedAt?: Instant | null;
  landingCoreC?: number | null;
  /** The club's own source for 12 hours when gutted; without it 9 hours stay. */
  guttedTwelveHourSource?: string | null;
  /** A club may ask for faster chilling, never slower. */
  clubMaxHours?: number;
  /** And for colder fish at landing, never warmer. */
  clubCoreC?: ClubCore;
  /** It may call less warm air and water hot, never warmer alone. */
  clubHotC?: number;
};

export type ChillCheck = {
  ruleId: 'chill.hot' | 'chill.mild' | 'chill.gutted' | 'chill.internal';
  state: CheckState;
  found: string;
  limit: string;
  source: string;
  whatToDo: string;
};

export type HistamineLine = {
  /** False for fish that forms no histamine: then it is advice on quality. */
  applies: boolean;
  state: CheckState;
  chosenCase: 'hot' | 'mild' | 'gutted';
  /** Why that case, in sentences. */
  reasons: string[];
  countedFromAt: string | null;
  checks: ChillCheck[];
  timeline: { at: string; what: string; hours: number | null }[];
  noRescue: string;
  working: Working;
};

export const HOT_C = 28.3;
export const ICE_C = 4.4;
const SOURCE = 'HG ch. 7, from memory';
const HOURS = { hot: 6, mild: 9, gutted: 12 } as const;
const NO_RESCUE = 'Histamine survives washing, freezing, smoking and cooking: what failed here cannot be made good later (chill.no-rescue, FDA, November 2024).';

/**
 * The chill checks of a fish from death to landing: which case's limit holds and why, whether
 * it was iced in time and cold enough at landing. Whatever is not known counts against
 * it: unknown heat as hot, unknown death as the earliest possible. Throws DomainError on an unknown species,
 * times out of order, impossible temperatures. Source: rules chill.*.
 */
export function histamineLine(input: HistamineInput): HistamineLine {
  const species = findSpecies(input.speciesCode);
  if (!species) throw new DomainError({ code: 'species.unknown', field: 'speciesCode', label: 'species', value: input.speciesCode, problem: 'is not in the table', remedy: 'choose a species' });
  const times = timesOf(input);
  checkTemperatures(input);
  const { chosenCase, reasons } = chooseCase(input, times);
  const limitHours = limitOf(chosenCase, input.clubMaxHours);
  const checks = [icedCheck(input, times, chosenCase, limitHours), internalCheck(input, times)];
  const states = checks.map(({ state }) => state);
  const counted = times.counted;
  return {
    applies: species.scombrotoxin,
    state: states.includes('not-met') ? 'not-met' : states.includes('not-recorded') ? 'not-recorded' : 'met',
    chosenCase, reasons,
    countedFromAt: counted === null ? null : new Date(counted).toISOString(),
    checks,
    timeline: timelineOf(times),
    noRescue: states.includes('not-met') ? NO_RESCUE : '',
    working: {
      inputs: [
        { name: 'species', value: species.name }, { name: 'forms histamine', value: species.scombrotoxin ? 'yes' : 'no' },
        { name: 'hottest air', value: input.maxAirC ?? 'not recorded' }, { name: 'hottest water', value: input.maxWaterC ?? 'not recorded' }, { name: 'limit', value: limitHours, unit: 'h' },
      ],
      model: 'histamine', formula: 'Hours from death (or the earliest it can have been) to ice or slurry at 4.4 C or less, against the limit of the case; core at landing against the limit for its hours since death.',
      source: `chill.hot, chill.mild, chill.gutted, chill.unknown, chill.internal: ${SOURCE}; FAO 444 agrees above 28 C`,
      range: 'From catch to landing; what comes later is added up by chill.exposure.',
      uncertainty: 'As good as the times entered.',
      certainty: 'from memory',
    },
  };
}

export type ChillTimes = Record<'death' | 'earliest' | 'gutted' | 'iced' | 'landed' | 'counted', number | null>;

function timesOf(input: HistamineInput): ChillTimes {
  const read = (field: 'deathAt' | 'earliestDeathAt' | 'guttedAt' | 'icedAt' | 'landedAt') => {
    const value = input[field];
    if (value === null || value === undefined) return null;
    const ms = new Date(value).getTime();
    if (!Number.isNaN(ms)) return ms;
    throw new DomainError({ code: 'chill.time', field, value, problem: 'is no time', remedy: 'enter a day and a time' });
  };
  const [death, earliest, gutted, iced, landed] = [read('deathAt'), read('earliestDeathAt'), read('guttedAt'), read('icedAt'), read('landedAt')];
  const order = (field: string, at: number | null, before: number | null, what: string) => {
    if (at === null || before === null || at >= before) return;
    throw new DomainError({ code: 'chill.order', field, value: new Date(at), problem: `is before ${what}`, remedy: 'correct one of the two times' });
  };
  const counted = death ?? earliest;
  order('deathAt', death, earliest, 'the earliest possible time');
  order('guttedAt', gutted, counted, 'death');
  order('icedAt', iced, counted, 'death');
  order('landedAt', landed, counted, 'death');
  return { death, earliest, gutted, iced, landed, counted };
}

function checkTemperatures(input: HistamineInput): void {
  if (typeof input.maxAirC === 'number') checkTemperatureC(input.maxAirC, 'air', 'maxAirC');
  if (typeof input.maxWaterC === 'number') checkTemperatureC(input.maxWaterC, 'water', 'maxWaterC');
  if (typeof input.mediumC === 'number') checkTemperatureC(input.mediumC, 'ice', 'mediumC');
  if (typeof input.landingCoreC === 'number') checkTemperatureC(input.landingCoreC, 'fish', 'landingCoreC');
}

function chooseCase(input: HistamineInput, times: ChillTimes): { chosenCase: HistamineLine['chosenCase']; reasons: string[] } {
  const { maxAirC: air = null, maxWaterC: water = null } = input;
  const hotC = Math.min(input.clubHotC ?? HOT_C, HOT_C);
  const reasons: string[] = [];
  if (times.death === null) {
    reasons.push(times.earliest === null
      ? 'Neither the time of death nor the earliest it can have been is recorded: nothing can be counted.'
      : 'The time of death is not recorded, so the hours count from the earliest it can have been (chill.unknown).');
  }
  if (air === null || water === null) {
    reasons.push(`${air === null && water === null ? 'Air and water are' : air === null ? 'The air is' : 'The water is'} not recorded, so it counts as hot: ${HOURS.hot} hours (chill.hot).`);
    return { chosenCase: 'hot', reasons };
  }
  if (air > hotC || water > hotC) {
    reasons.push(`The ${air > hotC ? `air was ${air}` : `water was ${water}`} C, above ${hotC} C: ${HOURS.hot} hours (chill.hot).`);
    return { chosenCase: 'hot', reasons };
  }
  const guttedFirst = times.gutted !== null && times.iced !== null && times.gutted <= times.iced;
  const source = input.guttedTwelveHourSource?.trim() ?? '';
  if (guttedFirst && source !== '') {
    reasons.push(`Gutted before it was chilled, and the club has its own source for ${HOURS.gutted} hours: ${source} (chill.gutted).`);
    return { chosenCase: 'gutted', reasons };
  }
  reasons.push(`Air ${air} C and water ${water} C were at or below ${hotC} C: ${HOURS.mild} hours (chill.mild).`);
  if (guttedFirst) reasons.push(`Gutted before it was chilled: ${HOURS.gutted} hours is not confirmed, so ${HOURS.mild} stay unless the club enters its own source (chill.gutted).`);
  return { chosenCase: 'mild', reasons };
}

function limitOf(chosenCase: HistamineLine['chosenCase'], clubMaxHours: number | undefined): number {
  if (clubMaxHours === undefined) return HOURS[chosenCase];
  if (clubMaxHours > 0 && Number.isFinite(clubMaxHours)) return Math.min(clubMaxHours, HOURS[chosenCase]);
  throw new DomainError({ code: 'chill.club-hours', field: 'clubMaxHours', label: "the club's hours", value: clubMaxHours, problem: 'is not above zero', remedy: 'leave it out, or enter fewer hours than the rule' });
}

function icedCheck(input: HistamineInput, times: ChillTimes, chosenCase: HistamineLine['chosenCase'], limitHours: number): ChillCheck {
  const shared = { ruleId: `chill.${chosenCase}`, limit: `in ice or slurry at or below ${ICE_C} C within ${limitHours} h of death`, source: SOURCE } as const;
  const missing = (what: string, whatToDo: string): ChillCheck => ({ ...shared, state: 'not-recorded', found: `${what} not recorded`, whatToDo });
  if (times.counted === null) return missing('death', 'Enter when it died, or when the lines went out.');
  if (times.iced === null) return missing('icing', 'Enter when it went into ice.');
  if (input.medium !== 'ice' && input.medium !== 'slurry') return missing('ice or slurry', 'Say what it was chilled in.');
  const { mediumC = null } = input;
  if (mediumC === null && input.medium === 'slurry') return missing('temperature of the slurry', 'Enter its temperature.');
  const minutes = (times.iced - times.counted) / 60_000;
  const found = `${hoursAndMinutes(minutes)}, in ${input.medium}${mediumC === null ? '' : ` of ${mediumC} C`}`;
  const cold = mediumC === null || mediumC <= ICE_C;
  if (cold && minutes <= limitHours * 60) return { ...shared, state: 'met', found, whatToDo: '' };
  return { ...shared, state: 'not-met', found, whatToDo: cold ? 'Do not share it. It was chilled too late.' : 'Do not share it. What it was chilled in was too warm.' };
}

function timelineOf(times: ChillTimes): HistamineLine['timeline'] {
  const words = { earliest: 'earliest it can have died', death: 'died', gutted: 'gutted', iced: 'in ice', landed: 'landed' } as const;
  return (Object.keys(words) as (keyof typeof words)[])
    .filter((key) => times[key] !== null)
    .map((key) => ({ at: new Date(times[key]!).toISOString(), what: words[key], hours: times.counted === null ? null : (times[key]! - times.counted) / 3_600_000 }));
}
