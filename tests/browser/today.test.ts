// The first screen: what it marks, in whose units, what it says where there is nothing on it, and how large its targets are.
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { captainAtWork, type AtWork } from './support/at-work.ts';
import type { Hand } from './support/hand.ts';
import { DESK, PHONE } from './support/inspection.ts';
import { atToday, join, somebody } from './support/people.ts';
import { quiet } from './support/quiet.ts';

const MINUTES = 60_000;
const HOUR_MS = 3_600_000;
const at = (hours: number): string => new Date(Date.now() + hours * HOUR_MS).toISOString();
let club: AtWork['club'];
let captain: Hand;
let member: Hand;

const inspection = captainAtWork('today', async (made) => {
  ({ club, captain } = made);
  member = await somebody(made.browser, made.service.url, 'member', made.inspection);
  const link = (await club.post('/api/invitations', { role: 'member' })).link as string;
  await join(member, new URL(link).pathname, 'Ada Finch');
});

const opened = async (page: Page): Promise<void> => {
  await page.goto('/');
  await atToday(page);
};
const line = (page: Page, words: RegExp) => page.getByRole('listitem').filter({ hasText: words });

test('a member for whom nothing is there is told what will be, and led to the packs', async () => {
  const running = await club.batch('Morning lot', await club.land('Guest Orla'));
  await club.post(`/api/batches/${running.id}/stages`, { kind: 'cure', startedAt: at(-1) });
  const { page } = member;
  await opened(page);
  await page.getByText('Packs that you can claim and packs that are yours will show here.').waitFor();
  await inspection.screen(page, 'today-member-nothing');
  await page.setViewportSize(DESK);
  await inspection.screen(page, 'today-member-nothing');
  await page.setViewportSize(PHONE);
  await member.link('Packs to claim');
  await page.getByRole('heading', { level: 1, name: 'Packs' }).waitFor();
  await expect.poll(() => page.getByRole('tab', { name: 'To claim' }).getAttribute('aria-selected')).toBe('true');
  await club.packed('Ready lot', [200]);
  await opened(page);
  await page.getByRole('button', { name: /^Claim pack 1, Ready lot/ }).waitFor();
  expect(await page.getByText('Nothing for you today.').count()).toBe(0);
}, 2 * MINUTES);

test('what runs and what is next of a batch that must not be shared is marked so: 4 hours from 57 to 21 C (cool.fc: 2 hours, FC 3-501.14)', async () => {
  const slow = await club.batch('Slow lot', await club.land('Guest Per'));
  await club.post(`/api/batches/${slow.id}/stages`, { kind: 'smoke', startedAt: at(-12), finishedAt: at(-9), massOutG: 4000, maxCoreC: 66, holdMinutes: 40, cooledTo21At: at(-5), cooledAt: at(-4) });
  await club.post(`/api/batches/${slow.id}/stages`, { kind: 'cool', startedAt: at(-3) });
  expect((await club.get(`/api/batches/${slow.id}`)).verdict).toBe('do-not-share');
  // Caught 36 hours ago and on ice only 6 hours ago (chill.internal).
  const warm = await club.batch('Warm lot', await club.land('Guest Tor', 'pooled', 5000, 6));
  expect((await club.get(`/api/batches/${warm.id}`)).verdict).toBe('do-not-share');
  const rack = (await club.get('/api/stations')).items.find((s: { name: string }) => s.name === 'Drying rack').id;
  await club.post('/api/slots', { stationId: rack, batchId: warm.id, stageKind: 'dry', startsAt: at(1), endsAt: at(3), amount: 1 });
  const good = await club.batch('Good lot', await club.land('Guest Orla'));
  await club.post(`/api/batches/${good.id}/stages`, { kind: 'cure', startedAt: at(-1) });
  const { page } = captain;
  await opened(page);
  await page.locator('.line', { hasText: 'Warm lot is not started' }).locator('.mark', { hasText: 'do not share' }).waitFor();
  for (const words of [/Cool: Slow lot/, /Dry: Drying rack/]) {
    const mark = line(page, words).locator('.mark', { hasText: 'do not share' });
    await mark.waitFor();
    expect(await mark.locator('svg').count(), 'a shape beside the word').toBe(1);
  }
  await line(page, /Cure: Good lot/).waitFor();
  expect(await line(page, /Cure: Good lot/).locator('.mark').count(), 'on hold as all that is under way').toBe(0);
  await inspection.screen(page, 'today-marks');
  await page.setViewportSize(DESK);
  await inspection.screen(page, 'today-marks');
  await page.setViewportSize(PHONE);
}, 2 * MINUTES);

