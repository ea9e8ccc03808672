import { spawn } from 'node:child_process';
import { once } from 'node:events';
import fs, { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { hostname, tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { FolderHeldError, lockFolder, processStart } from '../../server/platform/database/folder-lock.ts';
import type { Holder } from '../../server/platform/database/folder-lock.ts';
import { openDatabase } from '../../server/platform/database/open.ts';
import { quiet } from '../support/database.ts';

let folder: string;
beforeEach(() => { folder = mkdtempSync(path.join(tmpdir(), 'tidelarder-folder-')); });
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const databaseIn = (dataDir: string) => openDatabase({ databaseUrl: null, dataDir, logger: quiet });

// Making a database and opening it again is slow on a busy machine.
describe('the embedded database in its folder', { timeout: 180_000 }, () => {
  it('writes through to the disk with every commit', async () => {
    const database = await databaseIn(folder);
    try {
      const shown = await Promise.all(['fsync', 'wal_sync_method', 'full_page_writes', 'synchronous_commit'].map((name) => database.query('', `SHOW ${name}`)));
      expect(shown.flat()).toEqual([{ fsync: 'on' }, { wal_sync_method: 'fsync' }, { full_page_writes: 'on' }, { synchronous_commit: 'on' }]);
      await database.query('', 'CREATE TABLE kept (n integer)');
      const real = fs.fsyncSync;
      let calls = 0;
      fs.fsyncSync = (file) => { calls += 1; real(file); };
      syncBuiltinESMExports();
      try {
        await database.query('', 'SELECT 1');
        expect(calls).toBe(0);
        for (let n = 0; n < 5; n += 1) await database.query('', 'INSERT INTO kept VALUES ($1)', [n]);
        expect(calls).toBeGreaterThanOrEqual(5);
      } finally {
        fs.fsyncSync = real;
        syncBuiltinESMExports();
      }
    } finally {
      await database.close();
    }
  });

  it('makes its folder for its owner alone, and starts afresh after a first start that was cut off', async () => {
    const dataDir = path.join(folder, 'data');
    mkdirSync(path.join(folder, 'data', 'database.new'), { recursive: true });
    writeFileSync(path.join(folder, 'data', 'database.new', 'PG_VERSION'), '17');
    await (await databaseIn(dataDir)).close();
    expect(existsSync(path.join(dataDir, 'database.new'))).toBe(false);
    const made = path.join(folder, 'made');
    await (await databaseIn(made)).close();
    expect(statSync(made).mode & 0o777).toBe(0o700);
    expect(statSync(path.join(made, 'database')).mode & 0o777).toBe(0o700);
    expect(existsSync(path.join(made, 'database.lock'))).toBe(false);
  });

  it('loses nothing it acknowledged when its process is killed, and opens again at once', async () => {
    await (await databaseIn(folder)).close();
    const child = startWriter(folder);
    const gone = once(child, 'exit');
    let printed = '';
    // Only whole lines count; and it is listened to until its end, since a writer that nobody hears any more ends by itself.
    const written = () => Number(printed.split('\n').at(-2) ?? 0);
    const enough = new Promise<void>((resolve) => child.stdout.on('data', (chunk: Buffer) => {
      printed += chunk.toString();
      if (written() >= 20) resolve();
    }));
    await enough;
    await expect(databaseIn(folder)).rejects.toThrow(new RegExp(`in use by process ${child.pid} on ${hostname()}`));
    child.kill('SIGKILL');
    await gone;
    // The holder is seen to be gone; nobody waits for its file to fall silent, which here would take longer than the test may.
    (await lockFolder(path.join(folder, 'database.lock'), { onLost: () => {}, silenceMs: 600_000 })).release();
    const database = await databaseIn(folder);
    const [row] = await database.query<{ top: number; rows: number }>('', 'SELECT max(n) AS top, count(*) AS rows FROM written');
    await database.close();
    expect(row?.top).toBeGreaterThanOrEqual(written());
    expect(row?.rows).toBe(row?.top);
  });
});

function startWriter(dataDir: string) {
  const open = fileURLToPath(new URL('../../server/platform/database/open.ts', import.meta.url));
  const program = `
    const { openDatabase } = await import(${JSON.stringify(open)});
    const logger = { info() {}, warn() {}, error() {}, fatal() {} };
    const database = await openDatabase({ databaseUrl: null, dataDir: ${JSON.stringify(dataDir)}, logger });
    await database.query('', 'CREATE TABLE IF NOT EXISTS written (n integer)');
    for (let n = 1; ; n += 1) {
      await database.query('', 'INSERT INTO written VALUES ($1)', [n]);
      process.stdout.write(n + '\\n');
    }`;
  return spawn(process.execPath, ['--input-type=module', '-e', program], { stdio: ['ignore', 'pipe', 'inherit'] });
}

describe('the lock of a data folder', () => {
  const file = () => path.join(folder, 'database.lock');
  const take = (options: Partial<Parameters<typeof lockFolder>[1]> = {}) =>
    lockFolder(file(), { onLost: () => {}, silenceMs: 1_000, ...options });
  const holder = (): Holder => JSON.parse(readFileSync(file(), 'utf8')) as Holder;
  const leave = (change: Partial<Holder>) => writeFileSync(file(), JSON.stringify({ ...holder(), id: 'left', ...change }));

  it('names its holder, refuses a second and can be taken again once released', async () => {
    const lock = await take();
    expect(holder()).toMatchObject({ pid: process.pid, host: hostname(), processStart: processStart(process.pid) });
    const refused = await take().catch((error: unknown) => error);
    expect(refused).toBeInstanceOf(FolderHeldError);
    expect((refused as Error).message).toContain(`process ${process.pid} on ${hostname()}, since ${holder().since}`);
    lock.release();
    expect(existsSync(file())).toBe(false);
    (await take()).release();
  });

  it('goes to one of several that want it at the same time', async () => {
    const tries = await Promise.allSettled(Array.from({ length: 8 }, () => take()));
    expect(tries.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
    for (const each of tries) if (each.status === 'fulfilled') each.value.release();
  });

  /** Leaves the file as a holder would that is gone: nothing refreshes it. */
  async function abandoned(change: Partial<Holder>): Promise<void> {
    const lock = await take();
    const text = readFileSync(file(), 'utf8');
    lock.release();
    writeFileSync(file(), text);
    leave(change);
  }

  it('is taken over when no process has the number of its holder', async () => {
    const gone = spawn(process.execPath, ['-e', '']);
    await once(gone, 'exit');
    await abandoned({ pid: gone.pid ?? 0 });
    const lock = await take();
    expect(holder().pid).toBe(process.pid);
    lock.release();
  });

  it.runIf(process.platform === 'linux')('is taken over when another process was given the number', async () => {
    await abandoned({ pid: process.ppid, processStart: '1' });
    (await take()).release();
    await abandoned({ pid: process.pid, processStart: '1' });
    (await take()).release();
    await abandoned({ pid: process.ppid, processStart: processStart(process.ppid) });
    await expect(take()).rejects.toThrow(FolderHeldError);
  });

  it('goes to one of several that find the same dead holder', async () => {
    await abandoned({ pid: 2 ** 22 + 1 });
    const tries = await Promise.allSettled(Array.from({ length: 6 }, () => take()));
    expect(tries.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
    for (const each of tries) if (each.status === 'fulfilled') each.value.release();
  });

  it('of another machine is respected while its file is kept fresh, and taken over when it falls silent', async () => {
    await abandoned({ host: 'elsewhere', scope: 'elsewhere', pid: 7 });
    const beat = setInterval(() => { const now = new Date(); utimesSync(file(), now, now); }, 100);
    // Long against a beat: a machine that stands still for a moment is no silence.
    await expect(take({ silenceMs: 20_000 })).rejects.toThrow('in use by process 7 on elsewhere');
    clearInterval(beat);
    (await take()).release();
  });

  it('that is damaged is taken over', async () => {
    writeFileSync(file(), '{"pid":');
    (await take()).release();
  });

  it('tells its holder when another has taken it', async () => {
    const lost = Promise.withResolvers<Holder | null>();
    const lock = await take({ onLost: lost.resolve });
    leave({ id: 'other', pid: 7 });
    expect(await lost.promise).toMatchObject({ id: 'other', pid: 7 });
    lock.release();
    await pause(10);
    expect(holder().id).toBe('other');
  });
});
