// The whole job in a browser: four people, each on a device of their own, against the real process.
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { readPdf } from '../support/pdf-reading.ts';
import { freePort, startService, type Service } from '../support/process.ts';
import { buildWebApp } from './support/build-once.ts';
import type { Hand } from './support/hand.ts';
import { DESK, Inspection, picture } from './support/inspection.ts';
import { atToday, invite, join, openBrowser, PASSWORD, somebody } from './support/people.ts';
import { bookFor, finishStage, LANDED, newBatch, recordLanding, runStage, timeAgo } from './support/work.ts';

const MINUTES = 60_000;
let folder: string;
let service: Service;
let browser: Browser;
let captain: Hand;
let crew: Hand;
let member: Hand;
let batchPath: string;
let passedOn: string;
const inspection = new Inspection();
const taps: Record<string, number> = {};
const weights = Array.from({ length: 40 }, (_, i) => 180 + ((i * 7) % 41));

beforeAll(async () => {
  buildWebApp();
  folder = mkdtempSync(path.join(tmpdir(), 'tidelarder-browser-'));
  const port = String(await freePort());
  service = await startService({ DATA_DIR: path.join(folder, 'data'), PORT: port, PUBLIC_URL: `http://127.0.0.1:${port}` });
  browser = await openBrowser();
  captain = await somebody(browser, service.url, 'captain', inspection);
}, 10 * MINUTES);

// What everybody saw when something went wrong says more than the step that waited in vain.
afterEach(async ({ task }) => {
  if (task.result?.state !== 'fail') return;
  for (const [who, hand] of Object.entries({ captain, crew, member })) if (hand) await picture(hand.page, `failed-${who}`);
  console.error([...new Set(inspection.faults)].join('\n'), service?.output().slice(-2000));
});

afterAll(async () => {
  await browser?.close();
  service?.child.kill('SIGTERM');
  await service?.exited;
  if (folder) rmSync(folder, { recursive: true, force: true });
}, MINUTES);

const api = async (hand: Hand, address: string): Promise<any> => (await hand.page.request.get(address)).json();

