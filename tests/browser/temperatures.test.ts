// The temperatures of a smoke on a phone: typed one by one, pasted from a logger, odd ones asked about, and a core that never got there.
import { Temporal } from 'temporal-polyfill';
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
const inspection = captainAtWork('heat', (at) => {
  ({ club, captain } = at);
  page = at.captain.page;
});

const ago = (minutes: number): string => new Date(Date.now() - minutes * MINUTES).toISOString();
/** As a logger in the club's zone writes it. */
const stamp = (minutesAgo: number): string => Temporal.Instant.from(ago(minutesAgo)).toZonedDateTimeISO('Europe/London').toPlainDateTime().toString({ smallestUnit: 'minute' }).replace('T', ' ');
/** A core from 12 C up to `topC`, held, then cooled to 3 C: every 5 minutes from 9 hours ago. */
function logText(topC: number): string {
  const at = (minute: number) => (minute < 120 ? 12 + ((topC - 12) * minute) / 120 : minute <= 180 ? topC : Math.max(3, topC - (minute - 180) * 0.5));
  return ['Time;Core °C', ...Array.from({ length: 79 }, (_, i) => `${stamp(540 - i * 5)};${at(i * 5).toFixed(1)}`)].join('\n');
}
async function smoked(name: string): Promise<any> {
  const made = await club.batch(name, await club.land('Guest Orla'));
  return club.post(`/api/batches/${made.id}/stages`, { kind: 'smoke', startedAt: ago(545), finishedAt: ago(355), massOutG: 4000 });
}
async function toTemperatures(id: string): Promise<void> {
  await page.goto(`/batches/${id}`);
  await captain.link('Temperatures');
  await page.getByRole('heading', { level: 1, name: 'Temperatures' }).waitFor();
}
const lists = async (id: string): Promise<any[]> => (await club.get(`/api/batches/${id}/readings`)).items;

describe('a reading is typed', () => {
  test('in three taps: open, the number, save; the place is the last one', async () => {
    const made = await club.batch('Typed lot', await club.land('Guest Orla'));
    await club.post(`/api/batches/${made.id}/stages`, { kind: 'smoke', startedAt: ago(60) });
    await toTemperatures(made.id);
    await page.getByText('No reading yet.').waitFor();
    const before = captain.taps;
    await captain.button('Type a reading');
    await captain.type(/^Temperature/, '58,5');
    await inspection.screen(page, 'reading-typed');
    await captain.button('Save, read now');
    await page.getByText('Core 58.5 °C saved.').waitFor();
    expect(captain.taps - before).toBeLessThanOrEqual(3);
    await page.getByText('One core reading alone shows no hold. Read on.').first().waitFor();
    const [list] = await lists(made.id);
    expect(list).toMatchObject({ place: 'core', source: 'typed', readings: [{ celsius: 58.5, flag: null }] });
    expect(Date.now() - Date.parse(list.readings[0].at)).toBeLessThan(MINUTES);
    expect(list.stageId).toBe((await club.get(`/api/batches/${made.id}`)).stages[0].id);
  }, 2 * MINUTES);

  test('what is too hot for Celsius is asked about; with no signal nothing is lost and one record is made', async () => {
    const made = await smoked('Asked lot');
    await toTemperatures(made.id);
    await captain.button('Type a reading');
    await captain.type(/^Temperature/, '145');
    await page.getByText('Is this °F?').waitFor();
    await captain.button('Save, read now');
    await page.getByText('Say first whether this is °F.').waitFor();
    await inspection.screen(page, 'reading-fahrenheit');
    await captain.button('Yes, it is 62.8 °C');
    await page.route('**/api/batches/*/readings', (route) => route.abort());
    await captain.button('Save, read now');
    const sheet = page.getByRole('dialog');
    await sheet.getByRole('alert').waitFor();
    expect(await sheet.getByLabel(/^Temperature/).inputValue()).toBe('62.8');
    await captain.button('Close');
    await page.unroute('**/api/batches/*/readings');
    await captain.button('Type a reading');
    await expect.poll(() => sheet.getByLabel(/^Temperature/).inputValue(), { message: 'it is there when the sheet opens again' }).toBe('62.8');
    await captain.tap(sheet.getByRole('button', { name: 'Save', exact: true }));
    await page.getByText('Core 62.8 °C saved.').waitFor();
    expect((await lists(made.id)).map((l) => l.highestC)).toEqual([62.8]);
    // The one that the test cut off.
    inspection.faults.splice(0, inspection.faults.length, ...inspection.faults.filter((f) => !f.includes('net::ERR_FAILED')));
  }, 2 * MINUTES);
});

