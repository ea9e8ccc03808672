import type { z } from 'zod';
import type { catcher, Landing } from '../../contract/catch.ts';
import type { Working } from '../../contract/common.ts';
import { estimateGrams } from '../../domain/length-weight.ts';
import { DomainError } from '../../domain/working.ts';
import type { LandingRow } from './landings.store.ts';

const iso = (instant: Date | null) => instant?.toISOString() ?? null;
export const toCm = (lengthsMm: readonly number[]) => lengthsMm.map((mm) => mm / 10);

export function toLanding(row: LandingRow): Landing {
  return {
    id: row.id,
    trip: { id: row.tripId, day: row.tripDay, area: row.tripArea, boatName: row.boatName },
    catcher: { kind: row.catcherKind, memberId: row.catcherMemberId, name: row.catcherName ?? row.catcherGuest ?? row.boatName },
    species: { code: row.speciesCode, name: row.speciesName, sharing: row.speciesSharing, scombrotoxin: row.speciesScombrotoxin },
    fishCount: row.fishCount,
    grams: row.grams,
    weightSource: row.weightSource,
    estimate: estimateOf(row),
    form: row.form,
    lengthsCm: toCm(row.lengthsMm),
    lengthKind: row.lengthKind,
    caughtAt: iso(row.caughtAt),
    guttedAt: iso(row.guttedAt),
    icedAt: iso(row.icedAt),
    landedAt: iso(row.landedAt),
    coreC: row.coreC,
    airC: row.airC,
    waterC: row.waterC,
    note: row.note,
    pooling: row.pooling,
    drawnGrams: row.drawnGrams,
    leftGrams: row.grams - row.drawnGrams,
    withdrawn: row.withdrawnAt !== null,
    createdBy: { id: row.createdById, name: row.createdByName },
    createdAt: row.createdAt.toISOString(),
    version: row.version,
  };
}

/** How an estimated weight came about: reckoned again from the lengths that it was reckoned from. */
function estimateOf(row: LandingRow): Working | null {
  if (row.weightSource !== 'estimated' || row.lengthKind === null) return null;
  try {
    return estimateGrams(row.speciesCode, toCm(row.lengthsMm), row.lengthKind).working;
  } catch (error) {
    // The table has lost the species since; the weight stands all the same.
    if (error instanceof DomainError) return null;
    throw error;
  }
}

export function catcherOf(row: Pick<LandingRow, 'catcherKind' | 'catcherMemberId' | 'catcherGuest'>): z.infer<typeof catcher> {
  if (row.catcherKind === 'member') return { kind: 'member', memberId: row.catcherMemberId! };
  if (row.catcherKind === 'guest') return { kind: 'guest', guestName: row.catcherGuest! };
  return { kind: 'boat' };
}

/** A landing in the shape in which it is sent, to be merged and compared with what was sent. */
export function asBody(row: LandingRow) {
  return {
    catcher: catcherOf(row),
    speciesCode: row.speciesCode,
    fishCount: row.fishCount,
    grams: row.grams as number | null,
    form: row.form,
    lengthsCm: toCm(row.lengthsMm),
    lengthKind: row.lengthKind,
    caughtAt: iso(row.caughtAt),
    guttedAt: iso(row.guttedAt),
    icedAt: iso(row.icedAt),
    landedAt: iso(row.landedAt),
    coreC: row.coreC,
    airC: row.airC,
    waterC: row.waterC,
    note: row.note,
    pooling: row.pooling,
    withdrawn: row.withdrawnAt !== null,
    version: row.version,
  };
}
