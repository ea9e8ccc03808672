import type { z } from 'zod';
import type { Trip, TripDetail, tripBody, tripPatch, tripPersonBody } from '../../contract/catch.ts';
import type { pageQuery } from '../../contract/common.ts';
import { need } from '../../platform/auth/access.ts';
import { clubSettings } from '../../platform/club-settings.ts';
import type { Context } from '../../platform/context.ts';
import { notFound } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import { decodeCursor, pageOf } from '../../platform/http/cursor.ts';
import { newId } from '../../platform/new-id.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import type { Unit } from '../../platform/unit.ts';
import { followLandings } from '../batches/follow.ts';
import { hold } from '../batches/locks.ts';
import { landingsOfTrip } from '../landings/landings.service.ts';
import { batchesWith } from '../landings/landings.store.ts';
import { checkBoat, checkPeople, checkTripDay, shareHundredths } from './trips.checks.ts';
import * as store from './trips.store.ts';

export const toTrip = (row: store.TripRow): Trip => ({
  id: row.id,
  boat: { id: row.boatId, name: row.boatName },
  day: row.day,
  area: row.area,
  note: row.note,
  open: row.open,
  people: row.people,
  landingCount: row.landingCount,
  landedGrams: row.landedGrams,
  leftGrams: row.leftGrams,
  version: row.version,
});

export async function listTrips(context: Context, { cursor, limit }: z.infer<typeof pageQuery>): Promise<{ items: Trip[]; nextCursor: string | null }> {
  const after = decodeCursor(cursor, ['day', 'uuid']);
  const rows = await store.listTrips(context.database.query, after && { day: after[0], id: after[1] }, limit);
  return pageOf(rows, limit, toTrip, (row) => [row.day, row.id]);
}

export async function readTrip(context: Context, id: string): Promise<TripDetail> {
  const row = await store.findTrip(context.database.query, id);
  if (!row) throw notFound('This trip');
  return { ...toTrip(row), landings: await landingsOfTrip(context.database.query, id) };
}

export async function addTrip(context: Context, unit: Unit, body: z.infer<typeof tripBody>): Promise<Trip> {
  const actor = need(unit.actor, 'crew');
  return unit.runRaw(async (query) => {
    const club = await clubSettings(query);
    checkTripDay(body.day, unit.now, club);
    await checkBoat(query, body.boatId);
    await checkPeople(query, body.people, body.day, club);
    const id = newId(unit.now, context.random);
    await store.insertTrip(query, id, body, actor.id, unit.now);
    await store.setPeople(query, id, body.people.map((person) => toNewPerson(context, unit, person)));
    return toTrip((await store.findTrip(query, id))!);
  });
}

export async function changeTrip(context: Context, unit: Unit, id: string, patch: z.infer<typeof tripPatch>): Promise<Trip> {
  need(unit.actor, 'crew');
  return unit.runRaw(async (query) => {
    const present = await store.lockTrip(query, id);
    if (!present) throw notFound('This trip');
    const was = asBody(present);
    if (patch.version !== present.version) throw refuseStale('trip', patch, was);
    const wanted = {
      boatId: patch.boatId ?? was.boatId,
      day: patch.day ?? was.day,
      area: patch.area ?? was.area,
      note: patch.note ?? was.note,
      open: patch.open ?? was.open,
    };
    const people = patch.people ?? was.people;
    const club = await clubSettings(query);
    if (wanted.day !== was.day) checkTripDay(wanted.day, unit.now, club);
    if (wanted.boatId !== was.boatId) await checkBoat(query, wanted.boatId);
    if (patch.people || wanted.day !== was.day) await checkPeople(query, people, wanted.day, club);
    await store.updateTrip(query, id, wanted, unit.now);
    if (wanted.day !== was.day) await redate(query, id, club.timeZone);
    if (patch.people) await store.setPeople(query, id, patch.people.map((person) => toNewPerson(context, unit, person)));
    return toTrip((await store.findTrip(query, id))!);
  });
}

/** Raw fish counts from the trip's day where the landing has no time of its own. */
async function redate(query: RawQuery, tripId: string, timeZone: string): Promise<void> {
  const landingIds = (await landingsOfTrip(query, tripId)).map(({ id }) => id);
  await hold(query, { landingIds, batchIds: [] });
  const batchIds = await batchesWith(query, landingIds);
  await hold(query, { batchIds });
  await followLandings(query, batchIds, timeZone);
}

type PersonBody = z.infer<typeof tripPersonBody>;

const toNewPerson = (context: Context, unit: Unit, person: PersonBody): store.NewPerson => ({
  id: newId(unit.now, context.random),
  memberId: person.memberId ?? null,
  guestName: person.guestName ?? null,
  shareHundredths: shareHundredths(person.shareWeight),
});

/** A trip in the shape in which it is sent, to be compared with what was sent. */
function asBody(row: store.TripRow) {
  const people = row.people.map((p): PersonBody => ({ ...(p.memberId ? { memberId: p.memberId } : { guestName: p.guestName! }), shareWeight: p.shareWeight }));
  return { boatId: row.boatId, day: row.day, area: row.area, note: row.note, open: row.open, people, version: row.version };
}
