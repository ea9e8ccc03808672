import { linkSync, readFileSync, readlinkSync, renameSync, rmSync, statSync, unlinkSync, utimesSync, writeFileSync } from 'node:fs';
import { randomUUID } from 'node:crypto';
import { hostname } from 'node:os';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';

/**
 * Nothing in the embedded database stops two processes from opening one folder, and two would ruin it. A file beside it
 * names who holds it. A holder that died without tidying up is told from a living one by its process; where that cannot
 * be seen (another machine, another container), by whether the file's time still moves.
 */
export type Holder = {
  id: string;
  pid: number;
  host: string;
  /** Tells a process from a later one that was given the same number; null where the system does not say. */
  processStart: string | null;
  /** Machine, start of the machine and process numbering: process numbers mean the same only where all are equal. */
  scope: string;
  since: string;
};

export type FolderLock = { release(): void };

export class FolderHeldError extends Error {
  override name = 'FolderHeldError';
  readonly holder: Holder;
  constructor(file: string, holder: Holder) {
    super(
      `The data folder ${path.dirname(file)} is in use by process ${holder.pid} on ${holder.host}, since ${holder.since}. ` +
        `Stop that process, or set DATA_DIR to another folder. If you are certain that it no longer runs, delete ${file}.`,
    );
    this.holder = holder;
  }
}

const beatMs = 1_000;
/** How long the file's time must stand still before a holder that cannot be looked at counts as gone. */
const silenceMs = 8_000;

export function processStart(pid: number): string | null {
  try {
    // The command's name may hold spaces and brackets; the fields after its last bracket are plain. Field 22 is the start.
    return readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ').at(-1)?.split(' ')[19] ?? null;
  } catch {
    return null;
  }
}

function scope(): string {
  const read = (get: () => string): string => {
    try { return get().trim(); } catch { return ''; }
  };
  const boot = read(() => readFileSync('/proc/sys/kernel/random/boot_id', 'utf8'));
  return [hostname(), boot, read(() => readlinkSync('/proc/self/ns/pid'))].join(' ');
}

function isRunning(holder: Holder): boolean {
  if (holder.pid === process.pid && holder.processStart === processStart(process.pid)) return true;
  try {
    process.kill(holder.pid, 0);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EPERM') return false;
  }
  const start = processStart(holder.pid);
  return holder.processStart === null || start === null || start === holder.processStart;
}

function readHolder(file: string): Holder | null {
  try {
    const holder = JSON.parse(readFileSync(file, 'utf8')) as Holder;
    return typeof holder.id === 'string' && typeof holder.pid === 'number' ? holder : null;
  } catch {
    return null;
  }
}

const modified = (file: string): number => statSync(file, { throwIfNoEntry: false })?.mtimeMs ?? 0;

async function isAlive(file: string, holder: Holder, waitMs: number): Promise<boolean> {
  if (holder.scope === scope()) return isRunning(holder);
  const before = modified(file);
  for (let waited = 0; waited < waitMs; waited += 250) {
    await pause(250);
    if (modified(file) !== before) return true;
  }
  return false;
}

/** The file appears whole or not at all; false when there is one already. */
function claim(file: string, mine: Holder): boolean {
  const draft = `${file}.${mine.id}`;
  writeFileSync(draft, `${JSON.stringify(mine, null, 2)}\n`, { mode: 0o600 });
  try {
    linkSync(draft, file);
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  } finally {
    rmSync(draft, { force: true });
  }
}

/** Puts the file of a dead holder aside. When another process was faster and it is theirs by now, puts it back. */
function clear(file: string, dead: Holder | null): void {
  const aside = `${file}.${randomUUID()}`;
  try {
    renameSync(file, aside);
    if ((readHolder(aside)?.id ?? null) !== (dead?.id ?? null)) linkSync(aside, file);
  } catch (error) {
    if (!['ENOENT', 'EEXIST'].includes((error as NodeJS.ErrnoException).code ?? '')) throw error;
  } finally {
    rmSync(aside, { force: true });
  }
}

export type LockOptions = {
  /** Called when the file turns out to be somebody else's while we run: the folder must not be written to any more. */
  onLost: (holder: Holder | null) => void;
  silenceMs?: number;
};

/** Takes the lock, or throws FolderHeldError naming the holder. */
export async function lockFolder(file: string, options: LockOptions): Promise<FolderLock> {
  const mine: Holder = {
    id: randomUUID(),
    pid: process.pid,
    host: hostname(),
    processStart: processStart(process.pid),
    scope: scope(),
    since: new Date().toISOString(),
  };
  for (let attempt = 0; ; attempt += 1) {
    if (claim(file, mine)) {
      // Two that found the same dead holder may cross here; after a moment exactly one name stands in the file.
      if (attempt > 0) await pause(100);
      if (readHolder(file)?.id === mine.id) break;
      continue;
    }
    const holder = readHolder(file);
    if (holder && (attempt > 4 || (await isAlive(file, holder, options.silenceMs ?? silenceMs)))) throw new FolderHeldError(file, holder);
    if (attempt > 4) throw new Error(`The file ${file} cannot be read. If no other process uses the folder, delete it.`);
    clear(file, holder);
  }
  return keep(file, mine, options.onLost);
}

function keep(file: string, mine: Holder, onLost: LockOptions['onLost']): FolderLock {
  const timer = setInterval(() => {
    const holder = readHolder(file);
    if (holder?.id !== mine.id) {
      clearInterval(timer);
      onLost(holder);
      return;
    }
    const now = new Date();
    utimesSync(file, now, now);
  }, beatMs);
  timer.unref();
  return {
    release() {
      clearInterval(timer);
      if (readHolder(file)?.id === mine.id) unlinkSync(file);
    },
  };
}
