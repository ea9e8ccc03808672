// The calendar by mouse, key and finger, against the real process.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { freePort, startService, type Service } from '../support/process.ts';
import { buildWebApp } from './support/build-once.ts';
import { comingTuesday, furnish, joinBy, local, nextClockChange, send, signInCaptain, type Club } from './support/calendar-club.ts';
import type { Hand } from './support/hand.ts';
import { DESK, Inspection, PHONE, picture } from './support/inspection.ts';
import { openBrowser, somebody } from './support/people.ts';
import { placeOf } from './support/quiet.ts';
import { Temporal } from 'temporal-polyfill';

const MINUTES = 60_000;
const day = comingTuesday();
const nextDay = Temporal.PlainDate.from(day).add({ days: 1 }).toString();
let folder: string;
let service: Service;
let browser: Browser;
let captain: Hand;
let crew: Hand;
let member: Hand;
let club: Club;
const inspection = new Inspection();

const person = (who: string, viewport: typeof DESK, hasTouch = false): Promise<Hand> => somebody(browser, service.url, who, inspection, viewport, { hasTouch, refusals: true });

beforeAll(async () => {
  buildWebApp();
  folder = mkdtempSync(path.join(tmpdir(), 'tidelarder-calendar-'));
  const port = String(await freePort());
  service = await startService({ DATA_DIR: path.join(folder, 'data'), PORT: port, PUBLIC_URL: `http://127.0.0.1:${port}` });
  browser = await openBrowser();
  captain = await person('captain', DESK);
  await signInCaptain(captain.page, service);
  crew = await person('crew', PHONE, true);
  await joinBy(captain.page, crew.page, 'crew');
  member = await person('member', PHONE);
  await joinBy(captain.page, member.page, 'member');
}, 10 * MINUTES);

afterEach(async ({ task }) => {
  if (task.result?.state !== 'fail') return;
  for (const [who, hand] of Object.entries({ captain, crew, member })) if (hand) await picture(hand.page, `calendar-failed-${who}`);
  console.error([...new Set(inspection.faults)].join('\n'), service?.output().slice(-2000));
});

afterAll(async () => {
  await browser?.close();
  service?.child.kill('SIGTERM');
  await service?.exited;
  if (folder) rmSync(folder, { recursive: true, force: true });
}, MINUTES);

/** Only this test's slots lie on the calendar. */
async function clear(): Promise<void> {
  for (const on of [day, nextClockChange(3), nextClockChange(10)]) {
    const from = Temporal.PlainDate.from(on);
    const { items } = await (await captain.page.request.get(`/api/slots?from=${from.subtract({ days: 3 }).toString()}T00:00:00Z&to=${from.add({ days: 4 }).toString()}T00:00:00Z`)).json();
    for (const slot of items) await send(captain.page, 'patch', `/api/slots/${slot.id}`, { version: slot.version, cancelled: true });
  }
}
const booked = (batch: number, startsAt: string, endsAt: string, more: object = {}): Promise<any> =>
  send(captain.page, 'post', '/api/slots', { stationId: club.smoker, batchId: club.batches[batch]!.id, stageKind: 'smoke', startsAt, endsAt, amount: 2, ...more });
const timesOf = async (id: string): Promise<string[]> => {
  const slot = await (await captain.page.request.get(`/api/slots/${id}`)).json();
  return [slot.startsAt, slot.endsAt];
};
const blockOf = (page: Page, id: string): Locator => page.locator(`#slot-${id}`);
/** A block's place in its column, in hours from the column's top. */
const hoursOf = (block: Locator, hours: number): Promise<{ at: number; length: number }> =>
  block.evaluate((node, whole) => {
    const [own, column] = [node.getBoundingClientRect(), node.parentElement!.getBoundingClientRect()];
    return { at: ((own.top - column.top) / column.height) * whole, length: (own.height / column.height) * whole };
  }, hours);
