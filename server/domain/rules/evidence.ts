import type { ReadingPlace } from '../reading-flags.ts';
import type { Form, PackageKind, ProductKind, StageKind, Storage } from '../working.ts';

/** What a laboratory measures: water-phase salt in per cent, nitrite in ppm, water activity as a fraction of 1. */
export type MeasurementKind = 'water-phase-salt' | 'nitrite' | 'water-activity';
export type Part = 'loin' | 'belly' | 'tail' | 'whole';

/** Temperatures of one list, in degrees Celsius; instants in milliseconds since 1970, UTC. */
export type EvidenceReadings = { place: ReadingPlace; probe: string; stageId: string | null; unitConfirmed: boolean; atMs: readonly number[]; celsius: readonly number[] };
/**
 * `cooledTo21At` and `cooledAt`: when it was back at 21 C and at 5 C, as typed at the stage of cooling or of smoking.
 * `maxPlaceC`: the warmest that the place of a cure was, as read there and typed.
 */
export type EvidenceStage = { id: string; kind: StageKind; startedAt: Date; finishedAt: Date | null; cooledTo21At?: Date | null; cooledAt?: Date | null; maxPlaceC?: number | null };
/** A cure in the batch of another lot that this fish went through before it was drawn from there. */
export type EvidenceCure = { lot: string; stage: EvidenceStage; readings: readonly EvidenceReadings[] };
export type EvidenceMix = EvidenceStage & { cooledAt: Date | null };
export type EvidenceSmoke = EvidenceStage & { maxCoreC: number | null; holdMinutes: number | null; cooledTo21At: Date | null; cooledAt: Date | null };
export type EvidenceMeasurement = { kind: MeasurementKind; value: number; part: Part };
export type EvidenceLanding = {
  species: string;
  speciesCode: string;
  /** What tells it from the batch's other landings, in words; its species without. */
  called?: string;
  /** null: not known, treated as yes. */
  scombrotoxin: boolean | null;
  caughtAt: Date | null; /** Gilled and gutted. */ guttedAt: Date | null; icedAt: Date | null; landedAt: Date | null; coreC: number | null; airC: number | null; waterC: number | null; form: Form;
  /** When it was recorded ashore: the core at landing was taken by then. */
  recordedAt: Date;
};
export type EvidencePack = { packageKind: PackageKind; storage: Storage };

/** What is recorded of one batch, as the rules ask for it. */
export type BatchEvidence = {
  product: ProductKind;
  smoke: EvidenceSmoke | null;
  /** Of a dip. */
  mix: EvidenceMix | null;
  stages: readonly EvidenceStage[];
  readings: readonly EvidenceReadings[];
  /** Of the batches before this one, from when its fish was still in them. */
  readingsBefore: readonly EvidenceReadings[];
  curesBefore: readonly EvidenceCure[];
  /** How much of its fish came out of a freezer. */
  frozenBefore: 'all' | 'some' | 'none';
  /** The club's own source for 12 hours when gutted; empty without one (rule chill.gutted). */
  guttedSource: string;
  measurements: readonly EvidenceMeasurement[];
  landings: readonly EvidenceLanding[];
  /** Packs that are not used up or discarded. */
  packs: readonly EvidencePack[];
};
