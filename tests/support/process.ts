import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { randomInt } from 'node:crypto';
import { createServer } from 'node:net';
import { fileURLToPath } from 'node:url';

const main = fileURLToPath(new URL('../../server/main.ts', import.meta.url));

/**
 * A port of the loopback that is free now. From below those that systems hand out by themselves (32768 on Linux, 49152
 * elsewhere): a connection that another test opens in the meantime cannot take it.
 */
export async function freePort(): Promise<number> {
  for (let tries = 0; tries < 50; tries += 1) {
    const port = randomInt(12_000, 32_000);
    const free = await new Promise<boolean>((resolve) => {
      const probe = createServer().once('error', () => resolve(false));
      probe.listen(port, '127.0.0.1', () => probe.close(() => resolve(true)));
    });
    if (free) return port;
  }
  throw new Error('No port between 12000 and 32000 is free.');
}

export type Service = {
  url: string;
  child: ChildProcess;
  /** Everything printed so far, both streams. */
  output(): string;
  exited: Promise<{ code: number | null; signal: NodeJS.Signals | null }>;
};

/** Starts the real process and waits until it answers; fails with its output when it stops first. */
export async function startService(env: Record<string, string>, args: string[] = []): Promise<Service> {
  const port = env['PORT'] ? Number(env['PORT']) : await freePort();
  const child = spawn(process.execPath, [main, ...args], {
    env: { PATH: process.env['PATH'] ?? '', LOG_LEVEL: 'warn', ...env, HOST: '127.0.0.1', PORT: String(port) },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let printed = '';
  child.stdout?.on('data', (chunk: Buffer) => (printed += chunk.toString()));
  child.stderr?.on('data', (chunk: Buffer) => (printed += chunk.toString()));
  let ended = false;
  const exited = new Promise<{ code: number | null; signal: NodeJS.Signals | null }>((resolve) =>
    child.once('exit', (code, signal) => {
      ended = true;
      resolve({ code, signal });
    }),
  );
  const url = `http://127.0.0.1:${port}`;
  const deadline = Date.now() + 180_000;
  for (;;) {
    if (ended) throw new Error(`The service stopped before it answered:\n${printed}`);
    if (Date.now() > deadline) {
      child.kill('SIGKILL');
      throw new Error(`The service did not answer within three minutes:\n${printed}`);
    }
    const ready = await fetch(`${url}/api/ready`).then((r) => r.ok, () => false);
    if (ready) break;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  return { url, child, output: () => printed, exited };
}

/** Sets up a club on a service that has none, with the code it printed, and returns the captain's cookies. */
export async function setUpClub(service: Service): Promise<string> {
  const code = /enter this code once:\s+(\S+)/.exec(service.output())?.[1];
  if (!code) throw new Error(`No set-up code was printed:\n${service.output()}`);
  const answer = await fetch(`${service.url}/api/setup`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', 'idempotency-key': 'set-up-once' },
    body: JSON.stringify({ code, clubName: 'Kill Test', timeZone: 'Europe/London', units: 'metric', captain: { name: 'Cap', userName: 'cap', password: 'three-odd-words' } }),
  });
  if (!answer.ok) throw new Error(`Set-up failed: ${answer.status} ${await answer.text()}`);
  return cookiesOf(answer);
}

export async function signIn(service: Service): Promise<string> {
  const answer = await fetch(`${service.url}/api/session`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ login: 'cap', password: 'three-odd-words' }),
  });
  if (!answer.ok) throw new Error(`Sign-in failed: ${answer.status} ${await answer.text()}`);
  return cookiesOf(answer);
}
const cookiesOf = (answer: Response) => answer.headers.getSetCookie().map((c) => c.split(';')[0]).join('; ');