test('an unlikely store is asked about each time: at another place, and for the next reading', async () => {
  const made = await smoked('Unlikely lot');
  await toTemperatures(made.id);
  const sheet = page.getByRole('dialog');
  const again = sheet.getByRole('button', { name: 'Save all the same' });
  const place = (name: string) => captain.tap(sheet.getByText(name, { exact: true }).first());
  const save = () => captain.tap(sheet.getByRole('button', { name: 'Save, read now' }));
  await captain.button('Type a reading');
  await place('Storage');
  await captain.type(/^Temperature/, '30');
  await save();
  await again.waitFor();
  await place('Brine');
  await again.waitFor({ state: 'detached' });
  await place('Storage');
  await captain.tap(again);
  await page.getByText('Storage 30 °C saved.').waitFor();
  await captain.button('Type a reading');
  await captain.type(/^Temperature/, '30');
  await save();
  await again.waitFor();
  expect((await lists(made.id)).length).toBe(1);
  await captain.button('Close');
}, 2 * MINUTES);

describe('a logger’s text is pasted', () => {
  test('what was read and left out stands there first; then the plots say when it held and how it cooled', async () => {
    const made = await smoked('Logged lot');
    await toTemperatures(made.id);
    await captain.button('Paste a log');
    await captain.type('The log', `${logText(66)}\n${stamp(100)};-999\nlid was open`);
    await page.getByText('80 readings').first().waitFor();
    await page.getByText(/^1 odd, line 81\./).waitFor();
    await page.getByText(/“lid was open”: no time such as 14:20 on it/).waitFor();
    await inspection.screen(page, 'log-pasted');
    await captain.button('Save 80 readings');
    await page.getByText(/^Core passed 62\.8 °C at \d\d:\d\d and held 7\d minutes\.$/).first().waitFor();
    await page.getByText(/^Fast enough: 57 °C to 21 °C in 1 h 1\d min, 57 °C to 5 °C in 1 h 4\d min\.$/).first().waitFor();
    await inspection.screen(page, 'temperatures');
    await page.setViewportSize(DESK);
    await inspection.screen(page, 'temperatures');
    await page.setViewportSize(PHONE);
    const core = (await club.get(`/api/batches/${made.id}`)).checks.filter((c: { ruleId: string }) => c.ruleId === 'smoke.core');
    expect(core.length).toBeGreaterThan(0);
  }, 3 * MINUTES);

  test('a table of several columns asks what each is, and saves those that are told, at once', async () => {
    const made = await smoked('Table lot');
    await toTemperatures(made.id);
    const rows = logText(66).split('\n').slice(1).map((line) => `${line.replace('.', ',')};95,5;3`);
    await captain.button('Paste a log');
    await captain.type('The log', ['Time;Core;Smoker air;T4', ...rows].join('\n'));
    await page.getByText('This log has several columns. Say what each is.').waitFor();
    expect(await page.getByLabel('Smoker air', { exact: true }).inputValue()).toBe('chamber');
    await captain.button('Save 158 readings');
    await page.getByText('Say what this column is, or leave it out.').waitFor();
    expect(await lists(made.id)).toEqual([]);
    await inspection.screen(page, 'table-pasted');
    await captain.pick('T4', 'Leave it out');
    await captain.button('Save 158 readings');
    await page.getByText(/^Core passed 62\.8 °C at \d\d:\d\d and held 7\d minutes\.$/).first().waitFor();
    expect((await lists(made.id)).map((l) => [l.place, l.probe, l.readingCount]).sort()).toEqual([['chamber', '', 79], ['core', '', 79]]);
  }, 3 * MINUTES);

  test('columns parted by spaces alone are read as well, and a humidity goes with the smoker’s air', async () => {
    const made = await smoked('Spaced lot');
    await toTemperatures(made.id);
    const rows = logText(66).split('\n').slice(1).map((line) => line.split(';')).map(([at, core], i) => `${at}   ${core!.padEnd(4)}   95.5         ${i === 3 ? '--' : 40}`);
    await captain.button('Paste a log');
    await captain.type('The log', ['Date Time          Core   Smoker air   RH %', ...rows, `${stamp(140)}   95.5   40`].join('\n'));
    await page.getByText('This log has several columns. Say what each is.').waitFor();
    expect(await page.getByLabel('RH %', { exact: true }).locator('option:checked').innerText()).toBe('Humidity of Smoker air');
    await page.getByText('78 readings of humidity').waitFor();
    await page.getByText(/^Line 5, “--”: its humidity is no number from 0 to 100: the temperature is kept without it\.$/).waitFor();
    await page.getByText(/nobody knows which is missing\.$/).first().waitFor();
    await inspection.screen(page, 'table-spaced');
    await captain.button('Save 158 readings');
    await page.getByText(/^Core passed 62\.8 °C at \d\d:\d\d and held 7\d minutes\.$/).first().waitFor();
    const chamber = (await lists(made.id)).find((l) => l.place === 'chamber');
    expect([chamber.readingCount, chamber.readings.filter((r: any) => r.humidityPct === 40).length]).toEqual([79, 78]);
  }, 3 * MINUTES);

  test('a core that never reached the limit is said to be so, and a withdrawn list counts no more', async () => {
    const made = await smoked('Cool lot');
    await toTemperatures(made.id);
    await captain.button('Paste a log');
    await page.getByLabel('Or choose its file').setInputFiles({ name: 'probe.csv', mimeType: 'text/csv', buffer: Buffer.from(logText(60.4)) });
    await captain.button('Save 79 readings');
    await page.getByText('Not held: the core never reached 62.8 °C. The highest was 60.4 °C.').first().waitFor();
    await inspection.screen(page, 'temperatures-not-reached');
    await captain.button(/^Open Core/);
    await captain.type(/^Why it is withdrawn/, 'Probe lay in the ash');
    await inspection.screen(page, 'reading-list');
    await captain.button('Withdraw all 79');
    await page.getByRole('button', { name: 'Bring the list back' }).waitFor();
    await captain.button('Close');
    await page.getByText('No core temperature is recorded yet.').waitFor();
    expect(await lists(made.id)).toEqual([]);
  }, 3 * MINUTES);
});

