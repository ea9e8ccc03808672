import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { batchBody } from '../../server/contract/batches.ts';
import { LOT_ALPHABET, parseLotCode } from '../../server/domain/lot-code.ts';
import { createBatch } from '../../server/features/batches/create.service.ts';
import { beginUnit } from '../../server/platform/unit.ts';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

test('a captain starts a batch from landings; it has a lot code, a name, and what it stands for', async () => {
  const [a, b] = [await s.land({ pooling: 'pooled' }), await s.land({ ...s.of(s.ben), pooling: 'pooled', grams: 3000, fish_count: null })];
  const batch = await s.make([s.landing(a, 2000), s.landing(b)]);
  expect(parseLotCode(batch.lot)).toBe(batch.lot);
  expect([...batch.lot.replace('-', '')].every((c: string) => LOT_ALPHABET.includes(c))).toBe(true);
  expect(batch).toMatchObject({ name: 'Hot-smoked Atlantic mackerel', productKind: 'hot-smoked', verdict: 'hold', onHandGrams: 5000, species: ['Atlantic mackerel'], closed: false, recalled: false, running: null, lastStage: null });
  expect(batch.draws.map((d: any) => [d.grams, d.trayNo, d.source.label, d.source.pooling])).toEqual([
    [2000, 1, 'Atlantic mackerel, Ann Holm, 9 Jun', 'pooled'], [3000, 1, 'Atlantic mackerel, Ben Skaw, 9 Jun', 'pooled'],
  ]);
  // What tells a landing from another of the same fish.
  const written = (await s.captain.get(`/api/landings/${a}`)).body;
  expect(batch.draws[0].source.landing).toEqual({ day: '2026-06-09', landedAt: written.landedAt, caughtAt: written.caughtAt, writtenAt: written.createdAt });
  expect(batch.origins.map((o: any) => [o.catcher, o.landedGrams, o.fish, o.boat, o.day])).toEqual([['Ann Holm', 2000, 4, 'Kittiwake', '2026-06-09'], ['Ben Skaw', 3000, null, 'Kittiwake', '2026-06-09']]);
});

test('names by product and species; a name given stays', async () => {
  const trout = await s.land({ species_code: 'sea-trout' });
  expect((await s.make([s.landing(trout, 500)])).name).toBe('Hot-smoked sea trout');
  expect((await s.make([s.landing(trout, 500)], { productKind: 'raw' })).name).toBe('Raw sea trout');
  expect((await s.make([s.landing(trout, 500)], { name: '  Røykt sjøørret 🐟 ' })).name).toBe('Røykt sjøørret 🐟');
  expect((await s.make([], { productKind: 'dip' })).name).toBe('Fish dip');
});

test('never more than is left, told in numbers', async () => {
  const a = await s.land({ grams: 5000 });
  await s.make([s.landing(a, 2600)]);
  const { status, body } = await s.captain.post('/api/batches', { draws: [s.landing(a, 3000)] });
  expect([status, body.code]).toEqual([409, 'not-enough-left']);
  expect(body.detail).toContain('2.4 kg left, 3 kg asked');
  expect(body.errors[0]).toMatchObject({ field: 'draws.0.grams', value: 3000 });
  const twice = await s.captain.post('/api/batches', { draws: [s.landing(a, 2000), s.landing(a, 2000)] });
  expect(twice.body.detail).toContain('400 g left, 2 kg asked');
  const [row] = await s.club.database.query<any>('', `select drawn_grams as d from landing where id = $1`, [a]);
  expect(row.d).toBe(2600);
});

test('fish stays apart unless its catcher agreed; the refusal says why', async () => {
  const apart = await s.land();
  const bens = await s.land({ ...s.of(s.ben), pooling: 'pooled' });
  const batch = await s.make([s.landing(apart, 1000)]);
  const mixed = await s.captain.post(`/api/batches/${batch.id}/draws`, { draws: [s.landing(bens, 1000)] });
  expect([mixed.status, mixed.body.code]).toEqual([409, 'would-mix']);
  expect(mixed.body.detail).toContain('kept apart');
  expect((await s.page(batch)).onHandGrams).toBe(1000);
  // Through another batch it is still the same catcher's fish.
  const other = await s.make([s.landing(bens, 1000)]);
  const split = await s.make([s.fromBatch(other.id, 500)]);
  const merged = await s.captain.post(`/api/batches/${batch.id}/draws`, { draws: [s.fromBatch(split.id)] });
  expect(merged.body.code).toBe('would-mix');
});

