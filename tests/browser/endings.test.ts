// One batch from the plan of its cure to the label, and the three endings in which it must not get there: done by hand on a phone.
import { readFileSync } from 'node:fs';
import type { Locator, Page } from 'playwright-core';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, test } from 'vitest';
import { readPdf } from '../support/pdf-reading.ts';
import { captainAtWork } from './support/at-work.ts';
import type { Hand } from './support/hand.ts';
import { DESK, PHONE } from './support/inspection.ts';
import type { Inspection } from './support/inspection.ts';
import { join, somebody } from './support/people.ts';
import type { Scene } from './support/scene.ts';
import { CHAMBER, COLD_CORE, day, GOOD_COOLING, GOOD_CORE, SHORT_CORE, SLOW_COOLING } from './support/smoke-log.ts';
import type { Corner, Day } from './support/smoke-log.ts';
import { runStage } from './support/work.ts';

const MINUTES = 60_000;
let club: Scene;
let captain: Hand;
let member: Hand;
let page: Page;
let clock: Day;
const inspection: Inspection = captainAtWork('endings', async (at) => {
  ({ club, captain } = at);
  page = captain.page;
  // Cold again nine hours after smoking began, and that is an hour ago.
  clock = day(600);
  member = await somebody(at.browser, at.service.url, 'member', inspection);
  await join(member, new URL((await club.post('/api/invitations', { role: 'member' })).link).pathname, 'Ada Finch');
});

const sheet = () => page.getByRole('dialog');
const closed = () => sheet().waitFor({ state: 'detached' });
const check = (title: string): Locator => page.getByRole('list', { name: 'Checks' }).getByRole('listitem').filter({ hasText: title });
const openBatch = async (id: string): Promise<void> => {
  await page.goto(`/batches/${id}`);
  await page.getByRole('heading', { name: 'Checks' }).waitFor();
};
const detail = (id: string): Promise<any> => club.get(`/api/batches/${id}`);
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const dayWords = (date: Temporal.PlainDate): string => `${date.day} ${MONTHS[date.month - 1]} ${date.year}`;
const inWords = (days: number): string => dayWords(clock.dayAfter(days));
/** What a request of the page's own session is answered. */
const asked = async (hand: Hand, url: string, data: object): Promise<{ status: number; body: any }> => {
  const answer = await hand.page.request.post(url, { data, headers: { 'idempotency-key': crypto.randomUUID() } });
  return { status: answer.status(), body: await answer.json() };
};

/** A batch whose cure and drying are over, through the API. */
async function cured(name: string): Promise<string> {
  const { id } = await club.batch(name, await club.land('Guest Orla'));
  await club.post(`/api/batches/${id}/stages`, { kind: 'cure', startedAt: clock.instant(-180), finishedAt: clock.instant(-90), massOutG: 4950 });
  return id;
}
/** Smoked and cooled with these cores, through the API. */
async function smoked(name: string, core: readonly Corner[], cooling: readonly Corner[]): Promise<string> {
  const id = await cured(name);
  const smoke = (await club.post(`/api/batches/${id}/stages`, { kind: 'smoke', startedAt: clock.instant(0), finishedAt: clock.instant(240), massOutG: 4000 })).stages.at(-1);
  await club.post(`/api/batches/${id}/readings`, { place: 'core', stageId: smoke.id, readings: clock.readings(core) });
  const cool = (await club.post(`/api/batches/${id}/stages`, { kind: 'cool', startedAt: clock.instant(240), finishedAt: clock.instant(550), massOutG: 3950 })).stages.at(-1);
  if (cooling.length > 0) await club.post(`/api/batches/${id}/readings`, { place: 'core', stageId: cool.id, readings: clock.readings(cooling) });
  return id;
}
const tubs = async (id: string): Promise<any[]> => (await club.post(`/api/batches/${id}/packs`, { weightsG: [250, 260], packageKind: 'tub', storage: 'refrigerated', packedAt: clock.instant(560) })).items;

