import type { ReadingPlace } from '../reading-flags.ts';
import type { Form, PackageKind, ProductKind, StageKind, Storage } from '../working.ts';

/** What a laboratory measures: water-phase salt in per cent, nitrite in ppm, water activity as a fraction of 1. */
export type MeasurementKind = 'water-phase-salt' | 'nitrite' | 'water-activity';
export type Part = 'loin' | 'belly' | 'tail' | 'whole';

/** Temperatures of one list, in degrees Celsius; instants in milliseconds since 1970, UTC. */
export type EvidenceReadings = { place: ReadingPlace; probe: string; stageId: string | null; unitConfirmed: boolean; atMs: readonly number[]; celsius: readonly number[] };
/**
 * What was read in a lot that this fish was taken from, up to then. `stageKind`: of the stage that it belongs to there. `thawed`: whether any fish of
 * that lot came out of a freezer. `smokedFromMs`: when the smoke began that this fish went through there or before; null when it was raw.
 */
export type EvidenceBefore = EvidenceReadings & { lot: string; stageKind: StageKind | null; thawed: boolean; smokedFromMs: number | null };
/**
 * `cooledTo21At` and `cooledAt`: when it was back at 21 C and at 5 C, as typed at the stage of cooling or of smoking.
 * `maxPlaceC`: the warmest that the place of a cure was, as read there and typed.
 */
export type EvidenceStage = { id: string; kind: StageKind; startedAt: Date; finishedAt: Date | null; cooledTo21At?: Date | null; cooledAt?: Date | null; maxPlaceC?: number | null };
/** A cure in the batch of another lot that this fish went through before it was drawn from there. */
export type EvidenceCure = { lot: string; stage: EvidenceStage; readings: readonly EvidenceReadings[] };
export type EvidenceMix = EvidenceStage & { cooledAt: Date | null };
/** `coreUnitConfirmed`: somebody looked at the unit of an unusually hot core. */
export type EvidenceSmoke = EvidenceStage & { maxCoreC: number | null; coreUnitConfirmed?: boolean; holdMinutes: number | null; cooledTo21At: Date | null; cooledAt: Date | null };
/** `ofAll`: false of a sample from before all of the fish was here, and smoked: then it counts against it alone. */
export type EvidenceMeasurement = { kind: MeasurementKind; value: number; part: Part; ofAll?: boolean };
/** Of a lot that this fish was taken from after it was cured. `smoked`: after it was smoked as well, so it was of the same load. */
export type MeasurementBefore = EvidenceMeasurement & { lot: string; smoked: boolean };
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
export type EvidencePack = { packageKind: PackageKind; storage: Storage; /** Frozen later than the day it was packed, or out of the freezer since. */ frozenLate?: boolean };

/** What is recorded of one batch, as the rules ask for it. */
export type BatchEvidence = {
  product: ProductKind;
  smoke: EvidenceSmoke | null;
  /** Of a dip. */
  mix: EvidenceMix | null;
  stages: readonly EvidenceStage[];
  readings: readonly EvidenceReadings[];
  /** Of the batches before this one, from when its fish was still in them. */
  readingsBefore: readonly EvidenceBefore[];
  curesBefore: readonly EvidenceCure[];
  /** How long the fish was cured there in all, along the longest way that any of it came. */
  curedBeforeMs: number;
  /** When the last fish joined that was not there from the start; null where none did. */
  joinedAt: Date | null;
  /** When the last of its fish was drawn, the first draw included; null where none was. */
  drawnAt: Date | null;
  /** The instant for which it is judged; null where that is not known: then no log reaches it. */
  judgedAt: Date | null;
  /** How much of its fish came out of a freezer. */
  frozenBefore: 'all' | 'some' | 'none';
  /** The club's own source for 12 hours when gutted; empty without one (rule chill.gutted). */
  guttedSource: string;
  measurements: readonly EvidenceMeasurement[];
  measurementsBefore: readonly MeasurementBefore[];
  landings: readonly EvidenceLanding[];
  /** Of fish that was smoked in other lots: when the last of those smokes ended, and when all of it had been taken cold; null where it was not. */
  taken?: { endedMs: number; coldMs: number | null } | null;
  /** Packs that are not used up or discarded. */
  packs: readonly EvidencePack[];
  /** Packs of it that were used up in other batches. */
  packsUsed?: readonly EvidencePack[];
};
