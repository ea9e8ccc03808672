import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { embeddedBackend, openBlank } from '../../server/platform/database/embedded.ts';
import { checksumOf, migrate, readMigrations } from '../../server/platform/database/migrate.ts';
import { overBackend } from '../../server/platform/database/open.ts';
import { embeddedAdapter } from '../../server/platform/database/prisma-adapters.ts';
import { asList, schemaDiff, withEngine } from '../../server/platform/database/schema-diff.ts';
import { migrationName, schemaFile } from '../../server/platform/database/write-migration.ts';

// The engine works through all migrations in new databases several times; a busy machine needs its time for that.
const patience = { timeout: 180_000 };

describe('the migrations and the schema', patience, () => {
  const schema = readFileSync(schemaFile, 'utf8');

  it('agree, in everything that Prisma can express', async () => {
    expect(await schemaDiff(readMigrations(), schema)).toBe('');
  });

  it('are told apart when the schema has a column more, or the migrations a table more', async () => {
    const wider = schema.replace('model Club {', 'model Club {\n  motto String?');
    expect(wider).not.toBe(schema);
    expect(await schemaDiff(readMigrations(), wider)).toContain('ALTER TABLE "club" ADD COLUMN     "motto" TEXT');
    const extra = { name: '29990101000000_extra', script: 'CREATE TABLE extra (id integer PRIMARY KEY);', checksum: '' };
    expect(await schemaDiff([...readMigrations(), extra], schema)).toContain('DROP TABLE "extra"');
  });

  it('say what is wrong with a migration that does not apply', async () => {
    await expect(schemaDiff([{ name: '20260101000000_typo', script: 'CREATE TABL x ();', checksum: '' }], schema)).rejects.toThrow('syntax error at or near "TABL"');
  });
});

describe("Prisma's own migration engine", patience, () => {
  const script = 'CREATE TABLE late (id integer PRIMARY KEY);';
  const late = { name: '29990101000000_late', script, checksum: checksumOf(script) };

  it('goes on where our runner left off, and our runner where it left off', async () => {
    const memory = await openBlank();
    const database = overBackend(embeddedBackend(memory));
    const apply = (migrations: Parameters<typeof asList>[0]) =>
      withEngine(() => embeddedAdapter(memory).connect(), (engine) =>
        engine.applyMigrations({ migrationsList: asList(migrations), filters: { externalTables: [], externalEnums: [] } }));
    await migrate(database);
    expect((await apply(readMigrations())).appliedMigrationNames).toEqual([]);
    expect((await apply([...readMigrations(), late])).appliedMigrationNames).toEqual([late.name]);
    // Its row is one that we read: known by name and sum, and newer than the files we have.
    expect(await database.query('', 'SELECT checksum FROM _prisma_migrations WHERE migration_name = $1', [late.name])).toEqual([{ checksum: late.checksum }]);
    await expect(migrate(database)).rejects.toThrow(late.name);
    await database.query('', 'DELETE FROM _prisma_migrations WHERE migration_name = $1', [late.name]);
    expect(await migrate(database)).toEqual({ applied: [] });
    await database.close();
  });
});

describe('the name of a new migration', () => {
  const now = new Date('2026-12-01T08:09:10.999Z');

  it('is the time and the given name', () => {
    expect(migrationName('add_tide_table', now, [{ name: '20261125000000_first' }])).toBe('20261201080910_add_tide_table');
  });

  it('is refused when it is no plain name or would not sort last', () => {
    for (const name of ['Add', '../x', 'a b', '1st', '']) expect(() => migrationName(name, now, [])).toThrow('cannot name a migration');
    expect(() => migrationName('late', now, [{ name: '20270101000000_later' }])).toThrow('Check the clock');
  });
});