describe('from a landing to a pack in a member\'s hands', () => {
  test('an empty club is set up with the code that the service printed', async () => {
    const code = /enter this code once:\s+(\S+)/.exec(service.output())?.[1];
    expect(code, service.output()).toBeTruthy();
    await captain.page.goto('/');
    await captain.page.getByRole('heading', { name: 'Set up your club' }).waitFor();
    await inspection.screen(captain.page, 'set-up');
    await captain.type('Set-up code', code!);
    await captain.type(/^Name/, 'Skerry Point Anglers');
    await captain.type('Your name', 'Marit Strand');
    await captain.type(/^Password/, PASSWORD);
    await captain.button('Set up the club');
    await atToday(captain.page);
    await inspection.screen(captain.page, 'today-empty');
  }, 3 * MINUTES);

  test('a crew member and a member join by invitation', async () => {
    crew = await somebody(browser, service.url, 'crew', inspection);
    member = await somebody(browser, service.url, 'member', inspection);
    await join(crew, await invite(captain, 'Crew'), 'Jonas Quill');
    const link = await invite(captain, 'Member');
    await member.page.goto(link);
    await member.page.getByRole('button', { name: 'Join' }).waitFor();
    await inspection.screen(member.page, 'join');
    await join(member, link, 'Ada Finch');
  }, 3 * MINUTES);

  test('the captain adds a boat and stations', async () => {
    await captain.page.goto('/boats');
    await captain.button('Add a boat');
    await captain.type(/^Name/, 'Grey Plover');
    await captain.button('Save boat');
    await captain.page.getByText('Grey Plover').first().waitFor();
    await captain.page.goto('/stations');
    for (const [name, kind, holds] of [['Brine tub', 'Brine tub', '30'], ['Drying rack', 'Drying rack', '6'], ['Shore smoker', 'Smoker', '6']] as const) {
      await captain.button('Add a station');
      await captain.type(/^Name/, name);
      await captain.pick(/^Kind/, kind);
      await captain.type(/^Holds/, holds);
      await captain.button('Save station');
      await captain.page.getByRole('button', { name: `Change ${name}` }).waitFor();
    }
  }, 3 * MINUTES);

  test('the crew opens a trip and records two landings that may be pooled', async () => {
    await crew.page.goto('/fish/new');
    await crew.page.getByLabel(/^Where/).waitFor();
    await inspection.screen(crew.page, 'new-trip');
    await crew.type(/^Where/, 'North ledge');
    // The fish was caught half a day ago: before noon that is the day before, and a landing of another day is asked about.
    await crew.page.getByRole('textbox', { name: 'Day', exact: true }).fill(LANDED.caught.slice(0, 10));
    await crew.button('Save trip');
    await crew.page.getByRole('link', { name: 'Record landing' }).waitFor();
    taps['record a landing on an open trip'] = await crew.count(() => recordLanding(crew, 'mackerel', '6.2'));
    await recordLanding(crew, 'mackerel', '5.8', inspection);
    await inspection.screen(crew.page, 'trip');
  }, 3 * MINUTES);

  test('the crew puts the trip right: a guest was aboard', async () => {
    await crew.link('Change trip');
    await crew.button('Add a person');
    await crew.find('Person 2', 'Tove', /Guest: Tove/);
    await crew.button('Save trip');
    await crew.page.getByText('Jonas Quill, Tove').waitFor();
  }, 2 * MINUTES);

  test('the crew adds a species of the club’s own; one that the tables have is refused at its field', async () => {
    await crew.page.goto('/species');
    await crew.button('Add a species');
    await crew.type(/^Name/, 'Escolar');
    await crew.type(/^Heaviest single fish/, '2');
    await crew.button('Save species');
    await crew.page.getByText('Escolar is in the list already.').first().waitFor();
    await inspection.screen(crew.page, 'species-refused');
    await crew.type(/^Name/, 'Garfish of ours');
    await crew.button('Save species');
    await crew.page.getByRole('button', { name: 'Change Garfish of ours' }).waitFor();
  }, 2 * MINUTES);

  test('the captain starts a batch from both landings and books the smoker', async () => {
    taps['start a batch from two landings'] = await captain.count(() => newBatch(captain));
    batchPath = new URL(captain.page.url()).pathname;
    const id = batchPath.split('/').at(-1)!;
    expect((await api(captain, `/api/batches/${id}`)).onHandGrams, 'both landings, 6.2 and 5.8 kg').toBe(12_000);
    taps['book the smoker for it'] = await captain.count(() => bookFor(captain, 'Smoke', inspection));
    await inspection.screen(captain.page, 'batch-new');
  }, 3 * MINUTES);

  test('the crew takes it through its stages', async () => {
    await crew.page.goto(batchPath);
    await runStage(crew, 'Prepare', '11', timeAgo(11), timeAgo(10.5), inspection, undefined, true);
    await runStage(crew, 'Cure', '10.8', timeAgo(10.4), timeAgo(8));
    await runStage(crew, 'Dry', '10.2', timeAgo(7.9), timeAgo(7));
    await runStage(crew, 'Smoke', '8.6', timeAgo(6.9), timeAgo(3), undefined, { core: '66', minutes: '35' });
    await crew.page.goto(batchPath);
    await crew.button('Next stage');
    await crew.tap(crew.page.getByRole('radio', { name: 'Cool', exact: true }));
    await crew.tap(crew.page.getByText('More: times, weight in, note'));
    await crew.page.getByLabel(/^Started/).fill(timeAgo(2.9));
    await crew.button('Start cool');
    await crew.page.getByRole('button', { name: 'Finish cool', exact: true }).waitFor();
    taps["enter a stage's weight"] = await crew.count(() => finishStage(crew, 'Cool', '8.5', { to21At: timeAgo(1.5), to5At: timeAgo(0.5) }));
    const batch = await api(crew, `/api/batches/${batchPath.split('/').at(-1)}`);
    expect(batch.verdict, JSON.stringify(batch.checks)).toBe('clear');
    await inspection.screen(crew.page, 'batch-cooled');
  }, 4 * MINUTES);

  test('forty pack weights are pasted from the scale', async () => {
    taps['enter 40 pack weights'] = await crew.count(async () => {
      await openBatch(crew);
      await crew.button('Weigh packs');
      await crew.type(/^Weights/, weights.join('\n'));
      await crew.page.getByText('40 packs').waitFor();
      await crew.button('Make packs');
      await crew.page.getByText('40 packs made.').waitFor();
    });
    const batch = await api(crew, `/api/batches/${batchPath.split('/').at(-1)}`);
    expect(batch.packs.map((p: any) => p.grams)).toEqual(weights);
  }, 2 * MINUTES);

  test('their labels carry the public address of each pack', async () => {
    let file = '';
    taps['print their labels'] = await crew.count(async () => {
      const download = crew.page.waitForEvent('download');
      await openBatch(crew);
      await crew.button('Print labels');
      await crew.button('Make labels');
      file = await (await download).path();
    });
    await inspection.screen(crew.page, 'labels-made');
    const pages = await readPdf(readFileSync(file));
    const batch = await api(crew, `/api/batches/${batchPath.split('/').at(-1)}`);
    const details = await Promise.all(batch.packs.map((p: any) => api(crew, `/api/packs/${p.id}`)));
    expect(pages.flatMap((p) => p.codes.map((c) => c.text)).sort()).toEqual(details.map((d: any) => d.publicUrl).sort());
  }, 3 * MINUTES);

  test('the club adds its own label sheet, drawn as its numbers are typed, and finds it where labels are printed', async () => {
    await crew.page.goto('/label-sheets');
    await crew.link('Add a label sheet');
    await crew.pick(/^Start from/, 'A4, 2 x 7, 99.1 x 38.1 mm');
    await crew.type(/^Name/, 'Boathouse sheet');
    await crew.type(/^Rows/, '8');
    await crew.page.getByText(/off a page of 297 mm/).waitFor();
    await inspection.screen(crew.page, 'label-sheet-off-the-page');
    await crew.type(/^Rows/, '6');
    await crew.page.getByRole('img', { name: /^A4, 2 x 6 of 99.1 x 38.1 mm/ }).waitFor();
    await crew.button('Save label sheet');
    await crew.page.getByRole('button', { name: 'Remove Boathouse sheet' }).waitFor();
    await crew.page.goto(batchPath);
    await crew.button('Print labels');
    await crew.pick(/^Sheet or roll/, 'Boathouse sheet');
    await crew.page.getByRole('dialog').getByRole('img', { name: /^A4, 2 x 6/ }).waitFor();
    await inspection.screen(crew.page, 'print-labels');
  }, 2 * MINUTES);

  test('the member claims, the captain confirms, five packs are handed over', async () => {
    await atTodayWithClaims(member);
    await inspection.screen(member.page, 'member-today');
    const claim = member.page.getByRole('button', { name: /^Claim pack/ });
    taps['claim a pack'] = await member.count(async () => {
      await member.tap(claim.first());
      await member.page.getByText('Claimed. A captain confirms it.').waitFor();
    });
    const others = (await api(member, '/api/packs?claimable=true&limit=100')).items.slice(0, 4);
    for (const pack of others) {
      await member.page.goto(`/packs/${pack.id}`);
      await member.button('Claim');
      await member.page.getByText('Claimed by').first().waitFor();
    }
    await captain.page.goto('/packs');
    await captain.tap(captain.page.getByRole('tab', { name: 'Claims' }));
    const confirm = captain.page.getByRole('button', { name: 'Confirm' });
    await confirm.first().waitFor();
    await inspection.screen(captain.page, 'claims');
    for (let left = 5; left > 0; left--) {
      await captain.tap(confirm.first());
      await expect.poll(() => confirm.count()).toBe(left - 1);
    }
    taps['hand five packs to a member'] = await captain.count(async () => {
      await openBatch(captain);
      await captain.button('Hand over');
      await captain.find('To', 'Ada', /Ada Finch/);
      await inspection.screen(captain.page, 'hand-over');
      await captain.button('Hand over', -1);
      await captain.page.getByText('5 packs handed over.').waitFor();
    });
  }, 4 * MINUTES);

  test('the member passes one on and a stranger reads its page without an account', async () => {
    const mine = (await api(member, '/api/packs?mine=true&limit=100')).items;
    expect(mine).toHaveLength(5);
    await member.page.goto(`/packs/${mine[0].id}`);
    await member.button('Pass it on');
    await member.find('To', 'Neighbour Tove', /Neighbour Tove/);
    await inspection.screen(member.page, 'pass-on');
    await member.button('Pass on');
    await member.page.getByText('Neighbour Tove').first().waitFor();
    const detail = await api(captain, `/api/packs/${mine[0].id}`);
    passedOn = new URL(detail.publicUrl).pathname;
    const stranger = await somebody(browser, service.url, 'stranger', inspection);
    await stranger.page.goto(passedOn);
    await stranger.page.getByText('Use by', { exact: true }).waitFor();
    taps['see until when a pack is good, as a stranger'] = stranger.taps;
    const text = await stranger.page.locator('body').innerText();
    for (const name of ['Ada', 'Finch', 'Marit', 'Jonas', 'Tove', 'Grey Plover', 'North ledge']) expect(text).not.toContain(name);
    await inspection.screen(stranger.page, 'public-pack');
    await stranger.button('How many meals?');
    await stranger.type(/^Weight of who/, '70');
    await stranger.type(/^Fish in one meal/, '113');
    await stranger.page.getByText(/such meals? a month/).waitFor();
    await inspection.screen(stranger.page, 'public-pack-meals');
    await stranger.page.setViewportSize(DESK);
    await inspection.screen(stranger.page, 'public-pack');
    await stranger.page.goto('/sign-in');
    await stranger.page.getByRole('button', { name: 'Sign in' }).waitFor();
    await inspection.screen(stranger.page, 'sign-in');
  }, 3 * MINUTES);
});