async function openDay(hand: Hand, on: string, station = ''): Promise<void> {
  await hand.page.goto(`/calendar?day=${on}${station && `&station=${station}`}`);
  await hand.page.getByRole('region', { name: 'Hours of the day' }).waitFor();
}
const said = (page: Page, text: string | RegExp): Promise<void> => page.getByRole('status').getByText(text).first().waitFor();
const sheet = (page: Page): Locator => page.getByRole('dialog');
async function chooseBatch(hand: Hand, name: string): Promise<void> {
  await hand.find('Batch', name, new RegExp(name));
}

test('a club without stations is told so, and the captain where to add them', async () => {
  await captain.page.goto('/calendar');
  await captain.page.getByText('No stations yet.').waitFor();
  await captain.page.getByRole('link', { name: 'Add stations' }).waitFor();
  expect(await captain.page.getByRole('button', { name: 'Book a station' }).count()).toBe(0);
  await inspection.screen(captain.page, 'calendar-no-stations');
  await member.page.goto('/calendar');
  await member.page.getByText('No stations yet.').waitFor();
  expect(await member.page.getByRole('link', { name: 'Add stations' }).count()).toBe(0);
  club = await furnish(captain.page);
}, MINUTES);

describe('booking', () => {
  test('a free hour that is tapped fills the form in; the booking can be taken back', async () => {
    await clear();
    const { page } = captain;
    await openDay(captain, day);
    await captain.button('Book Shore smoker at 10:00');
    await chooseBatch(captain, 'Ledge mackerel');
    expect(await sheet(page).getByLabel('Station', { exact: true }).locator('option:checked').innerText()).toBe('Shore smoker');
    await expect.poll(() => sheet(page).getByLabel('For', { exact: true }).inputValue(), { message: 'what a smoker is there for' }).toBe('smoke');
    expect(await sheet(page).getByLabel('From', { exact: true }).inputValue()).toBe(`${day}T10:00`);
    await inspection.screen(page, 'calendar-book');
    await captain.button('Book');
    const block = page.getByRole('button', { name: /^Smoke 10:00–14:00 ?Ledge mackerel/ });
    await block.waitFor();
    await said(page, 'Shore smoker booked, 10:00 to 14:00.');
    expect(await hoursOf(block, 24)).toEqual({ at: expect.closeTo(10, 1), length: expect.closeTo(4, 1) });
    await captain.button('Undo');
    await block.waitFor({ state: 'detached' });
  }, MINUTES);

  test('on a phone the same, from the button', async () => {
    await clear();
    await openDay(crew, day, club.tub);
    await crew.button('Book a station');
    await chooseBatch(crew, 'Skerry mackerel');
    await expect.poll(() => sheet(crew.page).getByLabel('To', { exact: true }).inputValue(), { message: 'six hours of cure from eight' }).toBe(`${day}T14:00`);
    await crew.button('Book');
    await crew.page.getByRole('button', { name: /^Cure 08:00–14:00 ?Skerry mackerel ?5 of 20 kg/ }).waitFor();
    await inspection.screen(crew.page, 'calendar-day-crew');
  }, MINUTES);

  test.each([
    ['want of room', async () => void (await booked(1, local(day, '10:00'), local(day, '14:00'), { amount: 5 })), 'Book Shore smoker at 11:00', '2', /Shore smoker has 1 rack of 6 racks free at .* 11:00; this asks for 2 racks\. Take less/],
    ['the station\'s hours', async () => undefined, 'Book Brine tub at 21:00, closed then', '1', /Brine tub is open from .* 08:00 to .* 20:00\. Choose a time inside its hours\./],
    ['the order of the stages, and which one it would break', async () => void (await booked(0, local(day, '12:00'), local(day, '13:00'), { stationId: club.rack, stageKind: 'dry' })), 'Book Shore smoker at 11:00', '1', /Smoke would start before dry ends\. Dry is booked from .* 12:00 to .* 13:00\. Choose another time, or move dry first\./],
  ])('is refused for %s, in words', async (_why, before, hour, amount, reason) => {
    await clear();
    await before();
    await openDay(captain, day);
    // At its right edge, which stays free beside a slot that takes part of the station.
    const free = captain.page.getByRole('button', { name: hour, exact: true });
    await free.click({ position: { x: (await free.boundingBox())!.width - 12, y: 20 } });
    await chooseBatch(captain, 'Ledge mackerel');
    await captain.type(/^Room taken/, amount);
    await captain.button('Book');
    await sheet(captain.page).getByText(reason).waitFor();
    expect(await sheet(captain.page).getByLabel(/^Room taken/).inputValue(), 'what was typed stays').toBe(amount);
  }, MINUTES);
});

