import { randomUUID } from 'node:crypto';
import pino from 'pino';
import { buildApp } from '../../server/app.ts';
import type { Config } from '../../server/config.ts';
import type { Role } from '../../server/contract/common.ts';
import { syncSpecies } from '../../server/features/species/species.service.ts';
import { ACCESS_COOKIE } from '../../server/platform/auth/tokens.ts';
import type { Context } from '../../server/platform/context.ts';
import { freshDatabase } from './database.ts';

/** A password hash that no password opens; people in tests get their cookie directly. */
const noPassword = '$argon2id$v=19$m=19456,t=2,p=1$AAAAAAAAAAAAAAAAAAAAAA$AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA';

type Answer = { status: number; body: any; headers: Record<string, string | string[] | number | undefined>; raw: Buffer };
export type Person = {
  id: string;
  name: string;
  cookie: string;
  get(url: string, headers?: Record<string, string>): Promise<Answer>;
  /** Sends an Idempotency-Key of its own unless one is given. */
  post(url: string, body?: unknown, key?: string): Promise<Answer>;
  patch(url: string, body: unknown): Promise<Answer>;
  put(url: string, body: unknown): Promise<Answer>;
  del(url: string): Promise<Answer>;
};

export type TestClub = Awaited<ReturnType<typeof testClub>>;

/**
 * The whole service on a database of its own with one club ("Test Club", Europe/London, metric). `clock.now` can be set.
 * `person(role)` adds a member and returns them signed in; `stranger` is nobody.
 */
export async function testClub(options: { now?: string; timeZone?: string; config?: Partial<Config>; withClub?: boolean; webDir?: string | null } = {}) {
  const { database, drop } = await freshDatabase();
  const clock = { now: new Date(options.now ?? '2026-06-10T12:00:00Z') };
  const logger = pino({ level: 'silent' });
  const config: Config = {
    host: '127.0.0.1', port: 0, publicUrl: 'http://localhost:8080', databaseUrl: null, dataDir: '/nonexistent', secret: 'test-secret-test-secret-test-secret-0', logLevel: 'silent', trustedProxies: [],
    ...options.config,
  };
  const context: Context = { config, database, clock: () => new Date(clock.now), random: (n) => globalThis.crypto.getRandomValues(new Uint8Array(n)), logger };
  const app = await buildApp({ ...context, webDir: options.webDir ?? null });
  await app.ready();
  if (options.withClub !== false) {
    await database.query('test-club', `insert into club (name, time_zone) values ($1, $2)`, ['Test Club', options.timeZone ?? 'Europe/London']);
  }
  await syncSpecies(database);

  async function send(method: string, url: string, cookie: string, body?: unknown, headers: Record<string, string> = {}): Promise<Answer> {
    const answer = await app.inject({
      method: method as 'GET', url,
      headers: { ...(cookie ? { cookie } : {}), ...(body === undefined ? {} : { 'content-type': 'application/json' }), ...headers },
      ...(body === undefined ? {} : { payload: JSON.stringify(body) }),
    });
    const json = String(answer.headers['content-type'] ?? '').includes('json');
    return { status: answer.statusCode, body: json && answer.payload ? JSON.parse(answer.payload) : answer.payload, headers: answer.headers, raw: answer.rawPayload };
  }
  function voice(id: string, name: string, cookie: string): Person {
    return {
      id, name, cookie,
      get: (url, headers) => send('GET', url, cookie, undefined, headers),
      post: (url, body, key = randomUUID()) => send('POST', url, cookie, body ?? {}, { 'idempotency-key': key }),
      patch: (url, body) => send('PATCH', url, cookie, body),
      put: (url, body) => send('PUT', url, cookie, body),
      del: (url) => send('DELETE', url, cookie),
    };
  }
  async function person(role: Role, name = `${role} ${randomUUID().slice(0, 4)}`): Promise<Person> {
    const id = randomUUID();
    const userName = `u${id.slice(0, 12)}`.replaceAll('-', '');
    await database.query('test-person', `insert into member (id, name, user_name, role, password_hash, joined_at) values ($1, $2, $3, $4, $5, now())`, [id, name, userName, role, noPassword]);
    return voice(id, name, cookieOf(id));
  }
  /** An access cookie for a member, as signing in would give; made at the real time, since the token checks that. */
  function cookieOf(memberId: string, epoch = 1): string {
    return `${ACCESS_COOKIE}=${app.jwt.sign({ sub: memberId, epoch, family: randomUUID() })}`;
  }
  const stranger = voice('', 'stranger', '');
  const close = async () => {
    await app.close();
    await drop();
  };
  return { app, context, database, clock, person, stranger, cookieOf, voice, send, close };
}
