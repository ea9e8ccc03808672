import type { ChildProcess } from 'node:child_process';
import { createHmac, randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import pg from 'pg';
import { ACCESS_COOKIE } from '../../server/platform/auth/tokens.ts';
import { emptyOnServer } from '../support/database.ts';
import { startService } from '../support/process.ts';

const secret = 'bench-secret-bench-secret-bench-secret';

const running = new Set<ChildProcess>();
/** For a run that ends early; otherwise each club is closed by who started it. */
export function stopServices(): void {
  for (const child of running) child.kill('SIGKILL');
}

export type Club = { url: string; databaseUrl: string; sql: pg.Pool; close(): Promise<void> };

/** The real process on an empty database of its own; its records are put in by `fill` before anything is asked. */
export async function startClub(serverUrl: string, fill: (sql: pg.PoolClient) => Promise<void>): Promise<Club> {
  const { url: databaseUrl, drop } = await emptyOnServer(serverUrl);
  const dataDir = mkdtempSync(path.join(tmpdir(), 'tidelarder-bench-data-'));
  const sql = new pg.Pool({ connectionString: databaseUrl, max: 20 });
  sql.on('error', () => {});
  const service = await startService({ DATABASE_URL: databaseUrl, DATA_DIR: dataDir, SECRET: secret });
  running.add(service.child);
  const close = async () => {
    service.child.kill('SIGTERM');
    await service.exited;
    running.delete(service.child);
    await sql.end();
    await drop();
    rmSync(dataDir, { recursive: true, force: true });
  };
  try {
    const client = await sql.connect();
    try {
      await fill(client);
      await client.query('vacuum analyze');
    } finally {
      client.release();
    }
  } catch (error) {
    await close();
    throw error;
  }
  return { url: service.url, databaseUrl, sql, close };
}

/** An access cookie such as signing in gives, but long enough for the run: nothing is measured of signing in. */
export function cookieOf(memberId: string): string {
  const part = (value: object) => Buffer.from(JSON.stringify(value)).toString('base64url');
  const now = Math.floor(Date.now() / 1000);
  const text = `${part({ alg: 'HS256', typ: 'JWT' })}.${part({ sub: memberId, epoch: 1, family: randomUUID(), iat: now, exp: now + 3600 })}`;
  return `${ACCESS_COOKIE}=${text}.${createHmac('sha256', `${secret}:access`).update(text).digest('base64url')}`;
}
