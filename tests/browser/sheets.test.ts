// A sheet over the page loses nothing that was typed, and takes no tap that was meant for it alone.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser, Locator } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest';
import { freePort, startService, type Service } from '../support/process.ts';
import { buildWebApp } from './support/build-once.ts';
import type { Hand } from './support/hand.ts';
import { Inspection, picture } from './support/inspection.ts';
import { atToday, openBrowser, somebody } from './support/people.ts';
import { placeOf } from './support/quiet.ts';
import { CAPTAIN, scene, type Scene } from './support/scene.ts';

const MINUTES = 60_000;
let folder: string;
let service: Service;
let browser: Browser;
let club: Scene;
let captain: Hand;
let address: string;
const inspection = new Inspection();

beforeAll(async () => {
  buildWebApp();
  folder = mkdtempSync(path.join(tmpdir(), 'tidelarder-sheets-'));
  const port = String(await freePort());
  service = await startService({ DATA_DIR: path.join(folder, 'data'), PORT: port, PUBLIC_URL: `http://127.0.0.1:${port}` });
  club = await scene(service);
  address = `/batches/${(await club.batch('Ledge mackerel', await club.land('Guest Orla'))).id}`;
  browser = await openBrowser();
  captain = await somebody(browser, service.url, 'captain', inspection);
  await captain.page.goto('/sign-in');
  await captain.type(/user name/i, CAPTAIN.login);
  await captain.type(/^Password/, CAPTAIN.password);
  await captain.button('Sign in');
  await atToday(captain.page);
}, 10 * MINUTES);

afterEach(async ({ task }) => {
  if (task.result?.state === 'fail') await picture(captain.page, 'failed-sheet');
});

afterAll(async () => {
  await browser?.close();
  service?.child.kill('SIGTERM');
  await service?.exited;
  if (folder) rmSync(folder, { recursive: true, force: true });
}, MINUTES);

const sheet = (): Locator => captain.page.getByRole('dialog');
const field = (name: RegExp): Locator => sheet().getByRole('textbox', { name });
/** Reached as a person does, so that back leads somewhere inside the app. */
beforeEach(async () => {
  await captain.page.goto('/batches');
  await captain.page.getByRole('link', { name: /Ledge mackerel/ }).first().click();
  await captain.page.waitForURL(`**${address}`);
  await captain.button('Next stage');
  await sheet().waitFor();
});
const typeNote = async (): Promise<void> => {
  await captain.tap(sheet().getByText(/^More/));
  await field(/^Note/).fill('brine was cloudy');
};
const asked = (): Locator => sheet().getByText('What you typed is not saved.');

test('back closes the sheet and leaves the page where it is', async () => {
  await captain.page.goBack();
  await sheet().waitFor({ state: 'hidden' });
  expect(new URL(captain.page.url()).pathname).toBe(address);
  await captain.button('Next stage');
  await sheet().waitFor();
});

test('back and a tap outside ask before what was typed is thrown away', async () => {
  await typeNote();
  await captain.page.goBack();
  await asked().waitFor();
  await captain.button('Keep typing');
  await captain.page.mouse.click(195, 20);
  await asked().waitFor();
  await captain.button('Keep typing');
  expect(await field(/^Note/).inputValue()).toBe('brine was cloudy');
  await captain.page.keyboard.press('Escape');
  await captain.button('Throw it away');
  await sheet().waitFor({ state: 'hidden' });
  expect(new URL(captain.page.url()).pathname).toBe(address);
});

test('a tap outside closes a sheet in which nothing was typed', async () => {
  await captain.page.mouse.click(195, 20);
  await sheet().waitFor({ state: 'hidden' });
});

test('the second tap on a sheet that closes falls on nothing', async () => {
  const close = await placeOf(sheet().getByRole('button', { name: 'Close' }));
  const [x, y] = [close.x + close.width / 2, close.y + close.height / 2];
  // Looked at by the page itself, at the moment the sheet has gone: a look from outside may come when the shield has gone too.
  await captain.page.evaluate(`void (window.below = new Promise((seen) => new MutationObserver((_, watch) => {
    if (document.querySelector('[role=dialog]')) return;
    watch.disconnect();
    setTimeout(() => seen(document.elementFromPoint(${x}, ${y})?.className));
  }).observe(document.body, { childList: true, subtree: true })))`);
  await captain.page.mouse.click(x, y);
  expect(await captain.page.evaluate('window.below')).toBe('tap-shield');
  // It is gone in time for the next tap that is meant.
  await captain.button('Next stage');
  await sheet().waitFor();
});

