import { afterAll, beforeAll, expect, test } from 'vitest';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

const fresh = async (more: Parameters<Smokehouse['land']>[0] = {}) => s.make([s.landing(await s.land(more), 5000)]);
const states = (batch: any) => batch.checks.map((c: any) => [c.ruleId, c.state]);

test('a batch is on hold until every part of the evidence is there and good (MI569.7, FC 3-501.14)', async () => {
  const batch = await fresh();
  const chilled = [['chill.mild', 'met'], ['chill.internal', 'met'], ['chill.exposure', 'not-recorded']];
  const cooling = [['cool.fc', 'not-recorded'], ['cool.fc', 'not-recorded'], ['cool.hg', 'not-recorded']];
  expect(states(batch)).toEqual([...chilled, ['smoke.core', 'not-recorded'], ['smoke.core', 'not-recorded'], ...cooling]);
  const partly = await s.smoked(batch, { maxCoreC: 62.7 });
  expect(partly).toMatchObject({ verdict: 'hold', smokeDay: '2026-06-10' });
  expect(states(partly)).toEqual([...chilled, ['smoke.core', 'not-met'], ['smoke.core', 'not-recorded'], ['smoke.core-home', 'not-met'], ...cooling]);
  const id = partly.stages[0].id;
  const good = await s.crew.patch(`/api/stages/${id}`, { version: 1, maxCoreC: 62.8, holdMinutes: 30, cooledTo21At: s.at('15:00'), cooledAt: s.at('19:00') });
  expect(good.body.verdict).toBe('clear');
  expect(good.body.checks.filter((c: any) => c.counts).every((c: any) => c.state === 'met')).toBe(true);
  const slow = await s.crew.patch(`/api/stages/${id}`, { version: 2, cooledAt: s.at('19:01') });
  expect(slow.body).toMatchObject({ verdict: 'do-not-share' });
  const late = await s.crew.patch(`/api/stages/${id}`, { version: 3, cooledTo21At: s.at('15:01'), cooledAt: s.at('19:00') });
  expect(late.body.verdict).toBe('do-not-share');
  const untold = await s.crew.patch(`/api/stages/${id}`, { version: 4, cooledTo21At: null });
  expect(untold.body.verdict).toBe('hold');
});

test('on hold tells a missing record from a failed check, in the list, on the page and on packs; the same fish never passes by either', async () => {
  const batch = await fresh();
  const inList = async () => (await s.crew.get(`/api/batches?q=${batch.lot}`)).body.items.find((b: any) => b.id === batch.id);
  const unrecorded = await s.stage(batch, 'smoke', '09:00', '13:00', { massOutG: 3000, maxCoreC: 62.8, holdMinutes: 30 });
  expect(unrecorded.body).toMatchObject({ verdict: 'hold', notMet: false });
  expect(await inList()).toMatchObject({ verdict: 'hold', notMet: false });
  const [pack] = await s.pack(unrecorded.body, [250]);
  expect(pack).toMatchObject({ verdict: 'hold', notMet: false });
  const failed = await s.crew.patch(`/api/stages/${unrecorded.body.stages[0].id}`, { version: 1, maxCoreC: 61, holdMinutes: 0 });
  expect(failed.body).toMatchObject({ verdict: 'hold', notMet: true });
  expect(await inList()).toMatchObject({ verdict: 'hold', notMet: true });
  expect((await s.crew.get(`/api/packs?batchId=${batch.id}`)).body.items[0]).toMatchObject({ verdict: 'hold', notMet: true });
  const good = await s.crew.patch(`/api/stages/${unrecorded.body.stages[0].id}`, { version: 2, maxCoreC: 62.8, holdMinutes: 30, cooledTo21At: s.at('15:00'), cooledAt: s.at('19:00') });
  expect(good.body).toMatchObject({ verdict: 'clear', notMet: false });
  await expect(s.club.database.query('', `update batch set not_met = true where id = $1`, [batch.id])).rejects.toThrow(/batch_clear_nothing_not_met/);
});

