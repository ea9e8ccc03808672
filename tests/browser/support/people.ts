import { chromium } from 'playwright-core';
import type { Browser, Page } from 'playwright-core';
import { Hand } from './hand.ts';
import type { Inspection } from './inspection.ts';
import { PHONE } from './inspection.ts';
import { follow } from './quiet.ts';

export const PASSWORD = 'herring under lantern';

export const openBrowser = (): Promise<Browser> =>
  chromium.launch({
    executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--no-first-run', '--lang=en-GB'],
  });

/** A person with a device of their own: own cookies, phone width. `refusals`: what they do is refused on purpose. */
export async function somebody(browser: Browser, baseURL: string, who: string, inspection: Inspection, viewport = PHONE, { hasTouch = false, refusals = false } = {}): Promise<Hand> {
  const context = await browser.newContext({ baseURL, viewport, locale: 'en-GB', timezoneId: 'Europe/London', reducedMotion: 'reduce', acceptDownloads: true, hasTouch });
  context.setDefaultTimeout(30_000);
  const page = await context.newPage();
  follow(page);
  // Asking who one is before signing in is answered with 401; the browser writes that to its console by itself.
  // The same with a name of a species that is taken, which the test provokes.
  inspection.watch(page, who, refusals ? /status of (401|404|409|422)/ : /status of 401|status of 409.*\/api\/species$/);
  return new Hand(page);
}

/** Makes an invitation on the captain's screen and returns its link's path. */
export async function invite(captain: Hand, role: 'Crew' | 'Member'): Promise<string> {
  await captain.page.goto('/people');
  await captain.button('Invite somebody');
  await captain.tap(captain.page.getByRole('radio', { name: role }));
  await captain.button('Make the link');
  const field = captain.page.getByRole('textbox', { name: 'Link', exact: true });
  await field.waitFor();
  const link = await field.inputValue();
  await captain.button('Close');
  return new URL(link).pathname;
}

export async function join(hand: Hand, path: string, name: string): Promise<void> {
  await hand.page.goto(path);
  await hand.type('Your name', name);
  await hand.type(/^Password/, PASSWORD);
  await hand.button('Join');
  await atToday(hand.page);
}

export const atToday = (page: Page): Promise<void> => page.getByRole('heading', { level: 1, name: 'Today' }).waitFor();
