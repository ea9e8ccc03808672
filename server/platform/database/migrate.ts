import { createHash, randomUUID } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import type { AdminConnection, Database, DatabaseLogger } from './open.ts';

export const migrationsFolder: string = fileURLToPath(new URL('../../../prisma/migrations', import.meta.url));

export type Migration = { name: string; script: string; checksum: string };

export class MigrationError extends Error {
  override name = 'MigrationError';
}

/** As `prisma migrate` computes it. */
export function checksumOf(script: string): string {
  return createHash('sha256').update(script).digest('hex');
}

export function readMigrations(folder: string = migrationsFolder): Migration[] {
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => ({ name: entry.name, file: path.join(folder, entry.name, 'migration.sql') }))
    .filter(({ file }) => existsSync(file))
    .map(({ name, file }) => {
      const script = readFileSync(file, 'utf8');
      return { name, script, checksum: checksumOf(script) };
    })
    .sort((a, b) => (a.name < b.name ? -1 : 1));
}

/** The table that `prisma migrate` makes, column for column, so that either may go on where the other left off. */
const tableSql = `CREATE TABLE "_prisma_migrations" (
  "id" VARCHAR(36) PRIMARY KEY NOT NULL,
  "checksum" VARCHAR(64) NOT NULL,
  "finished_at" TIMESTAMPTZ,
  "migration_name" VARCHAR(255) NOT NULL,
  "logs" TEXT,
  "rolled_back_at" TIMESTAMPTZ,
  "started_at" TIMESTAMPTZ NOT NULL DEFAULT now(),
  "applied_steps_count" INTEGER NOT NULL DEFAULT 0
)`;

type Row = { name: string; checksum: string; finished: boolean };

export type MigrateOptions = { logger?: DatabaseLogger; folder?: string };

/** Brings the database to the newest migration. Safe to run from several processes at once, and again. */
export async function migrate(database: Database, { logger, folder }: MigrateOptions = {}): Promise<{ applied: string[] }> {
  const migrations = readMigrations(folder);
  return database.admin(async (connection) => {
    const rows = await readRows(connection);
    const waiting = pending(migrations, rows);
    for (const migration of waiting) {
      await apply(connection, migration);
      logger?.info({ migration: migration.name }, 'Migrated the database.');
    }
    return { applied: waiting.map(({ name }) => name) };
  });
}

async function readRows(connection: AdminConnection): Promise<Row[]> {
  const [found] = await connection.query<{ table: string | null; others: number }>(
    `SELECT to_regclass('_prisma_migrations')::text AS "table",
       (SELECT count(*) FROM pg_class WHERE relnamespace = current_schema()::regnamespace AND relkind IN ('r', 'p', 'v', 'm')) AS others`,
  );
  if (found?.table) {
    return connection.query<Row>(
      `SELECT migration_name AS name, checksum, finished_at IS NOT NULL AS finished
       FROM "_prisma_migrations" WHERE rolled_back_at IS NULL ORDER BY started_at`,
    );
  }
  if (found && found.others > 0) {
    throw new MigrationError(
      `The database holds ${found.others} tables or views that are not of this program. Name an empty database in DATABASE_URL.`,
    );
  }
  await connection.transaction((inner) => inner.exec(tableSql));
  return [];
}

/** The migrations still to apply; throws when the rows and the files tell different stories. */
function pending(migrations: Migration[], rows: Row[]): Migration[] {
  const known = new Map(migrations.map((migration) => [migration.name, migration]));
  for (const row of rows) {
    const migration = known.get(row.name);
    if (!migration) {
      throw new MigrationError(
        `The database has the migration ${row.name}, which this version does not know: a newer version has used it. ` +
          'Run that version or a newer one, or restore a backup from before it.',
      );
    }
    if (!row.finished) {
      throw new MigrationError(
        `The migration ${row.name} was begun by another tool and did not finish. ` +
          'Set the database right by hand or from a backup, then settle it with "prisma migrate resolve".',
      );
    }
    if (!sameText(migration, row.checksum)) {
      throw new MigrationError(
        `The migration ${row.name} has other text than when it was applied (checksum ${row.checksum} in the database, ${migration.checksum} in the file). ` +
          'Restore the file as it was, and put the change into a new migration.',
      );
    }
  }
  const done = new Set(rows.map((row) => row.name));
  return migrations.filter(({ name }) => !done.has(name));
}

/** A checkout may have turned the line ends; that is no change. */
function sameText({ script, checksum }: Migration, applied: string): boolean {
  const unix = script.replaceAll('\r\n', '\n');
  return applied === checksum || applied === checksumOf(unix) || applied === checksumOf(unix.replaceAll('\n', '\r\n'));
}

async function apply(connection: AdminConnection, { name, script, checksum }: Migration): Promise<void> {
  try {
    await connection.transaction(async (inner) => {
      const started = await inner.query<{ at: Date }>('SELECT clock_timestamp() AS at');
      await inner.exec(script);
      await inner.query(
        `INSERT INTO "_prisma_migrations" (id, checksum, migration_name, started_at, finished_at, applied_steps_count)
         VALUES ($1, $2, $3, $4::timestamptz, clock_timestamp(), 1)`,
        [randomUUID(), checksum, name, started[0]?.at],
      );
    });
  } catch (error) {
    throw new MigrationError(`The migration ${name} failed and was undone whole: ${placed(error, script)}`, { cause: error });
  }
}

/** The message with the line of the script, which PostgreSQL gives as a count of characters. */
function placed(error: unknown, script: string): string {
  const { message, position } = error as { message: string; position?: string };
  if (!position) return message;
  return `${message} (line ${script.slice(0, Number(position)).split('\n').length})`;
}
