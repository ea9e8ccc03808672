import { BANDS, ORGANISMS } from '../boat/exposure-table.ts';
import { hoursAndMinutes } from '../heat/crossing.ts';
import { COOLS_MINUTES, WANDERS_C } from '../heat/cooling-checks.ts';
import { cleanSeries } from '../heat/series.ts';
import { atMost, MOST_STORE_GAP_MS, storeLists } from './cold.ts';
import type { BatchEvidence, EvidencePack, EvidenceReadings } from './evidence.ts';
import { limitOf } from './limits.ts';
import { between, oneProbe, PROBE_OUT } from './logs.ts';
import { withoutAir } from './packs.ts';
import type { ClubLimits, Finding } from './rule.ts';

/** The days of the refrigerator are for this or less (FC 3-501.17); what is warmer uses them up. */
const DAYS_AT_C = 5;
const COOLED_C = 5;
/** What the rule itself asks for, whatever the club's own limit. */
const RULE_C = limitOf({}, 'hold.cold.celsius').value;
const DIP_COOLS_MINUTES = 240;
/** Readings of a store join when they are no further apart. */
const JOINS_HOURS = MOST_STORE_GAP_MS / 3_600_000;
const HOTTEST_C = 100;
/** What is colder is a probe's word for its failure, not for the fish. */
const COLDEST_C = -90;
/** A store takes its time to cool fish from 5 C to its own temperature: a day at the most, common practice, no source. */
const A_DAY_MS = 24 * 3_600_000;

/** `startMs`: no warmth of keeping is older. `coldMs`: when it was cold. `settledMs`: when it has to be as cold as it is kept. */
type Keeping = { startMs: number; coldMs: number; settledMs: number };

/** From when on it is kept rather than cooled; null of raw fish and of what is not smoked or mixed yet. */
function keeping(evidence: BatchEvidence): Keeping | null {
  const { product, smoke, mix, stages, taken } = evidence;
  if (product === 'raw') return null;
  const from = product === 'dip' ? mix?.startedAt.getTime() : smoke ? smoke.finishedAt?.getTime() : taken?.endedMs;
  if (from === undefined) return null;
  const settledMs = from + (product === 'dip' ? DIP_COOLS_MINUTES : COOLS_MINUTES) * 60_000;
  const typed = (product === 'dip' ? [mix!] : [...(smoke ? [smoke] : []), ...stages.filter((stage) => stage.kind === 'cool')]).flatMap(({ cooledAt }) => cooledAt?.getTime() ?? []);
  // While it may still cool, a warm core says when it was not cold yet; whether that was in time is for the rules of cooling.
  const warm = evidence.readings.filter((list) => list.place === 'core').flatMap((list) => list.atMs.filter((at, i) => at > from && at < settledMs && list.celsius[i]! > COOLED_C + WANDERS_C && list.celsius[i]! <= HOTTEST_C).map((at) => at + 1));
  const known = taken && !smoke && product !== 'dip' && taken.coldMs !== null ? [taken.coldMs] : [...typed, ...warm];
  return { startMs: from, settledMs, coldMs: known.length === 0 ? settledMs : Math.min(settledMs, known.reduce((a, b) => Math.max(a, b))) };
}

/**
 * What was read of the fish itself once it was cold. On its way to the temperature at which it is kept it is not warm yet: while it may still cool, up to 2 C
 * above 5 C; after that, until a probe showed the rule's own temperature once or a day has gone, up to 5 C; and then up to the rule's, until it showed the
 * club's colder one or the day has gone. A probe of which nothing but the way was read tells nothing of how it is kept, and is left out.
 */
function fishLists(evidence: BatchEvidence, { startMs, coldMs, settledMs }: Keeping, limitC: number): EvidenceReadings[] {
  const ofFish = (list: EvidenceReadings) => list.place === 'core' || list.place === 'surface';
  const own = evidence.readings.filter(ofFish).flatMap((list) => between(list, coldMs, Infinity) ?? []);
  const all = [...own, ...takenLists(evidence).filter(ofFish).flatMap((list) => between(list, settledMs, Infinity) ?? [])];
  return [...Map.groupBy(all, (list) => `${list.place} ${list.probe.trim().toLowerCase()}`).values()].flatMap((probe) => {
    const shownMs = (atMostC: number) => probe.reduce((min, list) => list.atMs.reduce((a, at, i) => (list.celsius[i]! <= atMostC ? Math.min(a, at) : a), min), startMs + A_DAY_MS);
    // Until the club's own was shown, no more than the rule allows is let pass: a limit that is never reached must not excuse what the rule would not.
    const [byRuleMs, byClubMs] = [shownMs(RULE_C), shownMs(limitC)];
    const underWay = (at: number, celsius: number) => (at < settledMs && celsius <= COOLED_C + WANDERS_C) || (at < byRuleMs && celsius <= DAYS_AT_C) || (at < byClubMs && celsius <= RULE_C);
    const onTheWay = probe.every((list) => list.celsius.every((celsius, i) => celsius < COLDEST_C || (celsius > limitC && underWay(list.atMs[i]!, celsius))));
    return onTheWay ? [] : probe.map((list) => ({ ...list, celsius: list.celsius.map((celsius, i) => (underWay(list.atMs[i]!, celsius) ? Math.min(celsius, limitC) : celsius)) }));
  });
}

