// What is done with batches and packs besides the straight way through: each part begins in the middle of the job.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { freePort, startService, type Service } from '../support/process.ts';
import { buildWebApp } from './support/build-once.ts';
import type { Hand } from './support/hand.ts';
import { DESK, Inspection, PHONE, picture } from './support/inspection.ts';
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
  // Fish that stays apart is drawn into a batch of other fish, once, to see it refused.
  captain = await somebody(browser, service.url, 'captain', inspection, PHONE, { refusals: true });
  await captain.page.goto('/sign-in');
  await captain.type(/user name/i, CAPTAIN.login);
  await captain.type(/^Password/, CAPTAIN.password);
  await captain.button('Sign in');
  await atToday(captain.page);
  member = await somebody(browser, service.url, 'member', inspection);
  const link = (await club.post('/api/invitations', { role: 'member' })).link as string;
  await join(member, new URL(link).pathname, 'Ada Finch');
  memberId = (await club.get('/api/members')).items.find((m: { name: string }) => m.name === 'Ada Finch').id;
}, 10 * MINUTES);

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
      await expect.poll(() => sheet.getByRole('checkbox', { checked: true }).count()).toBe(2);
      await inspection.screen(captain.page, 'hand-over-claims');
      await captain.tap(sheet.getByRole('button', { name: 'Hand over' }));
      await captain.page.getByText('2 packs handed over.').waitFor();
    });
    expect(taps).toBe(2);
    for (const [i, status] of ['handed-over', 'handed-over', 'claimed', 'ready'].entries()) expect((await club.get(`/api/packs/${packs[i].id}`)).status).toBe(status);
    expect((await club.get(`/api/claims?memberId=${memberId}&status=asked`)).items.map((c: { id: string }) => c.id)).toEqual([asked.id]);
  }, 3 * MINUTES);

  test('from the list of claims too a confirmed one is handed to its member, who is chosen already; one that is only claimed has no such button', async () => {
    const { packs } = await club.packed('Claims lot', [212, 222]);
    await claimed(packs.slice(0, 1));
    await memberApi('post', '/api/claims', { packId: packs[1].id });
    await captain.page.goto('/packs?face=claims');
    const ofLot = captain.page.getByRole('listitem').filter({ hasText: packs[0].lot });
    await expect.poll(() => ofLot.count()).toBe(2);
    expect(await ofLot.filter({ hasText: 'confirmed' }).getByRole('link', { name: 'Hand over to Ada Finch' }).count()).toBe(1);
    expect(await ofLot.filter({ hasText: 'claimed' }).getByRole('link', { name: /^Hand over/ }).count()).toBe(0);
    await inspection.screen(captain.page, 'claims-hand-over');
    await captain.tap(ofLot.getByRole('link', { name: 'Hand over to Ada Finch' }));
    const sheet = captain.page.getByRole('dialog');
    await expect.poll(() => sheet.getByRole('combobox', { name: 'To' }).inputValue()).toBe('Ada Finch');
    await captain.tap(sheet.getByRole('button', { name: 'Hand over' }));
    await captain.page.getByText('1 pack handed over.').waitFor();
    for (const [i, status] of ['handed-over', 'claimed'].entries()) expect((await club.get(`/api/packs/${packs[i].id}`)).status).toBe(status);
  }, 2 * MINUTES);

  test('a pack that somebody else claimed is asked about before it is sent, and left out or handed to them', async () => {
    const { batch, packs } = await club.packed('Astray lot', [215, 225]);
    await claimed(packs.slice(0, 1));
    await openBatch(batch.id);
    await captain.button('Hand over');
    const sheet = captain.page.getByRole('dialog');
    await captain.find('To', 'Neighbour Tove', /Neighbour Tove/);
    await captain.tap(sheet.getByRole('checkbox', { name: 'Astray lot, pack 1' }));
    await captain.tap(sheet.getByRole('checkbox', { name: 'Astray lot, pack 2' }));
    await sheet.getByText('Pack 1 is confirmed for Ada Finch, not Neighbour Tove.').waitFor();
    await captain.tap(sheet.getByRole('button', { name: 'Hand over' }));
    await sheet.getByText('Say first what becomes of the packs that others claimed.').first().waitFor();
    await inspection.screen(captain.page, 'hand-over-astray');
    await captain.button(/^Leave it out/);
    await captain.tap(sheet.getByRole('button', { name: 'Hand over' }));
    await captain.page.getByText('1 pack handed over.').waitFor();
    for (const [i, status] of ['claimed', 'handed-over'].entries()) expect((await club.get(`/api/packs/${packs[i].id}`)).status).toBe(status);
  }, 2 * MINUTES);

  test('the smoker is booked in at most 5 taps, with three batches open and none started', async () => {
    const open = await Promise.all(['Early lot', 'Middle lot', 'Late lot'].map(async (name) => club.batch(name, await club.land('Guest Per'))));
    const book = async () => {
      await captain.tap(captain.page.getByRole('radio', { name: 'Smoke', exact: true }));
      await expect.poll(() => captain.page.getByLabel('Station', { exact: true }).inputValue()).not.toBe('');
      await captain.button('Book');
      await captain.page.getByText('Shore smoker booked,').waitFor();
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
    await expect.poll(() => new URL(captain.page.url()).search, { message: 'the sheet does not open again on the way back' }).toBe('');
  }, 3 * MINUTES);
});

