// A club with a smoker, a tub that keeps hours and three batches, made through the API: what is tried is the calendar.
import { randomUUID } from 'node:crypto';
import type { Page } from 'playwright-core';
import { Temporal } from 'temporal-polyfill';
import { setUpClub, type Service } from '../../support/process.ts';
import { PASSWORD } from './people.ts';

export const ZONE = 'Europe/London';
export type Club = { smoker: string; rack: string; tub: string; batches: { id: string; name: string }[] };

/** The address that a slot lies at is its day; a Tuesday that is some days ahead has no clock change in it. */
export function comingTuesday(): string {
  const today = Temporal.Now.zonedDateTimeISO(ZONE).toPlainDate();
  return today.add({ days: ((9 - today.dayOfWeek) % 7) + 7 }).toString();
}

/** The next day on which clocks change: the last Sunday of March or October (Summer Time Order 2002). */
export function nextClockChange(month: 3 | 10): string {
  const today = Temporal.Now.zonedDateTimeISO(ZONE).toPlainDate();
  const lastSunday = (year: number) => {
    const last = Temporal.PlainDate.from({ year, month, day: 31 });
    return last.subtract({ days: last.dayOfWeek % 7 });
  };
  const thisYear = lastSunday(today.year);
  return (Temporal.PlainDate.compare(thisYear, today) > 0 ? thisYear : lastSunday(today.year + 1)).toString();
}

/** An instant of the club's clock. */
export const local = (day: string, time: string, disambiguation: 'earlier' | 'later' = 'earlier'): string =>
  Temporal.PlainDateTime.from(`${day}T${time}`).toZonedDateTime(ZONE, { disambiguation }).toInstant().toString({ fractionalSecondDigits: 3 });

export async function send(page: Page, method: 'post' | 'patch', url: string, data: object): Promise<any> {
  const answer = await page.request[method](url, { data, headers: { 'idempotency-key': randomUUID() } });
  if (!answer.ok()) throw new Error(`${method} ${url}: ${answer.status()} ${await answer.text()}`);
  return answer.json();
}

export async function signInCaptain(page: Page, service: Service): Promise<void> {
  await setUpClub(service);
  await send(page, 'post', '/api/session', { login: 'cap', password: 'three-odd-words' });
}

/** Somebody with a role joins in a browser of their own. */
export async function joinBy(captain: Page, page: Page, role: 'crew' | 'member'): Promise<void> {
  const { link } = await send(captain, 'post', '/api/invitations', { role });
  const token = String(link).split('/').at(-1);
  await send(page, 'post', `/api/invitations/by-token/${token}/accept`, { name: `${role} of the club`, userName: role, email: `${role}@example.org`, password: PASSWORD });
}

export async function furnish(captain: Page): Promise<Club> {
  const add = async (url: string, body: object): Promise<string> => (await send(captain, 'post', url, body)).id;
  const smoker = await add('/api/stations', { name: 'Shore smoker', kind: 'smoker', capacityUnit: 'racks', capacity: 6 });
  const rack = await add('/api/stations', { name: 'Drying rack', kind: 'drying-rack', capacityUnit: 'racks', capacity: 4 });
  const tub = await add('/api/stations', { name: 'Brine tub', kind: 'brine-tub', capacityUnit: 'grams', capacity: 20_000, opensAt: '08:00', closesAt: '20:00' });
  const boatId = await add('/api/boats', { name: 'Grey Plover' });
  const now = Temporal.Now.instant();
  const hoursAgo = (hours: number) => now.subtract({ minutes: hours * 60 }).toString({ fractionalSecondDigits: 0 });
  const trip = await add('/api/trips', { boatId, day: now.subtract({ hours: 8 }).toZonedDateTimeISO(ZONE).toPlainDate().toString(), area: 'North ledge', people: [] });
  const batches: Club['batches'] = [];
  for (const name of ['Ledge mackerel', 'Skerry mackerel', 'Sound mackerel']) {
    const landing = await add(`/api/trips/${trip}/landings`, {
      catcher: { kind: 'boat' }, speciesCode: 'atlantic-mackerel', grams: 5_000, fishCount: 12, pooling: 'pooled', form: 'whole', caughtAt: hoursAgo(8), icedAt: hoursAgo(7.5), coreC: 3, airC: 12, waterC: 10,
    });
    batches.push({ name, id: await add('/api/batches', { name, draws: [{ source: { kind: 'landing', id: landing } }] }) });
  }
  return { smoker, rack, tub, batches };
}