/** What was read of smoked fish in the lots that it was taken from, from its smoke on. */
const takenLists = ({ smoke, readingsBefore }: BatchEvidence): EvidenceReadings[] => (smoke ? [] : readingsBefore.filter((list) => list.smokedFromMs !== null).flatMap((list) => between(list, list.smokedFromMs!, Infinity) ?? []));

/** Of the most that any organism may have of warmth, the share that the readings show, and the most that they leave open; Infinity where nobody knows for how long. `endsWarm`: a probe was warm when it was read last. */
type Warmth = { hours: number; shown: number; open: number; endsWarm: boolean };

function warmthOf(lists: readonly EvidenceReadings[], startMs: number | null): Warmth {
  const probes = [...Map.groupBy(lists, (list) => `${list.place} ${list.probe.trim().toLowerCase()}`).values()].map((probe) => ofProbe(probe, startMs));
  // Side by side or one after the other, nobody knows: added up they are never too few.
  return { hours: probes.reduce((sum, p) => sum + p.hours, 0), open: probes.reduce((sum, p) => sum + p.open, 0), shown: Math.max(0, ...probes.map((p) => p.shown)), endsWarm: probes.some((p) => p.endsWarm) };
}

function ofProbe(lists: readonly EvidenceReadings[], startMs: number | null): Warmth {
  const { minutes, celsius, startAt } = cleanSeries(oneProbe(lists).readings, { place: lists[0]!.place === 'storage' ? 'air' : 'core', strict: 'higher', unitConfirmed: true });
  if (startAt === null) return { hours: 0, shown: 0, open: 0, endsWarm: false };
  const [shown, open] = [new Map<number, number>(), new Map<number, number>()];
  const add = (to: Map<number, number>, at: number, hours: number) => { if (at > DAYS_AT_C && hours > 0) to.set(at, (to.get(at) ?? 0) + hours); };
  if (!(lists[0]!.place === 'storage' && justPutIn(minutes, celsius))) add(open, celsius[0]!, startMs === null ? Infinity : (Date.parse(startAt) - startMs) / 3_600_000);
  for (let i = 1; i < minutes.length; i += 1) {
    const hours = (minutes[i]! - minutes[i - 1]!) / 60;
    add(open, Math.max(celsius[i]!, celsius[i - 1]!), hours);
    if (hours <= JOINS_HOURS + 1e-9) add(shown, Math.min(celsius[i]!, celsius[i - 1]!), hours);
  }
  // It was warm when it was read last.
  add(open, celsius.at(-1)!, Infinity);
  return { hours: [...open.values()].reduce((sum, h) => sum + h, 0), shown: share(shown), open: share(open), endsWarm: celsius.at(-1)! > DAYS_AT_C };
}

/** Whether a store's log begins as one does whose logger came in from the warm: above 5 C, falling with every reading, and 5 C within about an hour. Its own warmth tells nothing of the hours before it. */
function justPutIn(minutes: readonly number[], celsius: readonly number[]): boolean {
  const cold = celsius.findIndex((at) => at <= DAYS_AT_C);
  return cold > 0 && minutes[cold]! / 60 <= JOINS_HOURS + 1e-9 && celsius.slice(1, cold + 1).every((at, i) => at < celsius[i]!);
}

/** Hours at each temperature over the most that tables/cumulative-exposure.csv allows there, added up, of the organism that has most. Between two printed bands the warmer one counts. */
function share(hoursAt: ReadonlyMap<number, number>): number {
  const of = (organism: string) => {
    const rows = BANDS.filter((band) => band.organism === organism);
    let sum = 0;
    for (const [celsius, hours] of hoursAt) if (celsius > rows[0]!.fromC) sum += hours / rows.find(({ toC }) => toC === null || celsius <= toC)!.maxHours;
    return sum;
  };
  return Math.max(0, ...ORGANISMS.map(of));
}

