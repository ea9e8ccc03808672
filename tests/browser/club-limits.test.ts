// A club that tightened limits: the form of a stage and the cure plan ask for what its checks will ask for.
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { captainAtWork } from './support/at-work.ts';
import type { Hand } from './support/hand.ts';
import { DESK, PHONE } from './support/inspection.ts';
import type { Scene } from './support/scene.ts';

const MINUTES = 60_000;
let club: Scene;
let captain: Hand;
let page: Page;
const inspection = captainAtWork('limits', (at) => {
  ({ club, captain } = at);
  page = at.captain.page;
});
const ago = (hours: number): string => new Date(Date.now() - hours * 60 * MINUTES).toISOString();
async function hintOf(label: RegExp): Promise<string | null> {
  const described = await page.getByRole('dialog').getByLabel(label).getAttribute('aria-describedby');
  return page.locator(`[id="${described!.split(' ')[0]}"]`).textContent();
}

test('the hints of a stage and the warnings of a plan go by the club’s limits', async () => {
  for (const [id, value] of [['brine.cold.hours', 2], ['brine.cold.celsius', 2], ['cool.fc.first-minutes', 90], ['cool.fc.end.celsius', 4]] as const) await club.put(`/api/rules/limits/${id}`, { value, version: 0 });
  const cured = await club.batch('Cured lot', await club.land('Guest Orla'));
  await club.post(`/api/batches/${cured.id}/stages`, { kind: 'cure', startedAt: ago(3) });
  await page.goto(`/batches/${cured.id}`);
  await captain.button('Finish cure');
  await expect.poll(() => hintOf(/^Warmest where it stood/), { timeout: 15_000 }).toBe('In the refrigerator or ice box. Needed before sharing when it cured for more than 2 hours.');
  await inspection.screen(page, 'club-limits-cure');

  const smoked = await club.batch('Smoked lot', await club.land('Guest Orla'));
  await club.post(`/api/batches/${smoked.id}/stages`, { kind: 'smoke', startedAt: ago(9), finishedAt: ago(5), massOutG: 4000, maxCoreC: 66, holdMinutes: 40 });
  await club.post(`/api/batches/${smoked.id}/stages`, { kind: 'cool', startedAt: ago(5) });
  await page.goto(`/batches/${smoked.id}`);
  await captain.button('Finish cool');
  await expect.poll(() => hintOf(/^Back at 21/), { timeout: 15_000 }).toBe('Within 1.5 hours of smoking');
  expect(await hintOf(/^Back at 5/)).toBe('Within 6 hours of smoking. You can add this later. The club asks for 4 °C: record core readings too.');
  await inspection.screen(page, 'club-limits-cool');

  // A plan of a thick piece, in a place of 3 °C as it is offered.
  const planned = await club.batch('Planned lot', await club.land('Guest Orla'));
  for (const size of [PHONE, DESK]) {
    await page.setViewportSize(size);
    await page.goto(`/batches/${planned.id}/cure`);
    await page.getByText(/ore than 2 hours in brine or dry cure only at 2 °C or colder; it is 3 °C there/).waitFor();
    await inspection.screen(page, 'club-limits-plan');
  }
}, 3 * MINUTES);
