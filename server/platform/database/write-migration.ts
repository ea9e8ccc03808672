import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { migrationsFolder, readMigrations } from './migrate.ts';
import type { Migration } from './migrate.ts';
import { schemaDiff } from './schema-diff.ts';

/**
 * npm run migration -- <name>: writes the difference between the migrations and prisma/schema.prisma as a new migration.
 * Read it before committing it: renames come out as drop and add, and rules that Prisma cannot express are added by hand.
 */
export const schemaFile: string = fileURLToPath(new URL('../../../prisma/schema.prisma', import.meta.url));

/** The folder's name: the time in UTC to the second, then the name. It must sort behind the migrations there are. */
export function migrationName(name: string, now: Date, existing: readonly Pick<Migration, 'name'>[]): string {
  if (!/^[a-z][a-z0-9_]{0,60}$/.test(name)) {
    throw new Error(`"${name}" cannot name a migration. Use small letters, digits and _, starting with a letter, such as add_tide_table.`);
  }
  const full = `${now.toISOString().replace(/\D/g, '').slice(0, 14)}_${name}`;
  const last = existing.at(-1)?.name;
  if (last !== undefined && last >= full) {
    throw new Error(`The new migration ${full} would sort before ${last}. Check the clock of this machine.`);
  }
  return full;
}

async function main(name: string | undefined): Promise<void> {
  if (!name) throw new Error('Give the migration a name: npm run migration -- add_tide_table');
  const existing = readMigrations();
  const full = migrationName(name, new Date(), existing);
  const script = await schemaDiff(existing, readFileSync(schemaFile, 'utf8'));
  if (!script) {
    console.log('The migrations and prisma/schema.prisma agree: nothing to write.');
    return;
  }
  const folder = path.join(migrationsFolder, full);
  mkdirSync(folder);
  writeFileSync(path.join(folder, 'migration.sql'), script, { flag: 'wx' });
  console.log(`Wrote ${path.relative(process.cwd(), folder)}/migration.sql. Read it, then start the service to apply it.`);
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  await main(process.argv[2]).catch((error: unknown) => {
    console.error((error as Error).message);
    process.exitCode = 1;
  });
}