test('two landings of the same fish are told apart in the titles of their checks, by the day of their trip', async () => {
  const batch = await s.make([s.landing(await s.land(), 3000), s.landing(await s.land(), 2000)]);
  const titles = batch.checks.map((c: any) => `${c.title}: ${c.about}`);
  expect(new Set(titles).size).toBe(titles.length);
  expect(titles.filter((title: string) => /: landing of \d{1,2} [A-Z][a-z]{2}, /.test(title)).length).toBeGreaterThanOrEqual(4);
});

test('the smoke day is the local day on which smoking began', async () => {
  const { body } = await s.crew.post(`/api/batches/${(await fresh()).id}/stages`, { kind: 'smoke', startedAt: '2026-06-09T22:59:00Z', finishedAt: '2026-06-10T03:00:00Z', massOutG: 3000 });
  expect(body.smokeDay).toBe('2026-06-09');
  const next = await s.crew.post(`/api/batches/${(await fresh()).id}/stages`, { kind: 'smoke', startedAt: '2026-06-09T23:00:00Z', finishedAt: '2026-06-10T03:00:00Z', massOutG: 3000 });
  expect(next.body.smokeDay).toBe('2026-06-10');
});

test('fish that stayed out of the smoker holds the whole batch', async () => {
  const { body } = await s.stage(await fresh(), 'smoke', '09:00', '13:00', { massInG: 4000, massOutG: 2500, ...s.good });
  expect(body.verdict).toBe('hold');
  expect(body.checks.at(-1)).toMatchObject({ ruleId: 'lot.code', state: 'not-met', found: '4 kg of 5 kg went into the smoker' });
});

test('evidence corrected to bad holds claimed packs too; the claims stay to be seen; dates follow the smoke day', async () => {
  const batch = await s.smoked(await fresh());
  const [one, two] = await s.pack(batch, [250, 250]);
  expect([one!.lastDay, two!.lastDay]).toEqual(['2026-06-16', '2026-06-16']);
  expect((await s.ann.post('/api/claims', { packId: one!.id })).status).toBe(201);
  const smoke = batch.stages[0];
  const bad = await s.crew.patch(`/api/stages/${smoke.id}`, { version: 1, maxCoreC: 61, holdMinutes: 0 });
  expect(bad.body.verdict).toBe('hold');
  expect(bad.body.packs.map((p: any) => [p.verdict, p.claim?.status ?? null])).toEqual([['hold', 'asked'], ['hold', null]]);
  expect((await s.ben.post('/api/claims', { packId: two!.id })).body.code).toBe('on-hold');
  const moved = await s.crew.patch(`/api/stages/${smoke.id}`, { version: 2, startedAt: '2026-06-09T20:00:00Z' });
  expect(moved.body.packs.map((p: any) => p.lastDay)).toEqual(['2026-06-15', '2026-06-15']);
  const gone = await s.crew.patch(`/api/stages/${smoke.id}`, { version: 3, cancelled: true });
  expect(gone.body).toMatchObject({ verdict: 'hold', smokeDay: null });
  expect(gone.body.packs.map((p: any) => p.lastDay)).toEqual([null, null]);
});

test('a batch split off after smoking is as good as its lot; one split off before has no evidence', async () => {
  const batch = await fresh();
  const before = await s.make([s.fromBatch(batch.id, 500)]);
  const smoked = await s.smoked({ ...batch, onHandGrams: 4500 });
  const after = await s.make([s.fromBatch(batch.id, 500)]);
  expect(after).toMatchObject({ verdict: 'clear', smokeDay: '2026-06-10' });
  expect(states(after)).toEqual([['smoke.core', 'met'], ['lot.no-mix', 'met']]);
  expect(await s.page(before)).toMatchObject({ verdict: 'hold', smokeDay: null });
  await s.crew.patch(`/api/stages/${smoked.stages[0].id}`, { version: 1, holdMinutes: 29 });
  expect(await s.page(after)).toMatchObject({ verdict: 'hold' });
});