describe('moving a slot', () => {
  test('by mouse: down an hour, and back by Undo', async () => {
    await clear();
    const slot = await booked(0, local(day, '10:00'), local(day, '12:00'));
    await openDay(captain, day);
    await dragBy(captain.page, slot.id, 1);
    await said(captain.page, 'Shore smoker, Ledge mackerel: 11:00 to 13:00.');
    expect(await timesOf(slot.id)).toEqual([local(day, '11:00'), local(day, '13:00')]);
    expect(await sheet(captain.page).count(), 'a drag opens nothing').toBe(0);
    await captain.button('Undo');
    await expect.poll(() => timesOf(slot.id)).toEqual([local(day, '10:00'), local(day, '12:00')]);
    await captain.page.getByRole('button', { name: /^Smoke 10:00–12:00/ }).waitFor();
  }, MINUTES);

  test('by mouse to where there is no room: it goes back and says why', async () => {
    await clear();
    const slot = await booked(0, local(day, '10:00'), local(day, '12:00'));
    await booked(1, local(day, '12:00'), local(day, '15:00'), { amount: 6 });
    await openDay(captain, day);
    await dragBy(captain.page, slot.id, 1);
    await said(captain.page, /Shore smoker is full at .* 12:00/);
    await captain.page.getByRole('button', { name: /^Smoke 10:00–12:00/ }).waitFor();
    expect(await timesOf(slot.id)).toEqual([local(day, '10:00'), local(day, '12:00')]);
  }, MINUTES);

  test('by keyboard, in quarter hours', async () => {
    await clear();
    const slot = await booked(0, local(day, '10:00'), local(day, '12:00'));
    await openDay(captain, day);
    const block = blockOf(captain.page, slot.id);
    await block.focus();
    await captain.page.keyboard.press('ArrowDown');
    await captain.page.keyboard.press('ArrowDown');
    await captain.page.getByText('10:30–12:30, not saved. Enter saves.').waitFor({ state: 'attached' });
    await captain.page.keyboard.press('Escape');
    await captain.page.getByText('Back to 10:00–12:00.').waitFor({ state: 'attached' });
    await captain.page.keyboard.press('ArrowUp');
    await captain.page.keyboard.press('Enter');
    await said(captain.page, 'Shore smoker, Ledge mackerel: 09:45 to 11:45.');
    expect(await timesOf(slot.id)).toEqual([local(day, '09:45'), local(day, '11:45')]);
    await expect.poll(() => block.evaluate((node) => node === node.ownerDocument.activeElement), { message: 'the keyboard stays on it' }).toBe(true);
    await captain.page.keyboard.press('Enter');
    await sheet(captain.page).getByText('Booked by').waitFor();
  }, MINUTES);

  test('by its times, to another day, which is then shown', async () => {
    await clear();
    const slot = await booked(0, local(day, '10:00'), local(day, '12:00'));
    await openDay(crew, day, club.smoker);
    await crew.tap(blockOf(crew.page, slot.id));
    const from = sheet(crew.page).getByLabel('From', { exact: true });
    await from.fill(`${nextDay}T15:00`);
    await from.blur();
    await expect.poll(() => sheet(crew.page).getByLabel('To', { exact: true }).inputValue(), { message: 'the end goes along' }).toBe(`${nextDay}T17:00`);
    await inspection.screen(crew.page, 'calendar-slot');
    await crew.button('Save the move');
    await crew.page.getByRole('button', { name: /^Smoke 15:00–17:00/ }).waitFor();
    expect(await timesOf(slot.id)).toEqual([local(nextDay, '15:00'), local(nextDay, '17:00')]);
  }, MINUTES);

  test('by finger: a swipe across it scrolls, holding it first carries it', async () => {
    await clear();
    const slot = await booked(0, local(day, '08:00'), local(day, '11:00'));
    await openDay(crew, day, club.smoker);
    const block = blockOf(crew.page, slot.id);
    const region = crew.page.getByRole('region', { name: 'Hours of the day' });
    const scrolled = () => region.evaluate((node) => node.scrollTop);
    const before = await scrolled();
    await swipe(crew.page, block, -60, false);
    await expect.poll(scrolled).toBeGreaterThan(before);
    expect(await timesOf(slot.id)).toEqual([local(day, '08:00'), local(day, '11:00')]);
    const still = await ranOut(region);
    await swipe(crew.page, block, await pixelsOf(block, 1), true);
    await said(crew.page, 'Shore smoker, Ledge mackerel: 09:00 to 12:00.');
    expect(Math.abs((await scrolled()) - still), 'what is carried does not scroll the page').toBeLessThanOrEqual(1);
    expect(await timesOf(slot.id)).toEqual([local(day, '09:00'), local(day, '12:00')]);
  }, MINUTES);
});

