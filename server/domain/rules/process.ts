import { longestHold } from '../heat/hold.ts';
import type { BatchEvidence, EvidenceMeasurement, EvidenceReadings } from './evidence.ts';
import { limitOf } from './limits.ts';
import { CORE_STAGES, seriesOf, smokedLogs } from './logs.ts';
import { ofLot } from './of-lot.ts';
import { ruleOf } from './registry.ts';
import type { ClubLimits, Finding } from './rule.ts';

const plain = { tightened: false, working: null } as const;

/** brine.no-mix, for information: two species cured as one batch. Which vessel each lay in is not recorded. */
export function oneSpecies({ stages, curesBefore, landings }: BatchEvidence): Finding[] {
  const names = [...new Set(landings.map((landing) => landing.species))].sort();
  if (names.length < 2 || (curesBefore.length === 0 && !stages.some((stage) => stage.kind === 'cure'))) return [];
  return [{ ...plain, ruleId: 'brine.no-mix', part: 'species', state: 'not-recorded', found: `${names.join(', ')} in one cure`, limit: 'one species in a brine vessel', whatToDo: ruleOf('brine.no-mix').whatToDo }];
}

const AN_HOUR_MS = 3_600_000;
/** dry.pellicle, for information: about an hour of drying. */
export function dried({ stages }: BatchEvidence): Finding[] {
  return stages.filter((stage) => stage.kind === 'dry' && stage.finishedAt !== null).map((dry) => {
    const ms = dry.finishedAt!.getTime() - dry.startedAt.getTime();
    const met = ms >= AN_HOUR_MS;
    return { ...plain, ruleId: 'dry.pellicle', part: 'time', state: met ? 'met' : 'not-met', found: `${Math.floor(ms / 60_000)} minutes of drying`, limit: 'about an hour in cool moving air, until tacky', whatToDo: met ? '' : ruleOf('dry.pellicle').whatToDo };
  });
}

/**
 * nitrite: a laboratory's highest figure, and a figure past the limit of a lot whose brine this fish was in. Nothing where none was
 * measured; a good figure of another lot says nothing of this one.
 */
export function nitrite({ measurements, measurementsBefore }: BatchEvidence, club: ClubLimits): Finding[] {
  const { value, tightened } = limitOf(club, 'nitrite.ppm');
  const told = (list: readonly EvidenceMeasurement[]): Finding[] => {
    const measured = list.filter((m) => m.kind === 'nitrite').map((m) => m.value);
    if (measured.length === 0) return [];
    const highest = Math.max(...measured);
    const met = highest <= value;
    return [{ ruleId: 'nitrite', part: 'highest', state: met ? 'met' : 'not-met', found: `${highest} ppm`, limit: `at most ${value} ppm, and only in species that it is permitted in`, whatToDo: met ? '' : ruleOf('nitrite').whatToDo, tightened, working: null }];
  };
  const before = [...Map.groupBy(measurementsBefore, (m) => m.lot)].flatMap(([lot, list]) => told(list).filter((finding) => finding.state !== 'met').map((finding) => ofLot(finding, lot)));
  return [...told(measurements), ...before];
}

/** What home advice calls better still. */
const BETTER_C = 71.1;

/** smoke.core-home, for information: the hotter core of home advice, and the smoker's air at the end where it was logged. */
export function homeAdvice(evidence: BatchEvidence, club: ClubLimits): Finding[] {
  if (!evidence.smoke) return [];
  const [hot, held] = [limitOf(club, 'smoke.core-home.celsius'), limitOf(club, 'smoke.core-home.minutes')];
  const limit = `${hot.value} C for ${held.value} minutes${hot.value < BETTER_C ? `, better ${BETTER_C} C` : ''}`;
  const { whatToDo } = ruleOf('smoke.core-home');
  const holds = smokedLogs(evidence).map((log) => longestHold({ ...log, limitC: hot.value, neededMinutes: held.value }));
  const worst = holds.find((hold) => hold.state === 'not-met') ?? holds.find((hold) => hold.state === 'not-recorded') ?? holds[0];
  const typed = evidence.smoke.maxCoreC;
  const shared = { ruleId: 'smoke.core-home', part: 'core', limit, tightened: hot.tightened || held.tightened };
  const core: Finding = worst
    ? { ...shared, state: worst.state, found: worst.found, whatToDo: worst.state === 'met' ? '' : whatToDo, working: worst.working }
    : { ...shared, state: typed !== null && typed < hot.value ? 'not-met' : 'not-recorded', found: typed === null ? 'not recorded' : `${typed} C at most; for how long at ${hot.value} C is not recorded`, whatToDo, working: null };
  return [core, ...airAtEnd(evidence, club)];
}

function airAtEnd(evidence: BatchEvidence, club: ClubLimits): Finding[] {
  const last = lastChamber(evidence);
  if (!last) return [];
  const [from, to] = [limitOf(club, 'smoke.core-home.air-from.celsius'), limitOf(club, 'smoke.core-home.air-to.celsius')];
  const met = last.celsius >= from.value && last.celsius <= to.value;
  return [{ ruleId: 'smoke.core-home', part: 'air', state: met ? 'met' : 'not-met', found: `smoker at ${last.celsius} C at the end`, limit: `smoker air ${from.value} to ${to.value} C at the end`, whatToDo: '', tightened: from.tightened || to.tightened, working: null }];
}

const TO_THE_END_MS = 3_600_000;

/** smoke.cold: a smoker that was never above 32.2 C, or above the club's own, by readings that go on to the end of the smoke. Other readings decide nothing. */
export function notColdSmoked(evidence: BatchEvidence, club: ClubLimits): Finding[] {
  const last = lastChamber(evidence);
  if (!last) return [];
  const { value, tightened } = limitOf(club, 'smoke.cold.celsius');
  const met = last.hottest > value;
  const toTheEnd = evidence.smoke!.finishedAt!.getTime() - last.atMs <= TO_THE_END_MS;
  const shared = { ruleId: 'smoke.cold', part: 'air', found: `smoker at ${last.hottest} C at the most`, limit: `hotter than ${value} C`, tightened, working: null } as const;
  if (met) return [{ ...shared, state: 'met', whatToDo: '' }];
  return [toTheEnd ? { ...shared, state: 'not-met', whatToDo: ruleOf('smoke.cold').whatToDo } : { ...shared, state: 'not-recorded', found: `${shared.found}, and not read to the end`, whatToDo: 'Read the smoker to the end of the smoke.' }];
}

/** The latest reading of the smoker's air within a smoke that is finished, and the hottest. */
function lastChamber(evidence: BatchEvidence): { atMs: number; celsius: number; hottest: number } | null {
  const { smoke } = evidence;
  if (!smoke || smoke.finishedAt === null) return null;
  const [from, until] = [smoke.startedAt.getTime(), smoke.finishedAt.getTime()];
  const readings = seriesOf(evidence, 'chamber', CORE_STAGES).flat().flatMap((list: EvidenceReadings) => list.atMs.map((atMs, i) => ({ atMs, celsius: list.celsius[i]! })))
    .filter(({ atMs, celsius }) => atMs >= from && atMs <= until && celsius > LOWEST_AIR_C && celsius < HOTTEST_AIR_C);
  if (readings.length === 0) return null;
  const last = readings.reduce((a, b) => (b.atMs >= a.atMs ? b : a));
  return { ...last, hottest: readings.reduce((max, { celsius }) => Math.max(max, celsius), -Infinity) };
}
/** Beyond these a probe has failed: as in readings.ts for a chamber. */
const LOWEST_AIR_C = -50;
const HOTTEST_AIR_C = 200;
