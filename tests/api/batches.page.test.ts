import { afterAll, beforeAll, expect, test } from 'vitest';
import { batchDetail, batchList } from '../../server/contract/batches.ts';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
/** A smoked batch with slots, packs, a claim, a hand-over, a split and a dip made from it. */
let full: any;
beforeAll(async () => {
  s = await smokehouse();
  const batch = await s.make([s.landing(await s.land({ pooling: 'pooled' }), 5000), s.landing(await s.land({ ...s.of(s.ben), pooling: 'pooled', fish_count: null }), 500)]);
  const station = await s.rows.station({ name: 'Old smoker' });
  await s.rows.slot(station, batch.id, { starts_at: s.at('09:00'), ends_at: s.at('13:00') });
  await s.stage(batch, 'prepare', '07:00', '08:00', { massOutG: 3000, trimG: 2400 });
  await s.smoked(batch);
  await s.make([s.fromBatch(batch.id, 300)]);
  const packs = await s.pack(batch, [200, 210, 220, 230]);
  await s.captain.post('/api/hand-overs', { packIds: [packs[0]!.id], to: { memberId: s.ann.id } });
  await s.ann.post('/api/claims', { packId: packs[1]!.id });
  await s.ben.post('/api/claims', { packId: packs[2]!.id });
  await s.make([s.fromPack(packs[3]!.id)], { productKind: 'dip' });
  full = await s.page(batch);
});
afterAll(() => s.club.close());

test('what is sent satisfies the contract, to each role', async () => {
  const dipId = full.drawnBy.find((d: any) => d.name.includes('dip')).id;
  const empty = await s.make([]);
  for (const person of [s.captain, s.crew, s.ann]) {
    for (const id of [full.id, dipId, empty.id]) {
      const answer = await person.get(`/api/batches/${id}`);
      expect(answer.headers['content-type']).toBe('application/json; charset=utf-8');
      expect(batchDetail.strict().parse(answer.body)).toEqual(answer.body);
    }
    const list = (await person.get('/api/batches')).body;
    expect(batchList.parse(list)).toEqual(list);
  }
});

test('everything on the page is there', () => {
  expect(full).toMatchObject({ onHandGrams: 1340, packCount: 4, packedGrams: 860, verdict: 'clear', species: ['Atlantic mackerel'] });
  expect(full.slots).toMatchObject([{ station: { name: 'Old smoker', kind: 'smoker' }, batch: { lot: full.lot }, startsAt: s.at('09:00') }]);
  expect(full.packs.map((p: any) => [p.packNo, p.status, p.holder, p.claim?.member.name ?? null])).toEqual([
    [1, 'handed-over', 'Ann Holm', null], [2, 'claimed', null, 'Ann Holm'], [3, 'claimed', null, 'Ben Skaw'], [4, 'used', null, null],
  ]);
  expect(full.drawnBy.map((d: any) => d.grams).sort()).toEqual([230, 300]);
  expect(full.origins.map((o: any) => [o.landedGrams, o.fish])).toEqual([[5000, 10], [500, null]]);
});

test('a member sees no other person’s packs or claims; theirs are marked', async () => {
  const page = await s.page(full, s.ben);
  expect(page.packs.map((p: any) => [p.packNo, p.holder, p.claim?.member.name ?? null, p.mine])).toEqual([
    [1, null, null, false], [2, null, null, false], [3, null, 'Ben Skaw', true], [4, null, null, false],
  ]);
  expect((await s.page(full, s.ann)).packs.map((p: any) => [p.holder, p.mine]).slice(0, 2)).toEqual([['Ann Holm', true], [null, true]]);
});

