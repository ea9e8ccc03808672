import { smokeBeganMs, smokeEndedMs, tellsOfCoolingOnly, tellsOfRawOnly } from '../heat/cooling-probe.ts';
import type { ReadingPlace } from '../reading-flags.ts';
import type { StageKind } from '../working.ts';
import type { BatchEvidence, EvidenceBefore, EvidenceReadings } from './evidence.ts';

/** Core readings of these stages, or of none, tell of the smoke and of the cooling after it. */
export const CORE_STAGES: readonly StageKind[] = ['smoke', 'cool'];

/** The way on where readings are of the air: whoever withdraws them says why, and the record keeps both. */
export const PROBE_OUT = {
  store: 'If the probe was out of the store when it was read, withdraw those readings and say why.',
  fish: 'If the probe was out of the fish when it was read, or in something else, withdraw those readings and say why.',
} as const;

/** The lists of one place, one group for each probe; of the stages named, or of no stage. */
export function seriesOf(evidence: BatchEvidence, place: ReadingPlace, kinds: readonly StageKind[]): EvidenceReadings[][] {
  const ids = new Set(evidence.stages.filter((stage) => kinds.includes(stage.kind)).map((stage) => stage.id));
  const lists = evidence.readings.filter((list) => list.place === place && (list.stageId === null || ids.has(list.stageId)));
  return [...Map.groupBy(lists, (list) => list.probe.trim().toLowerCase()).values()];
}

/** The readings of one probe as one log; its unit is confirmed when every list's is. */
export function oneProbe(lists: readonly EvidenceReadings[], fromMs = -Infinity): { readings: { at: Date; celsius: number }[]; unitConfirmed: boolean } {
  const readings: { at: Date; celsius: number }[] = [];
  for (const { atMs, celsius } of lists) for (let i = 0; i < atMs.length; i += 1) if (atMs[i]! >= fromMs) readings.push({ at: new Date(atMs[i]!), celsius: celsius[i]! });
  return { readings, unitConfirmed: lists.every((list) => list.unitConfirmed) };
}

/** What was read of the fish while it was raw, in the lots that it was taken from. */
export const rawBefore = ({ readingsBefore }: BatchEvidence): EvidenceBefore[] => readingsBefore.flatMap((list) => between(list, -Infinity, list.smokedFromMs ?? Infinity) ?? []);

/** The readings of a list from one instant up to another; null when none is. */
export function between<T extends EvidenceReadings>(list: T, fromMs: number, untilMs: number): T | null {
  const kept = list.atMs.flatMap((at, i) => (at >= fromMs && at < untilMs ? [i] : []));
  return kept.length === 0 ? null : { ...list, atMs: kept.map((i) => list.atMs[i]!), celsius: kept.map((i) => list.celsius[i]!) };
}

type ProbeLog = ReturnType<typeof oneProbe>;
/** The logs of the core probes that tell of the smoke or of the cooling after it. */
export function coreLogs(evidence: BatchEvidence): ProbeLog[] {
  const beganMs = smokeBeganMs(evidence.stages);
  const readings = evidence.readings.filter((list) => list.stageId !== null || !tellsOfRawOnly(oneProbe([list]).readings, beganMs));
  return seriesOf({ ...evidence, readings }, 'core', CORE_STAGES).map((lists) => oneProbe(lists));
}

/** The logs of the core probes that were in the fish while it smoked. */
export function smokedLogs(evidence: BatchEvidence): ProbeLog[] {
  const endedMs = smokeEndedMs(evidence.stages);
  return coreLogs(evidence).filter(({ readings }) => !tellsOfCoolingOnly(readings, endedMs));
}
