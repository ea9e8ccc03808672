import { afterAll, beforeAll, expect, test } from 'vitest';
import { batchYields } from '../../server/contract/yields.ts';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

/** Whole batches are taken through the service, many requests each. */
const TWO_MINUTES = 120_000;
let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

type Landed = NonNullable<Parameters<Smokehouse['land']>[0]>;
const started = async (landed: Landed = {}) => s.make([s.landing(await s.land({ grams: 5000, ...landed }), 5000)]);
/** A batch that was prepared to 2,500 g, smoked, packed and closed. */
async function finished(smokedG: number, landed: Landed = {}, undoneG: number | null = null) {
  const batch = await started(landed);
  await s.stage(batch, 'prepare', '07:00', '08:00', { massOutG: 2500, trimG: 2500 });
  if (undoneG !== null) {
    const slip = (await s.smoked(batch, s.good, undoneG)).stages.at(-1);
    expect((await s.crew.patch(`/api/stages/${slip.id}`, { version: slip.version, cancelled: true, reason: 'Another batch' })).status).toBe(200);
  }
  const { stages } = await s.smoked(batch, s.good, smokedG);
  await s.pack(batch, [200]);
  const packing = (await s.page(batch)).stages.at(-1);
  const closed = await s.crew.patch(`/api/stages/${packing.id}`, { version: packing.version, finishedAt: s.at('18:00'), lossReason: 'Tasted' });
  expect([closed.status, closed.body.closed]).toEqual([200, true]);
  return { ...batch, smoke: stages.find((x: any) => x.kind === 'smoke') };
}
const ask = async (batch: { id: string }, stage: string) => {
  const { status, body } = await s.ann.get(`/api/batches/${batch.id}/yields`);
  expect(status).toBe(200);
  expect(batchYields.strict().parse(body)).toEqual(body);
  return body.items.find((item: any) => item.stage === stage);
};
const PUBLISHED = { lowPct: 80, likelyPct: 86.5, highPct: 93, batches: 0, ownWeightPct: 0, evidence: 'from the published range' };

test('follows the club’s own finished batches of the same species, form and product', async () => {
  const batch = await started();
  expect(await ask(batch, 'smoke'), 'models.md: smoking keeps 80 to 93 %, from memory').toMatchObject(PUBLISHED);
  expect(await ask(batch, 'dry')).toMatchObject({ known: false, reason: expect.stringContaining('Three batches of your own'), lowPct: null });

  // Another form, a batch that is not closed, one split off another: none of them is like it.
  await finished(2050, { form: 'fillet' });
  const open = await started();
  await s.stage(open, 'prepare', '07:00', '08:00', { massOutG: 2500, trimG: 2500 });
  await s.smoked(open, s.good, 2050);
  expect(await ask(batch, 'smoke')).toMatchObject(PUBLISHED);

  const first = await finished(2050);
  // One batch against the published value: half and half (equal variances, conjugate normal).
  expect(await ask(batch, 'smoke')).toMatchObject({ batches: 1, ownWeightPct: 50, evidence: 'from one of your batches and the published range' });
  const url = `/api/batches/${batch.id}/yields`;
  const tag = (await s.crew.get(url)).headers['etag'] as string;
  expect((await s.crew.get(url, { 'if-none-match': tag })).status).toBe(304);
  const second = await finished(2050);
  expect((await s.crew.get(url, { 'if-none-match': tag })).status, 'another batch’s weight makes it a new answer').toBe(200);
  const two = await ask(batch, 'smoke');
  expect(two).toMatchObject({ batches: 2, evidence: 'from 2 of your batches and the published range' });
  expect(two.likelyPct).toBeLessThan(86.5);
  expect(two.highPct - two.lowPct).toBeLessThan(13);
  expect(await ask(first, 'smoke'), 'a batch is no evidence for itself').toMatchObject({ batches: 1 });
  expect((await ask(batch, 'overall')).batches).toBe(2);

  // What was corrected counts as corrected; what was undone does not count.
  const corrected = await s.crew.patch(`/api/stages/${second.smoke.id}`, { version: second.smoke.version, massOutG: 2200, reason: 'Misread' });
  expect(corrected.status).toBe(200);
  expect((await ask(batch, 'smoke')).likelyPct).toBeGreaterThan(two.likelyPct);
  const before = await ask(batch, 'smoke');
  await finished(2050, {}, 1500);
  expect(await ask(batch, 'smoke')).toMatchObject({ batches: 3, leftOut: [] });
  expect((await ask(batch, 'smoke')).likelyPct).toBeLessThan(before.likelyPct);
  expect((await ask(batch, 'smoke')).lowPct).toBeGreaterThan(76);
}, TWO_MINUTES);

test('a weight far from the others is left out and its lot named', async () => {
  const batch = await started({ species_code: 'haddock' });
  for (const grams of [2100, 2110, 2090, 2100]) await finished(grams, { species_code: 'haddock' });
  const slip = await finished(210, { species_code: 'haddock' });
  expect(await ask(batch, 'smoke')).toMatchObject({ batches: 4, leftOut: [{ batchId: slip.id, lot: slip.lot }] });
}, TWO_MINUTES);

test('what is not known is said: nothing drawn, several forms, split off another', async () => {
  expect(await ask(await s.make([]), 'smoke')).toMatchObject({ known: false, reason: 'Nothing is drawn yet.' });
  const whole = await started();
  const split = await s.make([s.fromBatch(whole.id, 1000)]);
  expect(await ask(split, 'prepare')).toMatchObject({ known: false, reason: expect.stringContaining('made from other batches') });
  expect((await ask(split, 'smoke')).known).toBe(true);
  expect((await s.ann.get('/api/batches/00000000-0000-7000-8000-000000000000/yields')).status).toBe(404);
});

test('fish that is smoked as it came, without preparing, is not held against the range of fillets', async () => {
  const nothing = 'Nothing to compare with: the range is for fillets, this fish came gutted and no preparing is recorded.';
  const gutted = await started({ species_code: 'haddock', form: 'gutted' });
  expect((await ask(gutted, 'overall')).known, 'before its first stage it may yet be filleted').toBe(true);
  // 4,000 g of 5,000 g is 80 %: of fillets from gutted haddock no more than 56 % can be left before the smoke (EU 404/2011, FAO FTP 309).
  const { overallYield } = await s.smoked(gutted, s.good, 4000);
  expect(overallYield).toMatchObject({ yieldPct: 80, expected: null, standing: 'unknown', missing: nothing });
  expect(await ask(gutted, 'overall')).toMatchObject({ known: false, reason: nothing, lowPct: null, highPct: null });
  expect(await ask(gutted, 'smoke'), 'the smoke by itself is').toMatchObject(PUBLISHED);

  const whole = await started();
  expect((await s.smoked(whole, s.good, 4300)).overallYield).toMatchObject({ expected: null, standing: 'unknown', missing: expect.stringContaining('came whole') });

  const prepared = await started({ species_code: 'haddock', form: 'gutted' });
  await s.stage(prepared, 'prepare', '07:00', '08:00', { massOutG: 4800, trimG: 200 });
  expect((await s.smoked(prepared, s.good, 4000)).overallYield, 'once it was prepared it is compared as ever').toMatchObject({ standing: 'above', missing: null });
  const fillets = await started({ form: 'fillet' });
  expect((await s.smoked(fillets, s.good, 4300)).overallYield, 'fillets come as they stay').toMatchObject({ missing: expect.stringContaining('comes as fillet') });
});
