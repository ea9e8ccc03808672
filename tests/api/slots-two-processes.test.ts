import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openDatabase } from '../../server/platform/database/open.ts';
import type { Database } from '../../server/platform/database/open.ts';
import { emptyOnServer, quiet, testDatabaseUrl } from '../support/database.ts';
import { setUpClub, startService } from '../support/process.ts';
import type { Service } from '../support/process.ts';

const hour = 3_600_000;
type Row = { startsAt: Date; endsAt: Date; amount: number };

/** The highest load at any moment, from the rows alone: ends before starts, then a running sum. */
function peak(rows: Row[]): number {
  const edges = rows.flatMap((r) => [{ at: r.startsAt.getTime(), by: r.amount }, { at: r.endsAt.getTime(), by: -r.amount }]);
  edges.sort((a, b) => a.at - b.at || a.by - b.by);
  let load = 0;
  return edges.reduce((most, edge) => Math.max(most, (load += edge.by)), 0);
}

// Two processes share a PostgreSQL: this needs TEST_DATABASE_URL, which the continuous run sets.
describe.runIf(testDatabaseUrl !== null)('two server processes on one PostgreSQL (runs when TEST_DATABASE_URL is set)', () => {
  let folder: string;
  const services: Service[] = [];
  let empty: Awaited<ReturnType<typeof emptyOnServer>>;
  let database: Database;
  let cookie: string;
  let batches: string[];
  let next = 0;

  beforeAll(async () => {
    folder = mkdtempSync(path.join(tmpdir(), 'two-processes-'));
    empty = await emptyOnServer(testDatabaseUrl!);
    const env = { DATABASE_URL: empty.url, SECRET: `two-processes-${randomUUID()}`, DATA_DIR: folder };
    services.push(await startService(env));
    cookie = await setUpClub(services[0]!);
    services.push(await startService(env));
    database = await openDatabase({ databaseUrl: empty.url, dataDir: folder, logger: quiet });
    batches = (await database.query<{ id: string }>('t-many', `insert into batch (id, lot, product_kind, name, created_by_id, created_at)
      select gen_random_uuid(), 'T-' || n, 'hot-smoked', 'Mackerel', (select id from member limit 1), now() from generate_series(1, 700) n returning id`)).map((b) => b.id);
  }, 180_000);
  afterAll(async () => {
    for (const service of services) {
      service.child.kill('SIGTERM');
      await service.exited;
    }
    await database?.close();
    await empty?.drop();
    rmSync(folder, { recursive: true, force: true });
  }, 60_000);

  async function send(method: string, url: string, body: object): Promise<{ status: number; body: any }> {
    const service = services[(next += 1) % services.length]!;
    const answer = await fetch(service.url + url, { method, headers: { cookie, 'content-type': 'application/json', 'idempotency-key': randomUUID() }, body: JSON.stringify(body) });
    return { status: answer.status, body: await answer.json() };
  }
  async function station(name: string, capacity: number): Promise<string> {
    return (await send('POST', '/api/stations', { name, kind: 'refrigerator', capacityUnit: 'grams', capacity })).body.id;
  }
  const booking = (stationId: string, startsAt: number, endsAt: number, amount: number) =>
    ({ stationId, batchId: batches.pop()!, stageKind: 'cure', startsAt: new Date(startsAt).toISOString(), endsAt: new Date(endsAt).toISOString(), amount });
  const rowsOf = (stationId: string) =>
    database.query<Row>('t-rows', `select starts_at as "startsAt", ends_at as "endsAt", amount from slot where station_id = $1 and cancelled_at is null`, [stationId]);

  test('300 bookings at once for 20 places: 20 are taken, 280 are told that it is full, and the load is the capacity', { timeout: 180_000 }, async () => {
    const place = await station('Cold room', 20_000);
    const start = Date.now() + 48 * hour;
    const answers = await Promise.all(Array.from({ length: 300 }, () => send('POST', '/api/slots', booking(place, start, start + 6 * hour, 1000))));
    expect(answers.filter((a) => a.status === 201)).toHaveLength(20);
    expect(answers.filter((a) => a.status === 409 && a.body.code === 'over-booked')).toHaveLength(280);
    const rows = await rowsOf(place);
    expect(rows).toHaveLength(20);
    expect(peak(rows)).toBe(20_000);
  });

  test('200 overlapping bookings of many sizes, and moves among them, never rise above the capacity', { timeout: 180_000 }, async () => {
    const place = await station('Tub shelf', 10_000);
    const start = Date.now() + 96 * hour;
    const spread = (i: number) => start + ((i * 7) % 24) * hour;
    const answers = await Promise.all(Array.from({ length: 200 }, (_, i) => send('POST', '/api/slots', booking(place, spread(i), spread(i) + (1 + (i % 9)) * hour, 500 + ((i * 13) % 30) * 100))));
    expect(answers.every((a) => a.status === 201 || a.body.code === 'over-booked')).toBe(true);
    expect(peak(await rowsOf(place))).toBeLessThanOrEqual(10_000);
    const made = answers.filter((a) => a.status === 201).map((a) => a.body);
    expect(made.length).toBeGreaterThan(10);
    const moves = await Promise.all(made.map((slot) => send('PATCH', `/api/slots/${slot.id}`, { version: 1, startsAt: new Date(start).toISOString(), endsAt: new Date(start + 2 * hour).toISOString() })));
    expect(moves.every((a) => a.status === 200 || a.body.code === 'over-booked')).toBe(true);
    expect(moves.some((a) => a.status === 200) && moves.some((a) => a.status === 409)).toBe(true);
    expect(peak(await rowsOf(place))).toBeLessThanOrEqual(10_000);
  });
});