/** The share of its days that warmth may have used up, from 0; Infinity where nobody knows for how long it was warm. */
export function warmShare(evidence: BatchEvidence, club: ClubLimits): number {
  const from = keeping(evidence);
  const stores = evidence.product === 'raw' ? [] : [...storeLists(evidence), ...takenLists(evidence).filter((list) => list.place === 'storage')];
  const fish = from ? fishLists(evidence, from, limitOf(club, 'hold.cold.celsius').value) : [];
  return warmthOf([...stores, ...fish], from?.startMs ?? null).open;
}

const FIND_OUT = 'Find out how long it was warm. A captain may release it with a reason.';

/**
 * hold.cold, where the place in which it is kept was logged, from the smoke on, or the fish itself once it was cold. Nobody releases it while a pack without
 * air was not frozen at once, nor where it was above 5 C for longer than tables/cumulative-exposure.csv allows or for nobody knows how long; shown by readings that
 * join, that is never shared. Where it was taken from another lot, what stands there is let go there, and stands here only where nobody may.
 */
export function holdCold(evidence: BatchEvidence, club: ClubLimits): Finding[] {
  if (evidence.product === 'raw') return [];
  const limit = limitOf(club, 'hold.cold.celsius');
  const from = keeping(evidence);
  const all = warmShare(evidence, club);
  const stood = (packs: readonly EvidencePack[]) => packs.some((pack) => withoutAir(pack.packageKind) && (pack.storage !== 'frozen' || pack.frozenLate === true));
  const closed = stood(evidence.packsUsed ?? []) ? 'used' : stood(evidence.packs) ? 'kept' : null;
  const told = (part: 'store' | 'fish', words: string, own: readonly EvidenceReadings[], lists: readonly EvidenceReadings[]): Finding[] => {
    if (lists.length === 0) return [];
    const finding = atMost({ ruleId: 'hold.cold', part, lists, limit, words, whatToDo: FIND_OUT });
    const about = part === 'store' ? 'where it is kept' : 'the fish';
    if (finding.state !== 'not-met') return own.length === 0 ? [] : [{ ...finding, about }];
    const judged = { ...finding, about, ...weighed(finding.found, warmthOf(lists, from?.startMs ?? null), all, closed, PROBE_OUT[part]) };
    const ownCold = own.length === 0 || atMost({ ruleId: 'hold.cold', part, lists: own, limit, words, whatToDo: '' }).state === 'met';
    if (!ownCold || judged.releasable === false) return [judged];
    return own.length === 0 ? [] : [{ ...atMost({ ruleId: 'hold.cold', part, lists: own, limit, words, whatToDo: '' }), about }];
  };
  const stores = storeLists(evidence);
  const fish = from ? fishLists({ ...evidence, readingsBefore: [] }, from, limit.value) : [];
  return [
    ...told('store', 'the place where it is kept', stores, [...stores, ...takenLists(evidence).filter((list) => list.place === 'storage')]),
    ...told('fish', 'the fish, once it was cold,', fish, from ? fishLists(evidence, from, limit.value) : []),
  ];
}

type Weighed = Pick<Finding, 'found' | 'whatToDo' | 'effect' | 'releasable'>;
function weighed(found: string, { hours, shown, open, endsWarm }: Warmth, all: number, closed: 'used' | 'kept' | null, notOfIt: string): Weighed {
  const howLong = Number.isFinite(hours) ? ` for up to ${hoursAndMinutes(hours * 60)}` : endsWarm ? ' when it was read last' : ', and it is not known since when';
  const long = open === 0 ? found : `${found}, above ${DAYS_AT_C} C${howLong}`;
  const held = { found: long, effect: 'hold', releasable: false } as const;
  if (shown > 1 + 1e-9) return { found: long, effect: 'do-not-share', releasable: false, whatToDo: `Do not share it. It was warm for too long, and cooling it again does not mend that. ${notOfIt}` };
  if (closed === 'used') return { ...held, whatToDo: `Take out the packs without air that went into another batch and were not frozen at once, and discard them: nobody lets those go once they were warm. ${notOfIt}` };
  if (closed) return { ...held, whatToDo: `Discard the packs without air that were not frozen at once: nobody lets those go once they were warm. ${notOfIt}` };
  if (!Number.isFinite(all)) return { ...held, whatToDo: `Record when it was cold again, by the same probe: nobody lets it go before. ${notOfIt}` };
  if (all > 1 + 1e-9) return { ...held, whatToDo: `Do not share it: it may have been warm for too long. Record the readings in between if they show less. ${notOfIt}` };
  return { found: long, whatToDo: `${FIND_OUT} ${notOfIt}` };
}
