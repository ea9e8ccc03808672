import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { Database } from '../../server/platform/database/open.ts';
import { NestedUseError } from '../../server/platform/database/open.ts';
import { TransactionUndoneError } from '../../server/platform/database/prisma-adapters.ts';
import { everyDatabase } from '../support/database.ts';

const setUp = `
  CREATE TABLE tally (id integer PRIMARY KEY, n integer NOT NULL);
  CREATE TABLE kept (big bigint, day date, at timestamptz, bare timestamp, exact numeric, doc jsonb, days date[], ats timestamptz[], raw bytea, flag boolean)`;

describe.each(everyDatabase)('the %s database', (kind, make) => {
  let database: Database;
  let drop: () => Promise<void>;
  beforeAll(async () => {
    ({ database, drop } = await make());
    await database.admin((connection) => connection.transaction((inner) => inner.exec(setUp)));
  });
  afterAll(() => drop());
  beforeEach(async () => {
    await database.query('', 'DELETE FROM tally');
    await database.query('', 'INSERT INTO tally VALUES (1, 0), (2, 0)');
  });
  const tally = async (id = 1) => (await database.query<{ n: number }>('read-tally', 'SELECT n FROM tally WHERE id = $1', [id]))[0]?.n;

  it('answers, and says which it is', async () => {
    await database.ping();
    expect(database.kind).toBe(kind);
  });

  it('gives the same values by raw statements whichever it is', async () => {
    const at = new Date('2026-03-29T00:59:59.123Z');
    await database.query(
      'keep', 'INSERT INTO kept VALUES ($1, $2, $3, $3::timestamptz::timestamp, $4, $5, $6, $7, $8, $9)',
      [9_007_199_254_740_991n, '2026-03-29', at, '1.50', JSON.stringify({ a: [1] }), ['2026-01-02'], [at], new Uint8Array([1, 255]), true],
    );
    const [row] = await database.query('read-kept', 'SELECT *, count(*) OVER () AS rows, 9007199254740993 AS huge FROM kept');
    expect(row).toEqual({
      big: 9_007_199_254_740_991, day: '2026-03-29', at, bare: at, exact: '1.50', doc: { a: [1] }, days: ['2026-01-02'], ats: [at],
      raw: expect.anything(), flag: true, rows: 1, huge: 9_007_199_254_740_993n,
    });
    expect([...(row?.['raw'] as Uint8Array)]).toEqual([1, 255]);
    const stored = await database.query('', `SELECT to_char(at AT TIME ZONE 'UTC', 'YYYY-MM-DD HH24:MI:SS.MS') AS text FROM kept`);
    expect(stored).toEqual([{ text: '2026-03-29 00:59:59.123' }]);
    await expect(database.query('', 'SELECT $1::jsonb', [{ a: 1 } as never])).rejects.toThrow('JSON.stringify');
  });

  it('keeps instants that Prisma writes and reads, whatever the zone of the server', async () => {
    const createdAt = new Date('2026-07-01T22:30:00.250Z');
    const boat = await database.prisma.boat.create({ data: { name: 'Zone', createdAt } });
    expect((await database.prisma.boat.findUniqueOrThrow({ where: { id: boat.id } })).createdAt).toEqual(createdAt);
    expect(await database.query('', 'SELECT created_at FROM boat WHERE id = $1', [boat.id])).toEqual([{ created_at: createdAt }]);
  });

  it('finishes 64 transactions at once, raw and through Prisma, and loses none', async () => {
    const bump = 'UPDATE tally SET n = n + 1 WHERE id = 1';
    const runs = Array.from({ length: 64 }, (_, i) =>
      i % 2 === 0
        ? database.transaction(async (tx) => { await tx.$executeRawUnsafe(bump); await tx.boat.count(); })
        : database.rawTransaction(async (query) => { await query('bump', bump); await query('look', 'SELECT 1'); }));
    const reads = Array.from({ length: 16 }, () => database.prisma.boat.count());
    await Promise.all([...runs, ...reads]);
    expect(await tally()).toBe(64);
  });

  it('shows nothing of a transaction to a statement outside it before its end', async () => {
    const [begun, read] = [Promise.withResolvers<void>(), Promise.withResolvers<void>()];
    let over = false;
    const change = database.transaction(async (tx) => {
      await tx.$executeRawUnsafe('UPDATE tally SET n = 5 WHERE id = 1');
      begun.resolve();
      await read.promise;
      over = true;
      await tx.$executeRawUnsafe('UPDATE tally SET n = 6 WHERE id = 1');
    });
    await begun.promise;
    // A server answers at once with what was there before; the embedded database waits for the end.
    const seen = tally().then((n) => ({ n, over }));
    if (kind === 'server') expect(await seen).toEqual({ n: 0, over: false });
    else await pause(150);
    read.resolve();
    if (kind === 'embedded') expect(await seen).toEqual({ n: 6, over: true });
    await change;
    expect(await tally()).toBe(6);
  });

  it('undoes everything when the work rejects', async () => {
    const change = 'UPDATE tally SET n = 9';
    await expect(database.transaction(async (tx) => { await tx.$executeRawUnsafe(change); throw new Error('no'); })).rejects.toThrow('no');
    await expect(database.rawTransaction(async (query) => { await query('nine', change); throw new Error('no'); })).rejects.toThrow('no');
    expect(await tally()).toBe(0);
  });

  it('undoes a transaction that takes too long, and goes on', async () => {
    const change = 'UPDATE tally SET n = 9';
    const slow = async (run: Promise<unknown>) => { await run; await pause(400); };
    await expect(database.transaction((tx) => slow(tx.$executeRawUnsafe(change)), { timeoutMs: 100 })).rejects.toThrow();
    await expect(database.rawTransaction((query) => slow(query('nine', change)), { timeoutMs: 100 })).rejects.toThrow('100 ms');
    expect(await tally()).toBe(0);
    await database.transaction((tx) => tx.$executeRawUnsafe('UPDATE tally SET n = 3'));
    expect(await tally()).toBe(3);
  });

  it('does not call committed what it undid because a failed statement was passed over', async () => {
    const wrong = 'SELECT 1 / 0';
    await expect(database.transaction(async (tx) => {
      await tx.$executeRawUnsafe('UPDATE tally SET n = 9');
      await tx.$queryRawUnsafe(wrong).catch(() => {});
    })).rejects.toThrow(TransactionUndoneError);
    await expect(database.rawTransaction(async (query) => {
      await query('nine', 'UPDATE tally SET n = 9');
      await query('wrong', wrong).catch(() => {});
    })).rejects.toThrow(TransactionUndoneError);
    expect(await tally()).toBe(0);
    await database.ping();
  });

  it('refuses to be used from inside a transaction, where it would wait for itself', async () => {
    const uses: (() => Promise<unknown>)[] = [
      () => database.ping(), () => database.query('', 'SELECT 1'),
      () => database.transaction(async () => {}), () => database.rawTransaction(async () => {}),
    ];
    for (const use of uses) {
      await expect(database.transaction(use)).rejects.toThrow(NestedUseError);
      await expect(database.rawTransaction(use)).rejects.toThrow(NestedUseError);
    }
    await database.ping();
  });

  it('runs work that met another change again', async () => {
    let [attempts, reads] = [0, 0];
    const bothRead = Promise.withResolvers<void>();
    const serializable = { isolationLevel: 'Serializable' as const };
    const both = Array.from({ length: 2 }, () =>
      database.transaction(async (tx) => {
        attempts += 1;
        const [row] = await tx.$queryRawUnsafe<{ n: number }[]>('SELECT n FROM tally WHERE id = 1');
        // The embedded database begins one after the other is over; on a server neither writes before both have read.
        if (kind === 'embedded' || (reads += 1) > 1) bothRead.resolve();
        await bothRead.promise;
        await tx.$executeRawUnsafe('UPDATE tally SET n = $1 WHERE id = 1', (row?.n ?? 0) + 1);
      }, serializable));
    await Promise.all(both);
    expect(await tally()).toBe(2);
    expect(attempts).toBe(kind === 'embedded' ? 2 : 3);
  });

  it('runs the one again that the server ends to undo a deadlock', async () => {
    let held = 0;
    const bothHold = Promise.withResolvers<void>();
    const cross = (first: number, second: number) =>
      database.rawTransaction(async (query) => {
        await query('cross', 'UPDATE tally SET n = n + 1 WHERE id = $1', [first]);
        if (kind === 'embedded' || (held += 1) > 1) bothHold.resolve();
        await bothHold.promise;
        await query('cross', 'UPDATE tally SET n = n + 1 WHERE id = $1', [second]);
      });
    await Promise.all([cross(1, 2), cross(2, 1)]);
    expect([await tally(1), await tally(2)]).toEqual([2, 2]);
  });
});