test('tray fish shares a batch on trays of its own; a guest is one person however the name is typed', async () => {
  const anns = await s.land({ pooling: 'tray' });
  const bens = await s.land({ ...s.of(s.ben), pooling: 'tray' });
  const batch = await s.make([s.landing(anns, 1000), s.landing(bens, 1000)]);
  expect(batch.draws.map((d: any) => d.trayNo)).toEqual([1, 2]);
  const onto = await s.captain.post(`/api/batches/${batch.id}/draws`, { draws: [{ ...s.landing(bens, 500), trayNo: 1 }] });
  expect(onto.body.code).toBe('would-mix');
  const taken = await s.captain.post('/api/batches', { draws: [s.fromBatch(batch.id, 500)] });
  expect(taken.body.code).toBe('would-mix');
  const per = { catcher_kind: 'guest', catcher_member_id: null };
  const guests = [await s.land({ ...per, catcher_guest: 'Per Lind' }), await s.land({ ...per, catcher_guest: 'per  lind' })];
  expect((await s.make(guests.map((id) => s.landing(id, 1000)))).onHandGrams).toBe(2000);
});

test('one species in a batch (rule brine.no-mix); species not for sharing in none', async () => {
  const [mackerel, trout, escolar] = [await s.land(), await s.land({ species_code: 'sea-trout' }), await s.land({ species_code: 'escolar' })];
  const two = await s.captain.post('/api/batches', { draws: [s.landing(mackerel, 500), s.landing(trout, 500)] });
  expect(two.body.code).toBe('would-mix');
  expect(two.body.detail).toContain('NY262.5');
  const refused = await s.captain.post('/api/batches', { draws: [s.landing(escolar, 500)] });
  expect(refused.status).toBe(422);
  expect(refused.body.detail).toContain('not for sharing');
});

test('split and merge: weight moves, and the fish with it', async () => {
  const a = await s.land({ grams: 4000, fish_count: 8 });
  const whole = await s.make([s.landing(a)]);
  const [one, two] = [await s.make([s.fromBatch(whole.id, 1000)]), await s.make([s.fromBatch(whole.id, 1500)])];
  expect(one.origins[0]).toMatchObject({ landedGrams: 1000, fish: 2 });
  expect(two.origins[0]).toMatchObject({ landedGrams: 1500, fish: 3 });
  const parent = await s.page(whole);
  expect(parent.onHandGrams).toBe(1500);
  expect(parent.drawnBy.map((d: any) => [d.lot, d.grams]).sort()).toEqual([[one.lot, 1000], [two.lot, 1500]].sort());
  const merged = await s.make([s.fromBatch(one.id), s.fromBatch(two.id, 500)]);
  expect(merged).toMatchObject({ onHandGrams: 1500, species: ['Atlantic mackerel'] });
  expect(merged.origins).toHaveLength(1);
  expect(merged.origins[0]).toMatchObject({ landedGrams: 1500, fish: 3 });
  const round = await s.captain.post(`/api/batches/${whole.id}/draws`, { draws: [s.fromBatch(merged.id)] });
  expect([round.status, round.body.code]).toEqual([409, 'conflict']);
});

test('a draw is offered to be undone until a stage took its weight, and is refused then; what joined after it is offered', async () => {
  const batch = await s.make([s.landing(await s.land(), 2000), s.landing(await s.land(), 1000)]);
  const undoable = async () => (await s.page(batch)).draws.map((d: any) => d.undoable);
  expect(batch.draws.map((d: any) => d.undoable)).toEqual([true, true]);
  const prepared = await s.stage(batch, 'prepare', '09:00', '10:00', { massOutG: 2800, trimG: 200 });
  expect(prepared.status).toBe(201);
  expect(await undoable()).toEqual([false, false]);
  expect((await s.captain.patch(`/api/draws/${batch.draws[0].id}`, { version: 1, cancelled: true })).body.code).toBe('not-enough-left');
  const more = await s.captain.post(`/api/batches/${batch.id}/draws`, { draws: [s.landing(await s.land(), 500)] });
  expect(more.body.draws.map((d: any) => d.undoable)).toEqual([false, false, true]);
  expect((await s.captain.patch(`/api/draws/${more.body.draws[2].id}`, { version: 1, cancelled: true })).status).toBe(200);
});

