import type { z } from 'zod';
import type { Slot, slotBody, slotPatch, slotQuery } from '../../contract/stations.ts';
import { need } from '../../platform/auth/access.ts';
import { clubSettings } from '../../platform/club-settings.ts';
import type { Context } from '../../platform/context.ts';
import { constraintViolation } from '../../platform/database/constraint-errors.ts';
import type { RawQuery } from '../../platform/database/open.ts';
import { badField, notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import { newId } from '../../platform/new-id.ts';
import type { Unit } from '../../platform/unit.ts';
import { checkAfterwards, checkOrder, checkStation, checkTimes, overBooked } from './slots.rules.ts';
import type { Overload, Wanted } from './slots.rules.ts';
import * as store from './slots.store.ts';

const mostDays = 62;
type Patch = z.infer<typeof slotPatch>;

export const toSlot = (row: store.SlotRow): Slot => ({
  id: row.id,
  station: { id: row.stationId, name: row.stationName, kind: row.stationKind, capacityUnit: row.capacityUnit, capacity: row.capacity },
  batch: { id: row.batchId, lot: row.lot, name: row.batchName },
  stageKind: row.stageKind, startsAt: row.startsAt.toISOString(), endsAt: row.endsAt.toISOString(), amount: row.amount, note: row.note,
  createdBy: { id: row.createdById, name: row.createdByName }, version: row.version,
});

export async function listSlots(context: Context, q: z.infer<typeof slotQuery>): Promise<{ items: Slot[] }> {
  const [from, to] = [new Date(q.from), new Date(q.to)];
  if (to <= from) throw badField('to', q.to, 'The end is not after the start.', 'Ask for a later end.', 'invalid-input');
  if (to.getTime() - from.getTime() > mostDays * 86_400_000) throw badField('to', q.to, `That is more than ${mostDays} days.`, 'Ask for fewer days at once.', 'invalid-input');
  return { items: (await store.listSlots(context.database.query, from, to, q.stationId ?? null, q.batchId ?? null)).map(toSlot) };
}

/** One slot, wherever in time it lies; a cancelled one is no longer there. */
export async function readSlot(context: Context, id: string): Promise<Slot> {
  const row = await store.findSlot(context.database.query, id);
  if (!row || row.cancelledAt !== null) throw notFound('This slot');
  return toSlot(row);
}

export async function bookSlot(context: Context, unit: Unit, body: z.infer<typeof slotBody>): Promise<Slot> {
  const actor = need(unit.actor, 'crew');
  const wanted: Wanted = { stageKind: body.stageKind, startsAt: new Date(body.startsAt), endsAt: new Date(body.endsAt), amount: body.amount };
  checkTimes(wanted);
  return inWords((refusal) =>
    unit.runRaw(async (query) => {
      await checkPlace(query, refusal, { ...wanted, batchId: body.batchId, stationId: body.stationId, slotId: null }, unit.now);
      const id = newId(unit.now, context.random);
      await store.insertSlot(query, { id, stationId: body.stationId, batchId: body.batchId, ...wanted, note: body.note, createdById: actor.id, createdAt: unit.now });
      return toSlot((await store.findSlot(query, id))!);
    }),
  );
}

export async function changeSlot(unit: Unit, id: string, patch: Patch): Promise<Slot> {
  need(unit.actor, 'crew');
  return inWords((refusal) =>
    unit.runRaw(async (query) => {
      const before = await present(query, id, patch);
      const next: store.SlotFields = {
        stationId: patch.stationId ?? before.stationId,
        startsAt: patch.startsAt ? new Date(patch.startsAt) : before.startsAt,
        endsAt: patch.endsAt ? new Date(patch.endsAt) : before.endsAt,
        amount: patch.amount ?? before.amount,
        note: patch.note ?? before.note,
        cancelledAt: patch.cancelled === undefined ? before.cancelledAt : patch.cancelled ? (before.cancelledAt ?? unit.now) : null,
      };
      const wanted: Wanted = { stageKind: before.stageKind, startsAt: next.startsAt, endsAt: next.endsAt, amount: next.amount };
      if (takesRoom(before, next)) {
        checkTimes(wanted);
        await checkPlace(query, refusal, { ...wanted, batchId: before.batchId, stationId: next.stationId, slotId: id }, unit.now);
      }
      if (!(await store.updateSlot(query, id, patch.version, next))) throw refuseStale('slot', patch, seen((await store.findSlot(query, id)) ?? before));
      return toSlot((await store.findSlot(query, id))!);
    }),
  );
}

/** A cancelled slot, and a new note alone, ask for nothing. */
function takesRoom(before: store.SlotRow, next: store.SlotFields): boolean {
  if (next.cancelledAt !== null) return false;
  return before.cancelledAt !== null || next.stationId !== before.stationId || next.amount !== before.amount ||
    next.startsAt.getTime() !== before.startsAt.getTime() || next.endsAt.getTime() !== before.endsAt.getTime();
}

async function present(query: RawQuery, id: string, patch: Patch): Promise<store.SlotRow> {
  const first = await store.findSlot(query, id);
  if (!first) throw notFound('This slot');
  // The batch is held first, as everywhere, and then the slot is read again: it may have changed while we waited.
  await store.lockBatch(query, first.batchId);
  const row = (await store.findSlot(query, id)) ?? first;
  if (row.version !== patch.version) throw refuseStale('slot', patch, seen(row));
  return row;
}

const seen = (row: store.SlotRow) => ({ ...toSlot(row), stationId: row.stationId, cancelled: row.cancelledAt !== null });

type Refusal = { station: store.StationFacts | null; timeZone: string; amount: number };

async function checkPlace(query: RawQuery, refusal: Refusal, slot: Wanted & { batchId: string; stationId: string; slotId: string | null }, now: Date): Promise<void> {
  const { timeZone } = await clubSettings(query);
  const batch = await store.lockBatch(query, slot.batchId);
  if (!batch) throw notFound('This batch');
  const afterwards = slot.endsAt <= now;
  if (afterwards) checkAfterwards(slot, await store.stagesThen(query, slot.batchId, slot.stageKind, slot.startsAt, slot.endsAt), timeZone);
  else if (batch.recalled) throw new ProblemError('recalled', `Lot ${batch.lot} is recalled. Book nothing for it.`);
  else if (batch.closed) throw new ProblemError('conflict', `Lot ${batch.lot} is packed and closed. Book for another batch.`);
  const station = await store.lockStation(query, slot.stationId);
  if (!station) throw notFound('This station');
  Object.assign(refusal, { station, timeZone, amount: slot.amount } satisfies Refusal);
  checkStation(station, slot, timeZone);
  checkOrder(slot, await store.timesOfBatch(query, slot.batchId, slot.slotId), timeZone);
}

/** Runs a booking; the database's refusal for want of room is told with what is free and when. */
async function inWords<T>(run: (refusal: Refusal) => Promise<T>): Promise<T> {
  const refusal: Refusal = { station: null, timeZone: 'UTC', amount: 0 };
  try {
    return await run(refusal);
  } catch (error) {
    const broken = constraintViolation(error);
    if (broken?.constraint !== 'slot_within_capacity' || !broken.detail || !refusal.station) throw error;
    throw overBooked(JSON.parse(broken.detail) as Overload, refusal.station, refusal.amount, refusal.timeZone);
  }
}
