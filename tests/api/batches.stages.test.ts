import { afterAll, beforeAll, expect, test } from 'vitest';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

const fresh = async (grams = 5000) => s.make([s.landing(await s.land({ grams }), grams)]);
const refusal = ({ status, body }: { status: number; body: any }) => [status, body.code, body.errors?.[0]?.field];

test('a stage starts with all on hand, is finished with a weight, and its loss is reckoned', async () => {
  const batch = await fresh();
  const started = await s.stage(batch, 'prepare', '07:00', null, { dueAt: s.at('08:00') });
  expect(started.status).toBe(201);
  expect(started.body).toMatchObject({ onHandGrams: 5000, lastStage: 'prepare', running: { kind: 'prepare', startedAt: s.at('07:00'), dueAt: s.at('08:00') } });
  const stage = started.body.stages[0];
  expect(stage).toMatchObject({ seq: 1, massInG: 5000, massOutG: null, yield: { yieldPct: null, missing: 'Not finished yet.', standing: 'unknown' }, createdBy: { name: 'Rory Vik' } });
  const done = await s.crew.patch(`/api/stages/${stage.id}`, { version: 1, finishedAt: s.at('08:10'), massOutG: 2500, trimG: 2300, lossReason: 'Drip' });
  expect(done.body).toMatchObject({ onHandGrams: 2500, running: null });
  expect(done.body.stages[0]).toMatchObject({ massInG: 5000, massOutG: 2500, trimG: 2300, lossG: 200, lossReason: 'Drip', version: 2 });
  // FAO CWP: mackerel whole to fillet skin on 1.95, skinless 2.60.
  expect(done.body.stages[0].yield).toMatchObject({ yieldPct: 50, standing: 'within', missing: null, expected: { lowPct: 38.5, likelyPct: 51.3 } });
});

test('a batch goes through its stages; yields by stage and overall, what is unknown said as unknown', async () => {
  const batch = await fresh();
  await s.stage(batch, 'prepare', '06:00', '06:30', { massOutG: 2500 });
  await s.stage(batch, 'cure', '06:30', '07:30', { massOutG: 2600, addedG: 150 });
  await s.stage(batch, 'rinse', '07:30', '07:40', { massOutG: 2600 });
  const { body } = await s.stage(batch, 'dry', '07:40', '08:40', { massOutG: 2500 });
  expect(body.onHandGrams).toBe(2500);
  expect(body.stages.map((x: any) => [x.kind, x.lossG, x.yield.yieldPct])).toEqual([['prepare', 2500, 50], ['cure', 50, 104], ['rinse', 0, 100], ['dry', 100, 96.2]]);
  expect(body.stages[2].yield).toMatchObject({ expected: null, standing: 'unknown', missing: 'No source gives a figure for the rinse stage.' });
  expect(body.overallYield.yieldPct).toBe(50);
  const open = await s.stage(batch, 'smoke', '09:00', null);
  expect(open.body.overallYield).toMatchObject({ yieldPct: null, missing: 'The smoke stage is not finished.', standing: 'unknown' });
});

test('mass never appears from nowhere', async () => {
  const batch = await fresh(2000);
  expect(refusal(await s.stage(batch, 'prepare', '07:00', null, { massInG: 2001 }))).toEqual([409, 'not-enough-left', 'massInG']);
  expect(refusal(await s.stage(batch, 'prepare', '07:00', '08:00', { massOutG: 2001 }))).toEqual([422, 'invalid-value', 'massOutG']);
  expect(refusal(await s.stage(batch, 'prepare', '07:00', '08:00', { massOutG: 1900, addedG: 10 }))).toEqual([422, 'invalid-value', 'addedG']);
  expect(refusal(await s.stage(batch, 'cure', '07:00', '08:00', { massOutG: 2500, addedG: 500 }))).toEqual([422, 'invalid-value', 'addedG']);
  expect(refusal(await s.stage(batch, 'prepare', '07:00', '08:00', {}))).toEqual([422, 'invalid-value', 'massOutG']);
  expect(refusal(await s.stage(batch, 'prepare', '07:00', null, { massOutG: 1000 }))).toEqual([422, 'invalid-value', 'finishedAt']);
  expect(refusal(await s.stage(batch, 'prepare', '07:00', null, { trimG: 10 }))).toEqual([422, 'invalid-value', 'trimG']);
  expect(refusal(await s.stage(await s.make([]), 'prepare', '07:00', null))).toEqual([409, 'not-enough-left', 'massInG']);
  expect((await s.page(batch)).stages).toEqual([]);
});

