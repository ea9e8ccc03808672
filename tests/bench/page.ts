import { fork } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { cookieOf } from './club.ts';
import type { Club } from './club.ts';
import { median } from './figure.ts';
import type { Figure } from './figure.ts';
import { mustBe, openLine, openLines, rate, wire } from './load.ts';
import type { Line } from './load.ts';
import { captain, fullLarder, idOf } from './records.ts';

const CONNECTIONS = 16;
const ROUNDS = 5;
const WINDOW_MS = 2000;

async function withBare<T>(databaseUrl: string, work: (url: string) => Promise<T>): Promise<T> {
  const child = fork(fileURLToPath(new URL('bare-page.ts', import.meta.url)), { env: { ...process.env, DATABASE_URL: databaseUrl } });
  const exited = once(child, 'exit');
  try {
    const [ready] = (await Promise.race([once(child, 'message'), exited.then(() => { throw new Error('The reference did not start.'); })])) as [{ port: number }];
    return await work(`http://127.0.0.1:${ready.port}`);
  } finally {
    child.kill('SIGTERM');
    await exited;
  }
}

/** Keeps what the reference does not read from rows, taken from the service's own answer. */
async function keepPage(club: Club, batchId: string, body: string): Promise<void> {
  const start = body.indexOf('"packs":[') + '"packs":['.length;
  const end = body.indexOf('],"drawnBy"', start);
  await club.sql.query('create table bench_page (batch_id uuid primary key, reader uuid not null, start text not null, rest text not null)');
  await club.sql.query('insert into bench_page values ($1, $2, $3, $4)', [batchId, captain, body.slice(0, start), body.slice(end)]);
}

/** The page of a batch with 50 packs, asked over 16 connections, against a bare route that answers the same bytes. */
export async function measurePage(club: Club): Promise<Figure[]> {
  const batchId = idOf(fullLarder.batches - 20);
  const page = { path: `/api/batches/${batchId}`, headers: { cookie: cookieOf(captain) } };
  const first = await askOnce(club.url, wire(page));
  await keepPage(club, batchId, first.body.toString());
  const tag = /\r\netag: (.+)/i.exec(first.head)![1]!;
  return withBare(club.databaseUrl, async (bareUrl) => {
    const bareRequest = wire({ path: `/bare/${batchId}` });
    const bare = await askOnce(bareUrl, bareRequest);
    if (!bare.body.equals(first.body)) throw new Error(differ(first.body.toString(), bare.body.toString()));
    const [club16, bare16] = await Promise.all([openLines(club.url, CONNECTIONS), openLines(bareUrl, CONNECTIONS)]);
    try {
      return await compare(club16, bare16, { plain: wire(page), tagged: wire({ ...page, headers: { ...page.headers, 'if-none-match': tag } }), bare: bareRequest });
    } finally {
      for (const line of [...club16, ...bare16]) line.close();
    }
  });
}

function differ(ours: string, theirs: string): string {
  const at = [...ours].findIndex((character, i) => character !== theirs[i]);
  return `The reference does not answer the same bytes. From ${at} on:\n${ours.slice(at, at + 100)}\n${theirs.slice(at, at + 100)}`;
}

async function askOnce(url: string, request: Buffer) {
  const line = await openLine(url);
  try {
    return mustBe(200, await line.ask(request));
  } finally {
    line.close();
  }
}

async function compare(club: Line[], bare: Line[], requests: { plain: Buffer; tagged: Buffer; bare: Buffer }): Promise<Figure[]> {
  const rates = { plain: [] as number[], tagged: [] as number[], bare: [] as number[] };
  // The first round warms everything up and is not counted.
  for (let round = 0; round <= ROUNDS; round += 1) {
    const found = {
      bare: await rate(bare, requests.bare, 200, WINDOW_MS / 2),
      plain: await rate(club, requests.plain, 200, WINDOW_MS),
      tagged: await rate(club, requests.tagged, 304, WINDOW_MS),
    };
    // On both sides of the others: a machine that slows down meanwhile slows the reference too.
    found.bare = (found.bare + await rate(bare, requests.bare, 200, WINDOW_MS / 2)) / 2;
    if (round > 0) for (const key of ['plain', 'tagged', 'bare'] as const) rates[key].push(found[key]);
  }
  const against = (key: 'plain' | 'tagged') => median(rates[key].map((value, i) => value / rates.bare[i]!));
  const words = (key: 'plain' | 'tagged') => `${median(rates[key]).toFixed(0)} a second, bare route ${median(rates.bare).toFixed(0)}`;
  return [
    { id: 'batch-page', ratio: against('plain'), target: 0.5, better: 'higher', detail: words('plain') },
    { id: 'batch-page-etag', ratio: against('tagged'), target: 1.5, better: 'higher', detail: words('tagged') },
  ];
}