/** From any screen, by its list: other screens may have a link with its name too. */
async function openBatch(hand: Hand): Promise<void> {
  await hand.link('Batches');
  await hand.page.getByRole('heading', { level: 1, name: 'Batches' }).waitFor();
  await hand.link(/mackerel/i);
}

async function atTodayWithClaims(hand: Hand): Promise<void> {
  await hand.page.goto('/');
  await hand.page.getByRole('heading', { name: 'To claim' }).waitFor();
}

describe('every screen', () => {
  test('of every role, at phone width and at desk width', async () => {
    const id = batchPath.split('/').at(-1)!;
    const batch = await api(captain, `/api/batches/${id}`);
    const trip = (await api(captain, '/api/trips')).items[0].id as string;
    const landing = (await api(captain, '/api/landings')).items[0].id as string;
    const shared = ['/', '/fish', `/fish/${trip}`, `/fish/landings/${landing}`, '/batches', batchPath, '/calendar', '/calendar?view=week', '/packs', `/packs/${batch.packs[0].id}`, '/account'];
    const ofCrew = [...shared, '/people', '/stations', '/boats', '/species', '/label-sheets', '/label-sheets/new', '/record', '/fish/ice', '/fish/new', `/fish/${trip}/change`, `/fish/${trip}/landing`];
    const ofCaptain = [...ofCrew, '/club', '/batches/new'];
    const name = (p: string): string => p.replaceAll(/[0-9a-f]{8}-[0-9a-f-]+/g, 'one').replaceAll(/[/?=]+/g, '-').replace(/^-/, '') || 'today';
    for (const [who, hand, paths] of [['captain', captain, ofCaptain], ['crew', crew, ofCrew], ['member', member, shared]] as const) {
      for (const p of paths) {
        await hand.page.goto(p);
        await hand.page.getByRole('heading', { level: 1 }).first().waitFor();
        await inspection.screen(hand.page, `${who}-${name(p)}`);
      }
    }
    for (const [who, hand, paths] of [['member', member, shared], ['captain', captain, ofCaptain]] as const) {
      await hand.page.setViewportSize(DESK);
      for (const p of paths) {
        await hand.page.goto(p);
        await hand.page.getByRole('heading', { level: 1 }).first().waitFor();
        await inspection.screen(hand.page, `${who}-${name(p)}`);
      }
    }
  }, 10 * MINUTES);

  test('without an accessibility violation (axe, WCAG 2.2 AA), an error on the console, or sideways scrolling', () => {
    expect([...new Set(inspection.faults)], inspection.faults.join('\n')).toEqual([]);
    expect(inspection.seen.size).toBeGreaterThan(50);
  });

  test.each([
    ['record a landing on an open trip', 6],
    ['start a batch from two landings', 7],
    ['book the smoker for it', 5],
    ["enter a stage's weight", 3],
    ['enter 40 pack weights', 4],
    ['print their labels', 4],
    ['claim a pack', 2],
    ['hand five packs to a member', 7],
    ['see until when a pack is good, as a stranger', 0],
  ])('%s takes at most %i taps', (task, ceiling) => {
    expect(taps[task], task).toBeTypeOf('number');
    expect(taps[task]).toBeLessThanOrEqual(ceiling);
  });
});
