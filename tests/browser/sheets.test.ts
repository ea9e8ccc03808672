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
}, 4 * MINUTES);

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
  const close = await sheet().getByRole('button', { name: 'Close' }).boundingBox();
  const [x, y] = [close!.x + close!.width / 2, close!.y + close!.height / 2];
  await captain.page.mouse.click(x, y);
  const below = await captain.page.evaluate(`document.elementFromPoint(${x}, ${y})?.className`);
  expect(below).toBe('sheet-shield');
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
