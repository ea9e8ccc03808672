import { cleanSeries } from '../heat/series.ts';
import { MOST_STORE_GAP_MS, storeLists, warmest } from './cold.ts';
import type { BatchEvidence, EvidenceReadings } from './evidence.ts';
import { between, oneProbe } from './logs.ts';

/** A single reading says little of a store: a day at least (common practice, no source). */
const SHORTEST_STORE_LOG_MS = 24 * 3_600_000;
/** A log that was not gone on with lengthens nothing after a day (common practice, no source); `lapsedSql` in batches/rules.store.ts says the same. */
const LAPSES_AFTER_MS = 24 * 3_600_000;
/** No refrigerator stands colder: it is a freezer, which says nothing of what is kept unfrozen (common practice, no source). */
const FREEZER_BELOW_C = -2;

/**
 * The warmest that the refrigerator was in which smoked fish is kept, in degrees Celsius (rule date.fourteen). Null unless one probe read it over 24 hours,
 * about an hour apart at the most, since all of the fish was here and cold, and its last reading is no more than 24 hours before the instant that is judged; null too where a unit is in doubt. Readings of
 * a freezer say nothing; of several probes the warmest reading counts, whenever it was taken after the smoke. `reaching` its own end: of what left the
 * store before. Source: common practice for the hours.
 */
export function warmestStoreC(evidence: BatchEvidence, reaching: 'the present' | 'its end' = 'the present'): number | null {
  const stores = storeLists(evidence);
  const present = reaching === 'the present' ? (evidence.judgedAt?.getTime() ?? null) : lastReadMs(stores.flatMap(unfrozen));
  const since = hereColdSinceMs(evidence);
  if (since === null || present === null) return null;
  const kept = stores.flatMap((list) => between(list, since, present + 1) ?? []);
  const probes = Map.groupBy(kept, (list) => list.probe.trim().toLowerCase());
  if (![...probes.values()].some((lists) => reachesBack(lists, present))) return null;
  // Where it stood before it was taken from another lot shows too warm, and never for long enough.
  const before = evidence.readingsBefore.filter((list) => list.place === 'storage' && list.smokedFromMs !== null).flatMap((list) => between(list, list.smokedFromMs!, Infinity) ?? []);
  return warmest([...stores, ...before].flatMap(unfrozen)).celsius;
}

const lastReadMs = (lists: readonly EvidenceReadings[]): number | null => lists.reduce<number | null>((last, { atMs }) => atMs.reduce((a, b) => Math.max(a, b), last ?? -Infinity), null);

/** From when what is read of a store is of all this fish, smoked and cold; null where that is not known. */
function hereColdSinceMs({ smoke, stages, joinedAt, drawnAt }: BatchEvidence): number | null {
  if (smoke === null) return drawnAt?.getTime() ?? null;
  if (smoke.finishedAt === null) return null;
  const cold = stages.flatMap((stage) => stage.cooledAt?.getTime() ?? []);
  return Math.max(smoke.finishedAt.getTime(), joinedAt?.getTime() ?? -Infinity, ...cold);
}

/** Whether one probe read a refrigerator for long enough, with no gap, and was gone on with up to an instant. */
function reachesBack(lists: readonly EvidenceReadings[], presentMs: number): boolean {
  const { minutes, celsius, startAt } = cleanSeries(oneProbe(lists).readings, { place: 'air', strict: 'higher' });
  let lastMs: number | null = null;
  let reached = NaN;
  for (let i = minutes.length - 1; i >= 0; i -= 1) {
    if (celsius[i]! < FREEZER_BELOW_C) continue;
    const at = Date.parse(startAt!) + minutes[i]! * 60_000;
    if (lastMs === null) lastMs = at;
    else if (reached - at > MOST_STORE_GAP_MS) break;
    reached = at;
  }
  return lastMs !== null && presentMs - lastMs <= LAPSES_AFTER_MS && lastMs - reached >= SHORTEST_STORE_LOG_MS;
}

/** A list without what a freezer reads; none where nothing else is left. */
function unfrozen(list: EvidenceReadings): EvidenceReadings[] {
  const kept = list.celsius.flatMap((celsius, i) => (celsius < FREEZER_BELOW_C ? [] : [i]));
  return kept.length === 0 ? [] : [{ ...list, atMs: kept.map((i) => list.atMs[i]!), celsius: kept.map((i) => list.celsius[i]!) }];
}
