import { AsyncLocalStorage } from 'node:async_hooks';
import { setTimeout as pause } from 'node:timers/promises';
import { PrismaClient } from '../prisma-client/client.ts';
import type { Prisma } from '../prisma-client/client.ts';
import type { AdminConnection, Backend, DatabaseLogger, RawQuery } from './backend.ts';
import { isWorthRetrying } from './constraint-errors.ts';
import { embeddedInFolder } from './embedded.ts';
import { serverBackend } from './server.ts';

export type { AdminConnection, DatabaseLogger, RawQuery } from './backend.ts';
export type { Parameter } from './values.ts';
/** Prisma inside a transaction. */
export type Tx = Prisma.TransactionClient;

export type TransactionOptions = {
  isolationLevel?: Prisma.TransactionIsolationLevel;
  /** How long the transaction may take once it has begun. */
  timeoutMs?: number;
};

export type Database = {
  kind: 'embedded' | 'server';
  prisma: PrismaClient;
  /** A prepared statement past Prisma, for hot paths. */
  query: RawQuery;
  /** Runs work again from its start when the database puts another change first, so it must have no other effects. */
  transaction<T>(work: (tx: Tx) => Promise<T>, options?: TransactionOptions): Promise<T>;
  /** The same on one raw connection with prepared statements, for hot paths. */
  rawTransaction<T>(work: (query: RawQuery) => Promise<T>, options?: Pick<TransactionOptions, 'timeoutMs'>): Promise<T>;
  /** For the migration runner alone. */
  admin<T>(work: (connection: AdminConnection) => Promise<T>): Promise<T>;
  ping(): Promise<void>;
  close(): Promise<void>;
};

export class NestedUseError extends Error {
  override name = 'NestedUseError';
  constructor(what: string) {
    super(`database.${what} was called inside a transaction. Use what the transaction hands in: the embedded database has one connection, and would wait for itself.`);
  }
}

const maxWaitMs = 20_000;
const timeoutMs = 15_000;
/** Waits between attempts when two changes met, in milliseconds. */
const retryAfterMs = [5, 20, 80, 200];

export type OpenOptions = { databaseUrl: string | null; dataDir: string; logger: DatabaseLogger };

/** Opens the server that the URL names, or without one the embedded database in the data folder. Does not migrate. */
export async function openDatabase({ databaseUrl, dataDir, logger }: OpenOptions): Promise<Database> {
  return overBackend(databaseUrl === null ? await embeddedInFolder({ dataDir, logger }) : await serverBackend({ databaseUrl, logger }));
}

export function overBackend(backend: Backend): Database {
  const prisma = new PrismaClient({ adapter: backend.adapter, transactionOptions: { maxWait: maxWaitMs, timeout: timeoutMs } });
  const inside = new AsyncLocalStorage<{ open: boolean }>();

  function outside<T>(what: string, run: () => Promise<T>): Promise<T> {
    return inside.getStore()?.open ? Promise.reject(new NestedUseError(what)) : run();
  }

  /** Marks everything that work starts, until it has ended, as being inside the transaction. */
  function marked<A, T>(work: (argument: A) => Promise<T>): (argument: A) => Promise<T> {
    return (argument) => {
      const mark = { open: true };
      return inside.run(mark, async () => {
        try {
          return await work(argument);
        } finally {
          mark.open = false;
        }
      });
    };
  }

  return {
    kind: backend.kind,
    prisma,
    query: (name, text, params) => outside('query', () => backend.query(name, text, params)),
    transaction: (work, options = {}) =>
      outside('transaction', () =>
        retried(() =>
          prisma.$transaction(marked(work), {
            maxWait: maxWaitMs,
            timeout: options.timeoutMs ?? timeoutMs,
            ...(options.isolationLevel ? { isolationLevel: options.isolationLevel } : {}),
          }),
        ),
      ),
    rawTransaction: (work, options = {}) =>
      outside('rawTransaction', () => retried(() => backend.rawTransaction(marked((query: RawQuery) => limited(query, work, options.timeoutMs ?? timeoutMs))))),
    admin: (work) => outside('admin', () => backend.admin(work)),
    ping: () => outside('ping', async () => { await backend.query('ping', 'SELECT 1'); }),
    close: async () => {
      await prisma.$disconnect();
      await backend.close();
    },
  };
}

async function retried<T>(attempt: () => Promise<T>): Promise<T> {
  for (const waitMs of retryAfterMs) {
    try {
      return await attempt();
    } catch (error) {
      if (!isWorthRetrying(error)) throw error;
      await pause(waitMs);
    }
  }
  return attempt();
}

/** A raw transaction that never ended would hold its locks, and the embedded database, for good. */
async function limited<T>(query: RawQuery, work: (query: RawQuery) => Promise<T>, ms: number): Promise<T> {
  const late = Promise.withResolvers<never>();
  let over = false;
  const timer = setTimeout(() => {
    late.reject(new Error(`The transaction took longer than ${ms} ms and was undone.`));
  }, ms);
  const open: RawQuery = (name, text, params) =>
    over ? Promise.reject(new Error('This transaction has ended; its statements must be awaited inside it.')) : query(name, text, params);
  try {
    return await Promise.race([work(open), late.promise]);
  } finally {
    over = true;
    clearTimeout(timer);
  }
}
