import { cleanSeries } from '../heat/series.ts';
import type { StageKind } from '../working.ts';
import type { BatchEvidence, EvidenceBefore, EvidenceLanding, EvidenceReadings, EvidenceStage } from './evidence.ts';
import { limitOf } from './limits.ts';
import { between, oneProbe, rawBefore } from './logs.ts';
import { ofLot } from './of-lot.ts';
import { ruleOf } from './registry.ts';
import type { ClubLimits, Finding } from './rule.ts';

const HOUR_MS = 3_600_000;
/** Readings of a store are apt to be further apart than those of a core: an hour, and five minutes for the clock of a logger that reads every hour (common practice, no source). */
export const MOST_STORE_GAP_MS = 65 * 60_000;

/** The warmest reading that counts, or why there is none. */
export function warmest(lists: readonly EvidenceReadings[]): { celsius: number; inDoubt: false } | { inDoubt: boolean; celsius: null } {
  const series = lists.map((list) => cleanSeries(oneProbe([list]).readings, { place: list.place === 'brine' ? 'core' : 'air', strict: 'higher', unitConfirmed: list.unitConfirmed }));
  if (series.some((s) => s.unitInDoubt)) return { inDoubt: true, celsius: null };
  const all = series.flatMap((s) => s.celsius);
  return all.length === 0 ? { inDoubt: false, celsius: null } : { inDoubt: false, celsius: all.reduce((a, b) => Math.max(a, b)) };
}

type Held = { ruleId: string; part: string; lists: readonly EvidenceReadings[]; limit: { value: number; tightened: boolean }; words: string; whatToDo: string };
/** `typedC`: the warmest that somebody read and typed, beside the lists or without any; `remedy`: what to do where nothing is recorded. */
export function atMost({ ruleId, part, lists, limit, words, whatToDo }: Held, typedC: number | null = null, remedy = 'Record a reading of it.'): Finding {
  const shared = { ruleId, part, limit: `${words} at ${limit.value} C or below`, tightened: limit.tightened, working: null };
  const logged = warmest(lists);
  if (logged.inDoubt) return { ...shared, state: 'not-recorded', found: 'The unit of the log is in doubt.', whatToDo: 'Put the unit of the log right.', effect: 'hold' };
  const values = [logged.celsius, typedC].filter((value) => value !== null);
  if (values.length === 0) return { ...shared, state: 'not-recorded', found: 'not recorded', whatToDo: remedy };
  const most = Math.max(...values);
  const met = most <= limit.value;
  return { ...shared, state: met ? 'met' : 'not-met', found: `at most ${most} C`, whatToDo: met ? '' : whatToDo };
}

const WARM_CURE = 'Cure in the refrigerator next time. A captain may release it with a reason.';
const WARM_BRINE = 'Cool the brine first next time. A captain may release it with a reason.';

/**
 * brine.start and brine.cold for each cure, here and in the lots that its fish was drawn from. brine.start is held against what
 * was recorded; brine.cold asks for a record where the fish was cured for more than 4 hours in all, or than the club's own.
 */
export function brine(evidence: BatchEvidence, club: ClubLimits): Finding[] {
  const most = limitOf(club, 'brine.cold.hours');
  const own = evidence.stages.filter((stage) => stage.kind === 'cure').map((stage) => ({ lot: null, stage, readings: evidence.readings.filter((list) => list.stageId === stage.id) }));
  const long = own.reduce((sum, { stage }) => sum + lasted(stage), evidence.curedBeforeMs) > most.value * HOUR_MS;
  return [...evidence.curesBefore, ...own].flatMap(({ lot, stage, readings }) => {
    const at = (place: EvidenceReadings['place']) => readings.filter((list) => list.place === place);
    const findings: Finding[] = [];
    const brines = at('brine');
    if (brines.length > 0) findings.push(atMost({ ruleId: 'brine.start', part: 'start', lists: brines.map(firstOf), limit: limitOf(club, 'brine.start.celsius'), words: 'brine when the fish goes in', whatToDo: WARM_BRINE }));
    if (long && lasted(stage) > 0) {
      const celsius = limitOf(club, 'brine.cold.celsius');
      const limit = { value: celsius.value, tightened: celsius.tightened || most.tightened };
      const place = atMost({ ruleId: 'brine.cold', part: 'place', lists: at('storage'), limit, words: `the place of a cure of more than ${most.value} hours`, whatToDo: WARM_CURE }, stage.maxPlaceC ?? null, HOW_WARM);
      // Readings alone show it cold only where they go on through all of the cure; a warm one of its place counts whenever it was read.
      const partly = place.state === 'met' && (stage.maxPlaceC ?? null) === null && !readThrough(at('storage'), stage);
      findings.push(partly ? { ...place, state: 'not-recorded', found: `${place.found}, and not read through all of the cure`, whatToDo: HOW_WARM } : place);
    }
    return lot === null ? findings : findings.map((finding) => ofLot(finding, lot));
  });
}

