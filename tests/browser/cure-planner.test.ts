// The cure, planned from a batch on a phone: what is seen in four taps, what is refused and how, and how the plan becomes the record.
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { captainAtWork } from './support/at-work.ts';
import type { Hand } from './support/hand.ts';
import { inUnits } from './support/in-units.ts';
import { DESK, PHONE } from './support/inspection.ts';
import type { Scene } from './support/scene.ts';

const MINUTES = 60_000;
let club: Scene;
let captain: Hand;
let page: Page;
const inspection = captainAtWork('cure', (at) => {
  ({ club, captain } = at);
  page = at.captain.page;
});

const answer = () => page.getByRole('region', { name: 'The plan' });
const prepared = async (name: string): Promise<any> => {
  const batch = await club.batch(name, await club.land('Guest Orla'));
  const at = (hours: number) => new Date(Date.now() - hours * 3_600_000).toISOString();
  return club.post(`/api/batches/${batch.id}/stages`, { kind: 'prepare', startedAt: at(3), finishedAt: at(2), massOutG: 3000, trimG: 2000 });
};
async function toPlanner(id: string): Promise<void> {
  await page.goto(`/batches/${id}/cure`);
  await page.getByRole('heading', { level: 1, name: 'Plan the cure' }).waitFor();
}