/** Starts a stage by hand at a minute of the day. */
async function start(kind: string, minute: number): Promise<void> {
  await captain.button('Next stage');
  await captain.tap(sheet().getByRole('radio', { name: kind, exact: true }));
  await captain.tap(sheet().getByText('More: times, weight in, note'));
  await sheet().getByLabel(/^Started/).fill(clock.control(minute));
  await captain.button(`Start ${kind.toLowerCase()}`);
  await closed();
}
async function finish(kind: string, kilograms: string, minute: number, picture?: string): Promise<void> {
  await captain.button(`Finish ${kind.toLowerCase()}`);
  await captain.type(/^Weight out/, kilograms);
  await captain.tap(sheet().getByText('More: times, weight in, note'));
  await sheet().getByLabel(/^Finished/).fill(clock.control(minute));
  if (picture) await inspection.screen(page, picture);
  await captain.button('Save');
  await closed();
}
async function paste(place: 'Core' | 'Chamber' | 'Storage', corners: readonly Corner[], { picture, step = 5 }: { picture?: string; step?: number } = {}): Promise<void> {
  await captain.button('Paste a log');
  await captain.tap(sheet().getByRole('radio', { name: place, exact: true }));
  await captain.type('The log', clock.log(place, corners, step));
  const save = sheet().getByRole('button', { name: /^Save \d+ readings$/ });
  await save.waitFor();
  if (picture) await inspection.screen(page, picture);
  await captain.tap(save);
  await closed();
}
async function toTemperatures(): Promise<void> {
  await captain.link(/^Temperatures/);
  await page.getByRole('heading', { level: 1, name: 'Temperatures' }).waitFor();
}
async function backTo(name: string): Promise<void> {
  await captain.link(name);
  await page.getByRole('heading', { level: 1, name }).waitFor();
}
/** The words of the labels of a batch, printed by hand, as a PDF reader finds them. */
async function printed(): Promise<{ text: string; codes: string[] }> {
  const download = page.waitForEvent('download');
  await captain.button('Print labels');
  await captain.button('Make labels');
  const pages = await readPdf(readFileSync(await (await download).path()));
  await captain.button('Close');
  return { text: pages.map((p) => p.text).join(' ').replace(/\s+/g, ' '), codes: pages.flatMap((p) => p.codes.map((c) => c.text)) };
}
/** No label, hand-over or claim of it, whoever asks; and nobody lets it go. */
async function stopped(id: string, packs: any[], ruleId: string): Promise<void> {
  await openBatch(id);
  await page.getByText(/^No labels and no hand-over/).waitFor();
  for (const name of ['Print labels', 'Hand over']) expect(await page.getByRole('button', { name, exact: true }).count(), name).toBe(0);
  expect(await page.getByRole('button', { name: /^Let it go/ }).count(), 'a captain’s release').toBe(0);
  const packIds = packs.map((p) => p.id);
  const [layout] = (await club.get('/api/label-layouts')).items;
  const label = await asked(captain, '/api/label-runs', { packIds, layoutId: layout.id });
  expect([label.status, label.body.code], label.body.detail).toEqual([409, 'on-hold']);
  expect((await asked(captain, '/api/hand-overs', { packIds, to: { name: 'Neighbour Tove' } })).body.code).toBe('on-hold');
  expect((await asked(member, '/api/claims', { packId: packIds[0] })).body.code).toBe('on-hold');
  const release = await asked(captain, `/api/batches/${id}/releases`, { ruleId, reason: 'It looked done to me' });
  expect([release.status, release.body.code], release.body.detail).toEqual([403, 'not-allowed']);
}