const HOW_WARM = 'Enter how warm its place was, with the cure.';

/** Whether readings of its place begin, go on and end with a cure, with no more than about an hour without one. */
function readThrough(lists: readonly EvidenceReadings[], { startedAt, finishedAt }: EvidenceStage): boolean {
  const [from, until] = [startedAt.getTime(), finishedAt!.getTime()];
  const within = lists.flatMap((list) => between(list, from, until + 1) ?? []);
  const { minutes, startAt } = cleanSeries(oneProbe(within).readings, { place: 'air', strict: 'higher' });
  if (startAt === null) return false;
  const times = [from, ...minutes.map((minute) => Date.parse(startAt) + minute * 60_000), until];
  return times.every((at, i) => i === 0 || at - times[i - 1]! <= MOST_STORE_GAP_MS + 1);
}

const lasted = (stage: EvidenceStage) => (stage.finishedAt === null ? 0 : stage.finishedAt.getTime() - stage.startedAt.getTime());

/** The earliest reading of a list alone. */
function firstOf(list: EvidenceReadings): EvidenceReadings {
  const first = list.atMs.reduce((best, at, i) => (at < list.atMs[best]! ? i : best), 0);
  return { ...list, atMs: [list.atMs[first]!], celsius: [list.celsius[first]!] };
}

/** Readings of a store that belong to no cure; of fish that was smoked here, from its smoke on. */
export function storeLists(evidence: BatchEvidence): EvidenceReadings[] {
  return storesBetween(evidence, evidence.smoke?.startedAt.getTime() ?? -Infinity, Infinity);
}
function storesBetween({ stages, readings }: BatchEvidence, fromMs: number, untilMs: number): EvidenceReadings[] {
  const cures = new Set(stages.filter((stage) => stage.kind === 'cure').map((stage) => stage.id));
  return readings.filter((list) => list.place === 'storage' && (list.stageId === null || !cures.has(list.stageId))).flatMap((list) => between(list, fromMs, untilMs) ?? []);
}

/**
 * raw.cold, where the place in which raw fish waits was logged, here and in the lots that it was taken from: readings of a store that
 * belong to no cure, up to the smoke.
 */
export function rawCold(evidence: BatchEvidence, club: ClubLimits): Finding[] {
  const until = evidence.smoke?.startedAt.getTime() ?? Infinity;
  const told = (lists: readonly EvidenceReadings[]) => atMost({ ruleId: 'raw.cold', part: 'store', lists, limit: limitOf(club, 'raw.cold.celsius'), words: 'the place where raw fish waits', whatToDo: ruleOf('raw.cold').whatToDo });
  const own = storesBetween(evidence, -Infinity, until);
  const before = rawBefore(evidence).filter((list) => list.place === 'storage' && list.stageKind !== 'cure').flatMap((list) => between(list, -Infinity, until) ?? []);
  return [...(own.length > 0 ? [told(own)] : []), ...byLot(before).map(([lot, lists]) => ofLot(told(lists), lot))];
}

const byLot = (lists: readonly EvidenceBefore[]): [string, EvidenceBefore[]][] => [...Map.groupBy(lists, (list) => list.lot)];

const THAWS: readonly StageKind[] = ['prepare', 'rinse'];

/** thaw, of fish that came out of a freezer: the fish, its place and the water, as read while it was prepared or rinsed here or in the lots that it was taken from. */
export function thawing(evidence: BatchEvidence, club: ClubLimits): Finding[] {
  if (evidence.frozenBefore === 'none') return [];
  const ids = new Set(evidence.stages.filter((stage) => THAWS.includes(stage.kind)).map((stage) => stage.id));
  const own = evidence.readings.filter((list) => list.stageId !== null && ids.has(list.stageId));
  const before = byLot(rawBefore(evidence).filter((list) => list.thawed && list.stageKind !== null && THAWS.includes(list.stageKind)))
    .flatMap(([lot, lists]) => thawed(lists, club).filter((finding) => finding.state !== 'not-recorded' || finding.effect).map((finding) => ofLot(finding, lot)));
  return own.length === 0 && before.length > 0 ? before : [...before, ...thawed(own, club)];
}