test('a draw from a lot that is packed and closed is not offered to be undone, and is refused; once its packing is open again it is offered', async () => {
  const whole = await s.make([s.landing(await s.land(), 5000)]);
  const some = await s.make([s.fromBatch(whole.id, 1000)]);
  const page = async () => s.captain.get(`/api/batches/${some.id}`);
  const told = (body: any) => body.draws.map((d: any) => [d.undoable, d.sourceClosed]);
  expect(told((await page()).body)).toEqual([[true, false]]);
  const before = (await page()).headers['etag'];
  await s.pack(whole, [3000]);
  const packing = (await s.page(whole)).stages.find((x: any) => x.kind === 'pack');
  const close = await s.crew.patch(`/api/stages/${packing.id}`, { version: packing.version, finishedAt: s.at('19:00'), lossReason: 'Scraps' });
  expect(close.body).toMatchObject({ closed: true });
  expect(told((await page()).body)).toEqual([[false, true]]);
  expect((await page()).headers['etag'], 'a kept page is read anew').not.toBe(before);
  const refused = await s.captain.patch(`/api/draws/${some.draws[0].id}`, { version: 1, cancelled: true });
  expect([refused.status, refused.body.code, refused.body.detail]).toEqual([409, 'conflict', expect.stringContaining(`Lot ${whole.lot}, which it came from, is packed and closed`)]);
  const again = (await s.page(whole)).stages.find((x: any) => x.kind === 'pack');
  expect((await s.crew.patch(`/api/stages/${again.id}`, { version: again.version, finishedAt: null })).body).toMatchObject({ closed: false });
  expect(told((await page()).body)).toEqual([[true, false]]);
  expect((await s.captain.patch(`/api/draws/${some.draws[0].id}`, { version: 1, cancelled: true })).status).toBe(200);
});

test('a draw is corrected and undone; the record keeps what it was; a stale edit is refused with what changed', async () => {
  const a = await s.land();
  const batch = await s.make([s.landing(a, 2000)]);
  const [draw] = batch.draws;
  const fixed = await s.captain.patch(`/api/draws/${draw.id}`, { version: 1, grams: 2500, reason: 'Misread the scale' });
  expect(fixed.body).toMatchObject({ onHandGrams: 2500, draws: [{ grams: 2500, version: 2 }] });
  const stale = await s.captain.patch(`/api/draws/${draw.id}`, { version: 1, grams: 100 });
  expect([stale.status, stale.body.code]).toEqual([409, 'stale-edit']);
  expect(stale.body.changes).toContainEqual({ field: 'grams', yours: 100, theirs: 2500 });
  expect((await s.captain.patch(`/api/draws/${draw.id}`, { version: 2, grams: 5001 })).body.detail).toContain('5 kg left, 5.001 kg asked');
  const undone = await s.captain.patch(`/api/draws/${draw.id}`, { version: 2, cancelled: true });
  expect(undone.body).toMatchObject({ onHandGrams: 0, draws: [], origins: [] });
  const [landing] = await s.club.database.query<any>('', `select drawn_grams as d from landing where id = $1`, [a]);
  expect(landing.d).toBe(0);
  expect((await s.captain.patch(`/api/draws/${draw.id}`, { version: 3, cancelled: false })).status).toBe(409);
  const kept = await s.club.database.query<any>('', `select before, after, reason, actor_id as "by" from record_entry where subject_kind = 'draw' and subject_id = $1 order by id`, [draw.id]);
  expect(kept.map((k) => [k.before?.grams ?? null, k.after.grams ?? null, k.by])).toEqual([[null, 2000, s.captain.id], [2000, 2500, s.captain.id], [null, null, s.captain.id]]);
  expect(kept[1].reason).toBe('Misread the scale');
  expect(kept[2].after.cancelled_at).toBeTruthy();
});

test('a correction that a later stage or draw rules out is refused and names it', async () => {
  const a = await s.land();
  const batch = await s.make([s.landing(a, 2000)]);
  await s.stage(batch, 'prepare', '07:00', '08:00', { massOutG: 1200 });
  const less = await s.captain.patch(`/api/draws/${batch.draws[0].id}`, { version: 1, grams: 1900 });
  expect([less.status, less.body.code]).toEqual([409, 'not-enough-left']);
  expect(less.body.detail).toContain('Prepare of lot');
  const child = await s.make([s.fromBatch(batch.id, 1000)]);
  expect(child.onHandGrams).toBe(1000);
  const more = await s.captain.patch(`/api/draws/${child.draws[0].id}`, { version: 1, grams: 1300 });
  expect(more.body.detail).toContain('1.2 kg left, 1.3 kg asked');
});

test('what a batch held before each draw follows corrections of earlier ones', async () => {
  const source = await s.make([s.landing(await s.land({ grams: 10_000 }), 10_000)]);
  const first = await s.make([s.fromBatch(source.id, 5000)]);
  const second = await s.make([s.fromBatch(source.id, 5000)]);
  expect((await s.captain.patch(`/api/draws/${first.draws[0].id}`, { version: 1, grams: 4000 })).status).toBe(200);
  const [row] = await s.club.database.query<any>('', `select of_grams as "of" from draw where id = $1`, [second.draws[0].id]);
  expect(row.of).toBe(6000);
  expect((await s.page(second)).origins[0].landedGrams).toBe(5000);
});