describe('as it should be', () => {
  let id: string;
  test('the cure is planned, started from the plan, and finished; the fish is dried (20 g of salt for 100 g of fish, common practice: 600 g for 3 kg; a long cure at 3.3 C or below, brine.cold, NY262.5)', async () => {
    id = (await club.batch('Evening mackerel', await club.land('Guest Orla'))).id;
    await club.post(`/api/batches/${id}/stages`, { kind: 'prepare', startedAt: clock.instant(-1200), finishedAt: clock.instant(-1150), massOutG: 3000, trimG: 2000 });
    await openBatch(id);
    await inspection.screen(page, 'ending-new');
    await captain.link('Plan the cure');
    await captain.pick('Kind of salt', 'Table salt');
    await expect.poll(() => page.getByRole('region', { name: 'The plan' }).innerText()).toMatch(/Salt\s+600 g/);
    await inspection.screen(page, 'ending-plan');
    await captain.button('Start the cure with this plan');
    await sheet().waitFor();
    expect(await sheet().getByLabel('Note').inputValue()).toContain('600 g table salt');
    await sheet().getByLabel(/^Started/).fill(clock.control(-600));
    await sheet().getByLabel(/These amounts were used/).check();
    await inspection.screen(page, 'ending-cure-starts');
    await captain.button('Start cure');
    await closed();
    await toTemperatures();
    await paste('Storage', [[-600, 2.5], [-90, 3.1]], { step: 30 });
    await backTo('Evening mackerel');
    await finish('Cure', '2.95', -90, 'ending-cure-ends');
    await check('Cured in the cold').getByText('met', { exact: true }).waitFor();
    await runStage(captain, 'Dry', '2.85', clock.control(-80), clock.control(-10));
  }, 2 * MINUTES);

  test('smoked: chamber and core are pasted; the core is at 62.8 C or more from minute 195 to 240, when its log ends: 45 minutes (smoke.core, MI569.7)', async () => {
    await start('Smoke', 0);
    await toTemperatures();
    await paste('Chamber', CHAMBER);
    await paste('Core', GOOD_CORE, { picture: 'ending-core-pasted' });
    await page.getByText(/^Core passed 62\.8 °C at \d\d:\d\d and held 45 minutes\.$/).first().waitFor();
    await inspection.screen(page, 'ending-temperatures');
    await backTo('Evening mackerel');
    await finish('Smoke', '2.4', 240, 'ending-smoke-ends');
    await check('Hot enough for long enough').filter({ hasText: '45 minutes at 62.8' }).getByText('met', { exact: true }).waitFor();
    await inspection.screen(page, 'ending-smoked');
    expect((await detail(id)).verdict, 'not before it is cold').toBe('hold');
  }, 2 * MINUTES);

  test('cooled: 57 to 21 C in 1 h 30, to 5 C in 4 h 30 in all (cool.fc, FC 3-501.14), 21 to 4.4 C in 3 h 15 (cool.hg); safe to share', async () => {
    await start('Cool', 240);
    await toTemperatures();
    await paste('Core', GOOD_COOLING);
    await page.getByText('Fast enough: 57 °C to 21 °C in 1 h 30 min, 57 °C to 5 °C in 4 h 30 min.').first().waitFor();
    await page.getByText(/^Core passed 62\.8 °C at \d\d:\d\d and held 50 minutes\.$/).first().waitFor();
    await backTo('Evening mackerel');
    await finish('Cool', '2.35', 545, 'ending-cool-ends');
    await page.getByText('safe to share').first().waitFor();
    const cooled = await detail(id);
    expect(cooled.checks.filter((c: any) => c.counts && c.state !== 'met')).toEqual([]);
    expect(cooled.checks.find((c: any) => c.ruleId === 'cool.hg' && c.part === 'to-end')).toMatchObject({ state: 'met', found: '3 h 15 min' });
    await inspection.screen(page, 'ending-cooled');
  }, 2 * MINUTES);

  test('packed in tubs: use by the seventh day, the smoke day being day 1 (date.seven, FC 3-501.17); the label says so, with its words (label.content, label.words, NY262.8)', async () => {
    await captain.button('Weigh packs');
    await captain.type(/^Weights/, '250 255\n260');
    await inspection.screen(page, 'ending-packs');
    await captain.button('Make packs');
    await page.getByText('3 packs made.').waitFor();
    await inspection.screen(page, 'ending-packed');
    const packs = (await detail(id)).packs;
    expect(packs.map((p: any) => [p.grams, p.lastDay, p.dateKind])).toEqual([250, 255, 260].map((grams) => [grams, clock.dayAfter(6).toString(), 'use-by']));
    const { text, codes } = await printed();
    // 250 / 28.3495 = 8.8 oz.
    for (const words of ['Evening mackerel', 'USE BY', inWords(6), `Smoked ${inWords(0)}`, 'Keep refrigerated at 38 F (3.3 C) or below', '250 g (8.8 oz)', 'Contains: fish', `Lot ${packs[0].lot}`, 'Pack 3', 'Sport caught, not for resale', 'Made by Kill Test']) expect(text).toContain(words);
    expect(text).not.toContain('HOLD');
    expect(codes).toHaveLength(3);
  }, 2 * MINUTES);

  test('a member claims a pack, and the page behind its code shows its date to anybody (date.seven, FC 3-501.17)', async () => {
    await member.page.goto('/');
    await member.tap(member.page.getByRole('button', { name: /^Claim pack 1, Evening mackerel/ }));
    await member.page.getByText('Claimed. A captain confirms it.').waitFor();
    const [pack] = (await detail(id)).packs;
    expect(pack.claim.member.name).toBe('Ada Finch');
    const address = (await club.get(`/api/packs/${pack.id}`)).publicUrl;
    await member.page.goto(address);
    await member.page.getByText(inWords(6)).first().waitFor();
    await inspection.screen(member.page, 'ending-public');
    await page.setViewportSize(DESK);
    await openBatch(id);
    await inspection.screen(page, 'ending-packed');
    await page.setViewportSize(PHONE);
  }, 2 * MINUTES);
});