test('times: none in the future, none the wrong way round', async () => {
  const batch = await fresh();
  expect(refusal(await s.stage(batch, 'prepare', '20:06', null))).toEqual([422, 'invalid-value', 'startedAt']);
  expect(refusal(await s.stage(batch, 'prepare', '07:00', '06:59', { massOutG: 1 }))).toEqual([422, 'invalid-value', 'finishedAt']);
  expect(refusal(await s.stage(batch, 'prepare', '19:00', '20:06', { massOutG: 1 }))).toEqual([422, 'invalid-value', 'finishedAt']);
  expect(refusal(await s.stage(batch, 'prepare', '07:00', null, { dueAt: s.at('06:00') }))).toEqual([422, 'invalid-value', 'dueAt']);
  expect((await s.crew.post(`/api/batches/${batch.id}/stages`, { kind: 'prepare', startedAt: '1999-12-31T23:00:00Z' })).status).toBe(422);
  expect((await s.crew.post(`/api/batches/${batch.id}/stages`, { kind: 'prepare', startedAt: 'yesterday' })).status).toBe(400);
  expect((await s.stage(batch, 'prepare', '20:05', null)).status).toBe(201);
});

test('one stage runs at a time, in the usual order, each after the one before', async () => {
  const batch = await fresh();
  const first = await s.stage(batch, 'cure', '07:00', null);
  const second = await s.stage(batch, 'dry', '08:00', null);
  expect([second.status, second.body.code]).toEqual([409, 'conflict']);
  expect(second.body.detail).toContain('Cure is running since');
  await s.crew.patch(`/api/stages/${first.body.stages[0].id}`, { version: 1, finishedAt: s.at('08:00'), massOutG: 4900 });
  const early = await s.stage(batch, 'dry', '07:59', null);
  expect(refusal(early)).toEqual([409, 'stage-order', 'startedAt']);
  expect(early.body.detail).toContain('before cure was finished, at Wed 10 Jun 2026, 09:00');
  expect(refusal(await s.stage(batch, 'prepare', '09:00', null))).toEqual([409, 'stage-order', 'kind']);
  expect(refusal(await s.stage(batch, 'mix', '09:00', null))).toEqual([422, 'invalid-value', 'kind']);
  expect((await s.stage(batch, 'smoke', '09:00', '10:00', { massOutG: 4000 })).status).toBe(201);
  expect((await s.stage(batch, 'smoke', '11:00', null)).body.detail).toContain('has its smoke stage already');
});

test('nothing joins or leaves while a stage runs, and nothing joins once it was smoked', async () => {
  const fish = await s.land({ grams: 3000 });
  const batch = await s.make([s.landing(fish, 1000)]);
  const { body } = await s.stage(batch, 'cure', '07:00', null);
  expect((await s.captain.post(`/api/batches/${batch.id}/draws`, { draws: [s.landing(fish, 100)] })).body.detail).toContain('Cure is running');
  expect((await s.captain.post('/api/batches', { draws: [s.fromBatch(batch.id, 100)] })).body.detail).toContain('Cure is running');
  await s.crew.patch(`/api/stages/${body.stages[0].id}`, { version: 1, finishedAt: s.at('08:00'), massOutG: 1000 });
  expect((await s.captain.post(`/api/batches/${batch.id}/draws`, { draws: [s.landing(fish, 100)] })).status).toBe(201);
  await s.stage(batch, 'smoke', '09:00', '10:00', { massOutG: 900 });
  expect((await s.captain.post(`/api/batches/${batch.id}/draws`, { draws: [s.landing(fish, 100)] })).body.detail).toContain('has been through smoke');
});

test('evidence belongs to the smoke stage and must be possible', async () => {
  const batch = await fresh();
  expect(refusal(await s.stage(batch, 'cure', '07:00', '08:00', { massOutG: 5000, maxCoreC: 65 }))).toEqual([422, 'invalid-value', 'maxCoreC']);
  const smoke = (more: object) => s.stage(batch, 'smoke', '09:00', '13:00', { massOutG: 2500, ...more });
  const hot = await smoke({ maxCoreC: 150 });
  expect(refusal(hot)).toEqual([422, 'invalid-value', 'maxCoreC']);
  expect(hot.body.detail).toContain('Fahrenheit');
  expect(refusal(await smoke({ holdMinutes: 241 }))).toEqual([422, 'invalid-value', 'holdMinutes']);
  expect(refusal(await smoke({ maxCoreC: 60, holdMinutes: 30 }))).toEqual([422, 'invalid-value', 'holdMinutes']);
  expect(refusal(await smoke({ cooledAt: s.at('12:00') }))).toEqual([422, 'invalid-value', 'cooledAt']);
  expect(refusal(await smoke({ cooledAt: s.at('20:06') }))).toEqual([422, 'invalid-value', 'cooledAt']);
  expect((await smoke(s.good)).status).toBe(201);
});