describe('a cure planned from a batch', () => {
  test('four taps from the batch show how much, how strong, how long and what to mind (3 kg in 15 %: salt 529 g, 57 degrees, rule brine.strong, WSU)', async () => {
    const batch = await prepared('Planned lot');
    await page.goto(`/batches/${batch.id}`);
    await page.getByRole('heading', { level: 1, name: 'Planned lot' }).waitFor();
    const before = captain.taps;
    await captain.link('Plan the cure');
    await captain.tap(page.getByRole('radio', { name: 'Brine', exact: true }));
    await captain.pick('Kind of salt', 'Table salt');
    expect(captain.taps - before).toBeLessThanOrEqual(4);
    for (const part of [/Salt\s+529 g/, /1 3\/4 cups/, /Water\s+3 kg/, /15\.0 %/, /57 degrees/, /1\.11\d/, /Pieces of 20 mm, skin on/, /30 min more or less hardly changes it/, /more than 4 hours: at 3\.3 °C or colder/, /never stands in for a laboratory figure/]) await expect.poll(() => answer().innerText()).toMatch(part);
    await inspection.screen(page, 'cure-brine');
  }, 2 * MINUTES);

  test('slider and field move together, the answer with them, and with no signal', async () => {
    const slider = page.getByRole('slider', { name: 'Thickness, slider' });
    const clock = () => answer().getByRole('button', { name: /Time for Pieces/ }).innerText();
    const at20 = await clock();
    await page.context().setOffline(true);
    await slider.fill('40');
    await expect.poll(() => page.getByRole('textbox', { name: 'Thickness', exact: true }).inputValue()).toBe('40');
    await expect.poll(clock).not.toBe(at20);
    await page.getByRole('textbox', { name: 'Thickness', exact: true }).fill('20');
    await expect.poll(() => slider.inputValue()).toBe('20');
    await expect.poll(clock).toBe(at20);
    await page.context().setOffline(false);
  }, MINUTES);

  test('brine of 30 % and fish of 0 mm are refused in words, beside the field, and nothing can be started', async () => {
    const brine = page.getByRole('textbox', { name: 'Brine strength' });
    await brine.fill('30');
    await expect.poll(() => answer().innerText()).toMatch(/Brine 30 % salt is not from 0 to 26\.395 % salt.*saturated/);
    await expect.poll(() => brine.getAttribute('aria-invalid')).toBe('true');
    await expect.poll(() => page.getByRole('button', { name: 'Start the cure with this plan' }).isDisabled()).toBe(true);
    await inspection.screen(page, 'cure-refused');
    await brine.fill('15');
    await page.getByRole('textbox', { name: 'Thickness', exact: true }).fill('0');
    await expect.poll(() => answer().innerText()).toMatch(/Thickness 0 mm is not from 1 to 150 mm; measure the thickest part/);
    await page.getByRole('textbox', { name: 'Thickness', exact: true }).fill('20');
    await answer().getByText('How long').waitFor();
  }, 2 * MINUTES);

  test('every number opens its working', async () => {
    await answer().getByRole('button', { name: /^529 g/ }).click();
    const sheet = page.getByRole('dialog', { name: 'Salt' });
    await sheet.getByText('salt = water x percent / (100 - percent)').waitFor();
    await sheet.getByRole('button', { name: 'Close' }).click();
    await sheet.waitFor({ state: 'hidden' });
  }, MINUTES);

  test('the plan becomes the stage: cure chosen, due when the first clock runs out, the amounts in its note', async () => {
    const id = page.url().split('/').at(-2)!;
    await captain.button('Start the cure with this plan');
    const sheet = page.getByRole('dialog', { name: 'Next stage' });
    await expect.poll(() => sheet.getByRole('radio', { name: 'Cure' }).isChecked()).toBe(true);
    await expect.poll(() => sheet.getByLabel('Note').inputValue()).toContain('529 g table salt');
    // Nobody entered the thickness, the place or the sugar: nothing of it is told as used until somebody says so.
    await sheet.getByText(/20 mm thick, 3 °C where it stands, .*brown sugar.*\. Nobody entered this\./).waitFor();
    expect(await sheet.getByLabel(/These amounts were used/).isChecked()).toBe(false);
    await sheet.getByText(/^Planned, and not recorded: .*529 g table salt/).waitFor();
    await inspection.screen(page, 'cure-example');
    await sheet.getByLabel(/These amounts were used/).check();
    await sheet.getByText(/^Recorded as weighed in: .*529 g table salt/).waitFor();
    await inspection.screen(page, 'cure-weighed-in');
    await sheet.getByRole('button', { name: 'Start cure' }).click();
    await sheet.waitFor({ state: 'hidden' });
    const { stages } = await club.get(`/api/batches/${id}`);
    const cure = stages.find((s: { kind: string }) => s.kind === 'cure');
    expect(cure.note).toContain('57 degrees salometer');
    expect(Date.parse(cure.dueAt)).toBeGreaterThan(Date.parse(cure.startedAt) + 60 * MINUTES);
    expect(cure.cure).toMatchObject({ saltGrams: 529, saltKind: 'table-salt' });
  }, MINUTES);

  test('finished at once, long before it is due, it is asked about, and saved at the second tap', async () => {
    const id = page.url().split('/').at(-1)!;
    await page.getByRole('button', { name: 'Finish cure', exact: true }).click();
    const sheet = page.getByRole('dialog', { name: 'Finish cure' });
    await sheet.getByText(/^Ends .*Another time: under More\./).waitFor();
    await sheet.getByText(/^It ends .* before it was due\./).waitFor();
    await sheet.getByRole('textbox', { name: 'Weight out' }).fill('3');
    await inspection.screen(page, 'cure-cut-short');
    await sheet.getByRole('button', { name: 'Save', exact: true }).click();
    await sheet.getByRole('button', { name: 'Save all the same' }).click();
    await sheet.waitFor({ state: 'hidden' });
    expect((await club.get(`/api/batches/${id}`)).stages.find((s: { kind: string }) => s.kind === 'cure').finishedAt).not.toBeNull();
  }, MINUTES);

  test('of a batch whose fish is all packed it says that nothing is left to cure, and refuses nothing', async () => {
    const batch = await prepared('Packed lot');
    await club.post(`/api/batches/${batch.id}/packs`, { weightsG: [1500, 1500], packageKind: 'tub', storage: 'frozen', trayNo: 1, packedAt: new Date().toISOString() });
    await toPlanner(batch.id);
    await page.getByText('Nothing is left to cure: all of this batch is packed, moved or written off.').waitFor();
    expect(await page.getByText('no plan yet').count()).toBe(0);
    await inspection.screen(page, 'cure-nothing-left');
  }, MINUTES);

  test('planned amounts that were not used are left out, and the cure says that it is not told', async () => {
    const batch = await prepared('Other amounts');
    await toPlanner(batch.id);
    await page.getByLabel('Kind of salt').selectOption({ label: 'Table salt' });
    await expect.poll(() => answer().innerText()).toMatch(/The plan has 3 °C/);
    await page.getByRole('textbox', { name: 'Thickness', exact: true }).fill('22');
    await page.getByRole('textbox', { name: 'Where it stands', exact: true }).fill('2');
    await page.getByLabel('Kind of sugar').selectOption({ label: 'No sugar' });
    await expect.poll(() => answer().innerText()).toMatch(/You entered 2 °C/);
    await captain.button('Start the cure with this plan');
    const sheet = page.getByRole('dialog', { name: 'Next stage' });
    await sheet.getByText(/^Recorded as weighed in: Dry cure, 22 mm/).waitFor();
    expect(await sheet.getByText('Nobody entered this').count()).toBe(0);
    await sheet.getByLabel(/These amounts were used/).uncheck();
    await sheet.getByText(/^Planned, and not recorded:/).waitFor();
    await sheet.getByRole('button', { name: 'Start cure' }).click();
    await sheet.waitFor({ state: 'hidden' });
    await page.getByText('How it was cured is not recorded', { exact: false }).waitFor();
    expect((await club.get(`/api/batches/${batch.id}`)).stages.find((s: { kind: string }) => s.kind === 'cure').cure).toBeNull();
  }, MINUTES);

  test('a dry cure on a desk: layers, vessel, cupboard, plot and too salty unfold, in both looks', async () => {
    const batch = await prepared('Dry lot');
    await page.setViewportSize(DESK);
    await toPlanner(batch.id);
    await page.getByLabel('Kind of salt').selectOption({ label: 'Table salt' });
    for (const title of ['Thick, thin, bellies and tails apart', 'Layer by layer', 'Does it fit the vessel?', 'What is there, what to buy', 'Salt as time goes on', 'Too salty?', 'Weight afterwards', 'Water in the fish']) await page.getByText(title, { exact: true }).click();
    await captain.button('Tails');
    await page.getByRole('group', { name: 'Tails' }).getByRole('textbox', { name: 'Weight', exact: true }).fill('1');
    await answer().getByText('Tails of 10 mm, skin on').first().waitFor();
    await expect.poll(() => answer().innerText()).toMatch(/30 min less: \d\.\d %[^]*30 min more: \d\.\d %/);
    await page.getByRole('textbox', { name: 'One vessel holds' }).fill('2');
    await page.getByText('it takes 3 vessels').waitFor();
    await page.getByRole('textbox', { name: 'Table salt in the cupboard' }).fill('100');
    await answer().getByText('Short of Table salt (500 g).').waitFor();
    await page.getByRole('textbox', { name: 'How long it was in the cure' }).fill('24');
    await page.getByText(/brings it to 3\.5 %/).waitFor();
    await page.getByRole('rowheader', { name: 'Over the top layer, all that is left' }).waitFor();
    await inspection.screen(page, 'cure-unfolded');
  }, 2 * MINUTES);

  test('a weight typed in, without a batch: from the list of batches, with the same answer', async () => {
    await page.goto('/batches');
    await page.getByRole('link', { name: 'Plan a cure for any weight of fish' }).click();
    await page.getByRole('heading', { level: 1, name: 'Plan a cure' }).waitFor();
    await expect.poll(() => answer().innerText()).toContain('Enter the weight of the fish.');
    await page.getByRole('textbox', { name: 'Fish', exact: true }).fill('2');
    await page.getByRole('radio', { name: 'Fatty' }).check();
    await expect.poll(() => answer().innerText()).toMatch(/Salt\s+400 g/);
  }, MINUTES);
});

