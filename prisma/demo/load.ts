import { randomBytes, randomUUID } from 'node:crypto';
import { hash } from '@node-rs/argon2';
import { buildApp } from '../../server/app.ts';
import { ACCESS_COOKIE } from '../../server/platform/auth/tokens.ts';
import type { Context } from '../../server/platform/context.ts';
import { people } from './cast.ts';
import { tell } from './story.ts';

/** An answer's body, read by the story as what the contract says it is. */
// eslint-disable-next-line @typescript-eslint/no-explicit-any
type Answer = any;

/** What the story needs: the moment it plays at, and voices that speak to the service as its people. */
export type Stage = {
  /** The present, which the story leads up to. */
  now: Date;
  /** Sets the clock of the service. */
  at(moment: Date): void;
  /** Sends a request as somebody and returns the answer's body; throws on a refusal. */
  as(userName: string): { get(url: string): Promise<Answer>; post(url: string, body: object): Promise<Answer>; patch(url: string, body: object): Promise<Answer> };
  idOf(userName: string): string;
};

/**
 * Loads the demonstration into an empty database, by playing three weeks of an invented club through the service's own
 * API with its clock set back: whatever the service would refuse cannot stand in it. All or nothing.
 */
export async function loadDemonstration(context: Context): Promise<string> {
  const { database } = context;
  const [there] = await database.query<{ n: number }>('demo-empty', 'select (select count(*) from club)::int + (select count(*) from member)::int as n', []);
  if ((there?.n ?? 0) > 0) {
    throw Object.assign(new Error('The demonstration is loaded only into an empty database, and this one has a club. Name another folder with DATA_DIR, or another database with DATABASE_URL.'), { plain: true });
  }
  const passwords = new Map(['captain', 'crew', 'member'].map((role) => [role, randomBytes(6).toString('base64url')]));
  try {
    await play(context, passwords);
  } catch (error) {
    await clear(context);
    throw error;
  }
  const shown = ['captain', 'crew', 'member'].map((role) => {
    const person = people.find((p) => p.role === role);
    return `      ${role.padEnd(8)} ${(person?.userName ?? '').padEnd(10)} ${passwords.get(role)}`;
  });
  return ['', '  The demonstration is loaded: Skerrywick Boat Club, three weeks of an invented season.', '  Sign in as (these passwords are shown this once):', '', ...shown].join('\n');
}

async function play(context: Context, passwords: Map<string, string>): Promise<void> {
  const now = context.clock();
  let moment = new Date(now);
  const ids = new Map<string, string>();
  const start = new Date(now.getTime() - 40 * 24 * 3600_000);
  await context.database.query('demo-club', 'insert into club (name, time_zone, created_at) values ($1, $2, $3::timestamptz)', ['Skerrywick Boat Club', 'Europe/London', start.toISOString()]);
  const hashes = new Map<string, string>();
  for (const [role, password] of passwords) hashes.set(role, await hash(password, { memoryCost: 19_456, timeCost: 2, parallelism: 1 }));
  for (const person of people) {
    const id = randomUUID();
    ids.set(person.userName, id);
    // Only the first of each role can sign in; the others' passwords are known to nobody.
    const first = people.find((p) => p.role === person.role) === person;
    const passwordHash = first ? (hashes.get(person.role) ?? '') : await hash(randomBytes(24).toString('base64url'), { memoryCost: 19_456, timeCost: 2, parallelism: 1 });
    await context.database.query('demo-member', 'insert into member (id, name, user_name, role, password_hash, joined_at) values ($1, $2, $3, $4, $5, $6::timestamptz)', [id, person.name, person.userName, person.role, passwordHash, start.toISOString()]);
  }
  // Hundreds of requests of the story would bury the passwords that are shown once.
  const app = await buildApp({ ...context, logger: context.logger.child({}, { level: 'warn' }), clock: () => new Date(moment), webDir: null });
  await app.ready();
  const send = async (userName: string, method: 'GET' | 'POST' | 'PATCH', url: string, body?: object) => {
    const cookie = `${ACCESS_COOKIE}=${app.jwt.sign({ sub: ids.get(userName) ?? '', epoch: 1, family: randomUUID() })}`;
    const answer = await app.inject({ method, url, headers: { cookie, 'idempotency-key': randomUUID() }, ...(body ? { payload: body } : {}) });
    if (answer.statusCode >= 400) throw new Error(`The demonstration was refused: ${method} ${url} as ${userName}: ${answer.payload}`);
    return answer.payload ? JSON.parse(answer.payload) : null;
  };
  try {
    await tell({
      now,
      at: (next) => {
        moment = next;
      },
      as: (userName) => ({ get: (url) => send(userName, 'GET', url), post: (url, body) => send(userName, 'POST', url, body), patch: (url, body) => send(userName, 'PATCH', url, body) }),
      idOf: (userName) => ids.get(userName) ?? '',
    });
  } finally {
    // Plugins only: the database stays open for the service itself.
    await app.close();
  }
}

/** Takes a half-loaded demonstration out again; the database was empty before it. */
async function clear({ database }: Context): Promise<void> {
  const tables = await database.query<{ name: string }>('demo-tables', `select tablename as name from pg_tables where schemaname = 'public' and tablename not in ('_prisma_migrations', 'species')`, []);
  await database.query('demo-clear', `truncate ${tables.map((t) => `"${t.name}"`).join(', ')} restart identity cascade`, []);
}