test('when it was cold again is told at the cool stage; the rules find it there, and what stands at a smoke still counts (cool.fc FC 3-501.14)', async () => {
  const batch = await fresh();
  await s.stage(batch, 'smoke', '09:00', '13:00', { massOutG: 2500, maxCoreC: 66, holdMinutes: 35 });
  const cool = (more: object) => s.stage(batch, 'cool', '13:05', '18:00', { massOutG: 2500, ...more });
  expect(refusal(await cool({ maxCoreC: 66 }))).toEqual([422, 'invalid-value', 'maxCoreC']);
  expect(refusal(await cool({ cooledTo21At: s.at('13:04') }))).toEqual([422, 'invalid-value', 'cooledTo21At']);
  expect(refusal(await cool({ cooledTo21At: s.at('15:00'), cooledAt: s.at('14:59') }))).toEqual([422, 'invalid-value', 'cooledAt']);
  const cooled = (await cool({ cooledTo21At: s.at('15:00'), cooledAt: s.at('18:59') })).body;
  expect([cooled.verdict, cooled.stages[1].cooledAt]).toEqual(['clear', s.at('18:59')]);
  const [smoked, cold] = cooled.stages;
  expect((await s.crew.patch(`/api/stages/${cold.id}`, { version: cold.version, cooledTo21At: s.at('15:01') })).body.verdict).toBe('do-not-share');
  await s.crew.patch(`/api/stages/${cold.id}`, { version: cold.version + 1, cooledTo21At: null, cooledAt: null });
  expect((await s.crew.patch(`/api/stages/${smoked.id}`, { version: smoked.version, cooledTo21At: s.at('15:00'), cooledAt: s.at('18:59') })).body.verdict).toBe('clear');
});

test('a correction keeps the record; one that makes a later stage impossible is refused and names it', async () => {
  const batch = await fresh();
  const { body: one } = await s.stage(batch, 'cure', '07:00', '08:00', { massOutG: 4900 });
  const { body: two } = await s.stage(batch, 'smoke', '09:00', '13:00', { massOutG: 4000 });
  const cure = one.stages[0].id;
  expect(two.onHandGrams).toBe(4000);
  const less = await s.crew.patch(`/api/stages/${cure}`, { version: 1, massOutG: 4800 });
  expect([less.status, less.body.code]).toEqual([409, 'not-enough-left']);
  expect(less.body.detail).toContain('Smoke of lot');
  const late = await s.crew.patch(`/api/stages/${cure}`, { version: 1, finishedAt: s.at('09:01') });
  expect(refusal(late)).toEqual([409, 'stage-order', 'finishedAt']);
  expect(late.body.detail).toContain('Smoke started at');
  expect((await s.crew.patch(`/api/stages/${cure}`, { version: 1, finishedAt: null })).body.detail).toContain('Smoke came after cure');
  const more = await s.crew.patch(`/api/stages/${cure}`, { version: 1, massOutG: 4950, reason: 'Scale was not level' });
  expect(more.body).toMatchObject({ onHandGrams: 4050 });
  const stale = await s.crew.patch(`/api/stages/${cure}`, { version: 1, massOutG: 4960, finishedAt: '2026-06-10T10:00:00+02:00' });
  expect(stale.body.code).toBe('stale-edit');
  expect(stale.body.changes.map((c: any) => c.field)).toEqual(['massOutG', 'version']);
  const [kept] = await s.club.database.query<any>('', `select before, after, reason from record_entry where subject_kind = 'stage' and subject_id = $1 and action = 'changed'`, [cure]);
  expect(kept).toEqual({ before: { loss_g: 100, mass_out_g: 4900 }, after: { loss_g: 50, mass_out_g: 4950 }, reason: 'Scale was not level' });
});

test('an undone stage gives its loss back and leaves the page, not the record', async () => {
  const batch = await fresh();
  const { body } = await s.stage(batch, 'prepare', '07:00', '08:00', { massOutG: 2500 });
  const undone = await s.crew.patch(`/api/stages/${body.stages[0].id}`, { version: 1, cancelled: true });
  expect(undone.body).toMatchObject({ onHandGrams: 5000, stages: [], lastStage: null });
  expect((await s.crew.patch(`/api/stages/${body.stages[0].id}`, { version: 2, massOutG: 1 })).status).toBe(409);
  expect((await s.stage(batch, 'prepare', '07:00', '08:00', { massOutG: 2600 })).body.onHandGrams).toBe(2600);
});

