import { randomUUID } from 'node:crypto';
import type { Database } from '../../server/platform/database/open.ts';

type Value = string | number | boolean | Date | null;

/**
 * Rows put straight into the tables, for tests of one feature that need what another makes. Every function gives the id.
 * The database's own rules hold all the same.
 */
export function rowsIn(database: Database, by: string, at = '2026-06-10T06:00:00Z') {
  async function put(table: string, row: Record<string, Value>): Promise<string> {
    const id = randomUUID();
    const all = { id, ...row };
    const names = Object.keys(all);
    await database.query('', `insert into ${table} (${names.join(', ')}) values (${names.map((_, i) => `$${i + 1}`).join(', ')})`, Object.values(all));
    return id;
  }
  const made = { created_by_id: by, created_at: at };
  let lots = 0;
  return {
    boat: (row: Record<string, Value> = {}) => put('boat', { name: `Boat ${randomUUID().slice(0, 6)}`, ...row }),
    trip: (boatId: string, row: Record<string, Value> = {}) => put('trip', { boat_id: boatId, day: '2026-06-09', area: 'Outer bank', ...made, ...row }),
    landing: (tripId: string, row: Record<string, Value> = {}) =>
      put('landing', { trip_id: tripId, catcher_kind: 'boat', species_code: 'atlantic-mackerel', grams: 5000, ...made, ...row }),
    batch: (row: Record<string, Value> = {}) => put('batch', { lot: `T${(lots += 1).toString().padStart(2, '0')}-TEST`, product_kind: 'hot-smoked', name: 'Hot-smoked mackerel', ...made, ...row }),
    draw: (batchId: string, landingId: string, grams: number, row: Record<string, Value> = {}) =>
      put('draw', { batch_id: batchId, landing_id: landingId, grams, of_grams: 100_000, ...made, ...row }),
    stage: (batchId: string, row: Record<string, Value>) => put('stage', { batch_id: batchId, seq: 1, mass_in_g: 1000, ...made, ...row }),
    station: (row: Record<string, Value> = {}) => put('station', { name: `Station ${randomUUID().slice(0, 6)}`, kind: 'smoker', capacity_unit: 'racks', capacity: 10, ...row }),
    slot: (stationId: string, batchId: string, row: Record<string, Value>) => put('slot', { station_id: stationId, batch_id: batchId, stage_kind: 'smoke', amount: 2, ...made, ...row }),
    pack: (batchId: string, packNo: number, row: Record<string, Value> = {}) =>
      put('pack', { batch_id: batchId, pack_no: packNo, grams: 200, package_kind: 'tub', storage: 'refrigerated', packed_at: at, public_code: randomUUID(), last_day: '2026-06-15', ...made, ...row }),
    claim: (packId: string, memberId: string, row: Record<string, Value> = {}) => put('claim', { pack_id: packId, member_id: memberId, created_at: at, ...row }),
  };
}