test('a slot is cancelled after a question, and comes back by Undo', async () => {
  await clear();
  const slot = await booked(0, local(day, '10:00'), local(day, '12:00'));
  await openDay(captain, day);
  await captain.tap(blockOf(captain.page, slot.id));
  await captain.button('Cancel the slot');
  await captain.page.getByText('Shore smoker is free again 10:00 to 12:00.').waitFor();
  await inspection.screen(captain.page, 'calendar-cancel');
  await captain.button('Cancel the slot');
  await said(captain.page, 'Slot cancelled.');
  await blockOf(captain.page, slot.id).waitFor({ state: 'detached' });
  expect(await captain.page.getByText('not booked any more').count(), 'who cancels it knows').toBe(0);
  await captain.button('Undo');
  await blockOf(captain.page, slot.id).waitFor();
}, MINUTES);

test('a member sees what is booked and can change none of it', async () => {
  await clear();
  const slot = await booked(0, local(day, '10:00'), local(day, '12:00'));
  await openDay(member, day, club.smoker);
  await inspection.screen(member.page, 'calendar-day-member');
  expect(await member.page.getByRole('button', { name: /^Book/ }).count()).toBe(0);
  await blockOf(member.page, slot.id).focus();
  await member.page.keyboard.press('ArrowDown');
  await member.page.keyboard.press('Enter');
  await sheet(member.page).getByText('Booked by').waitFor();
  expect(await sheet(member.page).getByRole('textbox').count()).toBe(0);
  expect(await sheet(member.page).getByRole('button').allInnerTexts()).toEqual(['Close']);
  await inspection.screen(member.page, 'calendar-slot-member');
}, MINUTES);

