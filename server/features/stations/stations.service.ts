import type { z } from 'zod';
import type { LearntFit } from '../../contract/smokers.ts';
import type { Station, stationBody, stationPatch } from '../../contract/stations.ts';
import { formatCapacity, insideHours, STATION_SERVES } from '../../domain/stations.ts';
import type { CapacityUnit, StationKind } from '../../domain/stations.ts';
import { formatLocal } from '../../domain/time.ts';
import { need } from '../../platform/auth/access.ts';
import { clubSettings } from '../../platform/club-settings.ts';
import type { Context } from '../../platform/context.ts';
import { constraintViolation } from '../../platform/database/constraint-errors.ts';
import type { Tx } from '../../platform/database/open.ts';
import { badField, notFound, ProblemError } from '../../platform/errors/problem-error.ts';
import { refuseStale } from '../../platform/errors/stale.ts';
import { queryOf } from '../../platform/query-of.ts';
import type { Unit } from '../../platform/unit.ts';
import { learntFits } from '../smokers/smokers.service.ts';
import * as store from './stations.store.ts';

type Patch = z.infer<typeof stationPatch>;

const toStation = (row: store.StationRow, fit: LearntFit | null): Station => ({
  id: row.id, name: row.name, kind: row.kind as StationKind, capacityUnit: row.capacityUnit as CapacityUnit, capacity: row.capacity,
  opensAt: row.opensAt, closesAt: row.closesAt, note: row.note, retired: row.retiredAt !== null,
  serves: [...STATION_SERVES[row.kind as StationKind]], fit, version: row.version,
});

export async function listStations(context: Context): Promise<{ items: Station[] }> {
  const fits = await learntFits(context.database.query, null);
  return { items: (await store.listStations(context.database.prisma)).map((row) => toStation(row, fits.get(row.id) ?? null)) };
}

export async function addStation(unit: Unit, body: z.infer<typeof stationBody>): Promise<Station> {
  need(unit.actor, 'captain');
  return unit.run(async (tx) => toStation(await store.insertStation(tx, body), null));
}

export async function changeStation(unit: Unit, id: string, patch: Patch): Promise<Station> {
  need(unit.actor, 'captain');
  const { version, retired, ...rest } = patch;
  const fields = Object.fromEntries(Object.entries(rest).filter(([, value]) => value !== undefined)) as store.StationFields;
  if (retired !== undefined) fields.retiredAt = retired ? unit.now : null;
  let present: Station | null = null;
  try {
    return await unit.run(async (tx) => {
      const row = await store.findStation(tx, id);
      if (!row) throw notFound('This station');
      const fit = (await learntFits(queryOf(tx), id)).get(id) ?? null;
      present = toStation(row, fit);
      if (row.version !== version) throw refuseStale('station', patch, present);
      if (patch.opensAt !== undefined || retired) await checkComingSlots(tx, unit, row, patch);
      const changed = await store.updateStation(tx, id, version, fields);
      if (changed) return toStation(changed, fit);
      throw refuseStale('station', patch, toStation((await store.findStation(tx, id)) ?? row, fit));
    });
  } catch (error) {
    throw capacityInWords(error, present, patch) ?? error;
  }
}

/** What is booked must stay possible: slots are moved first, then the station changes. */
async function checkComingSlots(tx: Tx, unit: Unit, row: store.StationRow, patch: Patch): Promise<void> {
  const query = queryOf(tx);
  const slots = await store.lockComingSlots(query, row.id, unit.now);
  const { timeZone } = await clubSettings(query);
  if (patch.retired && slots[0]) {
    throw new ProblemError('conflict', `${row.name} is booked ${slots.length === 1 ? 'once' : `${slots.length} times`} from ${formatLocal(slots[0].startsAt, timeZone, 'day-time')}. Move or cancel what is booked, then retire it.`);
  }
  if (patch.opensAt === undefined || patch.closesAt === undefined) return;
  const hours = { opensAt: patch.opensAt, closesAt: patch.closesAt };
  const outside = slots.find((slot) => !insideHours(slot, hours, timeZone).ok);
  if (outside) {
    throw badField('opensAt', patch.opensAt, `The slot of ${formatLocal(outside.startsAt, timeZone, 'day-time')} would lie outside these hours.`, 'Move it first, or choose longer hours.', 'conflict');
  }
}

function capacityInWords(error: unknown, station: Station | null, patch: Patch): ProblemError | null {
  const broken = constraintViolation(error);
  if (broken?.constraint !== 'station_capacity_holds_slots' || !broken.detail || !station) return null;
  const { load } = JSON.parse(broken.detail) as { load: number };
  return badField('capacity', patch.capacity, `${formatCapacity(load, station.capacityUnit)} of ${station.name} is booked at one time.`, 'Move slots first, or choose at least that much.', 'over-booked');
}