describe('everything that was read is drawn', () => {
  const row = (minutesAgo: number, celsius: number) => ({ at: ago(minutesAgo), celsius });
  /** From one present: a millisecond more than half an hour between two readings would be a gap. */
  const line = (from: number, to: number, step: number, celsius: (minutesAgo: number) => number) => {
    const now = Date.now();
    return Array.from({ length: (from - to) / step + 1 }, (_, i) => ({ at: new Date(now - (from - i * step) * MINUTES).toISOString(), celsius: celsius(from - i * step) }));
  };
  let id: string;

  test('all probes with their names, where it was kept with the days used up, brine, surface and the warm hours before', async () => {
    const made = await club.batch('Drawn lot', await club.land('Guest Orla'));
    id = made.id;
    const cured = await club.post(`/api/batches/${id}/stages`, { kind: 'cure', startedAt: ago(1200), finishedAt: ago(700), massOutG: 5000 });
    await club.post(`/api/batches/${id}/stages`, { kind: 'smoke', startedAt: ago(545), finishedAt: ago(355), massOutG: 4000 });
    const core = (topC: number) => line(540, 355, 5, (m) => (m > 420 ? 12 + ((topC - 12) * (540 - m)) / 120 : topC));
    const record = (place: string, probe: string, readings: object[], stageId: string | null = null) => club.post(`/api/batches/${id}/readings`, { place, probe, readings, ...(stageId && { stageId }) });
    await record('core', 'Front', core(66));
    await record('core', 'Back', core(64));
    await record('core', 'Cold room', line(350, 150, 5, (m) => Math.max(3, 62 - (350 - m) * 0.5)));
    await record('chamber', 'Top', line(540, 355, 5, () => 92));
    await record('chamber', 'Bottom', line(540, 355, 5, () => 80));
    await record('surface', '', line(540, 355, 5, (m) => 30 + (540 - m) / 5));
    await record('storage', 'Shelf', line(140, 20, 30, (m) => (m > 60 ? 2 : 9)));
    await record('brine', '', [row(1195, 9), row(900, 3)], cured.stages[0].id);
    await record('core', 'Loin', line(1190, 710, 30, (m) => (m > 1000 ? 8 : 3)), cured.stages[0].id);
    await toTemperatures(id);
    await page.getByText(/^Core passed 62\.8 °C at \d\d:\d\d and held \d+ minutes\. That is the coldest of 2 probes, Back\.$/).first().waitFor();
    for (const name of ['Core, Back', 'Core, Front', 'Chamber, Top', 'Chamber, Bottom']) await page.getByText(name, { exact: true }).first().waitFor();
    await page.getByText('Core, Cold room was put in after smoking ended: it tells of the cooling and not of the hold.').waitFor();
    await page.getByRole('heading', { level: 2, name: 'Where it is kept' }).waitFor();
    await page.getByText(/above the limit of 3\.3 °C\.$/).first().waitFor();
    await page.getByText(/^cost 0\.\d+ days/).first().waitFor();
    await page.getByText('They move no use-by day.').or(page.getByText(/They move no use-by day\./)).first().waitFor();
    await page.getByText('When it was first read the brine was at 9 °C, within the limit of 15.6 °C.').first().waitFor();
    await page.getByRole('heading', { level: 2, name: 'Warm before smoking' }).waitFor();
    await page.getByText(/above 4\.4 °C in all; at most 8 h\.$/).first().waitFor();
    const checks = (await club.get(`/api/batches/${id}`)).checks.filter((c: { ruleId: string }) => c.ruleId === 'smoke.core');
    expect(checks.map((c: { state: string }) => c.state), 'the check agrees').toEqual(['met', 'met']);
    await inspection.screen(page, 'temperatures-all');
    await page.setViewportSize(DESK);
    await inspection.screen(page, 'temperatures-all');
    await page.setViewportSize(PHONE);
  }, 4 * MINUTES);

  test('the highest core and the effect of the heat open how they were worked out; each plot has its table', async () => {
    await toTemperatures(id);
    await captain.tap(page.getByRole('button', { name: /Highest core: how it was worked out/ }));
    await page.getByRole('dialog').getByText('Longest unbroken time at or above the limit', { exact: false }).waitFor();
    await captain.button('Close');
    await captain.tap(page.getByRole('button', { name: /Minutes at 70 °C that it was worth/ }));
    await page.getByRole('dialog').getByText(/^Integral of 10/).waitFor();
    await captain.button('Close');
    const plots = page.locator('figure svg[role=img]');
    await expect.poll(() => plots.count()).toBeGreaterThanOrEqual(6);
    await expect.poll(async () => (await page.locator('figure details').count()) - (await plots.count())).toBe(0);
  }, 2 * MINUTES);
});

