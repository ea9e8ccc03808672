import { histamineLine } from '../boat/histamine.ts';
import type { ChillCheck, HistamineInput, HistamineLine } from '../boat/histamine.ts';
import type { ClubCore } from '../boat/internal.ts';
import { findSpecies } from '../species/index.ts';
import { DomainError } from '../working.ts';
import type { BatchEvidence, EvidenceLanding } from './evidence.ts';
import { limitOf } from './limits.ts';
import type { ClubLimits, Finding } from './rule.ts';

/** Stands for a club's own species, of which the tables know nothing: it forms histamine until somebody says that it does not. */
const STAND_IN = 'atlantic-mackerel';
/** Hours after death of which each falls under another row of chill.internal. */
const ROWS_H = [6, 12, 15, 24];

/**
 * chill.* for each landing of fish that forms histamine, or may: iced in time by the case that its records choose, and its
 * core at landing. Where nobody knows when it landed, the core is judged only where it comes out the same at every time.
 */
export function chilling(evidence: BatchEvidence, club: ClubLimits): Finding[] {
  return evidence.landings.flatMap((landing) => chillingOf(landing, club, evidence.guttedSource));
}

/** As chilling, of one landing; nothing for fish that forms no histamine. `guttedSource` is the club's own for chill.gutted. */
export function chillingOf(landing: EvidenceLanding, club: ClubLimits, guttedSource = ''): Finding[] {
  return landing.scombrotoxin === false ? [] : [iced(landing, club, guttedSource), ...coreAtLanding(landing, club)];
}

function lineOf(landing: EvidenceLanding, more: Pick<HistamineInput, 'landedAt' | 'clubMaxHours' | 'clubCoreC' | 'clubHotC' | 'guttedTwelveHourSource'> = {}) {
  return histamineLine({
    speciesCode: findSpecies(landing.speciesCode) ? landing.speciesCode : STAND_IN, deathAt: landing.caughtAt, guttedAt: landing.guttedAt, icedAt: landing.icedAt, maxAirC: landing.airC, maxWaterC: landing.waterC,
    medium: landing.icedAt === null ? null : 'ice', landingCoreC: landing.coreC, ...more,
  });
}

function iced(landing: EvidenceLanding, club: ClubLimits, guttedTwelveHourSource: string): Finding {
  const shared = { part: landing.species, about: landing.called ?? landing.species, tightened: false, working: null };
  try {
    const hot = limitOf(club, 'chill.hot.celsius');
    const [{ chosenCase }, byRule] = [lineOf(landing, { guttedTwelveHourSource, clubHotC: hot.value }), lineOf(landing, { guttedTwelveHourSource })];
    const limit = hoursOf(club, chosenCase, byRule.chosenCase);
    const line = lineOf(landing, { clubMaxHours: limit.value, clubHotC: hot.value, guttedTwelveHourSource });
    const check = line.checks.find((c) => c.ruleId !== 'chill.internal')!;
    return { ...shared, ruleId: `chill.${chosenCase}`, state: check.state, found: `${landing.species}: ${check.found}${chosenCase === 'hot' ? heatNotRecorded(landing) : ''}`, limit: check.limit, whatToDo: check.whatToDo, tightened: limit.tightened, working: line.working };
  } catch (error) {
    if (!(error instanceof DomainError)) throw error;
    return { ...shared, ruleId: 'chill.hot', state: 'not-recorded', found: `${landing.species}: ${error.message}`, limit: 'times and temperatures that can be', whatToDo: 'Correct the landing.' };
  }
}

/** From the hours that are fewest by the rules to those that are most. */
const CASES = ['hot', 'mild', 'gutted'] as const;

/**
 * The hours of the case, and no more than those of a case that the rules allow more: heat that nobody recorded counts as hot, and a fish whose gutting nobody
 * recorded as whole, so a club's fewer hours of the other case hold for it too. Tightened where the club's own temperature chose the case as well.
 */
