// Measures the service against references in the same run: npm run bench [-- --json FILE]
import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { testDatabaseUrl } from '../support/database.ts';
import { measureChecks } from './check.ts';
import { measureClaims } from './claims.ts';
import { startClub, stopServices } from './club.ts';
import type { Club } from './club.ts';
import { table } from './figure.ts';
import type { Figure } from './figure.ts';
import { measureHeat } from './heat.ts';
import { measureLabels } from './labels.ts';
import { measureLists } from './lists.ts';
import { measurePage } from './page.ts';
import { startPostgres } from './postgres.ts';
import { fiftyBatches, fillRecords, fullLarder, tenYears } from './records.ts';
import type { Amount } from './records.ts';

async function withClub<T>(serverUrl: string, amount: Amount, work: (club: Club) => Promise<T>): Promise<T> {
  const club = await startClub(serverUrl, (sql) => fillRecords(sql, amount));
  try {
    return await work(club);
  } finally {
    await club.close();
  }
}

const LONGEST_MINUTES = 15;
const say = (text: string) => process.stderr.write(`${text}\n`);

/** Each figure at once too: the whole run takes some minutes. */
const shown = (figure: Figure) => {
  say(`  ${figure.id} ${figure.ratio.toFixed(2)} (${figure.detail})`);
  return figure;
};

async function measureAll(serverUrl: string): Promise<Figure[]> {
  say('Labels ...');
  const labels = shown(await measureLabels());
  say('The heat solver ...');
  const heat = shown(measureHeat());
  say('What a person waits for ...');
  const checks = measureChecks().map(shown);
  say('The batch page and claims ...');
  const hot = await withClub(serverUrl, fullLarder, async (club) => [...(await measurePage(club)).map(shown), shown(await measureClaims(club))]);
  say('Ten years of records ...');
  const lists = await withClub(serverUrl, fiftyBatches, (small) => withClub(serverUrl, tenYears, (large) => measureLists(small, large, shown)));
  return [...hot, ...lists, labels, heat, ...checks];
}

const { values } = parseArgs({ options: { json: { type: 'string' } } });
const own = testDatabaseUrl === null ? await startPostgres() : null;
/** Ends the run early and leaves nothing running; the reference ends when its parent does. */
const giveUp = (why: string) => {
  say(why);
  for (const stop of [stopServices, () => own?.stop()]) stop();
  process.exit(1);
};
for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => giveUp(`Stopped by ${signal}.`));
const deadline = setTimeout(() => giveUp(`The run took longer than ${LONGEST_MINUTES} minutes.`), LONGEST_MINUTES * 60_000);
try {
  const figures = await measureAll(own?.url ?? testDatabaseUrl!);
  process.stdout.write(`\n${table(figures)}\n`);
  if (values.json) writeFileSync(values.json, `${JSON.stringify(figures.map(({ id, ratio, target, better }) => ({ id, ratio, target, better })), null, 2)}\n`);
} finally {
  clearTimeout(deadline);
  own?.stop();
}