test('a plan is kept as a formula of the club, and the next plan starts from it, scaled', async () => {
  await page.setViewportSize(PHONE);
  const batch = await prepared('Formula lot');
  await toPlanner(batch.id);
  await page.getByLabel('Kind of salt').selectOption({ label: 'Table salt' });
  await captain.button('Keep it as a formula of the club');
  const sheet = page.getByRole('dialog', { name: 'New formula' });
  await sheet.getByRole('textbox', { name: 'Name', exact: true }).fill('Ledge cure');
  await inspection.screen(page, 'formula-new');
  await sheet.getByRole('button', { name: 'Another ingredient' }).click();
  await sheet.getByRole('group', { name: 'Ingredient 3' }).getByLabel('What').selectOption({ label: 'Something else' });
  await sheet.getByRole('group', { name: 'Ingredient 3' }).getByLabel('Its name').fill('Pink salt');
  await sheet.getByRole('group', { name: 'Ingredient 3' }).getByRole('textbox', { name: 'Weight' }).fill('3');
  await captain.button('Save formula');
  await sheet.getByText(/no dose of it is reckoned here/).first().waitFor();
  await sheet.getByRole('group', { name: 'Ingredient 3' }).getByLabel('Its name').fill('Bay leaf');
  await captain.button('Save formula');
  await sheet.waitFor({ state: 'hidden' });
  await page.getByText('Dry cure for 3 kg of fish, 3 ingredients').waitFor();
  await inspection.screen(page, 'formulas');
  await toPlanner(batch.id);
  await page.getByRole('textbox', { name: 'Fish', exact: true }).fill('6');
  await page.getByLabel('Formula of the club').selectOption({ label: 'Ledge cure' });
  await page.getByText('Bay leaf', { exact: true }).waitFor();
  await expect.poll(() => answer().innerText()).toMatch(/Salt\s+1\.2 kg/);
  await expect.poll(() => page.getByRole('region', { name: 'What it is reckoned from' }).innerText()).toMatch(/Bay leaf\s+6 g/);
  await inspection.screen(page, 'cure-formula');
}, 2 * MINUTES);