test('a link to a slot alone opens it on its day and station, also on a phone; one that is gone says so', async () => {
  await clear();
  const slot = await booked(0, local(day, '20:00'), local(day, '22:00'));
  for (const hand of [captain, member]) {
    await hand.page.goto(`/calendar?slot=${slot.id}`);
    await sheet(hand.page).getByRole('heading', { name: 'Shore smoker, 20:00' }).waitFor();
    await hand.button('Close');
    await sheet(hand.page).waitFor({ state: 'detached' });
    await expect.poll(() => blockOf(hand.page, slot.id).evaluate((node) => {
      const [own, page] = [node.getBoundingClientRect(), node.closest('[data-scroller]')!.getBoundingClientRect()];
      return own.height > 0 && own.bottom <= page.bottom + 1 && own.top >= page.top;
    }), { message: 'it lies in sight' }).toBe(true);
  }
  await send(captain.page, 'patch', `/api/slots/${slot.id}`, { version: slot.version, cancelled: true });
  await member.page.goto(`/calendar?slot=${slot.id}`);
  await member.page.getByText('That slot is not booked any more.').waitFor();
}, MINUTES);

test('a slot across midnight lies on both days, in the day and in the week', async () => {
  await clear();
  const slot = await booked(0, local(day, '22:00'), local(nextDay, '03:00'));
  const block = blockOf(captain.page, slot.id);
  await openDay(captain, day);
  await captain.page.getByRole('button', { name: /^Smoke 22:00–Wed 03:00/ }).waitFor();
  expect(await hoursOf(block, 24)).toEqual({ at: expect.closeTo(22, 1), length: expect.closeTo(2, 1) });
  await openDay(captain, nextDay);
  await captain.page.getByRole('button', { name: /^Smoke Tue 22:00–03:00/ }).waitFor();
  expect(await hoursOf(block, 24)).toEqual({ at: 0, length: expect.closeTo(3, 1) });
  await captain.page.goto(`/calendar?view=week&day=${day}`);
  await captain.page.getByRole('button', { name: /^22:00–Wed 03:00/ }).waitFor();
  await captain.page.getByRole('button', { name: /^Tue 22:00–03:00/ }).waitFor();
  await inspection.screen(captain.page, 'calendar-week');
  await member.page.goto(`/calendar?view=week&day=${day}`);
  await member.page.getByText('33 %').first().waitFor();
  await inspection.screen(member.page, 'calendar-week');
}, MINUTES);

describe('the nights of the clock change in London (Summer Time Order 2002)', () => {
  test('in October the hour from 01:00 comes twice: 25 hours, and the second is told apart', async () => {
    await clear();
    const on = nextClockChange(10);
    // 00:30 summer time to 01:30 winter time: two hours pass.
    const slot = await booked(0, local(on, '00:30'), local(on, '01:30', 'later'));
    await openDay(captain, on);
    const hours = captain.page.getByRole('button', { name: /^Book Shore smoker at/ });
    expect(await hours.count()).toBe(25);
    expect((await hours.evaluateAll((all) => all.map((node) => node.getAttribute('aria-label')!.replace('Book Shore smoker at ', '')))).slice(0, 4)).toEqual(['00:00', '01:00', '01:00, the second time', '02:00']);
    await captain.page.getByRole('button', { name: /^Smoke 00:30–01:30 again/ }).waitFor();
    expect(await hoursOf(blockOf(captain.page, slot.id), 25)).toEqual({ at: expect.closeTo(0.5, 1), length: expect.closeTo(2, 1) });
    await inspection.screen(captain.page, 'calendar-clocks-back');
    await captain.tap(blockOf(captain.page, slot.id));
    await sheet(captain.page).getByText('2 h', { exact: true }).waitFor();
    expect(await sheet(captain.page).getByRole('checkbox', { name: /second time round/ }).isChecked(), 'the form reads the end as it is').toBe(true);
    await captain.button('Close');
    await sheet(captain.page).waitFor({ state: 'detached' });
    const again = captain.page.getByRole('button', { name: 'Book Shore smoker at 01:00, the second time' });
    await again.click({ position: { x: (await again.boundingBox())!.width - 12, y: 40 } });
    await chooseBatch(captain, 'Skerry mackerel');
    await captain.button('Book');
    await captain.page.getByRole('button', { name: /^Smoke 01:00 again–05:00/ }).waitFor();
  }, MINUTES);

  test('in March there is no hour from 01:00: 23 hours, and no such time can be typed', async () => {
    await clear();
    const on = nextClockChange(3);
    // 00:30 winter time to 02:30 summer time: one hour passes.
    const slot = await booked(0, local(on, '00:30'), local(on, '02:30'));
    await openDay(captain, on);
    const hours = captain.page.getByRole('button', { name: /^Book Shore smoker at/ });
    expect((await hours.evaluateAll((all) => all.map((node) => node.getAttribute('aria-label')!.slice(-5)))).slice(0, 3)).toEqual(['00:00', '02:00', '03:00']);
    expect(await hours.count()).toBe(23);
    await captain.page.getByRole('button', { name: /^Smoke 00:30–02:30/ }).waitFor();
    expect(await hoursOf(blockOf(captain.page, slot.id), 23)).toEqual({ at: expect.closeTo(0.5, 1), length: expect.closeTo(1, 1) });
    await captain.tap(blockOf(captain.page, slot.id));
    await sheet(captain.page).getByText('1 h', { exact: true }).waitFor();
    const from = sheet(captain.page).getByLabel('From', { exact: true });
    await from.fill(`${on}T01:15`);
    await from.blur();
    await sheet(captain.page).getByText(/01:15/).first().waitFor();
    await captain.button('Save the move');
    expect(await timesOf(slot.id)).toEqual([local(on, '00:30'), local(on, '02:30')]);
  }, MINUTES);
});

