import type { z } from 'zod';
import type { Landing, LandingBody, LandingPatch, landingQuery } from '../../contract/catch.ts';
import { need } from '../../platform/auth/access.ts';
import { clubSettings } from '../../platform/club-settings.ts';
import type { Context } from '../../platform/context.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { badField, notFound } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import { decodeCursor, pageOf } from '../../platform/http/cursor.ts';
import { newId } from '../../platform/new-id.ts';
import type { Unit } from '../../platform/unit.ts';
import { holdClub } from '../batches/batches.store.ts';
import { followLandings } from '../batches/follow.ts';
import { hold } from '../batches/locks.ts';
import { checkCatcher, checkDrawn, checkedFields } from './landings.checks.ts';
import { asBody, toLanding } from './landings.mapper.ts';
import { refuseMixing, refuseSpecies } from './landings.mixing.ts';
import * as store from './landings.store.ts';

export async function landingsOfTrip(query: RawQuery, tripId: string): Promise<Landing[]> {
  return (await store.landingsOfTrip(query, tripId)).map(toLanding);
}

export async function listLandings(context: Context, { cursor, limit, tripId, left }: z.infer<typeof landingQuery>): Promise<{ items: Landing[]; nextCursor: string | null }> {
  const after = decodeCursor(cursor, ['instant', 'uuid']);
  const rows = await store.listLandings(context.database.query, { tripId, left, after: after && { createdAt: after[0], id: after[1] }, limit });
  return pageOf(rows, limit, toLanding, (row) => [row.createdAt.toISOString(), row.id]);
}

export async function readLanding(context: Context, id: string): Promise<Landing> {
  const row = await store.findLanding(context.database.query, id);
  if (!row) throw notFound('This landing');
  return toLanding(row);
}

export async function addLanding(context: Context, unit: Unit, tripId: string, body: LandingBody): Promise<Landing> {
  const actor = need(unit.actor, 'crew');
  return unit.runRaw(async (query) => {
    const trip = await store.holdTrip(query, tripId);
    if (!trip) throw notFound('This trip');
    if (!trip.open) throw badField('tripId', tripId, `The trip of ${trip.boatName} on ${trip.day} is closed.`, 'Open the trip again, or record the landing on another trip.', 'conflict');
    const around = { query, now: unit.now, club: await clubSettings(query), trip, landingId: null };
    await checkCatcher(body.catcher, around);
    const fields = await checkedFields(body, around);
    const id = newId(unit.now, context.random);
    await store.insertLanding(query, id, tripId, fields, actor.id, unit.now);
    return toLanding((await store.findLanding(query, id))!);
  });
}

/** Corrects a landing. The record keeps what was there before, who changed it and why. */
export async function correctLanding(unit: Unit, id: string, patch: LandingPatch): Promise<Landing> {
  need(unit.actor, 'crew');
  const { version, reason, withdrawn, ...changes } = patch;
  const work = async (query: RawQuery) => {
    const tripId = (await store.findLanding(query, id))?.tripId;
    const trip = tripId === undefined ? null : await store.holdTrip(query, tripId);
    // A name that follows the species raises the club's count of names, and the club comes before landings.
    if (judgedFields.some((field) => patch[field] !== undefined)) await holdClub(query);
    const row = await store.lockLanding(query, id);
    if (!trip || !row) throw notFound('This landing');
    const was = asBody(row);
    if (version !== row.version) throw refuseStale('landing', withComparableTimes(patch), was);
    const around = { query, now: unit.now, club: await clubSettings(query), trip, landingId: id };
    const { wanted, sameEstimate } = merged(row, changes);
    if (JSON.stringify(wanted.catcher) !== JSON.stringify(was.catcher)) await checkCatcher(wanted.catcher, around);
    const checked = await checkedFields(wanted, around);
    const fields = sameEstimate ? { ...checked, weightSource: row.weightSource } : checked;
    const out = withdrawn ?? was.withdrawn;
    checkDrawn(row, { grams: fields.grams, withdrawn: out }, around.club);
    const follows = row.drawnGrams > 0 && judgedFields.some((field) => plainOf(fields[field]) !== plainOf(row[field]));
    const batchIds = follows ? await store.batchesWith(query, [id]) : [];
    if (follows) await hold(query, { batchIds });
    if (row.drawnGrams > 0) {
      await refuseSpecies(query, row, fields.speciesCode);
      await refuseMixing(query, row, fields);
    }
    await store.updateLanding(query, id, out ? (row.withdrawnAt ?? unit.now) : null, fields);
    await followLandings(query, batchIds, around.club.timeZone);
    return toLanding((await store.findLanding(query, id))!);
  };
  return unit.runRaw(work, { reason });
}

/** What names, dates and verdicts of the batches rest on. */
const judgedFields = ['speciesCode', 'form', 'caughtAt', 'guttedAt', 'icedAt', 'landedAt', 'coreC', 'airC', 'waterC'] as const;
const plainOf = (value: string | number | Date | null): string | number | null => (value instanceof Date ? value.getTime() : value);

type Changes = Omit<LandingPatch, 'version' | 'reason' | 'withdrawn'>;
const reckonedFrom: readonly (keyof Changes)[] = ['lengthsCm', 'lengthKind', 'speciesCode', 'form'];

/** The landing as it is with the changes put over it. An estimate is reckoned anew when what it rests on changes, unless a weight is given. */
function merged(row: store.LandingRow, changes: Changes): { wanted: LandingBody; sameEstimate: boolean } {
  const { withdrawn: _withdrawn, version: _version, ...was } = asBody(row);
  const given = Object.fromEntries(Object.entries(changes).filter(([, value]) => value !== undefined));
  const wanted: LandingBody = { ...was, ...given };
  if (row.weightSource !== 'estimated' || changes.grams !== undefined) return { wanted, sameEstimate: false };
  if (!reckonedFrom.some((field) => changes[field] !== undefined)) return { wanted, sameEstimate: true };
  return { wanted: { ...wanted, grams: null, fishCount: changes.fishCount ?? wanted.lengthsCm.length }, sameEstimate: false };
}

/** Instants are compared as the service writes them, in UTC. */
function withComparableTimes(patch: LandingPatch): Record<string, unknown> {
  const utc = (text: string | null | undefined) => (text ? new Date(text).toISOString() : text);
  return { ...patch, caughtAt: utc(patch.caughtAt), guttedAt: utc(patch.guttedAt), icedAt: utc(patch.icedAt), landedAt: utc(patch.landedAt) };
}