test('weights are in the units of this device, at once when they are changed, and the club’s again', async () => {
  // 5 kg are 11 lb 0.4 oz (NIST: 1 lb is 453.59237 g).
  await club.land('Guest Tor');
  const { page } = captain;
  await opened(page);
  await page.getByText('5 kg of fish in no batch').waitFor();
  await page.goto('/account');
  await captain.tap(page.getByRole('radio', { name: 'lb, oz and °F' }));
  await captain.link('Today');
  await page.getByText('11 lb 0.4 oz of fish in no batch').waitFor();
  await page.goto('/account');
  await captain.tap(page.getByRole('radio', { name: 'As the club' }));
  await captain.link('Today');
  await page.getByText('5 kg of fish in no batch').waitFor();
}, 2 * MINUTES);

/** Links, buttons and folds that a finger finds on fewer than 44 px of height; a word of a sentence is none of them. */
const SMALL_TARGETS = `(() => {
  const small = [];
  for (const target of document.querySelectorAll('main :is(a, button, summary)')) {
    const box = target.getBoundingClientRect();
    const x = box.left + Math.min(box.width / 2, 60), y = box.top + box.height / 2;
    const found = (at) => { const there = document.elementFromPoint(x, at); return there !== null && target.contains(there); };
    const inSentence = [...target.parentNode.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim() !== '');
    if (inSentence || !found(y)) continue;
    let tall = 1;
    for (let up = 1; up < 60 && found(y - up); up++) tall++;
    for (let down = 1; down < 60 && found(y + down); down++) tall++;
    if (tall < 44) small.push(tall + ' px: ' + target.textContent.trim());
  }
  return small;
})()`;

test('on a phone every link of a list, and every link on a line of its own, is 44 px tall for a finger (WCAG 2.2, 2.5.5)', async () => {
  const { page } = captain;
  const { batch, packs } = await club.packed('Tall lot', [200, 210, 220, 230, 240]);
  await club.post(`/api/batches/${batch.id}/recall`, { reason: 'glass' });
  const kept = await club.packed('Other lot', [200, 210, 220, 230, 240]);
  const trip = (await club.get('/api/trips')).items[0].id as string;
  const seen: Record<string, string[]> = {};
  for (const address of ['/', '/fish', `/fish/${trip}`, '/batches', `/batches/${batch.id}`, '/packs', `/packs/${kept.packs[0].id}`, `/packs/${packs[0].id}`, '/packs?face=claims']) {
    await page.goto(address);
    await page.getByRole('heading', { level: 1 }).waitFor();
    await quiet(page);
    await page.evaluate(`document.querySelectorAll('main details').forEach((fold) => { fold.open = true; })`);
    await page.setViewportSize({ width: PHONE.width, height: Math.max(PHONE.height, await page.evaluate<number>('document.documentElement.scrollHeight')) });
    seen[address] = await page.evaluate<string[]>(SMALL_TARGETS);
    await page.setViewportSize(PHONE);
  }
  expect(Object.values(seen).flat(), JSON.stringify(seen, null, 1)).toEqual([]);
}, 2 * MINUTES);

test('no screen seen here has an accessibility violation (axe, WCAG 2.2 AA), an error on the console, or scrolls sideways', () => {
  expect(inspection.seen.size).toBe(2);
  expect([...new Set(inspection.faults)], inspection.faults.join('\n')).toEqual([]);
});
