import { execFileSync } from 'node:child_process';
import { chmodSync, chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { freePort } from '../support/process.ts';

export type Server = { url: string; stop(): void };

/** Debian keeps each version in a folder of its own; the newest is taken. */
function binFolder(): string {
  const root = '/usr/lib/postgresql';
  const versions = existsSync(root) ? readdirSync(root).filter((name) => existsSync(path.join(root, name, 'bin', 'initdb'))) : [];
  const newest = versions.sort((a, b) => Number(a) - Number(b)).at(-1);
  if (!newest) throw new Error(`There is no PostgreSQL in ${root}. Install Debian's postgresql package, or name a server in TEST_DATABASE_URL.`);
  return path.join(root, newest, 'bin');
}

/** PostgreSQL refuses to run as root. */
function asPostgres(command: string, args: string[]): void {
  const root = process.getuid?.() === 0;
  // The server that pg_ctl leaves running would hold a pipe open, so nothing is piped.
  execFileSync(root ? 'runuser' : command, root ? ['-u', 'postgres', '--', command, ...args] : args, { stdio: 'ignore', timeout: 60_000 });
}

/** A server of its own in a temporary folder, on a free port of the loopback, with PostgreSQL's usual durability. */
export async function startPostgres(): Promise<Server> {
  const bin = binFolder();
  const folder = mkdtempSync(path.join(tmpdir(), 'tidelarder-bench-'));
  if (process.getuid?.() === 0) {
    const id = (flag: string) => Number(execFileSync('id', [flag, 'postgres'], { encoding: 'utf8' }));
    chownSync(folder, id('-u'), id('-g'));
  }
  chmodSync(folder, 0o700);
  const data = path.join(folder, 'data');
  const port = await freePort();
  const stop = () => {
    try {
      asPostgres(path.join(bin, 'pg_ctl'), ['-D', data, '-m', 'fast', '-w', 'stop']);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  };
  try {
    asPostgres(path.join(bin, 'initdb'), ['-D', data, '-A', 'trust', '-U', 'postgres', '--locale=C.UTF-8']);
    const options = `-p ${port} -c listen_addresses=127.0.0.1 -c unix_socket_directories='' -c max_connections=200`;
    asPostgres(path.join(bin, 'pg_ctl'), ['-D', data, '-w', '-l', path.join(folder, 'log'), '-o', options, 'start']);
  } catch (error) {
    rmSync(folder, { recursive: true, force: true });
    throw error;
  }
  return { url: `postgresql://postgres@127.0.0.1:${port}/postgres`, stop };
}
