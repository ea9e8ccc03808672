// What is done with batches and packs besides the straight way through: each part begins in the middle of the job.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { freePort, startService, type Service } from '../support/process.ts';
import { buildWebApp } from './support/build-once.ts';
import type { Hand } from './support/hand.ts';
import { Inspection, picture } from './support/inspection.ts';
import { atToday, join, openBrowser, somebody } from './support/people.ts';
import { CAPTAIN, scene, type Scene } from './support/scene.ts';

const MINUTES = 60_000;
let folder: string;
let service: Service;
let browser: Browser;
let club: Scene;
let captain: Hand;
let member: Hand;
let memberId: string;
const inspection = new Inspection();

beforeAll(async () => {
  buildWebApp();
  folder = mkdtempSync(path.join(tmpdir(), 'tidelarder-batches-'));
  const port = String(await freePort());
  service = await startService({ DATA_DIR: path.join(folder, 'data'), PORT: port, PUBLIC_URL: `http://127.0.0.1:${port}` });
  club = await scene(service);
  browser = await openBrowser();
  captain = await somebody(browser, service.url, 'captain', inspection);
  await captain.page.goto('/sign-in');
  await captain.type(/user name/i, CAPTAIN.login);
  await captain.type(/^Password/, CAPTAIN.password);
  await captain.button('Sign in');
  await atToday(captain.page);
  member = await somebody(browser, service.url, 'member', inspection);
  const link = (await club.post('/api/invitations', { role: 'member' })).link as string;
  await join(member, new URL(link).pathname, 'Ada Finch');
  memberId = (await club.get('/api/members')).items.find((m: { name: string }) => m.name === 'Ada Finch').id;
}, 4 * MINUTES);

afterEach(async ({ task }) => {
  if (task.result?.state !== 'fail') return;
  for (const [who, hand] of Object.entries({ captain, member })) if (hand) await picture(hand.page, `failed-${who}`);
  console.error([...new Set(inspection.faults)].join('\n'), service?.output().slice(-2000));
});

afterAll(async () => {
  await browser?.close();
  service?.child.kill('SIGTERM');
  await service?.exited;
  if (folder) rmSync(folder, { recursive: true, force: true });
}, MINUTES);

const memberApi = async (method: 'get' | 'post', address: string, data?: object): Promise<any> =>
  (await member.page.request[method](address, data ? { data, headers: { 'idempotency-key': crypto.randomUUID() } } : {})).json();
/** Claims as the member, confirmed by the captain. */
async function claimed(packs: { id: string }[]): Promise<void> {
  for (const { id } of packs) {
    const made = await memberApi('post', '/api/claims', { packId: id });
    await club.post(`/api/claims/${made.id}/confirm`, { version: made.version });
  }
}

describe('from the first screen', () => {
  test('the packs that a member claimed are chosen already: two taps hand them over', async () => {
    const { packs } = await club.packed('Hand-over lot', [210, 220, 230, 240]);
    await claimed(packs.slice(0, 2));
    const asked = await memberApi('post', '/api/claims', { packId: packs[2].id });
    const taps = await captain.count(async () => {
      await captain.link(/^Hand 2 packs to Ada Finch/);
      const sheet = captain.page.getByRole('dialog');
      await sheet.getByRole('combobox', { name: 'To' }).waitFor();
      await expect.poll(() => sheet.getByRole('combobox', { name: 'To' }).inputValue()).toBe('Ada Finch');
      expect(await sheet.getByRole('checkbox', { checked: true }).count()).toBe(2);
      await inspection.screen(captain.page, 'hand-over-claims');
      await captain.tap(sheet.getByRole('button', { name: 'Hand over' }));
      await captain.page.getByText('2 packs handed over.').waitFor();
    });
    expect(taps).toBe(2);
    for (const [i, status] of ['handed-over', 'handed-over', 'claimed', 'ready'].entries()) expect((await club.get(`/api/packs/${packs[i].id}`)).status).toBe(status);
    expect((await club.get(`/api/claims?memberId=${memberId}&status=asked`)).items.map((c: { id: string }) => c.id)).toEqual([asked.id]);
  }, 3 * MINUTES);

  test('the smoker is booked in at most 5 taps, with three batches open and none started', async () => {
    const open = await Promise.all(['Early lot', 'Middle lot', 'Late lot'].map(async (name) => club.batch(name, await club.land('Guest Per'))));
    const book = async () => {
      await captain.tap(captain.page.getByRole('radio', { name: 'Smoke', exact: true }));
      await expect.poll(() => captain.page.getByLabel('Station', { exact: true }).inputValue()).not.toBe('');
      await captain.button('Book');
      await captain.page.getByText('Shore smoker booked.').waitFor();
    };
    const straight = await captain.count(async () => {
      await captain.link(/^Book a station: Middle lot/);
      await inspection.screen(captain.page, 'book-station-from-today');
      await book();
    });
    const byBatch = await captain.count(async () => {
      await captain.link(/^Late lot is not started/);
      await captain.button('Book a station');
      await book();
    });
    expect([straight, byBatch]).toEqual([3, 4]);
    const booked = await Promise.all(open.map(async (b) => (await club.get(`/api/batches/${b.id}`)).slots.map((s: { stageKind: string }) => s.stageKind)));
    expect(booked).toEqual([[], ['smoke'], ['smoke']]);
    expect(new URL(captain.page.url()).search, 'the sheet does not open again on the way back').toBe('');
  }, 3 * MINUTES);
});

describe('every screen seen here', () => {
  test('has no accessibility violation (axe, WCAG 2.2 AA), no error on the console, no sideways scrolling', () => {
    expect(inspection.seen.size).toBeGreaterThan(1);
    expect([...new Set(inspection.faults)], inspection.faults.join('\n')).toEqual([]);
  });
});
