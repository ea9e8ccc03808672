import pg from 'pg';
import type { Backend, DatabaseLogger, RawQuery } from './backend.ts';
import { serverAdapter, TransactionUndoneError } from './prisma-adapters.ts';
import { pgTypes, toParameter } from './values.ts';

/** The number under which Prisma's own migration command takes its lock: whoever migrates, the others wait. */
const migrationLock = 72_707_369;
const oldestVersion = 15;

/**
 * Instants cross the wire as text: outside UTC, Prisma's adapter would read and write them hours off. A statement or an
 * idle transaction that never ends would hold its locks for good. Every statement here is short: compiling one would take
 * a hundred times as long as running it, and a recursive one looks dear enough to the planner to be compiled. A club's
 * records fit in memory: at the usual price of a page looked up, the planner reads all members through for each name.
 */
const session = `
  SET TIME ZONE 'UTC';
  SET default_transaction_isolation = 'read committed';
  SET statement_timeout = '30s';
  SET idle_in_transaction_session_timeout = '60s';
  SET jit = off;
  SET random_page_cost = 1.1`;

export class DatabaseUnusableError extends Error {
  override name = 'DatabaseUnusableError';
}

export type ServerOptions = { databaseUrl: string; logger: DatabaseLogger; connections?: number };

export async function serverBackend({ databaseUrl, logger, connections = 20 }: ServerOptions): Promise<Backend> {
  refuseSchema(databaseUrl);
  const pool = new pg.Pool({
    connectionString: databaseUrl,
    max: connections,
    connectionTimeoutMillis: 20_000,
    application_name: 'tidelarder',
    types: pgTypes,
    onConnect: async (client: pg.ClientBase) => { await client.query(session); },
  } as pg.PoolConfig);
  // Without a listener the loss of an idle connection would end the process; the pool replaces it by itself.
  pool.on('error', (error) => logger.warn({ err: error }, 'A connection to the database was lost.'));
  try {
    await checkServer(pool);
  } catch (error) {
    await pool.end();
    throw error;
  }
  return {
    kind: 'server',
    adapter: serverAdapter(pool),
    query: rawQuery(pool),
    rawTransaction: (work) => onOneConnection(pool, (client) => inTransaction(client, () => work(rawQuery(client)))),
    admin: (work) => onOneConnection(pool, (client) => locked(client, () => work(adminConnection(client)))),
    close: () => pool.end(),
  };
}

function refuseSchema(databaseUrl: string): void {
  const schema = new URL(databaseUrl).searchParams.get('schema');
  if (schema === null) return;
  throw new DatabaseUnusableError(
    `DATABASE_URL has schema=${schema}, which is not followed: tables go where the user's search path says. ` +
      'Take it out, and for another schema set the search path of the database user.',
  );
}

async function checkServer(pool: pg.Pool): Promise<void> {
  const { rows } = await pool.query<{ version: string; encoding: string; zone: string }>(
    `SELECT current_setting('server_version_num') AS version, current_setting('server_encoding') AS encoding, current_setting('TimeZone') AS zone`,
  ).catch((error: unknown) => {
    throw new DatabaseUnusableError(
      `The database named by DATABASE_URL cannot be reached: ${(error as Error).message || String((error as { code?: string }).code)}. ` +
        'Check that it runs, and the host, port, user, password and name in DATABASE_URL.',
      { cause: error },
    );
  });
  const found = rows[0];
  const version = Math.floor(Number(found?.version) / 10_000);
  if (version < oldestVersion) {
    throw new DatabaseUnusableError(`The database is PostgreSQL ${version}. PostgreSQL ${oldestVersion} or newer is needed.`);
  }
  if (found?.encoding !== 'UTF8') {
    throw new DatabaseUnusableError(`The database stores text as ${found?.encoding}. Make one with ENCODING 'UTF8'.`);
  }
  if (found.zone !== 'UTC') {
    throw new DatabaseUnusableError(`The connection is in the time zone ${found.zone} although UTC was set. A connection pooler in between must keep session settings.`);
  }
}

function rawQuery(on: pg.Pool | pg.PoolClient): RawQuery {
  return async <T>(name: string, text: string, params: readonly unknown[] = []) =>
    (await on.query({ ...(name ? { name } : {}), text, values: params.map(toParameter) })).rows as T[];
}

async function onOneConnection<T>(pool: pg.Pool, work: (client: pg.PoolClient) => Promise<T>): Promise<T> {
  const client = await pool.connect();
  let broken: Error | undefined;
  const lost = (error: Error) => { broken = error; };
  client.on('error', lost);
  try {
    return await work(client);
  } catch (error) {
    if (error instanceof BrokenConnection) {
      broken = error;
      throw error.cause;
    }
    throw error;
  } finally {
    client.off('error', lost);
    client.release(broken);
  }
}

/** The connection may be in any state and must not go back to the pool. */
class BrokenConnection extends Error {}

async function inTransaction<T>(client: pg.PoolClient, work: () => Promise<T>): Promise<T> {
  await client.query('BEGIN');
  let result: T;
  try {
    result = await work();
  } catch (error) {
    await client.query('ROLLBACK').catch(() => { throw new BrokenConnection('', { cause: error }); });
    throw error;
  }
  const ended = await client.query('COMMIT');
  if (ended.command !== 'COMMIT') throw new TransactionUndoneError();
  return result;
}

async function locked<T>(client: pg.PoolClient, work: () => Promise<T>): Promise<T> {
  await client.query('SET statement_timeout = 0');
  await client.query('SELECT pg_advisory_lock($1)', [migrationLock]);
  try {
    return await work();
  } finally {
    await client.query('SELECT pg_advisory_unlock($1)', [migrationLock]);
    await client.query(session);
  }
}

function adminConnection(client: pg.PoolClient) {
  const query = <T>(text: string, params?: readonly unknown[]) => rawQuery(client)<T>('', text, params as []);
  return {
    query,
    transaction: <T>(inside: (inner: { query: typeof query; exec(script: string): Promise<void> }) => Promise<T>) =>
      inTransaction(client, () => inside({ query, exec: async (script) => { await client.query(script); } })),
  };
}
