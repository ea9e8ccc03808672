import { afterAll, beforeAll, expect, test } from 'vitest';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

const correct = async (landingId: string, change: object) => {
  const { version } = (await s.crew.get(`/api/landings/${landingId}`)).body;
  const { status, body } = await s.crew.patch(`/api/landings/${landingId}`, { version, reason: 'Looked again', ...change });
  expect([status, body]).toMatchObject([200, {}]);
};

test('a name that nobody typed follows the species when it is corrected, and into what was split off; a typed one stays and says so', async () => {
  const landingId = await s.land();
  const batch = await s.make([s.landing(landingId, 2000)]);
  const part = await s.make([s.fromBatch(batch.id, 500)]);
  const typed = await s.make([s.landing(landingId, 1000)], { name: 'Ann’s mackerel for the feast' });
  const special = await s.make([s.landing(landingId, 1000)], { name: 'Midsummer special' });
  expect([batch, part, typed, special].map((b) => [b.name, b.nameTyped, b.nameSays])).toEqual([
    ['Hot-smoked Atlantic mackerel', false, null], ['Hot-smoked Atlantic mackerel', false, null], ['Ann’s mackerel for the feast', true, null], ['Midsummer special', true, null],
  ]);
  await correct(landingId, { speciesCode: 'atlantic-herring' });
  const names = await Promise.all([batch, part, typed, special].map(async (b) => { const p = await s.page(b); return [p.name, p.nameSays]; }));
  expect(names).toEqual([
    ['Hot-smoked Atlantic herring', null], ['Hot-smoked Atlantic herring', null], ['Ann’s mackerel for the feast', 'mackerel'], ['Midsummer special', null],
  ]);
  const entry = (await s.captain.get(`/api/record?subjectKind=batch&subjectId=${batch.id}`)).body.items.find((e: any) => e.fields.some((f: any) => f.field === 'name' && f.before));
  expect(entry).toMatchObject({ reason: 'Looked again', fields: [{ field: 'name', before: 'Hot-smoked Atlantic mackerel', after: 'Hot-smoked Atlantic herring' }] });
});

test('a batch that nobody named follows its species when the club renames it', async () => {
  const own = (await s.crew.post('/api/species', { name: 'Hornfish', maxFishGrams: 2000 })).body;
  const landingId = await s.land();
  await correct(landingId, { speciesCode: own.code });
  const batch = await s.make([s.landing(landingId, 2000)]);
  const part = await s.make([s.fromBatch(batch.id, 500)]);
  expect((await s.crew.patch(`/api/species/${own.code}`, { version: own.version, name: 'Garfish' })).status).toBe(200);
  expect([(await s.page(batch)).name, (await s.page(part)).name]).toEqual(['Hot-smoked Garfish', 'Hot-smoked Garfish']);
});

test('a name edited by hand is typed from then on; an edit that leaves the name alone is none', async () => {
  const landingId = await s.land();
  const [kept, renamed] = [await s.make([s.landing(landingId, 1000)]), await s.make([s.landing(landingId, 1000)])];
  await s.crew.patch(`/api/batches/${kept.id}`, { version: kept.version, name: kept.name, note: 'Thick pieces' });
  await s.crew.patch(`/api/batches/${renamed.id}`, { version: renamed.version, name: 'Supper' });
  await correct(landingId, { speciesCode: 'pollack' });
  expect([(await s.page(kept)).name, (await s.page(renamed)).name]).toEqual(['Hot-smoked pollack', 'Supper']);
});

test('an empty batch takes its name from what is drawn first, and gives it back with the draw', async () => {
  const batch = await s.make([]);
  expect(batch.name).toBe('Hot-smoked fish');
  const drawn = (await s.captain.post(`/api/batches/${batch.id}/draws`, { draws: [s.landing(await s.land(), 1000)] })).body;
  expect(drawn.name).toBe('Hot-smoked Atlantic mackerel');
  const undone = await s.captain.patch(`/api/draws/${drawn.draws[0].id}`, { version: 1, cancelled: true });
  expect(undone.body.name).toBe('Hot-smoked fish');
});

test('raw packs count from the day of the catch (rule date.raw): a corrected time, or trip day, redates them, also in what was split off', async () => {
  const tripId = await s.rows.trip(await s.rows.boat(), { day: '2026-06-09' });
  const landingId = await s.rows.landing(tripId, { ...s.of(s.ann), species_code: 'atlantic-cod', grams: 5000, caught_at: '2026-06-09T08:00:00Z' });
  const batch = await s.make([s.landing(landingId, 2000)], { productKind: 'raw' });
  const part = await s.make([s.fromBatch(batch.id, 500)], { productKind: 'raw' });
  await s.pack(batch, [200]);
  await s.pack(part, [200]);
  const days = async () => Promise.all([batch, part].map(async (b) => (await s.page(b)).packs[0].lastDay));
  const [first] = await days();
  const shift = (day: string, by: number) => new Date(Date.parse(day) + by * 86_400_000).toISOString().slice(0, 10);
  await correct(landingId, { caughtAt: '2026-06-08T08:00:00.000Z' });
  expect(await days()).toEqual([shift(first, -1), shift(first, -1)]);
  await correct(landingId, { caughtAt: null });
  expect(await days()).toEqual([first, first]);
  const trip = (await s.crew.get(`/api/trips/${tripId}`)).body;
  const moved = await s.crew.patch(`/api/trips/${tripId}`, { version: trip.version, day: '2026-06-07' });
  expect([moved.status, moved.body]).toMatchObject([200, { day: '2026-06-07' }]);
  expect(await days()).toEqual([shift(first, -2), shift(first, -2)]);
});

test('a weight off a lot with several people’s trays is refused with what to do instead', async () => {
  const [mine, yours] = [await s.land({ pooling: 'tray' }), await s.land({ pooling: 'tray', ...s.of(s.ben) })];
  const lot = await s.make([s.landing(mine, 1000), s.landing(yours, 1000)]);
  const { status, body } = await s.captain.post('/api/batches', { draws: [s.fromBatch(lot.id, 500)] });
  expect([status, body.code, body.errors[0].remedy]).toEqual([409, 'would-mix', expect.stringContaining('lower the draw of one landing in that lot')]);
  const draw = lot.draws[0];
  expect((await s.captain.patch(`/api/draws/${draw.id}`, { version: draw.version, grams: 500 })).status).toBe(200);
  expect((await s.captain.post('/api/batches', { draws: [s.landing(mine, 500)] })).status).toBe(201);
});