test('a unit picked in one field holds for the sheet, and the next sheet starts in the club’s', async () => {
  await captain.tap(sheet().getByText('It is finished already'));
  const unit = (of: string): Locator => sheet().getByRole('combobox', { name: `Unit of ${of}`, exact: true });
  await unit('weight out').selectOption('lb');
  await field(/^Trim/).fill('1');
  expect(await unit('trim').inputValue()).toBe('lb');
  await captain.button('Close');
  await captain.button('Next stage');
  await captain.tap(sheet().getByText('It is finished already'));
  expect(await unit('weight out').inputValue()).toBe('kg');
});

test('what is under a finger that leaves an unreadable field stays there until it has tapped; the message comes after', async () => {
  const { page } = captain;
  await page.goto('/fish/ice');
  const [first, next] = [page.getByRole('textbox').first(), page.getByRole('textbox').nth(1)];
  await first.fill('eleven');
  const { x, y, width, height } = await placeOf(next);
  await page.mouse.move(x + width / 2, y + height / 2);
  await page.mouse.down();
  // As long as a finger takes.
  await new Promise((resolve) => setTimeout(resolve, 120));
  expect((await next.boundingBox())!.y).toBe(y);
  await page.mouse.up();
  await expect.poll(() => first.getAttribute('aria-invalid')).toBe('true');
  expect((await placeOf(next)).y).toBeGreaterThan(y);
});

test('what was typed for a trip is there after back', async () => {
  const { page } = captain;
  await captain.button('Close');
  await page.goto('/fish/new');
  await captain.type('Where', 'Skerry sound');
  await page.locator('a[href="/fish"]').first().click();
  await page.getByRole('heading', { level: 1, name: 'Fish' }).waitFor();
  await expect.poll(() => page.title()).toMatch(/^Fish · /);
  await page.goBack();
  await captain.page.getByLabel('Where').waitFor();
  await expect.poll(() => page.getByLabel('Where').inputValue()).toBe('Skerry sound');
});

test('a mistyped link gets the page of a used one', async () => {
  await captain.button('Close');
  await captain.page.goto('/join/short');
  await captain.page.getByRole('heading', { name: 'This invitation no longer works' }).waitFor();
});

test('typing replaces a user name that was only offered', async () => {
  await captain.button('Close');
  const { link } = await club.post('/api/invitations', { role: 'member' });
  await captain.page.goto(new URL(link).pathname);
  await captain.page.getByLabel('Your name').pressSequentially('Olav Berg');
  await captain.page.getByLabel('User name').click();
  await captain.page.keyboard.type('berg');
  expect(await captain.page.getByLabel('User name').inputValue()).toBe('berg');
  await captain.page.getByLabel('Your name').fill('Olav Holm Berg');
  expect(await captain.page.getByLabel('User name').inputValue()).toBe('berg');
});

test('the page of a claimed pack leads with the claim, and handing over knows who claimed it', async () => {
  await captain.button('Close');
  const { packs } = await club.packed('Christmas mackerel', [150, 160]);
  await club.post('/api/claims', { packId: packs[0].id });
  await captain.page.goto(`/packs/${packs[0].id}`);
  await captain.page.getByRole('button', { name: /^Confirm for / }).waitFor();
  await captain.button('Hand over');
  await sheet().waitFor();
  await expect.poll(() => sheet().getByRole('combobox', { name: 'To' }).inputValue()).toBe(CAPTAIN.name);
  await picture(captain.page, 'pack-hand-over-390');
  await captain.button('Close');
  await picture(captain.page, 'pack-claimed-390');
  await captain.page.goto(address);
  await captain.button('Next stage');
  await captain.tap(sheet().getByText(/^More/));
  await captain.page.getByLabel('Started').scrollIntoViewIfNeeded();
  await picture(captain.page, 'stage-times-390');
});