test('crew move fish that is in a batch; fish from landings needs a captain; members and strangers neither', async () => {
  const a = await s.land();
  const batch = await s.make([s.landing(a, 1000)]);
  expect((await s.crew.post('/api/batches', { draws: [s.landing(a, 100)] })).status).toBe(403);
  expect((await s.crew.post(`/api/batches/${batch.id}/draws`, { draws: [s.landing(a, 100)] })).status).toBe(403);
  expect((await s.crew.post('/api/batches', { draws: [s.fromBatch(batch.id, 100)] })).status).toBe(201);
  expect((await s.crew.patch(`/api/draws/${batch.draws[0].id}`, { version: 1, cancelled: true })).status).toBe(403);
  expect((await s.ann.post('/api/batches', {})).status).toBe(403);
  expect((await s.ann.get(`/api/batches/${batch.id}`)).status).toBe(200);
  expect((await s.ann.get(`/api/batches/${batch.id}/holders`)).status).toBe(403);
  expect((await s.crew.post(`/api/batches/${batch.id}/recall`, { reason: 'Found bones' })).status).toBe(403);
  expect((await s.club.stranger.get(`/api/batches/${batch.id}`)).status).toBe(401);
  expect((await s.captain.get(`/api/batches/${randomUUID()}`)).status).toBe(404);
  expect((await s.captain.post(`/api/batches/${randomUUID()}/draws`, { draws: [s.landing(a, 1)] })).status).toBe(404);
});

test('the same key makes one batch', async () => {
  const a = await s.land();
  const key = randomUUID();
  const body = { draws: [s.landing(a, 1000)] };
  const [first, second] = [await s.captain.post('/api/batches', body, key), await s.captain.post('/api/batches', body, key)];
  expect(second.body).toEqual(first.body);
  expect((await s.captain.post('/api/batches', { draws: [s.landing(a, 1001)] }, key)).body.code).toBe('key-reused');
  const [row] = await s.club.database.query<any>('', `select drawn_grams as d from landing where id = $1`, [a]);
  expect(row.d).toBe(1000);
});

test('a lot code is never changed, not even past the service', async () => {
  const batch = await s.make([]);
  await expect(s.club.database.query('', `update batch set lot = 'XXX-XXXX' where id = $1`, [batch.id])).rejects.toThrow('a lot code is assigned once');
});

test('two lots of one day never share a code: the service asks for another', async () => {
  let calls = 0;
  const context = { ...s.club.context, random: (n: number) => new Uint8Array(n).fill((calls += 1) <= 3 ? 7 : 11) };
  const unit = () => beginUnit(context, { id: s.crew.id, name: s.crew.name, role: 'crew' }, randomUUID(), null);
  const body = batchBody.parse({});
  const [one, two] = [await createBatch(context, unit(), body), await createBatch(context, unit(), body)];
  expect(calls).toBe(4);
  expect(two.lot).not.toBe(one.lot);
});

test('name, note, ingredients and allergens are changed by version', async () => {
  const batch = await s.make([]);
  const changed = await s.crew.patch(`/api/batches/${batch.id}`, { version: 1, name: 'Beech-smoked', ingredients: 'Salt, sugar', allergens: ['fish', 'fish', 'mustard'] });
  expect(changed.body).toMatchObject({ name: 'Beech-smoked', ingredients: 'Salt, sugar', allergens: ['fish', 'mustard'], version: 2 });
  const stale = await s.crew.patch(`/api/batches/${batch.id}`, { version: 1, note: 'Mine' });
  expect([stale.status, stale.body.code]).toEqual([409, 'stale-edit']);
  expect((await s.crew.patch(`/api/batches/${batch.id}`, { version: 2, name: '' })).status).toBe(400);
  expect((await s.crew.patch(`/api/batches/${batch.id}`, { version: 2, colour: 'red' })).status).toBe(400);
});

test('bad weights and kinds are refused by name', async () => {
  const a = await s.land();
  for (const grams of [0, -5, 1.5, 1e12]) {
    const { status, body } = await s.captain.post('/api/batches', { draws: [s.landing(a, grams)] });
    expect([status, body.errors[0].field]).toEqual([400, 'draws.0.grams']);
  }
  expect((await s.captain.post('/api/batches', { draws: [{ source: { kind: 'sea', id: a } }] })).status).toBe(400);
  expect((await s.captain.post('/api/batches', { draws: [s.landing(randomUUID(), 1)] })).status).toBe(404);
  expect((await s.captain.post('/api/batches', { name: 'x'.repeat(10_000) })).status).toBe(400);
  const gone = await s.land({ withdrawn_at: new Date() });
  expect((await s.captain.post('/api/batches', { draws: [s.landing(gone)] })).body.detail).toContain('was taken out');
});