describe('on the page of the batch', () => {
  test('each check says what was found, its limit and what to do; a laboratory’s figure is entered', async () => {
    const made = await smoked('Checked lot');
    const readings = Array.from({ length: 13 }, (_, i) => ({ at: ago(500 - i * 5), celsius: 20 + i * 3 }));
    await club.post(`/api/batches/${made.id}/readings`, { place: 'core', readings });
    await page.goto(`/batches/${made.id}`);
    const core = page.getByRole('list', { name: 'Checks' }).getByRole('listitem').filter({ hasText: 'Hot enough for long enough' }).first();
    await core.getByText('not met').waitFor();
    await core.getByText('Holds the batch.').waitFor();
    await core.getByText(/at least 62\.8/).waitFor();
    expect(await core.getByRole('button', { name: /Let it go/ }).count(), 'heat is never let go').toBe(0);
    await captain.button('Enter a laboratory’s figure');
    await captain.type('What it found', '3,6');
    await captain.button('Save');
    await page.getByText('Name the laboratory').waitFor();
    await captain.type(/^Laboratory/, 'Harbour Laboratory');
    // A sample has the day that its report says, not today: empty it is asked for.
    const sampled = page.getByRole('dialog').getByLabel(/^Sample taken/);
    expect(await sampled.inputValue()).toBe('');
    await captain.button('Save');
    await expect.poll(() => sampled.getAttribute('aria-invalid')).toBe('true');
    await captain.tap(page.getByRole('dialog').getByRole('button', { name: 'Day after' }).first());
    await inspection.screen(page, 'laboratory-figure');
    await captain.button('Save');
    await page.getByText('Figure saved.').waitFor();
    await page.getByText('3.6 %').first().waitFor();
    expect((await club.get(`/api/batches/${made.id}`)).measurements).toMatchObject([{ kind: 'water-phase-salt', value: 3.6, part: 'loin', laboratory: 'Harbour Laboratory' }]);
    await inspection.screen(page, 'batch-checks');
    await page.setViewportSize(DESK);
    await inspection.screen(page, 'batch-checks');
    await page.setViewportSize(PHONE);
  }, 3 * MINUTES);

  test('a captain lets a warm brine go with a reason, and ends it again', async () => {
    const batch = await club.batch('Brined lot', await club.land('Guest Orla'));
    const cured = await club.post(`/api/batches/${batch.id}/stages`, { kind: 'cure', startedAt: ago(700), finishedAt: ago(600), massOutG: 5000 });
    await club.post(`/api/batches/${batch.id}/readings`, { place: 'brine', stageId: cured.stages[0].id, readings: [{ at: ago(698), celsius: 19 }] });
    await club.post(`/api/batches/${batch.id}/stages`, { kind: 'smoke', startedAt: ago(545), finishedAt: ago(355), massOutG: 4000 });
    const brine = async () => (await club.get(`/api/batches/${batch.id}`)).checks.find((c: { ruleId: string }) => c.ruleId === 'brine.start');
    expect(await brine()).toMatchObject({ state: 'not-met', means: 'hold', releasable: true });
    await page.goto(`/batches/${batch.id}`);
    await captain.button(/^Let it go with a reason Cold brine/);
    await captain.button('Let it go');
    await page.getByText('Say why it may go').waitFor();
    await captain.type('Why it may go', 'It stood in ice after ten minutes');
    await inspection.screen(page, 'release');
    await captain.button('Let it go');
    await page.getByText('Cap let it go: It stood in ice after ten minutes').waitFor();
    expect(await brine()).toMatchObject({ means: 'nothing', released: { reason: 'It stood in ice after ten minutes' } });
    await captain.button(/^End it Cold brine/);
    await captain.type('Why it is ended', 'It was the tub next to it');
    await inspection.screen(page, 'release-ended');
    await captain.button('End it');
    await page.getByRole('button', { name: /^Let it go with a reason Cold brine/ }).waitFor();
    expect(await brine()).toMatchObject({ means: 'hold', released: null });
  }, 2 * MINUTES);

  test('a forecast answers as it is asked: slider and field move together, and it never stands in for a reading', async () => {
    const made = await club.batch('Forecast lot', await club.land('Guest Orla'));
    await page.goto(`/batches/${made.id}`);
    await captain.link('How long will it take');
    await page.getByText('Example:').first().waitFor();
    const answer = page.getByRole('region', { name: 'The forecast' });
    await answer.getByText(/^The core is likely to pass 62\.8 °C after .* through 30 minutes after/).first().waitFor();
    await answer.getByText('A forecast, not evidence: only a logged core in the thickest piece counts.').waitFor();
    await inspection.screen(page, 'forecast');
    await page.setViewportSize(DESK);
    await inspection.screen(page, 'forecast');
    await page.setViewportSize(PHONE);
    await captain.tap(page.getByText(/^Stage 3: 95 °C/));
    await page.getByLabel('Air, slider').nth(2).waitFor();
    await page.getByRole('slider', { name: 'Thickness, slider' }).fill('60');
    await expect.poll(() => page.getByLabel('Thickness', { exact: true }).inputValue()).toBe('60');
    await captain.type('Thickness', '500');
    await answer.getByText(/500 mm is not from 3 to 150 mm/).waitFor();
    await captain.type('Thickness', '12');
    await answer.getByText(/^The core is likely to pass/).first().waitFor();
    await expect.poll(() => page.getByRole('slider', { name: 'Thickness, slider' }).inputValue()).toBe('12');
    await page.getByText(/trays of at most|should pass/).first().waitFor();
    expect(await page.getByText('Example:').count(), 'no example once it was changed').toBe(0);
    expect((await club.get(`/api/batches/${made.id}`)).readingLists).toEqual([]);
  }, 3 * MINUTES);

  test('a person of pounds and Fahrenheit reads the forecast and the trays in inches', async () => {
    const made = await club.batch('Inches forecast lot', await club.land('Guest Orla'));
    await inUnits(page, 'us');
    await page.goto(`/batches/${made.id}/forecast`);
    const answer = page.getByRole('region', { name: 'The forecast' });
    await answer.getByText(/^The core is likely to pass 145 °F after/).first().waitFor();
    await expect.poll(() => page.getByLabel('Thickness', { exact: true }).inputValue()).toBe('0.98');
    await captain.type('Thickness', '20');
    await answer.getByText(/20 in is not from 0\.12 to 5\.9 in/).waitFor();
    await captain.type('Thickness', '1');
    await answer.getByText(/^The core is likely to pass/).first().waitFor();
    await captain.type('Depth in the tray, or of a piece', '4');
    await page.getByText(/^Split into trays of at most \d(\.\d+)? in\.$/).first().waitFor();
    await inspection.screen(page, 'forecast-inches');
    await inUnits(page, 'metric');
    await page.goto(`/batches/${made.id}/forecast`);
    await expect.poll(() => page.getByLabel('Thickness', { exact: true }).inputValue()).toBe('25.4');
    await inspection.screen(page, 'forecast-millimetres');
  }, 3 * MINUTES);

  test('of a batch that was smoked nothing is forecast but its cooling: when it was smoked, and the way to its log', async () => {
    const made = await smoked('Smoked lot');
    await page.goto(`/batches/${made.id}`);
    expect(await page.getByRole('link', { name: 'How long will it take' }).count()).toBe(0);
    await captain.link('How long will it cool');
    await page.getByText(/^It was smoked .* to \d\d:\d\d\./).waitFor();
    expect(await page.getByRole('region', { name: 'The forecast' }).count()).toBe(0);
    await page.getByText(/trays of at most|should pass/).first().waitFor();
    await inspection.screen(page, 'forecast-smoked');
    await captain.link('Its temperatures');
    await page.getByRole('heading', { level: 1, name: 'Temperatures' }).waitFor();
  }, 2 * MINUTES);
});