function hoursOf(club: ClubLimits, chosen: HistamineLine['chosenCase'], byRule: HistamineLine['chosenCase']): { value: number; tightened: boolean } {
  const [own, ...milder] = CASES.slice(CASES.indexOf(chosen)).map((one) => limitOf(club, `chill.${one}.hours`));
  const least = milder.reduce((a, b) => (b.value < a.value ? b : a), own!);
  return { value: least.value, tightened: least.tightened || chosen !== byRule };
}

/** Why a fish of a winter's day is judged by the hours of warm air and water. */
function heatNotRecorded({ airC, waterC }: EvidenceLanding): string {
  const missing = [airC === null ? 'air' : '', waterC === null ? 'water' : ''].filter(Boolean).join(' and ');
  return missing === '' ? '' : `; ${missing} not recorded, so judged as warm`;
}

/** The club's own limits of the core at landing; each no looser than the rule. */
function clubCore(club: ClubLimits): { clubCoreC: ClubCore; coldestC: number; tightened: boolean } {
  const of = (name: string) => limitOf(club, `chill.internal.${name}`);
  const [from24h, from15h, from12h, below] = [of('24h.celsius'), of('15h.celsius'), of('12h.celsius'), of('below.degrees')];
  return {
    clubCoreC: { from24h: from24h.value, from15h: from15h.value, from12h: from12h.value, below: below.value },
    coldestC: Math.min(from24h.value, from15h.value, from12h.value), tightened: [from24h, from15h, from12h, below].some((limit) => limit.tightened),
  };
}

function coreAtLanding(landing: EvidenceLanding, club: ClubLimits): Finding[] {
  if (landing.coreC === null || landing.caughtAt === null) return [];
  if (landing.landedAt !== null) return [ofLandingTime(landing, landing.landedAt, club)];
  const { clubCoreC, coldestC, tightened } = clubCore(club);
  const shared = { ruleId: 'chill.internal', part: landing.species, about: landing.called ?? landing.species, tightened, working: null };
  const checks = ROWS_H.map((hours) => internal(landing, new Date(landing.caughtAt!.getTime() + hours * 3_600_000), clubCoreC));
  const states = new Set(checks.map((check) => check?.state));
  const found = `${landing.species}: ${landing.coreC} C at landing`;
  const limit = `cold enough for its hours since death: from clearly below air and water to ${coldestC} C after 24 h`;
  if (states.size === 1 && states.has('met')) return [{ ...shared, state: 'met', found, limit, whatToDo: '' }];
  if (states.size === 1 && states.has('not-met')) return [{ ...shared, state: 'not-met', found, limit, whatToDo: 'Do not share it. It was not cold enough at landing, whenever that was.' }];
  return [{ ...shared, state: 'not-recorded', found: `${found}, the time of landing is not recorded`, limit, whatToDo: `Ice it until the core is at ${coldestC} C, and measure again.` }];
}

function ofLandingTime(landing: EvidenceLanding, landedAt: Date, club: ClubLimits): Finding {
  const shared = { ruleId: 'chill.internal', part: landing.species, about: landing.called ?? landing.species, tightened: false, working: null };
  const check = internal(landing, landedAt, clubCore(club).clubCoreC);
  // The same limit as without the club's own: not that one decided.
  if (check) return { ...shared, tightened: check.limit !== internal(landing, landedAt, {})?.limit, state: check.state, found: `${landing.species}: ${check.found}`, limit: check.limit, whatToDo: check.whatToDo };
  return { ...shared, state: 'not-recorded', found: `${landing.species}: a time or a temperature cannot be`, limit: 'times and temperatures that can be', whatToDo: 'Correct the landing.' };
}

function internal(landing: EvidenceLanding, landedAt: Date, clubCoreC: ClubCore): ChillCheck | null {
  try {
    return lineOf({ ...landing, icedAt: null }, { landedAt, clubCoreC }).checks.find((c) => c.ruleId === 'chill.internal') ?? null;
  } catch (error) {
    if (error instanceof DomainError) return null;
    throw error;
  }
}