test('a browser that has the page is told so, until anything on it changes', async () => {
  const url = `/api/batches/${full.id}`;
  const first = await s.crew.get(url);
  const tag = first.headers['etag'] as string;
  expect(first.headers['cache-control']).toBe('private, no-cache');
  const again = await s.crew.get(url, { 'if-none-match': `W/"x", ${tag}` });
  expect([again.status, again.raw.length, again.headers['etag']]).toEqual([304, 0, tag]);
  expect((await s.ben.get(url, { 'if-none-match': tag })).status).toBe(200);

  let known = tag;
  const changes: [string, () => Promise<unknown>][] = [
    ['a landing', () => s.club.database.query('', `update landing set fish_count = 11 where id = $1`, [full.origins[0].landingId])],
    ['a name', () => s.club.database.query('', `update member set name = 'Ann Holm-Skaw' where id = $1`, [s.ann.id])],
    ['a trip', () => s.club.database.query('', `update trip set area = 'Inner bank' where id = $1`, [s.tripId])],
    ['a station', () => s.club.database.query('', `update station set name = 'New smoker' where id = $1`, [full.slots[0].station.id])],
    ['the club’s time zone', () => s.club.database.query('', `update club set time_zone = 'Europe/Oslo'`)],
    ['a slot', () => s.club.database.query('', `update slot set amount = 3 where batch_id = $1`, [full.id])],
    ['a pack', () => s.club.database.query('', `update pack set print_count = 1 where id = $1`, [full.packs[0].id])],
    ['a claim', () => s.club.database.query('', `update claim set note = 'Please' where id = $1`, [full.packs[1].claim.id])],
    ['a batch made from it', () => s.crew.patch(`/api/batches/${full.drawnBy[0].id}`, { version: 1, name: 'Renamed' })],
    ['the batch', () => s.crew.patch(url, { version: 1, note: 'Windy' })],
  ];
  for (const [what, change] of changes) {
    await change();
    const answer = await s.crew.get(url, { 'if-none-match': known });
    expect([what, answer.status]).toEqual([what, 200]);
    expect(answer.headers['etag']).not.toBe(known);
    known = answer.headers['etag'] as string;
    expect((await s.crew.get(url, { 'if-none-match': known })).status).toBe(304);
  }
});

test('a page below changes with the lots above it', async () => {
  const child = full.drawnBy.find((d: any) => !d.name.includes('dip') && d.grams === 300) ?? full.drawnBy.find((d: any) => d.grams === 300);
  const url = `/api/batches/${child.id}`;
  const tag = (await s.crew.get(url)).headers['etag'] as string;
  const smoke = full.stages.find((x: any) => x.kind === 'smoke');
  expect((await s.crew.patch(`/api/stages/${smoke.id}`, { version: 1, holdMinutes: 36 })).status).toBe(200);
  expect((await s.crew.get(url, { 'if-none-match': tag })).status).toBe(200);
});

test('the list: newest first, in pages that lose and repeat nothing, by word, lot and whether it is open', async () => {
  for (let i = 0; i < 5; i += 1) await s.make([], { name: `Trial 100% ${i}` });
  const all: any[] = [];
  let cursor: string | null = '';
  while (cursor !== null) {
    const { body } = await s.ann.get(`/api/batches?limit=3${cursor ? `&cursor=${cursor}` : ''}`);
    all.push(...body.items);
    cursor = body.nextCursor;
  }
  expect(new Set(all.map((b) => b.id)).size).toBe(all.length);
  expect(all.map((b) => b.id)).toEqual((await s.ann.get('/api/batches?limit=100')).body.items.map((b: any) => b.id));
  expect(all.find((b) => b.id === full.id)).toMatchObject({ species: ['Atlantic mackerel'], packCount: 4, lastStage: 'pack', running: { kind: 'pack' } });
  const named = async (q: string) => (await s.ann.get(`/api/batches?q=${encodeURIComponent(q)}`)).body.items.map((b: any) => b.id);
  expect(await named('trial 100%')).toHaveLength(5);
  expect(await named('100_')).toEqual([]);
  expect(await named(full.lot.toLowerCase().replace('-', ' '))).toEqual([full.id]);
  expect((await s.ann.get('/api/batches?open=false')).body.items).toEqual([]);
  expect((await s.ann.get('/api/batches?open=true&limit=100')).body.items).toHaveLength(all.length);
  expect((await s.ann.get('/api/batches?cursor=nonsense')).status).toBe(400);
});