test('the club’s limits are tightened, never loosened, and the plots go by them', async () => {
  await page.goto('/club');
  await captain.link('Limits of the rules');
  await captain.button('Tighten unbroken minutes at that core');
  await captain.type(/^The club’s own/, '20');
  await captain.button('Save');
  await page.getByText(/looser than the rule/).first().waitFor();
  await captain.type(/^The club’s own/, '90');
  await inspection.screen(page, 'limit');
  await captain.button('Save');
  await page.getByText(/batch(es)? checked again\./).waitFor();
  await page.getByText('at least 90 min').waitFor();
  // Said at the limit too, where it stays: whether it stopped a lot is what the service answered.
  const stopped = page.getByText(/lots? (is|are) now on hold; (no|\d+) packs? of (it|them) (is|are) out\.$/);
  await stopped.first().waitFor();
  await page.getByRole('link', { name: 'See the batches' }).waitFor();
  await page.getByRole('link', { name: 'See the batches' }).scrollIntoViewIfNeeded();
  await inspection.screen(page, 'limit-stopped');
  await captain.button('Tighten colder inside than air and water, landed under 12 hours after death');
  await captain.type(/^The club’s own/, '4');
  await inspection.screen(page, 'limit-degrees');
  await captain.button('Save');
  await page.getByText('at least 4 °C').waitFor();
  await inspection.screen(page, 'limits');
  const logged = (await club.get('/api/batches')).items.find((b: { name: string }) => b.name === 'Logged lot');
  await toTemperatures(logged.id);
  await page.getByText(/^Not held: 73 minutes without a break at 62\.8 °C or more\. It needs 90\.$/).first().waitFor();
}, 2 * MINUTES);

describe('every screen seen here', () => {
  test('has no accessibility violation (axe, WCAG 2.2 AA), no error on the console, no sideways scrolling', () => {
    expect(inspection.seen.size).toBeGreaterThan(4);
    expect([...new Set(inspection.faults)], inspection.faults.join('\n')).toEqual([]);
  });
});