const openBatch = async (id: string): Promise<any> => {
  await captain.page.goto(`/batches/${id}`);
  await captain.page.getByRole('heading', { name: 'Stages' }).waitFor();
};
const closed = () => captain.page.getByRole('dialog').waitFor({ state: 'detached' });

describe('on the page of a batch', () => {
  test('its name, ingredients and allergens are changed, and its packs follow', async () => {
    const { batch, packs } = await club.packed('Plain lot', [200]);
    await openBatch(batch.id);
    expect(await captain.page.getByRole('button', { name: 'Add fish' }).count(), 'it has been through the heat').toBe(0);
    await captain.button('Change name or contents');
    await captain.type(/^Name/, 'Mustard mackerel');
    await captain.type(/^Ingredients/, 'mackerel, salt, mustard seed');
    await captain.type(/^Allergens/, 'mustard, celery');
    await inspection.screen(captain.page, 'batch-change');
    await captain.button('Save');
    await captain.page.getByRole('heading', { level: 1, name: 'Mustard mackerel' }).waitFor();
    await captain.page.getByText('fish, mustard, celery').waitFor();
    const seen = await club.get(`/api/public/packs/${new URL((await club.get(`/api/packs/${packs[0].id}`)).publicUrl).pathname.split('/').at(-1)}`);
    expect(seen).toMatchObject({ product: 'Mustard mackerel', ingredients: 'mackerel, salt, mustard seed', allergens: ['fish', 'mustard', 'celery'] });
  }, 2 * MINUTES);

  test('ingredients that nobody typed come from the cure, are said to, and are overtyped; without its facts it says what is missing', async () => {
    const hour = (n: number) => new Date(Date.now() - n * 3_600_000).toISOString();
    const { id } = await club.batch('Sweet lot', await club.land('Guest Orla'));
    await club.post(`/api/batches/${id}/stages`, { kind: 'cure', startedAt: hour(14), finishedAt: hour(11), massOutG: 4900 });
    await club.post(`/api/batches/${id}/stages`, { kind: 'smoke', startedAt: hour(9), finishedAt: hour(5), massOutG: 4000, maxCoreC: 66, holdMinutes: 40, cooledAt: hour(3) });
    await openBatch(id);
    await captain.page.getByText('How it was cured was not written down. Labels name none.').waitFor();
    await inspection.screen(captain.page, 'batch-ingredients-untold');
    const cure = { method: 'dry', saltKind: 'fine-sea-salt', saltGrams: 300, sugarKind: 'brown-sugar-packed', sugarGrams: 150, others: [{ name: 'Soy sauce', grams: 60 }, { name: 'Black pepper', grams: 20 }], thicknessMm: 20, skin: true, temperatureC: 3, onceFrozen: false, fat: 'fatty' };
    const told = await club.patch(`/api/stages/${(await club.get(`/api/batches/${id}`)).stages[0].id}/cure`, { ...cure, version: 0 });
    const line = 'Atlantic mackerel (fish), salt, brown sugar, Soy sauce, Black pepper';
    expect(told.printed).toMatchObject({ ingredients: line, source: 'cure' });
    await openBatch(id);
    await captain.page.getByText(line).waitFor();
    await captain.page.getByText('From the cure', { exact: true }).waitFor();
    await captain.page.getByText('From the cure: wheat, soy').waitFor();
    await captain.page.getByText(line).scrollIntoViewIfNeeded();
    await inspection.screen(captain.page, 'batch-ingredients-cure');
    const packs = (await club.post(`/api/batches/${id}/packs`, { weightsG: [200], packageKind: 'tub', storage: 'refrigerated', packedAt: hour(2) })).items;
    const publicPath = new URL((await club.get(`/api/packs/${packs[0].id}`)).publicUrl).pathname;
    await captain.page.goto(publicPath);
    await captain.page.getByText(line).waitFor();
    await captain.page.getByText('fish, wheat, soy').waitFor();
    await inspection.screen(captain.page, 'public-ingredients');
    await openBatch(id);
    await captain.page.setViewportSize(DESK);
    await inspection.screen(captain.page, 'batch-ingredients-cure');
    await captain.page.setViewportSize(PHONE);
    await captain.button('Change name or contents');
    await captain.page.getByText(`From the cure: ${line}. Labels say so unless you type your own.`).waitFor();
    await inspection.screen(captain.page, 'batch-ingredients-change');
    await captain.button('Change these words');
    const field = captain.page.getByLabel(/^Ingredients/);
    await expect.poll(() => field.inputValue()).toBe(line);
    expect(await captain.page.getByText(/^Contains (soy|wheat)\?/).count(), 'the label names it already').toBe(0);
    await field.fill(`${line}, alder smoke`);
    await captain.button('Save');
    await closed();
    await captain.page.getByText(`${line}, alder smoke`).waitFor();
    expect(await captain.page.getByText('From the cure', { exact: true }).count()).toBe(0);
  }, 3 * MINUTES);

  test('more is drawn in: fish that stays apart is refused with its reason, other fish and another batch join', async () => {
    const [apart, pooled] = [await club.land('Guest Apart', 'apart', 3000), await club.land('Guest Pooled', 'pooled', 2000)];
    const [into, other] = [await club.batch('Growing lot', await club.land('Guest Orla')), await club.batch('Merging lot', await club.land('Guest Tor', 'pooled', 1500))];
    await openBatch(into.id);
    await captain.button('Add fish');
    await captain.tap(captain.page.getByRole('checkbox', { name: /Guest Apart/ }));
    await captain.button(/^Add to/);
    await captain.page.getByText(/holds fish of somebody else/).waitFor();
    await inspection.screen(captain.page, 'batch-add-refused');
    await captain.tap(captain.page.getByRole('checkbox', { name: /Guest Apart/ }));
    await captain.tap(captain.page.getByRole('checkbox', { name: /Guest Pooled/ }));
    await captain.type(/^How much/, '1.2');
    await captain.tap(captain.page.getByRole('checkbox', { name: /^Merging lot/ }));
    await inspection.screen(captain.page, 'batch-add');
    await captain.button(/^Add to/);
    await captain.page.getByText('2.7 kg added.').waitFor();
    await closed();
    expect((await club.get(`/api/batches/${into.id}`)).onHandGrams, '5 kg, 1.2 of one landing, 1.5 of the other batch').toBe(7700);
    expect((await club.get(`/api/batches/${other.id}`)).onHandGrams).toBe(0);
    expect([(await club.get(`/api/landings/${apart}`)).leftGrams, (await club.get(`/api/landings/${pooled}`)).leftGrams]).toEqual([3000, 800]);
  }, 2 * MINUTES);

  test('part of it is split off into a batch of its own, never all', async () => {
    const batch = await club.batch('Whole lot', await club.land('Guest Orla'));
    await openBatch(batch.id);
    await captain.button('Split off');
    await captain.type(/^Weight split off/, '5');
    await captain.button('Split off', -1);
    await captain.page.getByText('That is all of it. Leave some here.').waitFor();
    await captain.type(/^Weight split off/, '1.8');
    await captain.page.getByText(/^3\.2 kg stays in/).waitFor();
    await captain.type(/^Name/, 'Split lot');
    await inspection.screen(captain.page, 'batch-split');
    await captain.button('Split off', -1);
    await captain.page.getByRole('heading', { level: 1, name: 'Split lot' }).waitFor();
    const made = await club.get(`/api/batches/${new URL(captain.page.url()).pathname.split('/').at(-1)}`);
    expect([made.onHandGrams, (await club.get(`/api/batches/${batch.id}`)).onHandGrams]).toEqual([1800, 3200]);
    expect(made.draws.map((d: { source: { id: string } }) => d.source.id)).toEqual([batch.id]);
  }, 2 * MINUTES);

  test('what it does not permit is no button: nothing is added or split while a stage runs', async () => {
    const batch = await club.batch('Running lot', await club.land('Guest Orla'));
    await club.post(`/api/batches/${batch.id}/stages`, { kind: 'cure', startedAt: new Date(Date.now() - 600_000).toISOString() });
    await openBatch(batch.id);
    await captain.page.getByRole('button', { name: 'Finish cure', exact: true }).waitFor();
    for (const name of ['Add fish', 'Split off']) expect(await captain.page.getByRole('button', { name }).count(), name).toBe(0);
  }, MINUTES);
});

