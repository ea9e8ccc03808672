// A member claims packs on a phone: one tap claims one pack, however nervous the finger, and several ticked ones at once.
import type { Locator, Page } from 'playwright-core';
import { beforeEach, describe, expect, test } from 'vitest';
import { captainAtWork, type AtWork } from './support/at-work.ts';
import type { Hand } from './support/hand.ts';
import { DESK, PHONE } from './support/inspection.ts';
import { join, somebody } from './support/people.ts';
import { placeOf, quiet } from './support/quiet.ts';

const MINUTES = 60_000;
let club: AtWork['club'];
let member: Hand;
let page: Page;

const inspection = captainAtWork('claims', async (at) => {
  club = at.club;
  member = await somebody(at.browser, at.service.url, 'member', at.inspection, PHONE, { hasTouch: true, refusals: true });
  page = member.page;
  const link = (await club.post('/api/invitations', { role: 'member' })).link as string;
  await join(member, new URL(link).pathname, 'Ada Finch');
});

const claimed = async (): Promise<number> => (await club.get('/api/claims?limit=100')).items.length;
const claimButtons = (): Locator => page.getByRole('button', { name: /^Claim pack/ });
const middleOf = async (button: Locator): Promise<[x: number, y: number]> => {
  const box = await placeOf(button);
  return [box.x + box.width / 2, box.y + box.height / 2];
};
/** The page writes down when the first Claim button gave way to another, and when it was last tapped. */
const WATCH_TAPS = `(() => {
  const first = document.querySelector('.action button');
  const seen = (window.seen = { goneAt: 0, tappedAt: 0 });
  addEventListener('pointerdown', () => { seen.tappedAt = performance.now(); }, true);
  new MutationObserver((_, watch) => {
    if (first.isConnected) return;
    seen.goneAt = performance.now();
    watch.disconnect();
  }).observe(document.body, { childList: true, subtree: true });
})()`;
/**
 * Taps on the first Claim button of a screen, and whether they were those of one double tap: a machine so busy that the last came
 * half a second after the pack had gone tapped twice, as somebody does who means two.
 */
async function tapped(address: string, taps: (x: number, y: number) => Promise<void>): Promise<boolean> {
  await page.goto(address);
  const [x, y] = await middleOf(claimButtons().first());
  await page.evaluate(WATCH_TAPS);
  await taps(x, y);
  await page.getByText('Claimed. A captain confirms it.').waitFor();
  await quiet(page);
  // A tap that opened something took the page away, and what it wrote down with it.
  return page.evaluate<boolean>('window.seen === undefined || (seen.goneAt > 0 && seen.tappedAt - seen.goneAt < 450)');
}

describe('a double tap on Claim claims one pack', () => {
  let before: number;
  const more = async (): Promise<void> => {
    await club.packed(`Nervous lot ${before ?? 0}`, [200, 210, 220, 230]);
    before = await claimed();
  };
  beforeEach(more);
  async function inOneGo(address: string, taps: (x: number, y: number) => Promise<void>): Promise<void> {
    for (let tries = 1; !(await tapped(address, taps)); tries++) {
      expect(tries, 'this machine is too busy to tap twice').toBeLessThan(8);
      await more();
    }
    expect(await claimed()).toBe(before + 1);
    expect(new URL(page.url()).pathname, 'nor does the second tap open what moved there').toBe(address);
  }

  test.each([['the first screen', '/'], ['the list of packs', '/packs']])('on %s, and of a finger that taps on', async (_screen, address) => {
    await inOneGo(address, async (x, y) => {
      await page.mouse.dblclick(x, y);
      for (let taps = 0; taps < 3; taps++) {
        await page.waitForTimeout(60);
        await page.mouse.click(x, y);
      }
    });
  }, 2 * MINUTES);

  test.each([['the first screen', '/'], ['the list of packs', '/packs']])('on %s, when the second tap comes as the next pack has just moved under the finger', async (_screen, address) => {
    await inOneGo(address, async (x, y) => {
      await page.touchscreen.tap(x, y);
      await page.evaluate('new Promise((moved) => { (function look() { seen.goneAt === 0 ? requestAnimationFrame(look) : moved(); })(); })');
      await page.touchscreen.tap(x, y);
      await page.mouse.click(x, y);
    });
    // A tap that is meant claims the next one.
    await member.tap(claimButtons().first());
    await expect.poll(claimed).toBe(before + 2);
  }, 2 * MINUTES);

  test('on the page of a pack', async () => {
    const { packs } = await club.packed('Page lot', [240]);
    await page.goto(`/packs/${packs[0].id}`);
    const claim = page.getByRole('button', { name: 'Claim', exact: true });
    await page.mouse.dblclick(...(await middleOf(claim)));
    await page.getByText('Claimed by').waitFor();
    await quiet(page);
    expect(await claimed()).toBe(before + 1);
    expect(new URL(page.url()).pathname).toBe(`/packs/${packs[0].id}`);
  }, MINUTES);
});

