import { randomUUID } from 'node:crypto';
import { newLotCode } from '../../server/domain/lot-code.ts';
import { addDays } from '../../server/domain/time.ts';
import type { Person, TestClub } from './app.ts';

const random = (n: number) => globalThis.crypto.getRandomValues(new Uint8Array(n));
const later = (start: Date, hours: number) => new Date(start.getTime() + hours * 3_600_000);

export type Smoked = { id: string; lot: string; landingId: string };
export type SmokedOptions = {
  /** Grams landed and drawn; the smoke takes 15 % of it. */
  grams?: number;
  name?: string;
  /** Leave out to have the evidence that clears the batch. */
  evidence?: { maxCoreC: number | null; holdMinutes: number | null; cooled: boolean };
  /** When smoking began. */
  startedAt?: Date;
};

/**
 * A batch of smoked mackerel, ready to be packed, put there row by row as the earlier screens would have: Ina's landing,
 * one draw, one finished smoke stage of three hours. What follows from the rows (verdict, smoke day) is set as it follows.
 */
export async function smokedBatch(club: Pick<TestClub, 'database' | 'clock'>, by: Pick<Person, 'id'>, options: SmokedOptions = {}): Promise<Smoked> {
  const { query } = club.database;
  const grams = options.grams ?? 10_000;
  const lost = Math.round(grams * 0.15);
  const evidence = options.evidence ?? { maxCoreC: 66, holdMinutes: 40, cooled: true };
  const start = options.startedAt ?? later(club.clock.now, -6);
  const clear = (evidence.maxCoreC ?? 0) >= 62.8 && (evidence.holdMinutes ?? 0) >= 30 && evidence.cooled;
  const [id, landingId, tripId, boatId] = [randomUUID(), randomUUID(), randomUUID(), randomUUID()];
  // Codes of one day soon meet; days drawn from thirteen years do not.
  const lot = newLotCode(addDays('2020-01-01', Buffer.from(random(2)).readUInt16BE() % 4900), random);
  await query('t-boat', `insert into boat (id, name) values ($1, $2)`, [boatId, `Boat ${boatId.slice(0, 8)}`]);
  await query('t-trip', `insert into trip (id, boat_id, day, area, created_by_id, created_at) values ($1, $2, $3::date, 'The Narrows', $4, $5)`, [tripId, boatId, start.toISOString().slice(0, 10), by.id, start]);
  await query('t-landing', `insert into landing (id, trip_id, catcher_kind, catcher_guest, species_code, fish_count, grams, caught_at, iced_at, core_c, air_c, water_c, created_by_id, created_at)
    values ($1, $2, 'guest', 'Ina', 'atlantic-mackerel', 20, $3, $6, $7, 3, 12, 10, $4, $5)`,
    [landingId, tripId, grams, by.id, start, later(start, -6), later(start, -5)]);
  await query('t-batch', `insert into batch (id, lot, product_kind, name, created_by_id, created_at, verdict, smoke_day) values ($1, $2, 'hot-smoked', $3, $4, $5, $6, $7::date)`,
    [id, lot, options.name ?? 'Hot-smoked mackerel', by.id, start, clear ? 'clear' : 'hold', start.toISOString().slice(0, 10)]);
  await query('t-draw', `insert into draw (id, batch_id, grams, landing_id, of_grams, created_by_id, created_at) values ($1, $2, $3, $4, $3, $5, $6)`, [randomUUID(), id, grams, landingId, by.id, start]);
  await query('t-smoke', `insert into stage (id, batch_id, seq, kind, started_at, finished_at, mass_in_g, mass_out_g, loss_g, max_core_c, hold_minutes, cooled_to_21_at, cooled_at, created_by_id, created_at)
    values ($1, $2, 1, 'smoke', $3, $4, $5, $6, $7, $8, $9, $12, $10, $11, $3)`,
    [randomUUID(), id, start, later(start, 3), grams, grams - lost, lost, evidence.maxCoreC, evidence.holdMinutes, evidence.cooled ? later(start, 5) : null, by.id, evidence.cooled ? later(start, 4.5) : null]);
  return { id, lot, landingId };
}

/** Packs put there row by row; the last day is the seventh from the smoke day unless another is given. */
export async function packsOf(club: Pick<TestClub, 'database' | 'clock'>, by: Pick<Person, 'id'>, batch: Smoked, weights: number[], options: { lastDay?: string | null; status?: string } = {}): Promise<string[]> {
  const { query } = club.database;
  const ids: string[] = [];
  for (const grams of weights) {
    const id = randomUUID();
    ids.push(id);
    await query('t-pack', `insert into pack (id, batch_id, pack_no, grams, package_kind, storage, packed_at, last_day, status, public_code, created_by_id, created_at)
      values ($1, $2::uuid, 1 + (select count(*) from pack where batch_id = $2::uuid), $3, 'tub', 'refrigerated', $4,
        case when $5 then $6::date else (select smoke_day + 6 from batch where id = $2::uuid) end, $7, $8, $9, $4)`,
      [id, batch.id, grams, club.clock.now, options.lastDay !== undefined, options.lastDay ?? null, options.status ?? 'ready', Buffer.from(random(18)).toString('base64url'), by.id]);
  }
  return ids;
}