const openPack = async (id: string): Promise<void> => {
  await captain.page.goto(`/packs/${id}`);
  await captain.page.getByRole('heading', { name: 'Why this date' }).waitFor();
};

describe('on the page of a pack', () => {
  test('handed over, it was frozen and then thawed: its last day follows, with the reason', async () => {
    const { packs } = await club.packed('Freezer lot', [300]);
    await club.post('/api/hand-overs', { packIds: [packs[0].id], to: { memberId } });
    const today = (await club.get('/api/today')).day as string;
    await openPack(packs[0].id);
    await captain.button('Frozen or thawed');
    expect(await captain.page.getByRole('dialog').getByLabel(/^Weight/).count(), 'it is weighed no more').toBe(0);
    await captain.page.getByLabel(/^Frozen on/).fill(today);
    await inspection.screen(captain.page, 'pack-frozen');
    await captain.button('Save');
    await captain.page.getByText(/^Best before .* now\.$/).waitFor();
    const frozen = await club.get(`/api/packs/${packs[0].id}`);
    expect(frozen).toMatchObject({ status: 'handed-over', storage: 'frozen', frozenDay: today, dateKind: 'best-before' });
    expect(frozen.lastDay > packs[0].lastDay).toBe(true);
    for (const r of frozen.dateReasons) await captain.page.getByText(r.text).first().waitFor();
    await captain.button('Frozen or thawed');
    await captain.page.getByLabel(/^Thawed on/).fill(today);
    await captain.button('Save');
    await captain.page.getByText(/^Use by .* now\.$/).waitFor();
    const thawed = await club.get(`/api/packs/${packs[0].id}`);
    expect(thawed).toMatchObject({ storage: 'refrigerated', thawedDay: today, dateKind: 'use-by' });
    expect(thawed.lastDay < frozen.lastDay).toBe(true);
    await inspection.screen(captain.page, 'pack-thawed');
  }, 2 * MINUTES);

  test('the member who has it says that it went into the freezer and that it thawed (date.freeze, FC 3-501.17)', async () => {
    const { packs } = await club.packed('Home lot', [310]);
    await club.post('/api/hand-overs', { packIds: [packs[0].id], to: { memberId } });
    const read = () => club.get(`/api/packs/${packs[0].id}`);
    const { lastDay } = await read();
    await member.page.goto(`/packs/${packs[0].id}`);
    await member.button('Frozen or thawed');
    await member.tap(member.page.getByRole('switch', { name: /^It went into the freezer today/ }));
    await inspection.screen(member.page, 'pack-freezer-holder');
    await member.button('Save');
    await member.page.getByText(/^Best before .* now\.$/).waitFor();
    const today = (await club.get('/api/today')).day as string;
    expect(await read()).toMatchObject({ storage: 'frozen', frozenDay: today });
    await member.button('Frozen or thawed');
    await member.page.getByLabel(/^Thawed on/).fill(today);
    await inspection.screen(member.page, 'pack-thawed-holder');
    await member.button('Save');
    await member.page.getByText(/^Use by .* now\.$/).waitFor();
    const thawed = await read();
    expect(thawed).toMatchObject({ storage: 'refrigerated', thawedDay: today });
    expect(thawed.lastDay <= lastDay, 'no day came back').toBe(true);
  }, 2 * MINUTES);

  test('its weight is corrected', async () => {
    const { packs } = await club.packed('Scale lot', [300]);
    await openPack(packs[0].id);
    await captain.button('Correct');
    await captain.type(/^Weight/, '280');
    await captain.button('Save');
    await closed();
    expect((await club.get(`/api/packs/${packs[0].id}`)).grams).toBe(280);
  }, MINUTES);

  test('its claim is moved to another pack', async () => {
    const { packs } = await club.packed('Moving lot', [150, 350]);
    await claimed(packs.slice(0, 1));
    await openPack(packs[0].id);
    await captain.button('Move claim');
    await captain.find('Pack', `${packs[1].lot}-2`, /Moving lot/);
    await inspection.screen(captain.page, 'claim-move');
    await captain.button('Move', -1);
    await captain.page.getByText(`${packs[1].lot}-2 is Ada Finch’s to collect.`).waitFor();
    expect((await club.get(`/api/packs/${packs[0].id}`)).status).toBe('ready');
    expect((await club.get(`/api/packs/${packs[1].id}`)).claim).toMatchObject({ status: 'confirmed', member: { name: 'Ada Finch' } });
  }, MINUTES);

  test('undoing its hand-over takes a reason, which stands in the record', async () => {
    const { packs } = await club.packed('Mistaken lot', [260]);
    await club.post('/api/hand-overs', { packIds: [packs[0].id], to: { name: 'Neighbour Tove' } });
    await openPack(packs[0].id);
    await captain.button(/^Undo Handed to Neighbour Tove/);
    await captain.button('Undo it');
    await captain.page.getByText(/Say why it is undone/).waitFor();
    await captain.type('Why', 'She was away that day');
    await inspection.screen(captain.page, 'hand-over-undo');
    await captain.button('Undo it');
    await captain.page.getByText(/· undone$/).waitFor();
    await captain.link('The record of this pack');
    await captain.page.getByText('“She was away that day”').first().waitFor();
    expect((await club.get(`/api/packs/${packs[0].id}`)).status).toBe('ready');
  }, MINUTES);
});

