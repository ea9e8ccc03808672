import { catcherKey, checkDraw } from '../../domain/pooling.ts';
import { findSpecies } from '../../domain/species/index.ts';
import { DomainError } from '../../domain/working.ts';
import type { Pooling } from '../../domain/working.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { badField } from '../../platform/errors/problem-error.ts';
import type { ProblemError } from '../../platform/errors/problem-error.ts';
import { findSpeciesRow } from '../species/species.store.ts';
import * as store from './landings.store.ts';
import type { LandingFields, LandingRow, PlacedDraw } from './landings.store.ts';

type Catcher = { catcherKind: LandingFields['catcherKind']; catcherMemberId: string | null; catcherGuest: string | null };

function keyOf(catcher: Catcher, boatId: string): string {
  if (catcher.catcherKind === 'member') return catcherKey({ memberId: catcher.catcherMemberId! });
  if (catcher.catcherKind === 'guest') return catcherKey({ guestName: catcher.catcherGuest! });
  return catcherKey({ boatId });
}

const closeness: Record<Pooling, number> = { apart: 0, tray: 1, pooled: 2 };

/**
 * A correction of the catcher, or of what the owner agreed to, must leave the batches that hold the fish as the new
 * words would have allowed them: nothing lies where it would be refused now.
 */
export async function refuseMixing(query: RawQuery, row: LandingRow, fields: LandingFields): Promise<void> {
  const key = keyOf(fields, row.boatId);
  const catcherChanged = key !== keyOf(row, row.boatId);
  if (!catcherChanged && closeness[fields.pooling] >= closeness[row.pooling]) return;
  const field = catcherChanged ? 'catcher' : 'pooling';
  const draws = await store.placedWith(query, row.id);
  const own = draws.filter((draw) => draw.landingId === row.id);
  for (const { batchId, lot, trayNo } of own) {
    const others = draws.filter((draw) => draw.batchId === batchId && draw.landingId !== row.id).flatMap(placed);
    try {
      checkDraw(others, { catcherKey: key, pooling: fields.pooling, trayNo });
    } catch (error) {
      if (error instanceof DomainError) throw mixed(field, `In lot ${lot} this fish lies with other fish. ${error.message}`);
      throw error;
    }
  }
  if (fields.pooling === 'pooled') return;
  const merged = draws.some((draw) => draw.landingId === null);
  if (merged || (await store.passedOn(query, row.id))) throw mixed(field, 'Fish of this landing went through more than one batch and may lie with other fish by now.');
}

/**
 * A correction of the species must leave in batches only what would be let into them now: nothing that is never shared
 * (tables/hazards.csv), and one species in each (rule brine.no-mix).
 */
export async function refuseSpecies(query: RawQuery, row: LandingRow, speciesCode: string): Promise<void> {
  if (speciesCode === row.speciesCode) return;
  const species = (await findSpeciesRow(query, speciesCode))!;
  if (species.sharing === 'refuse') {
    const reason = findSpecies(speciesCode)?.sharingReason ?? 'Not for sharing.';
    throw badField('speciesCode', speciesCode, `${species.name} does not go into a batch, and fish of this landing is in one. ${reason}`, 'Take it out of the batch first; recall the lot if packs of it are out.', 'conflict');
  }
  const other = await store.otherSpeciesBeside(query, row.id, speciesCode);
  if (other) throw mixed('speciesCode', `In lot ${other.lot} this fish lies with ${other.species}, and a brine takes one species (NY262.5).`);
}

const mixed = (field: string, message: string): ProblemError =>
  badField(field, undefined, message, 'Take it out of the batch first, or leave this as it is.', 'would-mix');

function placed(draw: PlacedDraw) {
  if (draw.landingId === null) return [];
  return [{ catcherKey: keyOf(draw as Catcher, draw.boatId!), pooling: draw.pooling!, trayNo: draw.trayNo }];
}
