import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readMigrations } from '../../server/platform/database/migrate.ts';
import { schemaDiff } from '../../server/platform/database/schema-diff.ts';
import { migrationName, schemaFile } from '../../server/platform/database/write-migration.ts';

describe('the migrations and the schema', () => {
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
