import type { ReadingPlace } from '../reading-flags.ts';
import type { StageKind } from '../working.ts';

/** Part of a batch's time, by its own smoke: a list may lie in several. */
type When = 'before' | 'during' | 'after';
type Reads = { ruleId: string; places: readonly ReadingPlace[]; stages?: readonly (StageKind | null)[]; when?: When };

const FISH: readonly ReadingPlace[] = ['core', 'surface'];
/** As CORE_STAGES of logs.ts: readings of no stage may be of the smoke. */
const HOT: readonly (StageKind | null)[] = ['smoke', 'cool', null];
/** What each rule that goes by readings reads: where, of which stages (null: of none), and when. */
const READS: readonly Reads[] = [
  { ruleId: 'chill.exposure', places: [...FISH, 'storage', 'brine'], when: 'before' },
  { ruleId: 'raw.cold', places: ['storage'], when: 'before' },
  { ruleId: 'thaw', places: [...FISH, 'storage', 'brine'], stages: ['prepare', 'rinse'] },
  { ruleId: 'brine.start', places: ['brine'], stages: ['cure'] },
  { ruleId: 'brine.cold', places: ['storage'], stages: ['cure'] },
  { ruleId: 'smoke.core', places: ['core'], stages: HOT, when: 'during' },
  { ruleId: 'smoke.lethality', places: ['core'], stages: HOT, when: 'during' },
  { ruleId: 'smoke.core-home', places: ['core', 'chamber'], stages: HOT, when: 'during' },
  { ruleId: 'smoke.cold', places: ['chamber'], stages: HOT, when: 'during' },
  { ruleId: 'cool.fc', places: FISH, when: 'after' },
  { ruleId: 'cool.hg', places: ['core'], stages: HOT, when: 'after' },
  { ruleId: 'cool.ambient', places: FISH },
  { ruleId: 'hold.cold', places: [...FISH, 'storage'], when: 'after' },
  { ruleId: 'date.fourteen', places: ['storage'], when: 'after' },
  { ruleId: 'parasite', places: ['core'] },
];
const MEASURED: Readonly<Record<'water-phase-salt' | 'nitrite' | 'water-activity', readonly string[]>> = { 'water-phase-salt': ['salt.rop', 'salt.air', 'date.fourteen'], nitrite: ['nitrite', 'salt.rop'], 'water-activity': [] };

export type FedReadings = { place: ReadingPlace; stageKind: StageKind | null; firstAt: Date; lastAt: Date; /** The batch's own smoke; null without one, an end of null while it runs. */ smoke: { startedAt: Date; finishedAt: Date | null } | null };

/**
 * The rules that readings of a place and time are read for, by the table above: where to tell that they were withdrawn. A rule too many does no harm there;
 * no verdict rests on it. Any instants; `stageKind` is null for a list of no stage. Throws nothing. Source: the findings of this folder.
 */
export function rulesReading({ place, stageKind, firstAt, lastAt, smoke }: FedReadings): string[] {
  const lies: Record<When, boolean> = {
    before: smoke === null || firstAt < smoke.startedAt,
    during: smoke === null || (lastAt >= smoke.startedAt && firstAt <= (smoke.finishedAt ?? lastAt)),
    after: smoke === null || (smoke.finishedAt !== null && lastAt > smoke.finishedAt),
  };
  return READS.filter((r) => r.places.includes(place) && (r.when === undefined || lies[r.when]) && (r.stages === undefined || r.stages.includes(stageKind))).map((r) => r.ruleId);
}

/** The rules that a laboratory's figure of a kind is held against, by their names in the registry; none for water activity, which is kept for the record alone. */
export const rulesMeasuring = (kind: keyof typeof MEASURED): readonly string[] => MEASURED[kind];