describe('several at once', () => {
  const tick = (lot: string, no: number): Promise<void> => member.tap(page.getByRole('checkbox', { name: `${lot}, pack ${no}`, exact: true }));
  const statuses = (packs: { id: string }[]): Promise<string[]> => Promise.all(packs.map(async ({ id }) => (await club.get(`/api/packs/${id}`)).status));
  async function choose(lot: string, nos: number[]): Promise<void> {
    await page.goto('/packs');
    await member.type('Find by lot or product', lot);
    await expect.poll(() => claimButtons().count()).toBe(4);
    await member.button('Choose several');
    for (const no of nos) await tick(lot, no);
  }

  test('are ticked and claimed by one tap', async () => {
    const { packs } = await club.packed('Feast lot', [200, 210, 220, 230]);
    await choose('Feast lot', [1, 3, 4]);
    await inspection.screen(page, 'claim-several');
    await page.setViewportSize(DESK);
    await inspection.screen(page, 'claim-several');
    await page.setViewportSize(PHONE);
    await member.button('Claim 3 packs');
    await page.getByText('3 packs claimed. A captain confirms them.').waitFor();
    await page.getByRole('button', { name: /^Claim pack 2, Feast lot/ }).waitFor();
    expect(await statuses(packs)).toEqual(['claimed', 'ready', 'claimed', 'claimed']);
  }, 2 * MINUTES);

  test('one that somebody else took in the meantime is named, none is claimed, and the others stay ticked', async () => {
    const { packs } = await club.packed('Race lot', [200, 210, 220, 230]);
    await choose('Race lot', [1, 2]);
    await club.post('/api/claims', { packId: packs[1].id });
    await member.button('Claim 2 packs');
    await page.getByText(`Somebody else claimed ${packs[1].lot}-2.`).first().waitFor();
    expect((await statuses(packs)).slice(0, 2)).toEqual(['ready', 'claimed']);
    await expect.poll(() => page.getByRole('checkbox').count()).toBe(3);
    expect(await page.getByRole('checkbox', { checked: true }).count()).toBe(1);
    await inspection.screen(page, 'claim-several-refused');
    await member.button('Claim 1 pack');
    await page.getByText('1 pack claimed. A captain confirms it.').waitFor();
    expect(await statuses(packs)).toEqual(['claimed', 'claimed', 'ready', 'ready']);
  }, 2 * MINUTES);

  test('sent again after a dead spot that swallowed the answer, they are claimed once and it says so', async () => {
    const { packs } = await club.packed('Fog lot', [200, 210, 220, 230]);
    await choose('Fog lot', [2, 3]);
    const before = await claimed();
    await page.route('**/api/claims/several', async (route) => {
      await route.fetch();
      await route.abort();
    }, { times: 1 });
    await member.button('Claim 2 packs');
    await page.getByRole('alert').waitFor();
    await member.button('Claim 2 packs');
    await page.getByText('2 packs claimed. A captain confirms them.').waitFor();
    expect(await claimed()).toBe(before + 2);
    expect(await statuses(packs)).toEqual(['ready', 'claimed', 'claimed', 'ready']);
    // The browser writes to its console by itself that the answer was swallowed.
    const swallowed = inspection.faults.findIndex((fault) => /ERR_FAILED.*claims\/several/.test(fault));
    expect(swallowed).toBeGreaterThanOrEqual(0);
    inspection.faults.splice(swallowed, 1);
  }, 2 * MINUTES);
});

test('no screen seen here has an accessibility violation (axe, WCAG 2.2 AA), an error on the console, or scrolls sideways', () => {
  expect([...new Set(inspection.faults)], inspection.faults.join('\n')).toEqual([]);
});