describe('the core never got there', () => {
  test.each([
    ['at most 61 C is not 62.8 C', 'Fire went down', COLD_CORE, '61 °C', /^Not yet: the core has to reach 62\.8 °C\. The highest so far is 61 °C/],
    ['24 of 30 minutes, when the log ends, are not met', 'Log cut short', SHORT_CORE, '24 minutes at 62.8 °C or more, when the log ends', /^Not yet: 24 minutes so far at 62\.8 °C or more\. It needs 30\./],
  ])('%s: hold, the reason, no label, no hand-over, no release (smoke.core, MI569.7)', async (_rule, name, core, found, says) => {
    const id = await cured(name);
    await openBatch(id);
    await start('Smoke', 0);
    await toTemperatures();
    await paste('Core', core, { step: 3 });
    await page.getByText(says).first().waitFor();
    await backTo(name);
    await finish('Smoke', '4', 240);
    await club.post(`/api/batches/${id}/stages`, { kind: 'cool', startedAt: clock.instant(240), finishedAt: clock.instant(550), massOutG: 3950 });
    const packs = await tubs(id);
    await stopped(id, packs, 'smoke.core');
    await page.getByText('hold, do not share: not met').first().waitFor();
    const unmet = check('Hot enough for long enough').filter({ hasText: found }).first();
    await unmet.getByText('not met').waitFor();
    expect(await unmet.innerText()).not.toMatch(/nearly|almost/i);
    await inspection.screen(page, `ending-${name.toLowerCase().replaceAll(' ', '-')}`);
  }, 2 * MINUTES);
});

test('cooled too slowly, 3 hours from 57 to 21 C: do not share, not releasable, no label, no claim (cool.fc, FC 3-501.14)', async () => {
  const id = await smoked('Left on the bench', GOOD_CORE, []);
  await openBatch(id);
  await captain.tap(check('Cooled fast enough').first().getByRole('link', { name: 'Enter temperatures' }));
  await page.getByRole('heading', { level: 1, name: 'Temperatures' }).waitFor();
  await paste('Core', SLOW_COOLING);
  await page.getByText(/^Too slow: 57 °C to 21 °C: 3 h 0 min, at most 2 h/).first().waitFor();
  await backTo('Left on the bench');
  await page.getByText('do not share', { exact: true }).first().waitFor();
  const packs = await tubs(id);
  await stopped(id, packs, 'cool.fc');
  await check('Cooled fast enough').filter({ hasText: '3 h 0 min' }).getByText('Do not share it.', { exact: true }).waitFor();
  await inspection.screen(page, 'ending-too-slow');
  await member.page.goto(`/packs/${packs[0].id}`);
  await member.page.getByText('do not share', { exact: true }).first().waitFor();
  expect(await member.page.getByRole('button', { name: 'Claim', exact: true }).count()).toBe(0);
  await inspection.screen(member.page, 'ending-too-slow-pack');
}, 2 * MINUTES);