describe('from 900 px the record is beside its list', () => {
  const title = (name: string) => captain.page.getByRole('heading', { level: 1, name, exact: true }).waitFor();
  /** Requests for a list, while the work goes on. */
  async function listsRead(list: RegExp, work: () => Promise<void>): Promise<number> {
    let count = 0;
    const heard = (request: { url(): string }) => void (list.test(request.url()) && count++);
    captain.page.on('request', heard);
    await work();
    captain.page.off('request', heard);
    return count;
  }

  test('a batch: the list is read once and stays, the way back leads through the same addresses', async () => {
    const [one, two] = [await club.batch('First beside', await club.land('Guest Orla')), await club.batch('Second beside', await club.land('Guest Tor'))];
    await captain.page.setViewportSize(DESK);
    const beside = captain.page.getByRole('region', { name: 'Batches' });
    expect(await listsRead(/\/api\/batches\?|\/api\/batches$/, async () => {
      await captain.page.goto('/batches');
      await title('Batches');
      await captain.link('First beside');
      await title('First beside');
      await expect.poll(() => captain.page.evaluate<boolean>(`document.activeElement.matches('.record')`), { message: 'the next key goes on in the record' }).toBe(true);
      await beside.getByRole('link', { name: 'Second beside' }).click();
      await title('Second beside');
    })).toBe(1);
    expect(new URL(captain.page.url()).pathname).toBe(`/batches/${two.id}`);
    await expect.poll(() => beside.locator('[aria-current=page]').allInnerTexts()).toEqual(['Second beside']);
    await inspection.screen(captain.page, 'batch-beside');
    await captain.page.goBack();
    await title('First beside');
    await captain.page.goBack();
    await title('Batches');
    await captain.page.goto(`/batches/${one.id}`);
    await title('First beside');
    await beside.getByRole('link', { name: 'Second beside' }).waitFor();
    await captain.page.setViewportSize({ width: 900, height: 900 });
    await inspection.screen(captain.page, 'batch-beside-narrow');
    await captain.page.setViewportSize(PHONE);
    await beside.waitFor({ state: 'detached' });
    expect(await listsRead(/\/api\/batches\?|\/api\/batches$/, async () => {
      await captain.page.goto(`/batches/${one.id}`);
      await title('First beside');
    }), 'on a phone the list is not read for a record').toBe(0);
  }, 3 * MINUTES);

  test('a recall, asked for at the foot of its page, brings who holds the lot into sight and takes the focus there', async () => {
    const { batch, packs } = await club.packed('Recalled beside', [190, 195]);
    await club.post('/api/hand-overs', { packIds: [packs[0].id], to: { name: 'Cousin Bob' } });
    await captain.page.setViewportSize(DESK);
    await captain.page.goto(`/batches/${batch.id}`);
    await title('Recalled beside');
    const button = captain.page.getByRole('button', { name: 'Recall this lot' });
    await button.scrollIntoViewIfNeeded();
    await captain.tap(button);
    await captain.type('Why', 'glass in the tub');
    await captain.tap(captain.page.getByRole('dialog').getByRole('button', { name: 'Recall', exact: true }));
    const told = captain.page.getByText(/^Recalled .*: glass in the tub$/);
    await told.waitFor();
    await captain.page.getByRole('dialog').waitFor({ state: 'detached' });
    await expect.poll(() => captain.page.evaluate<string>('document.activeElement.textContent'), { message: 'the focus is at the recall' }).toMatch(/glass in the tub$/);
    const inSight = async (what: ReturnType<typeof captain.page.getByText>) => {
      const box = (await what.boundingBox())!;
      return box.y >= 0 && box.y + box.height <= DESK.height;
    };
    for (const what of [told, captain.page.getByRole('heading', { name: 'Who holds it' }), captain.page.getByRole('button', { name: /^Told.*Cousin Bob/ })]) {
      await expect.poll(() => inSight(what)).toBe(true);
    }
    await inspection.screen(captain.page, 'batch-recalled-beside');
    await captain.page.setViewportSize(PHONE);
  }, 2 * MINUTES);

  test('a pack: the face of the list stays, and what is done in the record shows in it', async () => {
    const { packs } = await club.packed('Pack beside', [190, 195]);
    await captain.page.setViewportSize(DESK);
    await captain.page.goto('/packs?face=all');
    const beside = captain.page.getByRole('region', { name: 'Packs' });
    await captain.tap(beside.locator(`a[href="/packs/${packs[0].id}"]`));
    await title('Pack beside');
    await expect.poll(() => beside.getByRole('tab', { name: 'All' }).getAttribute('aria-selected')).toBe('true');
    await captain.tap(captain.page.locator('.record').getByRole('button', { name: 'Claim', exact: true }));
    await beside.getByText('claimed by you').waitFor();
    await inspection.screen(captain.page, 'pack-beside');
    await captain.page.goBack();
    await title('Packs');
    await expect.poll(() => new URL(captain.page.url()).search).toBe('?face=all');
    await captain.page.setViewportSize(PHONE);
  }, 2 * MINUTES);
});

describe('every screen seen here', () => {
  test('has no accessibility violation (axe, WCAG 2.2 AA), no error on the console, no sideways scrolling', () => {
    expect(inspection.seen.size).toBeGreaterThan(1);
    expect([...new Set(inspection.faults)], inspection.faults.join('\n')).toEqual([]);
  });
});
