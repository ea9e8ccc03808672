import { TransactionAbortedError } from '@electric-sql/pglite';
import type { PGlite, Transaction as PGliteTransaction } from '@electric-sql/pglite';
import { PrismaPg } from '@prisma/adapter-pg';
import type { SqlDriverAdapter, SqlDriverAdapterFactory, SqlQueryable, Transaction } from '@prisma/driver-adapter-utils';
import { PrismaPGlite } from 'pglite-prisma-adapter';
import type pg from 'pg';
import { rememberOriginal } from './constraint-errors.ts';

/** A transaction in which a statement failed can only be undone; saying that it was committed would be a lie. */
export class TransactionUndoneError extends Error {
  override name = 'TransactionUndoneError';
  constructor() {
    super('A statement of this transaction failed and the failure was passed over, so the database undid all of it.');
  }
}

type Hooked = { onError?: (error: unknown) => unknown };

/** Both adapters pass every error of the database through onError; this keeps the original beside the translation. */
function keepOriginals(queryable: SqlQueryable, failed?: () => void): void {
  const hooked = queryable as Hooked;
  const translate = hooked.onError;
  if (typeof translate !== 'function') {
    throw new TypeError(`The Prisma adapter ${queryable.adapterName} has no onError any more; prisma-adapters.ts must be fitted to its version.`);
  }
  hooked.onError = (error) => {
    failed?.();
    try {
      translate.call(queryable, error);
    } catch (translated) {
      rememberOriginal(translated, error);
      throw translated;
    }
    throw error;
  };
}

function translated(queryable: SqlQueryable, error: unknown): unknown {
  if (error instanceof TransactionAbortedError) return new TransactionUndoneError();
  try {
    (queryable as Hooked).onError?.(error);
  } catch (thrown) {
    return thrown;
  }
  return error;
}

/** PostgreSQL answers COMMIT of a failed transaction with a quiet ROLLBACK, which Prisma does not look at. */
function refuseQuietRollback(transaction: Transaction): Transaction {
  let failed = false;
  keepOriginals(transaction, () => { failed = true; });
  const execute = transaction.executeRaw.bind(transaction);
  transaction.executeRaw = async (query) => {
    const count = await execute(query);
    if (query.sql === 'COMMIT' && failed) throw new TransactionUndoneError();
    return count;
  };
  const back = transaction.rollbackToSavepoint?.bind(transaction);
  if (back) {
    transaction.rollbackToSavepoint = async (name) => {
      await back(name);
      failed = false;
    };
  }
  return transaction;
}

export function serverAdapter(pool: pg.Pool): SqlDriverAdapterFactory {
  const factory = new PrismaPg(pool);
  return {
    provider: factory.provider,
    adapterName: factory.adapterName,
    async connect(): Promise<SqlDriverAdapter> {
      const adapter: SqlDriverAdapter = await factory.connect();
      keepOriginals(adapter);
      const start = adapter.startTransaction.bind(adapter);
      adapter.startTransaction = async (isolation) => refuseQuietRollback(await start(isolation));
      return adapter;
    },
  };
}

export function embeddedAdapter(database: PGlite): SqlDriverAdapterFactory {
  const factory = new PrismaPGlite(database);
  return {
    provider: factory.provider,
    adapterName: factory.adapterName,
    async connect(): Promise<SqlDriverAdapter> {
      const adapter = (await factory.connect()) as SqlDriverAdapter;
      keepOriginals(adapter);
      adapter.startTransaction = (isolation) => startEmbedded(database, isolation);
      adapter.executeScript = async (script) => {
        await database.exec(script).catch((error: unknown) => { throw translated(adapter, error); });
      };
      return adapter;
    },
  };
}

/**
 * The adapter's own transaction loses what COMMIT says, so that a rule checked at commit would break unseen, and does not
 * wait for its ROLLBACK. This one waits for both. PGlite lets nothing else run until the transaction ends.
 */
function startEmbedded(database: PGlite, isolation: string | undefined): Promise<Transaction> {
  return new Promise((resolve, reject) => {
    const ended = Promise.withResolvers<void>();
    const outcome: Promise<void> = database.transaction(async (inner) => {
      if (isolation) await inner.exec(`SET TRANSACTION ISOLATION LEVEL ${isolation}`);
      resolve(await embeddedTransaction(inner, () => ended.resolve(), () => outcome));
      await ended.promise;
    });
    // Until the transaction is handed out its failure is the start's failure; after that commit and rollback report it.
    outcome.catch(reject);
  });
}

async function embeddedTransaction(inner: PGliteTransaction, end: () => void, outcome: () => Promise<void>): Promise<Transaction> {
  const queryable: SqlQueryable = await new PrismaPGlite(inner as unknown as PGlite).connect();
  keepOriginals(queryable);
  const settle = async () => {
    end();
    await outcome().catch((error: unknown) => { throw translated(queryable, error); });
  };
  return {
    provider: queryable.provider,
    adapterName: queryable.adapterName,
    options: { usePhantomQuery: true },
    queryRaw: (query) => queryable.queryRaw(query),
    executeRaw: (query) => queryable.executeRaw(query),
    createSavepoint: async (name) => { await inner.exec(`SAVEPOINT ${name}`); },
    rollbackToSavepoint: async (name) => { await inner.exec(`ROLLBACK TO SAVEPOINT ${name}`); },
    releaseSavepoint: async (name) => { await inner.exec(`RELEASE SAVEPOINT ${name}`); },
    commit: settle,
    rollback: async () => {
      try {
        if (!inner.closed) await inner.rollback();
      } finally {
        await settle();
      }
    },
  };
}