test('two smoke days never go under one label (WI ATCP 70.46)', async () => {
  const today = await s.smoked(await fresh({ pooling: 'pooled' }));
  const older = await fresh({ pooling: 'pooled' });
  await s.crew.post(`/api/batches/${older.id}/stages`, { kind: 'smoke', startedAt: '2026-06-08T09:00:00Z', finishedAt: '2026-06-08T13:00:00Z', massOutG: 2500, maxCoreC: 66, holdMinutes: 35, cooledTo21At: '2026-06-08T14:30:00Z', cooledAt: '2026-06-08T16:00:00Z' });
  const merged = await s.make([s.fromBatch(today.id, 500), s.fromBatch(older.id, 500)]);
  expect(merged).toMatchObject({ verdict: 'hold', smokeDay: '2026-06-08' });
  expect(merged.checks.at(-1)).toMatchObject({ ruleId: 'lot.no-mix', state: 'not-met', found: '2026-06-08, 2026-06-10' });
  const fixed = await s.captain.patch(`/api/draws/${merged.draws[1].id}`, { version: 1, cancelled: true });
  expect(fixed.body).toMatchObject({ verdict: 'clear', smokeDay: '2026-06-10' });
});

test('raw fish is never clear: no record here shows that it was frozen long enough (FC 3-402.11)', async () => {
  const batch = await s.make([s.landing(await s.land({ caught_at: '2026-06-10T03:00:00Z' }), 1000)], { productKind: 'raw' });
  const [pack] = await s.pack(batch, [300]);
  expect(pack!.lastDay).toBe('2026-06-11');
  const page = await s.page(batch);
  expect(page.verdict).toBe('hold');
  expect(states(page)).toEqual([['chill.mild', 'met'], ['chill.internal', 'met'], ['chill.exposure', 'not-recorded'], ['parasite', 'not-recorded']]);
  expect((await s.stage(batch, 'smoke', '18:00', null)).status).toBe(422);
});

async function dipOf(...batches: any[]) {
  const packs = [];
  for (const b of batches) packs.push((await s.pack(b, [200]))[0]!);
  return { packs, dip: await s.make(packs.map((p) => s.fromPack(p.id)), { productKind: 'dip', allergens: ['milk'] }) };
}

test('a dip is made from packs: they are used up, its dates and verdict follow from theirs', async () => {
  const [a, b] = [await s.smoked(await fresh({ pooling: 'pooled' })), await s.smoked(await fresh({ species_code: 'sea-trout', pooling: 'pooled' }))];
  const { packs, dip } = await dipOf(a, b);
  expect(dip).toMatchObject({ name: 'Atlantic mackerel and sea trout dip', onHandGrams: 400, verdict: 'hold', species: ['Atlantic mackerel', 'Sea trout'] });
  expect(states(dip)).toEqual([['smoke.core', 'met'], ['smoke.core', 'met'], ['date.dip', 'not-recorded'], ['date.mixed', 'not-recorded']]);
  expect((await s.page(a)).packs.map((p: any) => p.status)).toEqual(['used']);
  expect((await s.page(a)).drawnBy).toEqual([{ id: dip.id, lot: dip.lot, name: dip.name, grams: 200 }]);
  expect((await s.captain.post('/api/batches', { productKind: 'dip', draws: [s.fromPack(packs[0]!.id)] })).body.detail).toContain('is used');
  const mixed = await s.stage(dip, 'mix', '18:00', '18:30', { massOutG: 900, cooledAt: s.at('18:30'), addedG: 500, addedLastDay: '2026-06-30' });
  expect(mixed.body).toMatchObject({ verdict: 'clear', mixedDay: '2026-06-10', onHandGrams: 900 });
  expect((await s.pack(dip, [300], { packedAt: s.at('19:00') }))[0]!.lastDay).toBe('2026-06-12');
  const smoke = a.stages[0];
  await s.crew.patch(`/api/stages/${smoke.id}`, { version: 1, holdMinutes: 10 });
  expect(await s.page(dip)).toMatchObject({ verdict: 'hold', packs: [{ verdict: 'hold' }] });
});

