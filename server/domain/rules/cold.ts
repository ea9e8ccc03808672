import { cleanSeries } from '../heat/series.ts';
import type { BatchEvidence, EvidenceReadings, EvidenceStage } from './evidence.ts';
import { limitOf } from './limits.ts';
import { oneProbe } from './logs.ts';
import type { ClubLimits, Finding } from './rule.ts';

/** Readings of a store are apt to be further apart than those of a core: an hour, common practice, no source. */
const LONG_CURE_MS = 4 * 3_600_000;
const MOST_FREEZER_GAP_MS = 3_600_000;

/** The warmest reading that counts, or why there is none. */
function warmest(lists: readonly EvidenceReadings[]): { celsius: number; inDoubt: false } | { inDoubt: boolean; celsius: null } {
  const series = lists.map((list) => cleanSeries(oneProbe([list]).readings, { place: list.place === 'brine' ? 'core' : 'air', strict: 'higher', unitConfirmed: list.unitConfirmed }));
  if (series.some((s) => s.unitInDoubt)) return { inDoubt: true, celsius: null };
  const all = series.flatMap((s) => s.celsius);
  return all.length === 0 ? { inDoubt: false, celsius: null } : { inDoubt: false, celsius: all.reduce((a, b) => Math.max(a, b)) };
}

function atMost(ruleId: string, part: string, lists: readonly EvidenceReadings[], limit: { value: number; tightened: boolean }, words: string, whatToDo: string): Finding {
  const shared = { ruleId, part, limit: `${words} at ${limit.value} C or below`, tightened: limit.tightened, working: null };
  const found = warmest(lists);
  if (found.celsius === null) return { ...shared, state: 'not-recorded', found: found.inDoubt ? 'The unit of the log is in doubt.' : 'not recorded', whatToDo: found.inDoubt ? 'Put the unit of the log right.' : 'Record a reading of it.', ...(found.inDoubt ? { effect: 'hold' as const } : {}) };
  const met = found.celsius <= limit.value;
  return { ...shared, state: met ? 'met' : 'not-met', found: `at most ${found.celsius} C`, whatToDo: met ? '' : whatToDo };
}

/** brine.start and brine.cold for each cure: held against what was recorded; brine.cold where the cure lasts more than 4 hours. */
export function brine(evidence: BatchEvidence, club: ClubLimits): Finding[] {
  return evidence.stages.filter((stage) => stage.kind === 'cure').flatMap((cure) => {
    const lists = evidence.readings.filter((list) => list.stageId === cure.id);
    const findings: Finding[] = [];
    const brines = lists.filter((list) => list.place === 'brine');
    if (brines.length > 0) findings.push(atMost('brine.start', 'start', brines.map(firstOf), limitOf(club, 'brine.start.celsius'), 'brine when the fish goes in', 'Cool the brine first next time. A captain may release it with a reason.'));
    if (lasted(cure) > LONG_CURE_MS) {
      const stores = lists.filter((list) => list.place === 'storage');
      findings.push(atMost('brine.cold', 'place', stores, limitOf(club, 'brine.cold.celsius'), 'the place of a cure of more than 4 hours', 'Cure in the refrigerator next time. A captain may release it with a reason.'));
    }
    return findings;
  });
}

const lasted = (stage: EvidenceStage) => (stage.finishedAt === null ? 0 : stage.finishedAt.getTime() - stage.startedAt.getTime());

/** The earliest reading of a list alone. */
function firstOf(list: EvidenceReadings): EvidenceReadings {
  const first = list.atMs.reduce((best, at, i) => (at < list.atMs[best]! ? i : best), 0);
  return { ...list, atMs: [list.atMs[first]!], celsius: [list.celsius[first]!] };
}

/** hold.cold, where the place in which it is kept was logged: readings of a store that belong to no cure. */
export function holdCold(evidence: BatchEvidence, club: ClubLimits): Finding[] {
  const lists = storeLists(evidence);
  return lists.length === 0 ? [] : [atMost('hold.cold', 'store', lists, limitOf(club, 'hold.cold.celsius'), 'the place where it is kept', 'Find out how long it was warm. A captain may release it with a reason.')];
}

export function storeLists(evidence: BatchEvidence): EvidenceReadings[] {
  const cures = new Set(evidence.stages.filter((stage) => stage.kind === 'cure').map((stage) => stage.id));
  return evidence.readings.filter((list) => list.place === 'storage' && (list.stageId === null || !cures.has(list.stageId)));
}

/** A single reading says little of a store: a day at least (common practice, no source). */
const SHORTEST_STORE_LOG_MS = 24 * 3_600_000;

/** The warmest that the store was, as logged over a day at least; null when it was not, or its unit is in doubt. */
export function warmestStoreC(evidence: BatchEvidence): number | null {
  const lists = storeLists(evidence);
  const times = lists.flatMap((list) => [list.atMs.reduce((a, b) => Math.min(a, b), Infinity), list.atMs.reduce((a, b) => Math.max(a, b), -Infinity)]);
  return times.length === 0 || Math.max(...times) - Math.min(...times) < SHORTEST_STORE_LOG_MS ? null : warmest(lists).celsius;
}

/** parasite: the longest unbroken time with the core at the limit or below, in core readings at most an hour apart. */
export function parasite(evidence: BatchEvidence, club: ClubLimits): Finding {
  const [cold, long] = [limitOf(club, 'parasite.celsius'), limitOf(club, 'parasite.hours')];
  const shared = { ruleId: 'parasite', part: 'frozen', limit: `core at ${cold.value} C or below for ${long.value} unbroken hours`, tightened: cold.tightened || long.tightened, working: null };
  const cores = evidence.readings.filter((list) => list.place === 'core');
  if (cores.length === 0) return { ...shared, state: 'not-recorded', found: 'no freezing log', whatToDo: `Raw fish stays on hold until its core was logged at ${cold.value} C for ${long.value} hours.` };
  const hours = Math.min(...[...Map.groupBy(cores, (list) => list.probe).values()].map((lists) => longestFrozenHours(lists, cold.value)));
  const met = hours >= long.value;
  return { ...shared, state: met ? 'met' : 'not-met', found: `${Math.floor(hours * 10) / 10} hours at ${cold.value} C or below`, whatToDo: met ? '' : 'Freeze it on. Cook it through otherwise.', effect: 'hold' };
}

function longestFrozenHours(lists: readonly EvidenceReadings[], limitC: number): number {
  const series = cleanSeries(oneProbe(lists).readings, { place: 'fish', strict: 'higher' });
  let [best, from] = [0, -1];
  series.minutes.forEach((minute, i) => {
    const joins = i > 0 && (minute - series.minutes[i - 1]!) * 60_000 <= MOST_FREEZER_GAP_MS;
    if (series.celsius[i]! > limitC) from = -1;
    else if (from < 0 || !joins) from = i;
    if (from >= 0) best = Math.max(best, minute - series.minutes[from]!);
  });
  return best / 60;
}
