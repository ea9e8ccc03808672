// Every number that can be opened leads to the page of its model; each of those is looked at like any other screen.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { MODELS } from '../../server/domain/working.ts';
import { freePort, startService, type Service } from '../support/process.ts';
import { buildWebApp } from './support/build-once.ts';
import type { Hand } from './support/hand.ts';
import { DESK, Inspection, PHONE, picture } from './support/inspection.ts';
import { atToday, join, openBrowser, somebody } from './support/people.ts';
import { scene, type Scene } from './support/scene.ts';

const MINUTES = 60_000;
let folder: string;
let service: Service;
let browser: Browser;
let club: Scene;
let member: Hand;
const inspection = new Inspection();
/** What the list calls each model. */
let titles = new Map<string, string>();

beforeAll(async () => {
  buildWebApp();
  folder = mkdtempSync(path.join(tmpdir(), 'tidelarder-models-'));
  const port = String(await freePort());
  service = await startService({ DATA_DIR: path.join(folder, 'data'), PORT: port, PUBLIC_URL: `http://127.0.0.1:${port}` });
  club = await scene(service);
  browser = await openBrowser();
  member = await somebody(browser, service.url, 'member', inspection, PHONE);
  const link = (await club.post('/api/invitations', { role: 'member' })).link as string;
  await join(member, new URL(link).pathname, 'Ada Finch');
}, 10 * MINUTES);

afterEach(async ({ task }) => {
  if (task.result?.state !== 'fail') return;
  if (member) await picture(member.page, 'failed-models');
  console.error([...new Set(inspection.faults)].join('\n'), service?.output().slice(-2000));
});

afterAll(async () => {
  await browser?.close();
  service?.child.kill('SIGTERM');
  await service?.exited;
  if (folder) rmSync(folder, { recursive: true, force: true });
}, MINUTES);

const title = (name: string) => member.page.getByRole('heading', { level: 1, name, exact: true }).waitFor();

test('a member opens a stage\'s yield, and from its working the page of the model', async () => {
  const { batch } = await club.packed('Weighed lot', [210]);
  await member.page.goto(`/batches/${batch.id}`);
  await member.tap(member.page.getByRole('button', { name: /how it was worked out/ }).first());
  await member.link('About this model');
  await title('Yield');
  await expect.poll(() => member.page.getByRole('dialog').count()).toBe(0);
  expect(new URL(member.page.url()).pathname, 'the sheet that closes does not take the way back').toBe('/models/yield');
  // The page can be pressed: the sheet left nothing over it.
  await member.link('Calculations');
  await title('Calculations');
}, 3 * MINUTES);

test('the list is reached from More, and leads to every model', async () => {
  await member.page.goto('/');
  await atToday(member.page);
  await member.button('More');
  await member.link('Calculations');
  await title('Calculations');
  const links = await member.page.locator('main a[href^="/models/"]').evaluateAll((all) => all.map((a) => [(a as { getAttribute(name: string): string | null }).getAttribute('href')!.slice('/models/'.length), a.textContent ?? ''] as const));
  titles = new Map(links);
  expect([...titles.keys()].sort()).toEqual([...MODELS].sort());
  await inspection.screen(member.page, 'models');
}, 3 * MINUTES);