test('a pack brings the wishes of its own tray into a dip, not those of the whole batch', async () => {
  const [anns, bens] = [await s.land({ pooling: 'pooled' }), await s.land({ ...s.of(s.ben), pooling: 'tray' })];
  const batch = await s.smoked(await s.make([s.landing(anns, 2500), s.landing(bens, 2500)]));
  expect(batch.draws.map((d: any) => d.trayNo)).toEqual([1, 2]);
  const [pooled] = await s.pack(batch, [200], { trayNo: 1 });
  const [own] = await s.pack(batch, [200], { trayNo: 2 });
  const other = await s.smoked(await fresh({ ...s.of(s.ben), pooling: 'pooled' }));
  const [others] = await s.pack(other, [200]);
  const dip = await s.make([s.fromPack(pooled!.id), s.fromPack(others!.id)], { productKind: 'dip' });
  expect(dip.draws.map((d: any) => d.trayNo)).toEqual([1, 1]);
  const onto = await s.captain.post(`/api/batches/${dip.id}/draws`, { draws: [{ ...s.fromPack(own!.id), trayNo: 1 }] });
  expect(onto.body.code).toBe('would-mix');
  const beside = await s.captain.post(`/api/batches/${dip.id}/draws`, { draws: [s.fromPack(own!.id)] });
  expect(beside.body.draws.map((d: any) => d.trayNo)).toEqual([1, 1, 2]);
});

test('a dip drawn pack is given back when undone; only whole, ready packs go in, and only into dips', async () => {
  const a = await s.smoked(await fresh());
  const { packs, dip } = await dipOf(a);
  const undone = await s.crew.patch(`/api/draws/${dip.draws[0].id}`, { version: 1, cancelled: true });
  expect(undone.body.onHandGrams).toBe(0);
  expect((await s.page(a)).packs.map((p: any) => p.status)).toEqual(['ready']);
  expect((await s.captain.post('/api/batches', { draws: [s.fromPack(packs[0]!.id)] })).body.detail).toContain('Packs go into a dip alone');
  expect((await s.captain.post('/api/batches', { productKind: 'dip', draws: [{ ...s.fromPack(packs[0]!.id), grams: 100 }] })).body.errors[0].field).toBe('draws.0.grams');
  expect((await s.captain.post('/api/batches', { productKind: 'dip', draws: [s.landing(await s.land(), 100)] })).body.detail).toContain('A dip is made from smoked fish');
});

test('a dip does not become a batch of fish, whose days are more (date.dip, date.seven)', async () => {
  const { dip } = await dipOf(await s.smoked(await fresh()));
  await s.stage(dip, 'mix', '18:00', '18:30', { massOutG: 200, cooledAt: s.at('18:30'), addedLastDay: '2026-06-30' });
  for (const productKind of ['hot-smoked', 'raw']) {
    const { status, body } = await s.captain.post('/api/batches', { productKind, draws: [s.fromBatch(dip.id)] });
    expect([status, body.code, body.errors[0].field]).toEqual([409, 'conflict', 'draws.0.source']);
    expect(body.detail).toContain('is a dip');
  }
});

test('fish past its last day when mixed holds a dip (FC 3-501.17(C))', async () => {
  const old = await fresh();
  await s.crew.post(`/api/batches/${old.id}/stages`, { kind: 'smoke', startedAt: '2026-06-03T09:00:00Z', finishedAt: '2026-06-03T13:00:00Z', massOutG: 2500, maxCoreC: 66, holdMinutes: 35, cooledTo21At: '2026-06-03T14:30:00Z', cooledAt: '2026-06-03T16:00:00Z' });
  const { dip } = await dipOf(old);
  const { body } = await s.stage(dip, 'mix', '18:00', '18:30', { massOutG: 200, cooledAt: s.at('18:30'), addedLastDay: '2026-06-30' });
  expect(body.verdict).toBe('do-not-share');
  expect(body.checks.find((c: any) => c.ruleId === 'date.mixed')).toMatchObject({ state: 'not-met', found: 'earliest last day 2026-06-09, mixed 2026-06-10' });
});

