import { mkdtemp, rm } from 'node:fs/promises';
import { randomUUID } from 'node:crypto';
import { tmpdir } from 'node:os';
import path from 'node:path';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { setUpClub, signIn, startService } from '../support/process.ts';
import type { Service } from '../support/process.ts';

/**
 * 25 times: the service is killed without warning while eight senders write to it, and started again. Whatever was
 * acknowledged must still be there, once; whatever was under way is sent again with its key and must be there once;
 * and each start must come up by itself.
 */
const ROUNDS = 25;
const serverUrl = process.env['TEST_DATABASE_URL'];
const homes: { kind: string; skip: boolean }[] = [
  { kind: 'the embedded database', skip: false },
  { kind: 'PostgreSQL (with TEST_DATABASE_URL)', skip: !serverUrl },
];

describe.each(homes)('25 SIGKILLs under load on $kind', ({ kind, skip }) => {
  const embedded = kind.startsWith('the embedded');
  let folder = '';
  let env: Record<string, string> = {};
  let databaseName = '';

  beforeAll(async () => {
    if (skip) return;
    folder = await mkdtemp(path.join(tmpdir(), 'tidelarder-kill-'));
    env = { DATA_DIR: folder };
    if (!embedded && serverUrl) {
      databaseName = `kill_${randomUUID().replaceAll('-', '')}`;
      await withServer((client) => client.query(`create database ${databaseName}`));
      const url = new URL(serverUrl);
      url.pathname = `/${databaseName}`;
      env['DATABASE_URL'] = url.href;
    }
  });
  afterAll(async () => {
    if (databaseName) await withServer((client) => client.query(`drop database if exists ${databaseName} with (force)`));
    if (folder) await rm(folder, { recursive: true, force: true });
  });

  it.skipIf(skip)('loses nothing that was acknowledged and starts clean', async () => {
    const acknowledged = new Map<string, string>();
    let underWay = new Map<string, string>();
    let service = await startService(env);
    let cookie = await setUpClub(service);
    for (let round = 0; round < ROUNDS; round++) {
      if (round > 0 && round % 8 === 0) cookie = await signIn(service);
      // First what was cut off last time, with the same keys.
      for (const [key, name] of underWay) acknowledged.set(name, await addBoat(service, cookie, key, name));
      underWay = new Map();
      const before = acknowledged.size;
      const senders = Array.from({ length: 8 }, (_, n) => send(service, cookie, `round ${round} sender ${n}`, acknowledged, underWay));
      // Between the first acknowledged writes and half a second later, at a different point each round.
      while (acknowledged.size < before + 3) await pause(5);
      await pause((round * 37) % 450);
      service.child.kill('SIGKILL');
      await Promise.all(senders);
      expect((await service.exited).signal).toBe('SIGKILL');
      service = await startService(env);
      await expectAll(service, cookie, acknowledged, underWay);
    }
    expect(acknowledged.size).toBeGreaterThan(ROUNDS * 3);
    service.child.kill('SIGTERM');
    expect(await service.exited).toEqual({ code: 0, signal: null });
  }, 1_800_000);
});

async function addBoat(service: Service, cookie: string, key: string, name: string): Promise<string> {
  const answer = await fetch(`${service.url}/api/boats`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', 'idempotency-key': key, cookie },
    body: JSON.stringify({ name }),
  });
  if (answer.status !== 201) throw new Error(`${answer.status} ${await answer.text()}`);
  return ((await answer.json()) as { id: string }).id;
}

/** Writes until the service is gone. */
async function send(service: Service, cookie: string, prefix: string, acknowledged: Map<string, string>, underWay: Map<string, string>): Promise<void> {
  for (let n = 0; ; n++) {
    const name = `${prefix} boat ${n}`;
    const key = randomUUID();
    underWay.set(key, name);
    try {
      acknowledged.set(name, await addBoat(service, cookie, key, name));
      underWay.delete(key);
    } catch (error) {
      if (service.child.exitCode === null && service.child.signalCode === null && !(error instanceof TypeError)) throw error;
      return;
    }
  }
}

async function expectAll(service: Service, cookie: string, acknowledged: Map<string, string>, underWay: Map<string, string>): Promise<void> {
  const answer = await fetch(`${service.url}/api/boats`, { headers: { cookie } });
  expect(answer.status).toBe(200);
  const { items } = (await answer.json()) as { items: { id: string; name: string }[] };
  const there = new Map(items.map((boat) => [boat.name, boat.id]));
  expect(items.length).toBe(there.size);
  const lost = [...acknowledged].filter(([name, id]) => there.get(name) !== id);
  expect(lost).toEqual([]);
  const cutOff = new Set(underWay.values());
  expect([...there.keys()].filter((name) => !acknowledged.has(name) && !cutOff.has(name))).toEqual([]);
}

async function withServer(work: (client: pg.Client) => Promise<unknown>): Promise<void> {
  const client = new pg.Client({ connectionString: serverUrl });
  await client.connect();
  await work(client).finally(() => client.end());
}
const pause = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));