function thawed(lists: readonly EvidenceReadings[], club: ClubLimits): Finding[] {
  const water = lists.filter((list) => list.place === 'brine');
  const rest = lists.filter((list) => list.place === 'core' || list.place === 'surface' || list.place === 'storage');
  const [air, running] = [limitOf(club, 'thaw.celsius'), limitOf(club, 'thaw.water.celsius')];
  const { whatToDo } = ruleOf('thaw');
  return [
    ...(rest.length > 0 || water.length === 0 ? [atMost({ ruleId: 'thaw', part: 'place', lists: rest, limit: air, words: 'the fish, and the place where it thaws,', whatToDo })] : []),
    ...(water.length > 0 ? [atMost({ ruleId: 'thaw', part: 'water', lists: water, limit: running, words: 'the water that it thaws in', whatToDo })] : []),
  ];
}

/**
 * parasite: frozen long enough in one of three ways, by core readings about an hour apart at the most (MOST_STORE_GAP_MS): at the first temperature for its
 * hours; at the deep one for its hours; or solid at the deep one and from then on at the first for a shorter time. Of
 * several probes the warmest counts. What was read before all of its fish was caught, landed and in this batch says nothing of it.
 */
export function parasite(evidence: BatchEvidence, club: ClubLimits): Finding {
  const of = (id: string) => limitOf(club, `parasite.${id}`);
  const limits = { cold: of('celsius'), long: of('hours'), deep: of('deep.celsius'), deepLong: of('deep.hours'), then: of('then.hours') };
  const { cold, long, deep, deepLong, then } = limits;
  const limit = `core at ${cold.value} C or below for ${long.value} unbroken hours; or at ${deep.value} C for ${deepLong.value}; or at ${deep.value} C and from then at ${cold.value} C for ${then.value}`;
  const shared = { ruleId: 'parasite', part: 'frozen', limit, tightened: Object.values(limits).some((one) => one.tightened), working: null };
  const since = Math.max(evidence.drawnAt?.getTime() ?? -Infinity, ...evidence.landings.map(hereByMs));
  const cores = evidence.readings.filter((list) => list.place === 'core').flatMap((list) => between(list, since, Infinity) ?? []);
  const early = evidence.readings.some((list) => list.place === 'core');
  if (cores.length === 0) return { ...shared, state: 'not-recorded', found: early ? `no freezing log since its ${evidence.joinedAt ? 'last fish joined' : 'fish was put in this batch'}` : 'no freezing log', whatToDo: `${early ? 'What was read before that cannot count: nothing shows that it was this fish. ' : ''}${ruleOf('parasite').whatToDo}` };
  const probes = [...Map.groupBy(cores, (list) => list.probe.trim().toLowerCase()).values()].map((lists) => frozenHours(lists, cold.value, deep.value));
  const met = probes.every((probe) => probe.cold >= long.value || probe.deep >= deepLong.value || probe.then >= then.value);
  const least = (pick: (probe: FrozenHours) => number) => Math.floor(Math.min(...probes.map(pick)) * 10) / 10;
  const deeper = least((probe) => probe.deep) > 0 ? `, ${least((probe) => probe.deep)} at ${deep.value} C, ${least((probe) => probe.then)} from then on` : '';
  return { ...shared, state: met ? 'met' : 'not-met', found: `${least((probe) => probe.cold)} hours at ${cold.value} C or below${deeper}`, whatToDo: met ? '' : 'Freeze it on. Cook it through otherwise.', effect: 'hold' };
}

/** By when a landing's fish was caught and ashore; where neither time is known, when it was recorded. */
const hereByMs = ({ caughtAt, landedAt, recordedAt }: EvidenceLanding): number => Math.max(caughtAt?.getTime() ?? -Infinity, (landedAt ?? (caughtAt === null ? recordedAt : null))?.getTime() ?? -Infinity);

type FrozenHours = { cold: number; deep: number; then: number };
/** The longest unbroken hours at both temperatures, and at the first one from when it was at the deep one. */
function frozenHours(lists: readonly EvidenceReadings[], coldC: number, deepC: number): FrozenHours {
  const series = cleanSeries(oneProbe(lists).readings, { place: 'fish', strict: 'higher' });
  const best = { cold: 0, deep: 0, then: 0 };
  const from = { cold: NaN, deep: NaN, then: NaN };
  series.minutes.forEach((minute, i) => {
    const joins = i > 0 && (minute - series.minutes[i - 1]!) * 60_000 <= MOST_STORE_GAP_MS;
    const at = series.celsius[i]!;
    const since = (key: keyof FrozenHours, holds: boolean, begins = holds) => {
      if (!holds) from[key] = NaN;
      else if (Number.isNaN(from[key]) || !joins) from[key] = begins ? minute : NaN;
      if (!Number.isNaN(from[key])) best[key] = Math.max(best[key], (minute - from[key]) / 60);
    };
    since('cold', at <= coldC);
    since('deep', at <= deepC);
    since('then', at <= coldC, at <= deepC);
  });
  return best;
}
