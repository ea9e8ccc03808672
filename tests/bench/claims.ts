import { randomUUID } from 'node:crypto';
import pg from 'pg';
import type { Config } from '../../server/config.ts';
import { claimPack } from '../../server/features/claims/claims.service.ts';
import type { Context } from '../../server/platform/context.ts';
import type { RawQuery } from '../../server/platform/database/open.ts';
import { openDatabase } from '../../server/platform/database/open.ts';
import { toParameter } from '../../server/platform/database/values.ts';
import { beginUnit } from '../../server/platform/unit.ts';
import { quiet } from '../support/database.ts';
import { cookieOf } from './club.ts';
import type { Club } from './club.ts';
import { median } from './figure.ts';
import type { Figure } from './figure.ts';
import { mustBe, openLines, wire } from './load.ts';
import type { Line } from './load.ts';
import { idOf } from './records.ts';

const AT_ONCE = 16;
const CLAIMS = 400;
const ROUNDS = 5;
/** Members of plain role in the records. */
const claimants = Array.from({ length: AT_ONCE }, (_, i) => idOf(10 + i));

type Statement = { name: string; text: string; params: unknown[] };

/** What the service itself sends to the database inside the transaction of one claim. */
async function recordClaim(club: Club, packId: string): Promise<Statement[]> {
  const database = await openDatabase({ databaseUrl: club.databaseUrl, dataDir: '', logger: quiet });
  const statements: Statement[] = [];
  const rawTransaction: typeof database.rawTransaction = (work) => database.rawTransaction((query) => {
    const noted: RawQuery = (name, text, params = []) => {
      statements.push({ name, text, params: params.map(toParameter) });
      return query(name, text, params);
    };
    return work(noted);
  });
  const context: Context = { config: {} as Config, database: { ...database, rawTransaction }, clock: () => new Date(), random: (n) => globalThis.crypto.getRandomValues(new Uint8Array(n)), logger: quiet as Context['logger'] };
  try {
    const actor = { id: claimants[0]!, name: 'Member', role: 'member' as const };
    const unit = beginUnit(context, actor, randomUUID(), { owner: actor.id, key: 'the-key', fingerprint: 'x'.repeat(43) });
    await claimPack(context, unit, { packId, note: '' });
  } finally {
    await database.close();
  }
  return statements;
}

/** Sends the recorded transaction for another pack and member: the same statements, other values. */
async function replay(client: pg.Client, recorded: readonly Statement[], from: { packId: string }, packId: string, memberId: string): Promise<void> {
  const claimId = recorded.find((s) => s.name === 'claim-take')!.params[0];
  const others = new Map<unknown, string>([[from.packId, packId], [claimants[0], memberId], [claimId, randomUUID()], ['the-key', randomUUID()]]);
  // The key is replaced in each statement that holds it, by the same new one.
  await client.query('BEGIN');
  for (const { name, text, params } of recorded) {
    const { rows } = await client.query({ name, text, values: params.map((value) => others.get(value) ?? value) });
    if (name === 'claim-take' && rows.length !== 1) throw new Error('The reference claimed nothing.');
  }
  await client.query('COMMIT');
}

/** 16 members at once, each claiming one pack after another, over HTTP and by the database's client alone. */
export async function measureClaims(club: Club): Promise<Figure> {
  // In no order of batches, as people choose them; the same for both sides.
  const { rows } = await club.sql.query<{ id: string }>(`select id from pack where status = 'ready' order by md5(id::text)`);
  const free = rows.map((row) => row.id);
  const from = { packId: free.pop()! };
  const recorded = await recordClaim(club, from.packId);
  const clients = await Promise.all(Array.from({ length: AT_ONCE }, () => openClient(club.databaseUrl)));
  const lines = await openLines(club.url, AT_ONCE);
  const cookies = claimants.map(cookieOf);
  const bare = (i: number, packId: string) => replay(clients[i]!, recorded, from, packId, claimants[i]!);
  const service = (i: number, packId: string) => claimOver(lines[i]!, cookies[i]!, packId);
  try {
    const [ours, theirs]: [number[], number[]] = [[], []];
    // The first round warms both up and is not counted.
    for (let round = 0; round <= ROUNDS; round += 1) {
      const [a, b] = [await perSecond(free.splice(0, CLAIMS), bare), await perSecond(free.splice(0, CLAIMS), service)];
      if (round === 0) continue;
      theirs.push(a);
      ours.push(b);
    }
    const ratio = median(ours.map((value, i) => value / theirs[i]!));
    return { id: 'claims', ratio, target: 0.4, better: 'higher', detail: `${median(ours).toFixed(0)} a second, bare client ${median(theirs).toFixed(0)}` };
  } finally {
    for (const line of lines) line.close();
    await Promise.all(clients.map((client) => client.end()));
  }
}

async function openClient(connectionString: string): Promise<pg.Client> {
  const client = new pg.Client({ connectionString });
  await client.connect();
  return client;
}

async function claimOver(line: Line, cookie: string, packId: string): Promise<void> {
  mustBe(201, await line.ask(wire({ method: 'POST', path: '/api/claims', headers: { cookie, 'idempotency-key': randomUUID() }, body: JSON.stringify({ packId }) })));
}

async function perSecond(packIds: string[], claim: (i: number, packId: string) => Promise<void>): Promise<number> {
  if (packIds.length < CLAIMS) throw new Error('There are too few packs to claim.');
  const waiting = [...packIds];
  const start = performance.now();
  await Promise.all(claimants.map(async (_, i) => {
    for (let packId = waiting.pop(); packId !== undefined; packId = waiting.pop()) await claim(i, packId);
  }));
  return packIds.length / ((performance.now() - start) / 1000);
}