describe('without air', () => {
  let id: string;
  test('a vacuum pack that is not frozen is refused and says what to do; the plan’s salt is no figure of a laboratory (rop.freeze, FC 3-502.12(C); salt.rop, HG ch. 13)', async () => {
    id = await smoked('Sealed lot', GOOD_CORE, GOOD_COOLING);
    await page.goto(`/batches/${id}/cure`);
    await page.getByText('It never stands in for a laboratory figure: a vacuum pack or tight jar needs one.').waitFor();
    await openBatch(id);
    await captain.button('Weigh packs');
    await captain.type(/^Weights/, '300 305');
    await captain.tap(sheet().getByRole('radio', { name: 'Vacuum' }));
    await sheet().getByText(/so it is frozen at once\. To keep it cold instead, use a tub or bag/).waitFor();
    expect(await sheet().getByRole('radio', { name: 'Refrigerated' }).isDisabled()).toBe(true);
    expect(await sheet().getByRole('radio', { name: 'Frozen' }).isChecked()).toBe(true);
    await inspection.screen(page, 'ending-vacuum');
    const cold = await asked(captain, `/api/batches/${id}/packs`, { weightsG: [300], packageKind: 'vacuum', storage: 'refrigerated', packedAt: clock.instant(560) });
    expect([cold.status, cold.body.errors[0].field, cold.body.errors[0].remedy]).toEqual([422, 'storage', 'Freeze it, or use a tub or bag that lets air in.']);
  }, 2 * MINUTES);

  test('frozen at once: best before two months on, with the words to keep it frozen and to open it before thawing (label.words, FC 3-501.13(E); date.frozen-quality, MSU 1997; date.freeze)', async () => {
    await captain.button('Make packs');
    await page.getByText('2 packs made.').waitFor();
    const packs = (await detail(id)).packs;
    const frozen = (await club.get(`/api/packs/${packs[0].id}`)).frozenDay as string;
    const best = Temporal.PlainDate.from(frozen).add({ months: 2 });
    expect([packs[0].storage, packs[0].dateKind, packs[0].lastDay]).toEqual(['frozen', 'best-before', best.toString()]);
    const { text } = await printed();
    // Day 1 is the smoke day, and of seven the days up to freezing are used; the smoke day always is.
    const left = 7 - Math.max(1, clock.dayAfter(0).until(frozen).days);
    for (const words of ['BEST BEFORE', dayWords(best), 'Keep frozen; thaw in refrigerator; open pack before thawing', `Use within ${left} days of thawing`]) expect(text).toContain(words);
  }, 2 * MINUTES);

  test('with 3.6 % measured by a laboratory it may be kept cold, seven days from smoking; 3.4 % is not enough (salt.rop: 3.5 %, HG ch. 13; date.seven, FC 3-501.17)', async () => {
    id = await smoked('Measured lot', GOOD_CORE, GOOD_COOLING);
    await openBatch(id);
    await measured('3,4');
    await captain.button('Weigh packs');
    await captain.tap(sheet().getByRole('radio', { name: 'Vacuum' }));
    expect(await sheet().getByRole('radio', { name: 'Refrigerated' }).isDisabled(), '3.4 %').toBe(true);
    await captain.tap(sheet().getByRole('button', { name: 'Close' }));
    await closed();
    await captain.button(/^Withdraw Water-phase salt/);
    await captain.button('Withdraw');
    await page.getByText('A laboratory’s figure is withdrawn with a reason.').waitFor();
    await captain.type('Why it is withdrawn', 'Sample of another lot');
    await inspection.screen(page, 'figure-withdrawn');
    await captain.button('Withdraw');
    await page.getByText(/^No figure stands\./).waitFor();
    expect(await page.getByText(/^Withdrawn: Water-phase salt 3[.,]4 %, by .*\. Why: Sample of another lot$/).count()).toBeGreaterThan(0);
    expect(await page.getByText('Figure saved.').count()).toBe(0);
    await measured('3,6');
    await captain.button('Weigh packs');
    await captain.type(/^Weights/, '300');
    await captain.tap(sheet().getByRole('radio', { name: 'Vacuum' }));
    await captain.tap(sheet().getByRole('radio', { name: 'Refrigerated' }));
    await inspection.screen(page, 'ending-vacuum-cold');
    await captain.button('Make packs');
    await page.getByText('1 pack made.').waitFor();
    const batch = await detail(id);
    expect([batch.verdict, batch.packs[0].storage, batch.packs[0].lastDay]).toEqual(['clear', 'refrigerated', clock.dayAfter(6).toString()]);
    expect(batch.checks.find((c: any) => c.ruleId === 'salt.rop')).toMatchObject({ state: 'met', found: '3.6 %' });
    const { text } = await printed();
    for (const words of ['USE BY', inWords(6), 'Keep refrigerated at 38 F (3.3 C) or below']) expect(text).toContain(words);
  }, 2 * MINUTES);
});

async function measured(percent: string): Promise<void> {
  await captain.button('Enter a laboratory’s figure');
  await captain.type('What it found', percent);
  await captain.type(/^Laboratory/, 'Harbour Laboratory');
  // The day of the sample is nobody's until it is entered; one tap beside it takes today.
  await captain.tap(sheet().getByRole('button', { name: 'Day after' }).first());
  await captain.button('Save');
  await page.getByText('Figure saved.').waitFor();
  await closed();
}

test('no screen seen here has an accessibility violation (axe, WCAG 2.2 AA), an error on the console, or scrolls sideways', () => {
  expect(inspection.seen.size).toBeGreaterThan(15);
  expect([...new Set(inspection.faults)], inspection.faults.join('\n')).toEqual([]);
});