describe('with one\'s own numbers', () => {
  const answer = (name: string) => member.page.getByRole('region', { name, exact: true });

  test('how strong is this brine: from More in three taps, answered as one types, refused under the field', async () => {
    await member.page.goto('/');
    await atToday(member.page);
    const before = member.taps;
    await member.button('More');
    await member.link('Calculations');
    await member.link('Brine strength');
    expect(member.taps - before).toBeLessThanOrEqual(3);
    const strength = answer('How strong is this brine?');
    await strength.getByText('15.84 %').waitFor();
    await member.type('Reading', '40');
    await strength.getByText('10.56 %').waitFor();
    // A page that died, and a page that was left: what was typed is there again.
    await member.page.reload();
    await strength.getByText('10.56 %').waitFor();
    await member.page.goto('/models');
    await member.page.goBack();
    await strength.getByText('10.56 %').waitFor();
    await strength.getByText(/^As you left it/).waitFor();
    await strength.getByRole('button', { name: 'Start afresh' }).click();
    await strength.getByText('15.84 %').waitFor();
    await member.type('Reading', '40');
    await strength.getByText('10.56 %').waitFor();
    await member.type(/^How warm the brine was/, '25');
    await strength.getByText(/At 25 °C it reads low: the brine is stronger than this says\. Not corrected\./).waitFor();
    await inspection.screen(member.page, 'own-brine');
    await member.type('Reading', '140');
    await member.page.getByText(/^Salometer 140 degrees is not from 0 to 100 degrees; read the salometer again/).first().waitFor();
    await strength.getByText('no answer yet').waitFor();
    await inspection.screen(member.page, 'own-brine-refused');
    await member.pick('What you know of it', 'Salt and water that went in');
    await strength.getByText('7.17 %').waitFor();
    await member.tap(strength.getByRole('button', { name: /Salt by weight: how it was worked out/ }));
    await member.page.getByRole('dialog').getByText('Source').waitFor();
    await member.button('Close');
    await member.tap(member.page.getByText('Make it weaker or stronger'));
    await answer('Make it weaker or stronger').getByText('3.333 kg').or(answer('Make it weaker or stronger').getByText('3.33 kg')).first().waitFor();
  }, 3 * MINUTES);

  test('in the units of the device, and with a log that is pasted', async () => {
    await member.page.goto('/models/spoilage');
    await answer('What did a warm afternoon cost?').getByText('0.76 days on ice').waitFor();
    await member.page.goto('/models/lethality');
    const heating = answer('What did this heating do?');
    await heating.getByText(/^3\.25 min/).first().waitFor();
    await member.type('The log', '14:00 70\n14:04 70\nlid open');
    await heating.getByText(/^4 min/).first().waitFor();
    await heating.getByText(/Line 3 was left out, “lid open”/).waitFor();
    await inspection.screen(member.page, 'own-lethality');
    await member.button('More');
    await member.tap(member.page.getByRole('radio', { name: 'lb, °F' }));
    await member.page.goto('/models/humid-air');
    await answer('How cool does a wet fish stay?').getByText('119.7 °F').first().waitFor();
    await inspection.screen(member.page, 'own-fahrenheit');
    await member.button('More');
    await member.tap(member.page.getByRole('radio', { name: 'kg, °C' }));
  }, 3 * MINUTES);

  test('every part opens and answers', async () => {
    for (const model of MODELS) {
      await member.page.goto(`/models/${model}`);
      await title(titles.get(model)!);
      await member.page.getByText(/^(\d+) of \1 agree$/).waitFor();
      const folded = member.page.locator('main details:has(+ details, + h2) > summary').filter({ hasNotText: 'As a table' });
      const regions = member.page.locator('main section.part');
      const open = await regions.count();
      for (const summary of await folded.all()) await member.tap(summary);
      await expect.poll(() => regions.count()).toBe(open + (await folded.count()));
      expect(await regions.getByText('no answer yet').count(), model).toBe(0);
      if (open > 0) await inspection.screen(member.page, `own-${model}`);
    }
  }, 10 * MINUTES);
});

test('every model\'s page draws its equations and finds its checks in agreement', async () => {
  for (const model of MODELS) {
    await member.page.goto(`/models/${model}`);
    await title(titles.get(model)!);
    await member.page.getByText(/^(\d+) of \1 agree$/).waitFor();
    // Drawn as mathematics, not as elements that the browser does not know.
    expect(await member.page.locator('math').count(), model).toBeGreaterThan(2);
    expect((await member.page.locator('math').evaluateAll((all) => all.map((math) => (math as { getBoundingClientRect(): { width: number } }).getBoundingClientRect().width))).filter((width) => width < 4), model).toEqual([]);
    expect(await member.page.locator('math').first().evaluate((node) => (node as { namespaceURI?: string }).namespaceURI)).toBe('http://www.w3.org/1998/Math/MathML');
    await inspection.screen(member.page, `model-${model}`);
  }
}, 10 * MINUTES);

test('on a desk, and under a name that no model has', async () => {
  await member.page.setViewportSize(DESK);
  for (const model of ['smoking-heat', 'brine', 'dates', 'cooling', 'spoilage', 'salt-uptake'] as const) {
    await member.page.goto(`/models/${model}`);
    await title(titles.get(model)!);
    await member.page.getByText(/^(\d+) of \1 agree$/).waitFor();
    await inspection.screen(member.page, `model-${model}`);
  }
  await member.page.goto('/models/toString');
  await title('No such model');
  await inspection.screen(member.page, 'model-none');
}, 4 * MINUTES);

test('no page of a model has an accessibility violation (axe, WCAG 2.2 AA) or is wider than the device', () => {
  expect([...new Set(inspection.faults)]).toEqual([]);
  expect(inspection.seen.size).toBeGreaterThan(MODELS.length + 10);
});
