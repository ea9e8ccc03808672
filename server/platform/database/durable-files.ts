import { closeSync, fsyncSync, openSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { PGlite } from '@electric-sql/pglite';
import { NodeFS } from '@electric-sql/pglite/nodefs';

/** The parts of the running module that its types leave out. */
type Module = {
  NODEFS: { stream_ops: { fsync?: (stream: { nfd: number }) => number } };
  FS: { ErrnoError: new (errno: number) => Error };
};

// Numbers of the WebAssembly system interface.
const errno: Record<string, number> = { EBADF: 8, EINVAL: 28, EIO: 29, ENOSPC: 51, EROFS: 69 };

/** Files on disk whose fsync reaches the disk. As shipped, an fsync of the embedded database does nothing. */
export class DurableFiles extends NodeFS {
  override async init(...[database, options]: Parameters<NodeFS['init']>): ReturnType<NodeFS['init']> {
    const prepared = await super.init(database, options);
    const addFsync = (module: unknown) => {
      const { NODEFS, FS } = module as Module;
      NODEFS.stream_ops.fsync = (stream) => {
        try {
          fsyncSync(stream.nfd);
          return 0;
        } catch (error) {
          throw new FS.ErrnoError(errno[(error as NodeJS.ErrnoException).code ?? ''] ?? 29);
        }
      };
    };
    const preRun = prepared.emscriptenOpts.preRun;
    prepared.emscriptenOpts.preRun = [...(Array.isArray(preRun) ? preRun : preRun ? [preRun] : []), addFsync];
    return prepared;
  }
}

/** The start parameters without -F, which turns fsync off; the default sync method is one that never reaches fsync here. */
export const durableStart: string[] = [...PGlite.defaultStartParams.filter((parameter) => parameter !== '-F'), '-c', 'wal_sync_method=fsync'];

/** Brings every file of a folder to the disk, for files that were copied in and not written by the database. */
export function syncFolder(folder: string): void {
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const name = path.join(folder, entry.name);
    if (entry.isDirectory()) syncFolder(name);
    else if (entry.isFile()) syncPath(name);
  }
  syncPath(folder);
}

export function syncPath(name: string): void {
  if (process.platform === 'win32') return;
  const file = openSync(name, 'r');
  try {
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}
