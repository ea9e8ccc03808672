import { chmodSync, existsSync, mkdirSync, renameSync, rmSync } from 'node:fs';
import path from 'node:path';
import { PGlite, TransactionAbortedError } from '@electric-sql/pglite';
import type { PGliteInterface, PGliteOptions } from '@electric-sql/pglite';
import { btree_gist } from '@electric-sql/pglite/contrib/btree_gist';
import type { Backend, DatabaseLogger, RawQuery } from './backend.ts';
import { DurableFiles, durableStart, syncFolder, syncPath } from './durable-files.ts';
import { lockFolder } from './folder-lock.ts';
import type { Holder } from './folder-lock.ts';
import { embeddedAdapter, TransactionUndoneError } from './prisma-adapters.ts';
import { parsers, toParameter } from './values.ts';

const session = ['-c', 'timezone=UTC', '-c', 'default_transaction_isolation=read committed'];
const common = { extensions: { btree_gist }, parsers } satisfies PGliteOptions;

/** A database in memory, gone when it is closed; for tests and for comparing schemas. */
export async function openInMemory(from?: Blob): Promise<PGlite> {
  return PGlite.create({ ...common, startParams: [...PGlite.defaultStartParams, ...session], ...(from ? { loadDataDir: from } : {}) });
}

let blank: Promise<Blob> | undefined;

/** An empty database in memory, copied from the first of this process: making one takes several times as long. */
export async function openBlank(): Promise<PGlite> {
  blank ??= openInMemory().then(async (first) => {
    try {
      return await first.dumpDataDir('none');
    } finally {
      await first.close();
    }
  });
  return openInMemory(await blank);
}

async function openFolder(folder: string): Promise<PGlite> {
  return PGlite.create({ ...common, fs: new DurableFiles(folder), startParams: [...durableStart, ...session] });
}

/**
 * Makes a new database under another name and renames it when it is whole and on the disk: a first start that is cut off
 * leaves nothing that looks like a database.
 */
async function createFolder(folder: string): Promise<void> {
  const draft = `${folder}.new`;
  rmSync(draft, { recursive: true, force: true });
  mkdirSync(draft, { mode: 0o700 });
  await (await openFolder(draft)).close();
  syncFolder(draft);
  renameSync(draft, folder);
  syncPath(path.dirname(folder));
}

function prepareDataDir(dataDir: string): void {
  const existed = existsSync(dataDir);
  mkdirSync(dataDir, { recursive: true, mode: 0o700 });
  // The mode given to mkdir is cut by the umask and ignored for a folder that is there.
  if (!existed && process.platform !== 'win32') chmodSync(dataDir, 0o700);
}

export type FolderOptions = { dataDir: string; logger: DatabaseLogger; onLost?: (holder: Holder | null) => void };

export async function embeddedInFolder({ dataDir, logger, onLost }: FolderOptions): Promise<Backend> {
  prepareDataDir(dataDir);
  const stop = (holder: Holder | null): void => {
    logger.fatal({ holder }, 'Another process took the data folder. Stopping at once, so that the database is not written by two.');
    process.exit(1);
  };
  const lock = await lockFolder(path.join(dataDir, 'database.lock'), { onLost: onLost ?? stop });
  try {
    const folder = path.join(dataDir, 'database');
    if (!existsSync(folder)) await createFolder(folder);
    const database = await openFolder(folder);
    const { rows } = await database.query<{ fsync: string }>('SHOW fsync');
    if (rows[0]?.fsync !== 'on') throw new Error('The embedded database would not write through to the disk (fsync is off).');
    return embeddedBackend(database, () => lock.release());
  } catch (error) {
    lock.release();
    throw error;
  }
}

type Queryable = Pick<PGliteInterface, 'query'>;

function rawQuery(on: Queryable): RawQuery {
  return async <T>(_name: string, text: string, params: readonly unknown[] = []) =>
    (await on.query<T>(text, params.map(toParameter))).rows;
}

async function whole<T>(database: PGlite, work: Parameters<PGlite['transaction']>[0]): Promise<T> {
  try {
    return (await database.transaction(work)) as T;
  } catch (error) {
    if (error instanceof TransactionAbortedError) throw new TransactionUndoneError();
    throw error;
  }
}

export function embeddedBackend(database: PGlite, closed: () => void = () => {}): Backend {
  const query = rawQuery(database);
  return {
    kind: 'embedded',
    adapter: embeddedAdapter(database),
    query,
    rawTransaction: (work) => whole(database, (inner) => work(rawQuery(inner))),
    // One process, one connection: the folder's lock keeps others out, and a migration runs before anything else does.
    admin: (work) =>
      work({
        query: (text, params) => query('', text, params),
        transaction: (inside) =>
          whole(database, (inner) =>
            inside({
              query: (text, params) => rawQuery(inner)('', text, params),
              exec: async (script) => { await inner.exec(script); },
            }),
          ),
      }),
    async close() {
      try {
        await database.close();
      } finally {
        closed();
      }
    },
  };
}