test('no screen of the calendar has an accessibility violation (axe, WCAG 2.2 AA) or is wider than the device', () => {
  expect([...new Set(inspection.faults)], inspection.faults.join('\n')).toEqual([]);
  expect(inspection.seen.size).toBeGreaterThan(8);
});

const pixelsOf = async (block: Locator, hours: number): Promise<number> => ((await block.evaluate((node) => node.parentElement!.getBoundingClientRect().height)) / 24) * hours;

async function dragBy(page: Page, id: string, hours: number): Promise<void> {
  const block = blockOf(page, id);
  const box = await placeOf(block);
  const pixels = await pixelsOf(block, hours);
  const [x, y] = [box.x + box.width / 2, box.y + 20];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x, y + pixels / 2, { steps: 4 });
  await page.mouse.move(x, y + pixels, { steps: 4 });
  await page.mouse.up();
}

/** A swipe runs out for a while: where the region lies once half a second of frames has not moved it. */
const ranOut = (region: Locator): Promise<number> =>
  region.evaluate((node) => new Promise((resolve) => {
    let [at, frames] = [node.scrollTop, 0];
    const look = (): void => {
      frames = node.scrollTop === at ? frames + 1 : 0;
      at = node.scrollTop;
      if (frames === 30) resolve(at);
      else node.ownerDocument.defaultView!.requestAnimationFrame(look);
    };
    look();
  }));

/** A finger goes down on the block, holds it until it is lifted or goes at once, `pixels` down the screen, and leaves, as the browser's own input sees it. */
async function swipe(page: Page, block: Locator, pixels: number, hold: boolean): Promise<void> {
  const box = await placeOf(block);
  const [x, y] = [box.x + box.width / 2, box.y + 70];
  const input = await page.context().newCDPSession(page);
  const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', at?: number) => input.send('Input.dispatchTouchEvent', { type, touchPoints: at === undefined ? [] : [{ x, y: at }] });
  const down = touch('touchStart', y);
  if (hold) await expect.poll(() => block.evaluate((node) => node.classList.contains('carried'))).toBe(true);
  // At once is at once: on a busy machine a wait for each answer would hold the block long enough to lift it.
  const moves = [down];
  for (let step = 1; step <= 8; step++) {
    moves.push(touch('touchMove', y + (pixels * step) / 8));
    await page.waitForTimeout(16);
  }
  await Promise.all(moves);
  await touch('touchEnd');
  await input.detach();
}
