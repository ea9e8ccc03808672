import { createHash, randomUUID } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import pg from 'pg';
import { embeddedBackend, openInMemory } from '../../server/platform/database/embedded.ts';
import { migrate, readMigrations } from '../../server/platform/database/migrate.ts';
import { openDatabase, overBackend } from '../../server/platform/database/open.ts';
import type { Database, DatabaseLogger } from '../../server/platform/database/open.ts';

/** Which database the tests run on: a PostgreSQL when TEST_DATABASE_URL names one, else the embedded one in memory. */
export const testDatabaseUrl: string | null = process.env['TEST_DATABASE_URL'] ?? null;

export const quiet: DatabaseLogger = { info() {}, warn() {}, error() {}, fatal() {} };

const require = createRequire(import.meta.url);
const embeddedVersion = (): string => {
  const entry = require.resolve('@electric-sql/pglite');
  return (JSON.parse(readFileSync(entry.replace(/dist.*$/, 'package.json'), 'utf8')) as { version: string }).version;
};

/** Changes with the migrations, so that a template made from others is never used. */
function fingerprint(): string {
  const hash = createHash('sha256').update(embeddedVersion());
  for (const { name, checksum } of readMigrations()) hash.update(`\n${name} ${checksum}`);
  return hash.digest('hex').slice(0, 16);
}

export type FreshDatabase = {
  database: Database;
  /** Closes the database and leaves nothing behind. */
  drop(): Promise<void>;
};

/** A migrated, empty database of its own. */
export async function freshDatabase(): Promise<FreshDatabase> {
  return testDatabaseUrl === null ? freshEmbedded() : freshOnServer(testDatabaseUrl);
}

type Make = () => Promise<FreshDatabase>;

/** For tests of the database itself: the embedded one always, and the PostgreSQL of TEST_DATABASE_URL when there is one. */
export const everyDatabase: [kind: Database['kind'], make: Make][] = [
  ['embedded', freshEmbedded],
  ...(testDatabaseUrl === null ? [] : [['server', () => freshOnServer(testDatabaseUrl)] satisfies [Database['kind'], Make]]),
];

const outputFolder = fileURLToPath(new URL('../output', import.meta.url));
let template: Promise<Blob> | undefined;

export async function freshEmbedded(): Promise<FreshDatabase> {
  template ??= embeddedTemplate();
  const database = overBackend(embeddedBackend(await openInMemory(await template)));
  return { database, drop: () => database.close() };
}

/** Test files run apart from each other, so the migrated template is kept as a file between them. */
async function embeddedTemplate(): Promise<Blob> {
  const file = `${outputFolder}/template-${fingerprint()}.tar`;
  if (!existsSync(file)) {
    const database = await openInMemory();
    await migrate(overBackend(embeddedBackend(database)));
    const dump = await database.dumpDataDir('none');
    await database.close();
    mkdirSync(outputFolder, { recursive: true });
    const draft = `${file}.${randomUUID()}`;
    writeFileSync(draft, new Uint8Array(await dump.arrayBuffer()));
    renameSync(draft, file);
  }
  return new Blob([readFileSync(file)], { type: 'application/x-tar' });
}

function named(url: string, name: string): string {
  const other = new URL(url);
  other.pathname = `/${name}`;
  return other.href;
}

async function onServer<T>(url: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

let serverTemplate: Promise<string> | undefined;

export async function freshOnServer(url: string): Promise<FreshDatabase> {
  serverTemplate ??= templateOnServer(url);
  const source = await serverTemplate;
  const name = `tidelarder_test_${randomUUID().replaceAll('-', '')}`;
  await onServer(url, (client) => client.query(`CREATE DATABASE ${name} TEMPLATE ${source}`));
  const database = await openDatabase({ databaseUrl: named(url, name), dataDir: '', logger: quiet });
  return {
    database,
    async drop() {
      await database.close();
      await drop(url, name);
    },
  };
}

/** An empty database with no migration applied, and its URL. */
export async function emptyOnServer(url: string): Promise<{ url: string; drop(): Promise<void> }> {
  const name = `tidelarder_test_${randomUUID().replaceAll('-', '')}`;
  await onServer(url, (client) => client.query(`CREATE DATABASE ${name} ENCODING 'UTF8' TEMPLATE template0`));
  return { url: named(url, name), drop: () => drop(url, name) };
}

async function drop(url: string, name: string): Promise<void> {
  await onServer(url, (client) => client.query(`DROP DATABASE IF EXISTS ${name} WITH (FORCE)`));
}

/** Made once under another name and renamed when whole; other test processes wait for the lock meanwhile. */
async function templateOnServer(url: string): Promise<string> {
  const name = `tidelarder_template_${fingerprint()}`;
  await onServer(url, async (client) => {
    await client.query('SELECT pg_advisory_lock(20261125)');
    const { rowCount } = await client.query('SELECT 1 FROM pg_database WHERE datname = $1', [name]);
    if (rowCount) return;
    const draft = `${name}_draft`;
    await client.query(`DROP DATABASE IF EXISTS ${draft} WITH (FORCE)`);
    await client.query(`CREATE DATABASE ${draft} ENCODING 'UTF8' TEMPLATE template0`);
    const database = await openDatabase({ databaseUrl: named(url, draft), dataDir: '', logger: quiet });
    try {
      await migrate(database);
    } finally {
      await database.close();
    }
    await client.query(`ALTER DATABASE ${draft} RENAME TO ${name}`);
  });
  return name;
}