test('a recall stops the lot and all that was made from it, and lists who holds it', async () => {
  const a = await s.smoked(await fresh());
  const [handed, claimed, kept, used] = await s.pack(a, [200, 201, 202, 203]);
  const dip = await s.make([s.fromPack(used!.id)], { productKind: 'dip' });
  await s.stage(dip, 'mix', '18:00', '18:30', { massOutG: 203, cooledAt: s.at('18:30') });
  const [dipPack] = await s.pack(dip, [100], { packedAt: s.at('19:00') });
  for (const [id, to] of [[handed!.id, { memberId: s.ann.id }], [dipPack!.id, { name: 'Old Sel' }]] as const) {
    const { status, body } = await s.captain.post('/api/hand-overs', { packIds: [id], to });
    expect([status, body]).toMatchObject([201, {}]);
  }
  expect((await s.ben.post('/api/claims', { packId: claimed!.id })).status).toBe(201);

  const { status, body } = await s.captain.post(`/api/batches/${a.id}/recall`, { reason: 'Thermometer was wrong' });
  expect([status, body.recalled, body.recall]).toMatchObject([200, true, { reason: 'Thermometer was wrong', by: { name: 'Isla Muir' } }]);
  expect((await s.captain.post(`/api/batches/${a.id}/recall`, { reason: 'Once more' })).status).toBe(409);
  const made = await s.page(dip);
  expect(made).toMatchObject({ recalled: true, recall: { reason: `Made from lot ${a.lot}, which is recalled: Thermometer was wrong` } });
  const { items } = (await s.crew.get(`/api/batches/${a.id}/holders`)).body;
  expect(items.map((i: any) => [i.pack, i.status, i.holder])).toEqual([
    [`${a.lot}-1`, 'handed-over', 'Ann Holm'], [`${dip.lot}-1`, 'handed-over', 'Old Sel'], [`${a.lot}-2`, 'claimed', 'Ben Skaw'], [`${a.lot}-3`, 'ready', 'Test Club'],
  ]);
  expect(items.every((i: any) => typeof i.since === 'string')).toBe(true);
  expect((await s.ann.post('/api/claims', { packId: kept!.id })).body.code).toBe('recalled');
  expect((await s.captain.post('/api/batches', { draws: [s.fromBatch(a.id, 10)] })).body.code).toBe('recalled');

  expect((await s.captain.post(`/api/batches/${dip.id}/recall/lift`, { reason: 'It is fine' })).body.detail).toContain(`because lot ${a.lot} is`);
  const lifted = await s.captain.post(`/api/batches/${a.id}/recall/lift`, { reason: 'It was checked' });
  expect(lifted.body).toMatchObject({ recalled: false, recall: null });
  expect((await s.page(dip)).recalled).toBe(false);
  expect((await s.captain.post(`/api/batches/${a.id}/recall/lift`, { reason: 'Twice' })).status).toBe(409);
});

test('a dip of two recalled lots stays recalled until both are lifted', async () => {
  const [a, b] = [await s.smoked(await fresh({ pooling: 'pooled' })), await s.smoked(await fresh({ pooling: 'pooled' }))];
  const { dip } = await dipOf(a, b);
  for (const lot of [a, b]) await s.captain.post(`/api/batches/${lot.id}/recall`, { reason: 'Bones found' });
  await s.captain.post(`/api/batches/${a.id}/recall/lift`, { reason: 'Checked' });
  expect((await s.page(dip)).recall.reason).toContain(b.lot);
  await s.captain.post(`/api/batches/${b.id}/recall/lift`, { reason: 'Checked' });
  expect((await s.page(dip)).recalled).toBe(false);
});
