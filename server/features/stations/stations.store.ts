import type { RawQuery, Tx } from '../../platform/database/open.ts';
import type { CapacityUnit, StationKind } from '../../domain/stations.ts';

export type StationRow = Awaited<ReturnType<typeof listStations>>[number];
export type NewStation = {
  name: string; kind: StationKind; capacityUnit: CapacityUnit; capacity: number; opensAt: string | null; closesAt: string | null; note: string;
};
export type StationFields = Partial<Omit<NewStation, 'kind' | 'capacityUnit'>> & { retiredAt?: Date | null };

export const listStations = (db: Pick<Tx, 'station'>) => db.station.findMany({ orderBy: [{ name: 'asc' }] });
export const findStation = (tx: Tx, id: string) => tx.station.findUnique({ where: { id } });
export const insertStation = (tx: Tx, data: NewStation) => tx.station.create({ data });

/** Changes the station if it still has this version; null when it has another, or is not there. */
export async function updateStation(tx: Tx, id: string, version: number, fields: StationFields) {
  const [row] = await tx.station.updateManyAndReturn({ where: { id, version }, data: { ...fields, version: { increment: 1 } } });
  return row ?? null;
}

const lockSql = `select id from station where id = $1::uuid for no key update`;
const comingSql = `select starts_at as "startsAt", ends_at as "endsAt" from slot
  where station_id = $1::uuid and cancelled_at is null and ends_at > $2::timestamptz order by starts_at`;

/** The slots still to come, with the station held so that nobody books meanwhile. */
export async function lockComingSlots(query: RawQuery, stationId: string, now: Date): Promise<{ startsAt: Date; endsAt: Date }[]> {
  await query('station-lock', lockSql, [stationId]);
  return query('station-coming', comingSql, [stationId, now]);
}