test('packing starts with the first packs; finishing writes the rest off and closes; it can be opened again', async () => {
  const batch = await s.smoked(await fresh());
  await s.pack(batch, [250, 250]);
  await s.pack(batch, [1000], { packedAt: s.at('16:30') });
  const open = await s.page(batch);
  const packing = open.stages.at(-1);
  expect(packing).toMatchObject({ kind: 'pack', massInG: 2500, massOutG: null, startedAt: s.at('16:30') });
  expect(open).toMatchObject({ onHandGrams: 1000, packedGrams: 1500, packCount: 3, closed: false });
  const early = await s.crew.patch(`/api/stages/${packing.id}`, { version: packing.version, finishedAt: s.at('16:59') });
  expect(early.body.detail).toContain('A pack was weighed out later');
  const closed = await s.crew.patch(`/api/stages/${packing.id}`, { version: packing.version, finishedAt: s.at('18:00'), trimG: 100, lossReason: 'Eaten' });
  expect(closed.body).toMatchObject({ onHandGrams: 0, closed: true, running: null });
  expect(closed.body.stages.at(-1)).toMatchObject({ massInG: 2500, massOutG: 1500, trimG: 100, lossG: 900, lossReason: 'Eaten' });
  expect((await s.stage(batch, 'pack', '18:30', null)).status).toBe(409);
  expect((await s.crew.post(`/api/batches/${batch.id}/packs`, { weightsG: [1], packageKind: 'tub', storage: 'refrigerated', packedAt: s.at('18:00') })).status).toBe(409);
  const version = closed.body.stages.at(-1).version;
  const again = await s.crew.patch(`/api/stages/${packing.id}`, { version, finishedAt: null });
  expect(again.body).toMatchObject({ onHandGrams: 1000, closed: false });
  expect(again.body.stages.at(-1)).toMatchObject({ massOutG: null, trimG: 0, lossG: 0 });
  expect((await s.crew.patch(`/api/stages/${packing.id}`, { version: version + 1, cancelled: true })).body.detail).toContain('Packs were made');
});

test('after packing, an earlier weight is corrected with the loss of packing following it', async () => {
  const smoked = await s.smoked(await fresh());
  await s.pack(smoked, [1000, 1000]);
  const packing = (await s.page(smoked)).stages.at(-1);
  await s.crew.patch(`/api/stages/${packing.id}`, { version: packing.version, finishedAt: s.at('18:00') });
  const smoke = smoked.stages[0];
  const less = await s.crew.patch(`/api/stages/${smoke.id}`, { version: 1, massOutG: 2100 });
  expect(less.body.stages.map((x: any) => [x.kind, x.massInG, x.massOutG, x.lossG])).toEqual([['smoke', 5000, 2100, 2900], ['pack', 2100, 2000, 100]]);
  const more = await s.crew.patch(`/api/stages/${smoke.id}`, { version: 2, massOutG: 3000 });
  expect(more.body.stages.at(-1)).toMatchObject({ massInG: 3000, massOutG: 2000, lossG: 1000 });
  expect(more.body).toMatchObject({ onHandGrams: 0, closed: true });
  const short = await s.crew.patch(`/api/stages/${smoke.id}`, { version: 3, massOutG: 1999 });
  expect([short.status, short.body.code]).toEqual([409, 'not-enough-left']);
  expect(short.body.detail).toContain('its packs weigh 2 kg');
});

test('a pack grows after packing out of what was written off, and no further', async () => {
  const batch = await s.smoked(await fresh());
  const [pack] = await s.pack(batch, [1000]);
  const packing = (await s.page(batch)).stages.at(-1);
  await s.crew.patch(`/api/stages/${packing.id}`, { version: packing.version, finishedAt: s.at('18:00') });
  expect((await s.crew.patch(`/api/packs/${pack!.id}`, { version: 1, grams: 1400 })).status).toBe(200);
  expect((await s.page(batch)).stages.at(-1)).toMatchObject({ massOutG: 1400, lossG: 1100 });
  expect((await s.crew.patch(`/api/packs/${pack!.id}`, { version: 2, grams: 900 })).status).toBe(200);
  expect((await s.page(batch)).stages.at(-1)).toMatchObject({ massOutG: 900, lossG: 1600 });
  expect((await s.crew.patch(`/api/packs/${pack!.id}`, { version: 3, grams: 2600 })).body.code).toBe('not-enough-left');
});

test('stages need crew', async () => {
  const batch = await fresh();
  expect((await s.ann.post(`/api/batches/${batch.id}/stages`, { kind: 'prepare', startedAt: s.at('07:00') })).status).toBe(403);
  const { body } = await s.stage(batch, 'prepare', '07:00', null);
  expect((await s.ann.patch(`/api/stages/${body.stages[0].id}`, { version: 1, note: 'x' })).status).toBe(403);
});