const ago = (hours: number) => new Date(Date.now() - hours * 3_600_000).toISOString();
const brine = { method: 'brine', brinePercent: 18, thicknessMm: 20, skin: true, temperatureC: 3, onceFrozen: false, fat: 'fatty' };
async function measured(name: string, value: number, hours: number): Promise<void> {
  const batch = await club.batch(name, await club.land('Guest Orla'));
  await club.post(`/api/batches/${batch.id}/stages`, { kind: 'cure', startedAt: ago(20), finishedAt: ago(20 - hours), massOutG: 4750, cure: brine });
  const day = new Date().toISOString().slice(0, 10);
  await club.post(`/api/batches/${batch.id}/measurements`, { kind: 'water-phase-salt', value, part: 'loin', laboratory: 'Harbour lab', sampledDay: day, reportedDay: day });
}

test('a person of pounds and Fahrenheit types, slides and reads inches, and finds millimetres again in metric (an inch is 25.4 mm: NIST SP 811)', async () => {
  const batch = await prepared('Inches lot');
  await inUnits(page, 'us');
  await toPlanner(batch.id);
  await captain.tap(page.getByRole('radio', { name: 'Brine', exact: true }));
  const thickness = page.getByRole('textbox', { name: 'Thickness', exact: true });
  const slider = page.getByRole('slider', { name: 'Thickness, slider' });
  await expect.poll(() => thickness.inputValue()).toBe('0.79');
  await thickness.fill('3/4');
  await expect.poll(() => slider.inputValue()).toBe('0.75');
  await expect.poll(() => answer().innerText()).toMatch(/Pieces of 0\.75 in, skin on/);
  await slider.fill('1');
  await expect.poll(() => thickness.inputValue()).toBe('1');
  expect(await slider.getAttribute('aria-valuetext')).toBe('1 in');
  await thickness.fill('8');
  await expect.poll(() => answer().innerText()).toMatch(/Thickness 8 in is not from 0\.04 to 5\.9 in/);
  await thickness.fill('1');
  await expect.poll(() => answer().innerText()).toMatch(/Pieces of 1 in, skin on/);
  expect(await answer().innerText(), 'one unit alone').not.toMatch(/\d mm\b/);
  await inspection.screen(page, 'cure-inches');
  await inUnits(page, 'metric');
  await toPlanner(batch.id);
  await expect.poll(() => thickness.inputValue()).toBe('25.4');
  await inspection.screen(page, 'cure-millimetres');
}, 2 * MINUTES);

