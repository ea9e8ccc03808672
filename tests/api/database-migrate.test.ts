import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { embeddedBackend, openBlank } from '../../server/platform/database/embedded.ts';
import { checksumOf, migrate, MigrationError, readMigrations } from '../../server/platform/database/migrate.ts';
import { openDatabase, overBackend } from '../../server/platform/database/open.ts';
import type { Database } from '../../server/platform/database/open.ts';
import { emptyOnServer, quiet, testDatabaseUrl } from '../support/database.ts';

type Empty = { database: Database; another(): Promise<Database>; drop(): Promise<void> };

async function embedded(): Promise<Empty> {
  const database = overBackend(embeddedBackend(await openBlank()));
  // One process holds the embedded database, so a second starter is the same one.
  return { database, another: async () => database, drop: () => database.close() };
}

async function onServer(): Promise<Empty> {
  const { url, drop } = await emptyOnServer(testDatabaseUrl ?? '');
  const opened: Database[] = [];
  const another = async () => {
    const database = await openDatabase({ databaseUrl: url, dataDir: '', logger: quiet });
    opened.push(database);
    return database;
  };
  return { database: await another(), another, drop: async () => { await Promise.all(opened.map((one) => one.close())); await drop(); } };
}

const kinds: [string, () => Promise<Empty>][] = [['embedded', embedded], ...(testDatabaseUrl === null ? [] : [['server', onServer] satisfies [string, () => Promise<Empty>]])];

describe.each(kinds)('migrating the %s database', (_kind, make) => {
  let empty: Empty;
  let database: Database;
  let folder: string;
  beforeEach(async () => {
    empty = await make();
    database = empty.database;
    folder = mkdtempSync(path.join(tmpdir(), 'tidelarder-migrations-'));
    write('20260101000000_one', 'CREATE TABLE one (id integer PRIMARY KEY);\nINSERT INTO one VALUES (1);\n');
    write('20260102000000_two', `CREATE TABLE two (id integer PRIMARY KEY);\n`);
  });
  afterEach(async () => {
    await empty.drop();
    rmSync(folder, { recursive: true });
  });

  function write(name: string, script: string): void {
    mkdirSync(path.join(folder, name), { recursive: true });
    writeFileSync(path.join(folder, name, 'migration.sql'), script);
  }
  const rows = () => database.query<{ name: string; checksum: string; steps: number; whole: boolean }>(
    '',
    `SELECT migration_name AS name, checksum, applied_steps_count AS steps, finished_at >= started_at AND rolled_back_at IS NULL AND length(id) = 36 AS whole
     FROM _prisma_migrations ORDER BY started_at`,
  );
  const run = (): Promise<unknown> => migrate(database, { folder });

  it('applies each migration once, in order, and writes the rows that prisma migrate writes', async () => {
    expect(await run()).toEqual({ applied: ['20260101000000_one', '20260102000000_two'] });
    expect(await run()).toEqual({ applied: [] });
    const two = 'CREATE TABLE two (id integer PRIMARY KEY);\n';
    expect((await rows())[1]).toEqual({ name: '20260102000000_two', checksum: checksumOf(two), steps: 1, whole: true });
    write('20260103000000_three', 'INSERT INTO one VALUES (3)');
    expect(await run()).toEqual({ applied: ['20260103000000_three'] });
    expect(await rows()).toHaveLength(3);
  });

  it('is applied once when several begin at the same time', async () => {
    write('20260103000000_slow', 'SELECT pg_sleep(0.2); INSERT INTO one VALUES (3)');
    const starters = await Promise.all([empty.another(), empty.another(), empty.another()]);
    const applied = _kind === 'embedded' ? [await run(), await run()] : await Promise.all(starters.map((one) => migrate(one, { folder })));
    expect(applied.flatMap((answer) => (answer as { applied: string[] }).applied).sort()).toEqual(readMigrations(folder).map(({ name }) => name));
    expect(await rows()).toHaveLength(3);
  });

  it('leaves nothing of a migration that fails, names it and the line, and goes on once it is mended', async () => {
    write('20260103000000_bad', 'CREATE TABLE half (id integer);\n\nINSERT INTO nowhere VALUES (1);\n');
    await expect(run()).rejects.toThrow(/20260103000000_bad failed and was undone whole: .*nowhere.*\(line 3\)/);
    expect(await database.query('', `SELECT to_regclass('half')::text AS half`)).toEqual([{ half: null }]);
    expect(await rows()).toHaveLength(2);
    write('20260103000000_bad', 'CREATE TABLE half (id integer);');
    expect(await run()).toEqual({ applied: ['20260103000000_bad'] });
  });

  it('refuses text that changed after it was applied, but not turned line ends', async () => {
    await run();
    write('20260101000000_one', 'CREATE TABLE one (id integer PRIMARY KEY);\r\nINSERT INTO one VALUES (1);\r\n');
    expect(await run()).toEqual({ applied: [] });
    write('20260101000000_one', 'CREATE TABLE one (id integer PRIMARY KEY);\nINSERT INTO one VALUES (2);\n');
    write('20260103000000_three', 'CREATE TABLE three (id integer)');
    await expect(run()).rejects.toThrow(/20260101000000_one has other text .* Restore the file/s);
    expect(await rows()).toHaveLength(2);
  });

  it('refuses a database that a newer version has used', async () => {
    await run();
    rmSync(path.join(folder, '20260102000000_two'), { recursive: true });
    await expect(run()).rejects.toThrow(/20260102000000_two, which this version does not know.*newer/s);
  });

  it('refuses one where another tool left a migration unfinished, and overlooks one that was rolled back', async () => {
    await run();
    await database.query('', 'UPDATE _prisma_migrations SET finished_at = NULL WHERE migration_name = $1', ['20260102000000_two']);
    await expect(run()).rejects.toThrow(/20260102000000_two was begun .*prisma migrate resolve/s);
    await database.query('', 'UPDATE _prisma_migrations SET rolled_back_at = now() WHERE migration_name = $1', ['20260102000000_two']);
    await database.query('', 'DROP TABLE two');
    expect(await run()).toEqual({ applied: ['20260102000000_two'] });
  });

  it('refuses a database that holds something else', async () => {
    await database.query('', 'CREATE TABLE elsewhere (id integer)');
    await expect(run()).rejects.toThrow(MigrationError);
    await expect(run()).rejects.toThrow('holds 1 tables or views that are not of this program');
  });

  it('applies the real migrations', async () => {
    expect((await migrate(database)).applied).toEqual(readMigrations().map(({ name }) => name));
    expect(await database.prisma.club.count()).toBe(0);
  });
});
