// A smoker learns from the log of a finished smoke, and the next batch's forecast says that it uses it: typed, from this smoke's own log, or as an earlier smoke ran.
import type { Browser, Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { madeSmoke } from '../support/made-smoke.ts';
import { captainAtWork } from './support/at-work.ts';
import type { Hand } from './support/hand.ts';
import { DESK, PHONE } from './support/inspection.ts';
import { invite, join, somebody } from './support/people.ts';
import type { Scene } from './support/scene.ts';
import type { Service } from '../support/process.ts';

const MINUTES = 60_000;
const MADE = { hWPerM2K: 16, humidityPct: 33, thicknessMm: 24 };
let club: Scene;
let captain: Hand;
let page: Page;
let browser: Browser;
let service: Service;
let smoker: { id: string };
let first: any, second: any, next: any;
const inspection = captainAtWork('smoker', async (at) => {
  ({ club, captain, browser, service } = at);
  page = at.captain.page;
  smoker = (await club.get('/api/stations')).items.find((s: any) => s.name === 'Shore smoker');
  [first, second] = [await smoked('First lot', 30, MADE.thicknessMm, true), await smoked('Second lot', 20, 30, false)];
  next = await club.batch('Next lot', await club.land('Guest Orla'));
  await club.post('/api/slots', { stationId: smoker.id, batchId: next.id, stageKind: 'smoke', startsAt: ago(-2), endsAt: ago(-6), amount: 2 });
});

const ago = (hours: number): string => new Date(Date.now() - hours * 3_600_000).toISOString();
async function readIn(batchId: string, stageId: string, log: ReturnType<typeof madeSmoke>): Promise<void> {
  for (const place of ['chamber', 'core'] as const) await club.post(`/api/batches/${batchId}/readings`, { place, stageId, source: 'pasted', readings: log[place] });
}
/** Four hours in the Shore smoker, logged; with a slot or without. */
async function smoked(name: string, hoursAgo: number, thicknessMm: number, booked: boolean): Promise<any> {
  const batch = await club.batch(name, await club.land('Guest Orla'));
  const [startedAt, finishedAt] = [ago(hoursAgo), ago(hoursAgo - 4)];
  const { stages } = await club.post(`/api/batches/${batch.id}/stages`, { kind: 'smoke', startedAt, finishedAt, massOutG: 4000 });
  if (booked) await club.post('/api/slots', { stationId: smoker.id, batchId: batch.id, stageKind: 'smoke', startsAt: startedAt, endsAt: finishedAt, amount: 2 });
  await readIn(batch.id, stages[0].id, madeSmoke({ ...MADE, thicknessMm, startAt: startedAt }));
  return batch;
}
async function toForecast(id: string, at = page): Promise<void> {
  await at.goto(`/batches/${id}/forecast`);
  await at.getByRole('heading', { level: 1, name: 'How long will it take' }).waitFor();
  await at.getByText('What it is reckoned from').first().waitFor();
}
const answer = (at = page) => at.getByRole('region', { name: 'The forecast' });

describe('a smoker', () => {
  test('that has learnt nothing is forecast by the usual values, and the forecast says so', async () => {
    await toForecast(next.id);
    await answer().getByText('The usual values of natural draught. Shore smoker has learnt nothing yet.').waitFor();
    await expect.poll(() => page.getByLabel('Smoker', { exact: true }).inputValue(), { message: 'from its slot' }).toBe(smoker.id);
  }, MINUTES);

  test('learns from a finished smoke in a few taps, and again from a second that no slot places', async () => {
    await page.goto('/stations');
    await captain.link('Shore smoker');
    await page.getByText('It has learnt nothing yet.').waitFor();
    await inspection.screen(page, 'smoker-new');
    const before = captain.taps;
    await captain.button(`Learn from lot ${first.lot}`);
    await captain.type(/^Thickness/, String(MADE.thicknessMm));
    await captain.tap(page.getByRole('radio', { name: 'Natural' }));
    await inspection.screen(page, 'smoker-learn');
    await captain.button('Learn from this smoke');
    await page.getByText(/^Heat transfer 1[567]\.\d W\/m² K, give or take 0\.\d, from 1 smoke; humidity 3[234] %\.$/).waitFor();
    expect(captain.taps - before).toBeLessThanOrEqual(4);
    await captain.button(`Learn from lot ${second.lot}`);
    await captain.type(/^Thickness/, '30');
    await captain.button('Learn from this smoke');
    await page.getByRole('dialog').getByText('Say that it was smoked in Shore smoker.').first().waitFor();
    expect(await page.getByRole('dialog').getByLabel(/^Thickness/).inputValue(), 'nothing is lost').toBe('30');
    await captain.tap(page.getByRole('switch', { name: 'It was smoked in Shore smoker' }));
    await captain.button('Learn from this smoke');
    await page.getByText('2 smokes, 98 core readings').waitFor();
    await inspection.screen(page, 'smoker-learnt');
    await page.setViewportSize(DESK);
    await inspection.screen(page, 'smoker-learnt');
    await captain.button(/^1\d\.\d W/);
    await page.getByText('Least squares of the logged core').waitFor();
    await captain.link('About this model');
    await page.waitForURL('**/models/smoker-fit');
    await page.setViewportSize(PHONE);
    await page.goto('/stations');
    await page.getByText(/^Heat transfer .*, from 2 smokes; humidity 3[234] %$/).waitFor();
    await inspection.screen(page, 'stations-learnt');
  }, 3 * MINUTES);
});

describe('the next forecast', () => {
  test('uses what the smoker has learnt, says so, and shows it in its working', async () => {
    await toForecast(next.id);
    await answer().getByText(/^As Shore smoker has learnt from 2 smokes: heat transfer 1[567]\.\d W\/m² K/).waitFor();
    await page.getByText(/^Stage 1: 32 °C, 33 % humid/).waitFor();
    await inspection.screen(page, 'forecast-learnt');
    await captain.button(/, Through 30 minutes: how it was worked out/);
    await page.getByRole('dialog').getByText('learnt by Shore smoker from 2 smokes').waitFor();
    await captain.button('Close');
    await page.setViewportSize(DESK);
    await inspection.screen(page, 'forecast-learnt');
    await page.setViewportSize(PHONE);
  }, 2 * MINUTES);

  test('may take the chamber as an earlier smoke ran it', async () => {
    await captain.tap(page.getByRole('radio', { name: 'As an earlier smoke ran here' }));
    const smokes = page.getByRole('combobox', { name: 'Earlier smoke' });
    await smokes.selectOption({ label: (await smokes.locator('option').filter({ hasText: 'First lot' }).textContent())!.trim() });
    await page.getByRole('textbox', { name: 'Thickness', exact: true }).fill(String(MADE.thicknessMm));
    // The made log's own core: it passes 62.8 C within the log, as this forecast of it does.
    const made = madeSmoke({ ...MADE, startAt: '2026-06-10T08:00:00Z' });
    const passed = made.core.findIndex((r) => r.celsius >= 62.8) * 5;
    // The forecast follows what is typed a moment later.
    await expect.poll(async () => {
      const [, hours, minutes] = /62\.8 °C after (\d) h (\d\d) min/.exec(await answer().locator('figcaption').innerText()) ?? [];
      return Math.abs(Number(hours) * 60 + Number(minutes) - passed);
    }, { message: `passed 62.8 °C ${passed} minutes after it was lit` }).toBeLessThanOrEqual(8);
    await inspection.screen(page, 'forecast-earlier');
  }, 2 * MINUTES);

  test('stays on this device when the page is closed, until somebody starts afresh or signs out', async () => {
    await page.getByRole('textbox', { name: 'Thickness', exact: true }).fill('41');
    await page.goto('/');
    await toForecast(next.id);
    await expect.poll(() => page.getByRole('textbox', { name: 'Thickness', exact: true }).inputValue()).toBe('41');
    await page.getByText(/^As you left it, /).waitFor();
    await captain.button('Start afresh');
    await expect.poll(() => page.getByRole('textbox', { name: 'Thickness', exact: true }).inputValue()).toBe('25');
    await expect.poll(() => page.evaluate<string[]>(`Object.keys(localStorage).filter((k) => k.startsWith('tidelarder.draft.'))`)).toEqual([]);
  }, MINUTES);

  test('goes on from this smoke’s own log: times are the clock’s, gaps are named, and its core moves the forecast', async () => {
    const { id } = await club.batch('Running lot', await club.land('Guest Orla'));
    const startedAt = ago(2.05);
    const { stages } = await club.post(`/api/batches/${id}/stages`, { kind: 'smoke', startedAt });
    const log = madeSmoke({ ...MADE, hWPerM2K: 13, hours: 2, startAt: startedAt });
    const gapped = { ...log, chamber: log.chamber.filter((_, i) => i < 8 || i > 11) };
    await readIn(id, stages[0].id, gapped);
    await toForecast(id);
    await captain.pick('Smoker', 'Shore smoker');
    await page.getByRole('textbox', { name: 'Thickness', exact: true }).fill(String(MADE.thicknessMm));
    await answer().getByText(/This smoke’s own core moves it from there\./).waitFor();
    const words = () => answer().innerText();
    await expect.poll(words).toMatch(/The chamber was not read from \d\d:\d\d to \d\d:\d\d: a straight line stands in for it here\./);
    await expect.poll(words).toMatch(/The core is likely to pass 62\.8 °C at \d\d:\d\d/);
    await expect.poll(async () => {
      const [, core, model] = /Last core reading, \d\d:\d\d\s+([\d.]+) °C \(this forecast has ([\d.]+) °C\)/.exec(await words()) ?? [];
      return Math.abs(Number(core) - Number(model));
    }, { message: 'the last core reading, and what the forecast has there' }).toBeLessThan(1);
    await inspection.screen(page, 'forecast-so-far');
    await page.setViewportSize(DESK);
    await inspection.screen(page, 'forecast-so-far');
    await page.setViewportSize(PHONE);
  }, 2 * MINUTES);

  test('a reading that is withdrawn ends what was learnt until somebody fits it anew', async () => {
    const [list] = (await club.get(`/api/batches/${second.id}/readings`)).items.filter((l: any) => l.place === 'core');
    await club.patch(`/api/reading-lists/${list.id}`, { version: list.version, withdrawnNos: [3], reason: 'Pulled out' });
    await toForecast(next.id);
    await answer().getByText('Shore smoker has to be fitted anew: readings that it learnt from were changed.').waitFor();
    await captain.link('What it has learnt');
    await page.getByText('no forecast uses it now').waitFor();
    await inspection.screen(page, 'smoker-stale');
    await captain.button('Fit it anew');
    await page.getByText('2 smokes, 97 core readings').waitFor();
    await captain.button(`Take out lot ${second.lot}`);
    await page.getByText('1 smoke, 49 core readings').waitFor();
  }, 2 * MINUTES);

  test('a member sees what was learnt and changes nothing; signing out takes drafts away', async () => {
    const member = await somebody(browser, service.url, 'member', inspection, PHONE);
    await join(member, await invite(captain, 'Member'), 'Ann Holm');
    await member.page.goto(`/stations/${smoker.id}`);
    await member.page.getByText('1 smoke, 49 core readings').waitFor();
    expect(await member.page.getByRole('button', { name: /^(Learn|Take out|Fit)/ }).count()).toBe(0);
    await inspection.screen(member.page, 'smoker-member');
    await toForecast(next.id, member.page);
    await member.page.getByRole('textbox', { name: 'Thickness', exact: true }).fill('33');
    await answer(member.page).getByText(/^As Shore smoker has learnt/).waitFor();
    const kept = () => member.page.evaluate<string[]>(`Object.keys(localStorage).filter((k) => k.startsWith('tidelarder.draft.'))`);
    await expect.poll(kept).toHaveLength(1);
    await inspection.screen(member.page, 'forecast-member');
    await member.page.goto('/account');
    await member.button('Sign out here');
    await member.page.waitForURL('**/sign-in**');
    await expect.poll(kept).toEqual([]);
  }, 2 * MINUTES);

  test('no screen breaks accessibility, runs over its edge or writes to the console', () => expect(inspection.faults).toEqual([]));
});