describe('what the club knows is used', () => {
  let lot: any;
  const openPlanner = async () => {
    await toPlanner(lot.id);
    await answer().getByText('How long').waitFor();
  };

  test('with no laboratory figure the planner says so, and the page how to get one; with three the clocks are the club\'s', async () => {
    await page.setViewportSize(PHONE);
    lot = await prepared('Learnt lot');
    await openPlanner();
    await expect.poll(() => answer().innerText()).toMatch(/Reckoned with published figures; the band is wide/);
    const clock = () => answer().getByRole('button', { name: /Time for Pieces/ }).innerText();
    const before = await clock();
    await page.goto('/cure/figures');
    await page.getByText('No laboratory figure counts yet.').waitFor();
    await inspection.screen(page, 'salt-figures-none');
    for (const [value, hours] of [[4.2, 8], [4.6, 10], [3.5, 6]] as const) await measured(`Lab ${hours}`, value, hours);
    await openPlanner();
    await expect.poll(() => answer().innerText()).toMatch(/Reckoned with 3 laboratory figures of this club; the band is narrower:\s+0\.\d to 1\.\d times the time/);
    await expect.poll(clock).not.toBe(before);
    await answer().getByRole('button', { name: /times the time/ }).click();
    const sheet = page.getByRole('dialog');
    expect(await sheet.getByRole('link', { name: 'About this model' }).getAttribute('href')).toBe('/models/salt-fit');
    await sheet.getByRole('button', { name: 'Close' }).click();
  }, 2 * MINUTES);

  test('the figures are shown one by one against their predictions, on a phone and on a desk', async () => {
    await answer().getByRole('link', { name: /salt figures say/ }).click();
    await page.getByRole('heading', { level: 2, name: 'Fatty fish' }).waitFor();
    await expect.poll(() => page.getByText(/^3 figures: salt goes in .* as fast as published/).first().innerText()).toMatch(/the band went from 2 to 1\.\d/);
    await inspection.screen(page, 'salt-figures');
    await page.setViewportSize(DESK);
    await inspection.screen(page, 'salt-figures');
    await page.setViewportSize(PHONE);
  }, MINUTES);

  test('stock is counted, what is short is named before the fish goes in, and both are known with no signal', async () => {
    await page.goto('/cure/stock');
    await page.getByText('Nothing is counted yet.').waitFor();
    await captain.button('Count');
    const sheet = page.getByRole('dialog', { name: 'Count the stock' });
    await sheet.getByLabel('What').selectOption({ label: 'Table salt' });
    await sheet.getByRole('textbox', { name: 'Weight of it' }).fill('0.4');
    await inspection.screen(page, 'cure-count');
    await sheet.getByRole('button', { name: 'Save the count' }).click();
    await sheet.waitFor({ state: 'hidden' });
    await page.getByText(/counted .*, Cap/).waitFor();
    await inspection.screen(page, 'cure-stock');
    // The planner is opened where the server cannot be reached for these two: what was read last stands in.
    await openPlanner();
    await answer().getByText('Short of Table salt (200 g).').waitFor();
    await page.route(/\/api\/(salt-figures|cure-stock)$/, (route) => route.abort('internetdisconnected'));
    await openPlanner();
    await answer().getByText('Short of Table salt (200 g).').waitFor();
    await answer().getByText(/Stock as read on/).waitFor();
    await expect.poll(() => answer().innerText()).toMatch(/3 laboratory figures of this club[^]*As read on/);
    await inspection.screen(page, 'cure-last-known');
    await page.unroute(/\/api\/(salt-figures|cure-stock)$/);
  }, 2 * MINUTES);

  test('an aim in the finished fish asks less of the cure (saltBeforeDrying at 93 % kept)', async () => {
    await captain.tap(page.getByRole('radio', { name: 'Salt in the finished fish' }));
    await expect.poll(() => page.getByRole('textbox', { name: 'Weight kept after the cure' }).inputValue()).toBe('93');
    await expect.poll(() => answer().innerText()).toMatch(/For 3\.5 % in the finished fish the cure aims at 3\.\d % after it/);
    await page.getByRole('textbox', { name: 'Weight kept after the cure' }).fill('80');
    await expect.poll(() => answer().innerText()).toMatch(/the cure aims at 2\.\d % after it/);
  }, MINUTES);

  test('what was entered outlives closing the page, and starts afresh when asked', async () => {
    await page.getByRole('textbox', { name: 'Thickness', exact: true }).fill('27');
    await page.goto('/batches');
    await openPlanner();
    await page.getByText(/As you left it/).waitFor();
    await expect.poll(() => page.getByRole('textbox', { name: 'Thickness', exact: true }).inputValue()).toBe('27');
    await expect.poll(() => page.getByRole('textbox', { name: 'Weight kept after the cure' }).inputValue()).toBe('80');
    await captain.button('Start afresh');
    await expect.poll(() => page.getByRole('textbox', { name: 'Thickness', exact: true }).inputValue()).toBe('20');
    await page.getByText(/As you left it/).waitFor({ state: 'hidden' });
  }, MINUTES);

  test('the plan goes into the record as facts; the stock follows and says that its count is out; the facts are corrected', async () => {
    await captain.button('Start the cure with this plan');
    const sheet = page.getByRole('dialog', { name: 'Next stage' });
    await sheet.getByLabel(/These amounts were used/).check();
    await sheet.getByText(/Recorded as weighed in: Dry cure, 20 mm, skin on, at 3 °C, fatty fish: 600 g table salt/).waitFor();
    await sheet.getByRole('button', { name: 'Start cure' }).click();
    await page.getByText(/The count of table salt is out: cures took .* more than was there\. Count it again\./).waitFor();
    const before = (await club.get('/api/cure-stock')).items[0];
    expect(before.outByGrams).toBe(before.usedGrams - 400);
    await captain.button(/Correct how it was cured/);
    const facts = page.getByRole('dialog', { name: 'How it was cured' });
    await inspection.screen(page, 'cure-facts');
    await facts.getByRole('textbox', { name: 'Thickness', exact: true }).fill('24');
    await facts.getByRole('textbox', { name: 'Salt', exact: true }).fill('0.35');
    for (const [name, grams] of [['Mustard seed', '900'], ['Black pepper', '12']] as const) {
      await facts.getByRole('button', { name: 'Another ingredient' }).click();
      await facts.getByRole('textbox', { name: 'Its name' }).last().fill(name);
      await facts.getByRole('textbox', { name: 'Its weight' }).last().fill(grams);
    }
    await inspection.screen(page, 'cure-facts-others');
    await facts.getByRole('button', { name: 'Save' }).click();
    await facts.waitFor({ state: 'hidden' });
    await page.getByText(/Dry cure, 24 mm.*350 g table salt/).first().waitFor();
    // By weight on the label (21 CFR 101.4), and the allergen that a name gives away.
    const { printed } = await club.get(`/api/batches/${new URL(page.url()).pathname.split('/')[2]}`);
    expect([printed.ingredients, printed.fromCure.map(({ code }: { code: string }) => code)]).toEqual([expect.stringMatching(/\(fish\), Mustard seed, .*salt, .*Black pepper$/), ['mustard']]);
    // 350 g instead of 600 g.
    expect((await club.get('/api/cure-stock')).items[0].usedGrams).toBe(before.usedGrams - 250);
  }, 2 * MINUTES);

  test('signing out takes what was kept off the device', async () => {
    await page.goto('/cure');
    await page.getByRole('textbox', { name: 'Fish', exact: true }).fill('2');
    await expect.poll(() => page.evaluate<string[]>('Object.keys(localStorage).filter((key) => /^tidelarder\\.(draft|known)\\./.test(key))')).toEqual(expect.arrayContaining(['tidelarder.draft.cure.any', 'tidelarder.known.cure-stock', 'tidelarder.known.salt-figures']));
    await inspection.screen(page, 'cure-any');
    await page.goto('/account');
    await captain.button('Sign out here');
    await page.getByRole('heading', { level: 1, name: /sign in/i }).waitFor();
    expect(await page.evaluate<string[]>('Object.keys(localStorage).filter((key) => /^tidelarder\\.(draft|known)\\./.test(key))')).toEqual([]);
  }, MINUTES);
});

test('nothing was found wrong on any screen', () => {
  expect(inspection.faults.filter((fault) => !/ERR_INTERNET_DISCONNECTED/.test(fault))).toEqual([]);
  expect([...inspection.seen].sort()).toEqual(['cure-any', 'cure-brine', 'cure-count', 'cure-cut-short', 'cure-example', 'cure-facts', 'cure-facts-others', 'cure-formula', 'cure-inches', 'cure-last-known', 'cure-millimetres', 'cure-nothing-left', 'cure-refused', 'cure-stock', 'cure-unfolded', 'cure-weighed-in', 'formula-new', 'formulas', 'salt-figures', 'salt-figures-none']);
});
