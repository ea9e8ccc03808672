// What screens say of evidence that does not count, on a phone: a core that cannot be, a sample taken too early, what was withdrawn, and the allergens that labels will name.
import { Temporal } from 'temporal-polyfill';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { captainAtWork } from './support/at-work.ts';
import type { Hand } from './support/hand.ts';
import type { Scene } from './support/scene.ts';

const MINUTES = 60_000;
let club: Scene;
let captain: Hand;
let page: Page;
const inspection = captainAtWork('said', (at) => {
  ({ club, captain } = at);
  page = at.captain.page;
});

const ago = (hours: number): string => new Date(Date.now() - hours * 60 * MINUTES).toISOString();
const dayOf = (instant: string): string => Temporal.Instant.from(instant).toZonedDateTimeISO('Europe/London').toPlainDate().toString();
const sheet = () => page.getByRole('dialog');
async function openBatch(id: string): Promise<void> {
  await page.goto(`/batches/${id}`);
  await page.getByRole('heading', { level: 2, name: 'Checks' }).waitFor();
}
async function lot(name: string): Promise<string> {
  return (await club.batch(name, await club.land('Guest Orla'))).id;
}
const smoked = (id: string, more: object = {}) => club.post(`/api/batches/${id}/stages`, { kind: 'smoke', startedAt: ago(9), finishedAt: ago(5), massOutG: 4000, ...more });

describe('a typed core above 100 °C', () => {
  test('offers nothing to confirm; answered with the other unit, the refusal is gone at once', async () => {
    const id = await lot('Boiled lot');
    await openBatch(id);
    await captain.button('Next stage');
    await captain.tap(sheet().getByRole('radio', { name: 'Smoke', exact: true }));
    await captain.tap(sheet().getByText('It is finished already'));
    await captain.type(/^Weight out/, '4.2');
    await captain.type(/^Highest core temperature/, '150');
    await page.getByText('150 °C is too hot for a core. It may be in the other unit.').waitFor();
    expect(await sheet().getByRole('switch', { name: /really said/ }).count(), 'nobody confirms what cannot be').toBe(0);
    const field = sheet().getByLabel(/^Highest core temperature/);
    await captain.button('Save');
    await expect.poll(() => field.getAttribute('aria-invalid')).toBe('true');
    const refusal = sheet().getByText(/looks like Fahrenheit/);
    await refusal.waitFor();
    await refusal.scrollIntoViewIfNeeded();
    await inspection.screen(page, 'core-impossible');
    await captain.button('No, it is 65.6 °C');
    await expect.poll(() => field.getAttribute('aria-invalid'), { message: 'it was answered' }).not.toBe('true');
    expect([await refusal.count(), await sheet().getByText(/Look again at/).count()]).toEqual([0, 0]);
    await inspection.screen(page, 'core-answered');
    await captain.button('Save');
    // A weight that is unusual may be asked about once.
    await expect.poll(async () => {
      if (await sheet().getByRole('button', { name: 'Save all the same' }).count()) await captain.button('Save all the same');
      return sheet().count();
    }).toBe(0);
    expect((await club.get(`/api/batches/${id}`)).stages.at(-1)).toMatchObject({ kind: 'smoke', maxCoreC: 65.6 });
  }, 2 * MINUTES);
});

describe('a laboratory’s figure', () => {
  test('sampled before the smoke was over says that nothing rests on it; the day after, it says nothing', async () => {
    const id = await lot('Early sample');
    // 26 hours lie between the two days, whatever the hour is now.
    await club.post(`/api/batches/${id}/stages`, { kind: 'cure', startedAt: ago(34), finishedAt: ago(27), massOutG: 4950 });
    await smoked(id, { startedAt: ago(4), finishedAt: ago(1) });
    const figure = (kind: string, value: number, day: string) => club.post(`/api/batches/${id}/measurements`, { kind, value, part: 'loin', laboratory: 'Harbour Laboratory', sampledDay: day, reportedDay: dayOf(ago(0)) });
    await figure('water-phase-salt', 3.6, dayOf(ago(27)));
    await openBatch(id);
    const line = page.getByText(/Harbour Laboratory, sampled .*\. Sampled before the smoke was over: no pack and no date rests on it/);
    await line.waitFor();
    await line.scrollIntoViewIfNeeded();
    await inspection.screen(page, 'figure-too-early');
    await figure('nitrite', 120, dayOf(ago(0)));
    await openBatch(id);
    await page.getByRole('button', { name: 'Withdraw Nitrite 120 ppm' }).waitFor();
    expect(await page.getByText(/Sampled before the smoke was over/).count()).toBe(1);
  }, 2 * MINUTES);
});

describe('what was withdrawn', () => {
  test('is told at the first check that it was read for, and apart where no check asks for it', async () => {
    const id = await lot('Withdrawn lot');
    await smoked(id);
    const { list } = await club.post(`/api/batches/${id}/readings`, { place: 'core', probe: 'Rack 2', readings: Array.from({ length: 60 }, (_, i) => ({ at: ago(8 - i / 12), celsius: 20 + i })) });
    await club.patch(`/api/reading-lists/${list.id}`, { version: 1, withdrawn: true, reason: 'The other smoker’s log' });
    const today = dayOf(ago(0));
    const { measurements } = await club.post(`/api/batches/${id}/measurements`, { kind: 'nitrite', value: 250, part: 'loin', laboratory: 'Harbour Laboratory', sampledDay: today, reportedDay: today });
    await club.patch(`/api/measurements/${measurements[0].id}`, { version: 1, withdrawn: true, reason: 'Sample of another lot' });
    await openBatch(id);
    const checks = page.getByRole('list', { name: /^Checks/ }).getByRole('listitem').filter({ hasText: 'Hot enough for long enough' });
    const line = /^Withdrawn: 60 core readings \(Rack 2\), by Cap, .*\. Why: The other smoker’s log$/;
    await checks.first().getByText(line).waitFor();
    expect(await checks.nth(1).getByText(line).count(), 'once a rule').toBe(0);
    await page.getByText(/^Withdrawn: Nitrite 250 ppm, by Cap, .*\. Why: Sample of another lot$/).first().waitFor();
    await checks.first().getByText(line).scrollIntoViewIfNeeded();
    await inspection.screen(page, 'withdrawn-at-checks');
  }, 2 * MINUTES);
});

describe('what labels will name', () => {
  test('an allergen that the ingredients’ words give away, ticked or not: in the sheet, on the batch, behind the label', async () => {
    const { batch, packs } = await club.packed('Buttered lot', [300]);
    await openBatch(batch.id);
    await captain.button('Change name or contents');
    await captain.type(/^Ingredients/, 'mackerel, salt, butter');
    await page.getByText('You wrote butter: labels will name milk.').waitFor();
    await inspection.screen(page, 'allergens-given-away');
    await captain.button('Save');
    await sheet().waitFor({ state: 'hidden' });
    const contains = page.getByText('fish, milk', { exact: true });
    await contains.waitFor();
    await page.getByText('Labels name milk, for the ingredients say butter.').waitFor();
    await contains.scrollIntoViewIfNeeded();
    await inspection.screen(page, 'allergens-on-batch');
    await page.goto(new URL((await club.get(`/api/packs/${packs[0].id}`)).publicUrl).pathname);
    await page.getByText('fish, milk', { exact: true }).waitFor();
    await inspection.screen(page, 'allergens-public');
  }, 2 * MINUTES);
});

test('nothing on these screens is wrong to the eye or to a reader', () => {
  expect(inspection.faults).toEqual([]);
});
