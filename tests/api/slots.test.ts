import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';
import { smokedBatch } from '../support/smoked-batch.ts';
import type { Smoked } from '../support/smoked-batch.ts';

let club: TestClub;
let captain: Person, crew: Person, member: Person;
beforeAll(async () => {
  // Noon of 10 June in UTC is 13:00 in London.
  club = await testClub({ now: '2026-06-10T12:00:00Z' });
  [captain, crew, member] = [await club.person('captain', 'Isla Muir'), await club.person('crew', 'Rob Tait'), await club.person('member')];
});
afterAll(() => club.close());

let count = 0;
const station = async (more: object = {}): Promise<string> =>
  (await captain.post('/api/stations', { name: `Station ${(count += 1)}`, kind: 'refrigerator', capacityUnit: 'grams', capacity: 20_000, ...more })).body.id;
const book = (stationId: string, batch: Smoked, from: string, to: string, amount = 5000, stageKind = 'cure') =>
  crew.post('/api/slots', { stationId, batchId: batch.id, stageKind, startsAt: from, endsAt: to, amount });
/** Finished stages would stand before every slot in time; these batches have none. */
const fresh = async (): Promise<Smoked> => {
  const batch = await smokedBatch(club, crew);
  await club.database.query('t-no-stage', `update stage set cancelled_at = now() where batch_id = $1`, [batch.id]);
  return batch;
};

test('crew books a slot; everybody sees it in its span of time and nobody outside', async () => {
  const [place, batch] = [await station(), await fresh()];
  const made = await book(place, batch, '2026-06-11T08:00:00Z', '2026-06-11T14:00:00Z');
  expect(made.status).toBe(201);
  expect(made.body).toMatchObject({ stageKind: 'cure', amount: 5000, batch: { lot: batch.lot }, createdBy: { name: 'Rob Tait' }, startsAt: '2026-06-11T08:00:00.000Z', version: 1 });
  const seen = await member.get('/api/slots?from=2026-06-11T13:59:00Z&to=2026-06-12T00:00:00Z');
  expect(seen.body.items.map((s: { id: string }) => s.id)).toContain(made.body.id);
  const after = await member.get('/api/slots?from=2026-06-11T14:00:00Z&to=2026-06-12T00:00:00Z');
  expect(after.body.items.map((s: { id: string }) => s.id)).not.toContain(made.body.id);
  expect((await member.get('/api/slots?from=2026-06-01T00:00:00Z&to=2026-08-03T00:00:00Z')).body.errors[0].field).toBe('to');
  expect((await member.post('/api/slots', {})).status).toBe(403);
});

test('more than there is room for is refused with what is free and when', async () => {
  const place = await station();
  await book(place, await fresh(), '2026-06-11T08:00:00Z', '2026-06-11T14:00:00Z', 12_000);
  await book(place, await fresh(), '2026-06-11T10:00:00Z', '2026-06-11T12:00:00Z', 5000);
  const over = await book(place, await fresh(), '2026-06-11T09:00:00Z', '2026-06-11T16:00:00Z', 8000);
  expect(over.body.code).toBe('over-booked');
  expect(over.body.detail).toMatch(/has 3 kg of 20 kg free at Thu 11 Jun 2026, 11:00; this asks for 8 kg\. Take less, another time or another station\.$/);
  expect((await book(place, await fresh(), '2026-06-11T09:00:00Z', '2026-06-11T16:00:00Z', 3000)).status).toBe(201);
  expect((await book(place, await fresh(), '2026-06-11T12:00:00Z', '2026-06-11T14:00:00Z', 5001)).status).toBe(409);
  const never = await book(place, await fresh(), '2026-06-12T12:00:00Z', '2026-06-12T14:00:00Z', 20_001);
  expect(never.body.detail).toContain('holds 20 kg in all');
});

test('slots that meet end to start share no moment', async () => {
  const place = await station({ capacity: 5000 });
  expect((await book(place, await fresh(), '2026-06-11T08:00:00Z', '2026-06-11T10:00:00Z')).status).toBe(201);
  expect((await book(place, await fresh(), '2026-06-11T10:00:00Z', '2026-06-11T12:00:00Z')).status).toBe(201);
});

test('a station takes only the stages it serves, in its hours, unless retired', async () => {
  const batch = await fresh();
  const smoke = await book(await station(), batch, '2026-06-11T08:00:00Z', '2026-06-11T10:00:00Z', 100, 'smoke');
  expect(smoke.body.errors[0]).toMatchObject({ field: 'stageKind', remedy: 'It serves cure, dry, cool.' });
  const hours = await book(await station({ opensAt: '08:00', closesAt: '18:00' }), batch, '2026-06-11T16:00:00Z', '2026-06-11T18:00:00Z');
  expect(hours.body.detail).toContain('is open from Thu 11 Jun 2026, 08:00 to Thu 11 Jun 2026, 18:00.');
  const old = await station();
  await captain.patch(`/api/stations/${old}`, { version: 1, retired: true });
  expect((await book(old, batch, '2026-06-11T08:00:00Z', '2026-06-11T10:00:00Z')).body.detail).toContain('is retired');
});

test('times that cannot be are refused by name', async () => {
  const [place, batch] = [await station(), await fresh()];
  expect((await book(place, batch, '2026-06-10T08:00:00Z', '2026-06-10T12:00:00Z')).body.detail).toContain('is over already');
  expect((await book(place, batch, '2026-06-10T08:00:00Z', '2026-06-10T12:30:00Z')).status).toBe(201);
  expect((await book(place, batch, '2026-06-12T10:00:00Z', '2026-06-12T10:00:00Z')).body.errors[0].field).toBe('endsAt');
  expect((await book(place, batch, '2026-06-12T10:00:00Z', '2026-06-30T10:00:00Z')).body.detail).toContain('at most 14 days');
});

describe('the clock on the wall (Europe/London)', () => {
  test('night hours, across midnight and both clock changes', async () => {
    const night = await station({ opensAt: '22:00', closesAt: '06:00', capacity: 100_000 });
    expect((await book(night, await fresh(), '2026-06-10T22:30:00Z', '2026-06-11T04:30:00Z')).status).toBe(201);
    // 25 October 2026, clocks go back: 22:00 to 06:00 lasts nine hours, 21:00Z to 06:00Z.
    expect((await book(night, await fresh(), '2026-10-24T21:00:00Z', '2026-10-25T06:00:00Z')).status).toBe(201);
    expect((await book(night, await fresh(), '2026-10-24T21:00:00Z', '2026-10-25T06:01:00Z')).status).toBe(409);
    // 28 March 2027, clocks go forward: 22:00Z to 05:00Z, seven hours.
    expect((await book(night, await fresh(), '2027-03-27T22:00:00Z', '2027-03-28T05:00:00Z')).status).toBe(201);
    expect((await book(night, await fresh(), '2027-03-27T22:00:00Z', '2027-03-28T06:00:00Z')).status).toBe(409);
  });
  test('both readings of the hour that comes twice are apart', async () => {
    const place = await station({ capacity: 5000 });
    // 01:00 to 02:00 summer time, then 01:00 to 02:00 winter time.
    expect((await book(place, await fresh(), '2026-10-25T00:00:00Z', '2026-10-25T01:00:00Z')).status).toBe(201);
    expect((await book(place, await fresh(), '2026-10-25T01:00:00Z', '2026-10-25T02:00:00Z')).status).toBe(201);
    const third = await book(place, await fresh(), '2026-10-25T00:30:00Z', '2026-10-25T01:30:00Z', 1);
    expect(third.body.detail).toContain('is full at Sun 25 Oct 2026, 01:30');
  });
});

describe('the order of a batch’s stages', () => {
  test('a slot before an earlier stage has ended names the one it breaks', async () => {
    const [place, batch] = [await station(), await fresh()];
    await book(place, batch, '2026-06-11T08:00:00Z', '2026-06-11T14:00:00Z', 5000, 'cure');
    const early = await book(place, batch, '2026-06-11T12:00:00Z', '2026-06-11T16:00:00Z', 5000, 'dry');
    expect(early.body.code).toBe('stage-order');
    expect(early.body.detail).toContain('Dry would start before cure ends. Cure is booked from Thu 11 Jun 2026, 09:00 to Thu 11 Jun 2026, 15:00.');
    // The form shows what stands at the field: it has to say there which stage, and when.
    expect(early.body.errors).toEqual([{
      field: 'startsAt', value: '2026-06-11T12:00:00.000Z', remedy: 'Choose another time, or move cure first.',
      message: 'Dry would start before cure ends. Cure is booked from Thu 11 Jun 2026, 09:00 to Thu 11 Jun 2026, 15:00.',
    }]);
    const dry = await book(place, batch, '2026-06-11T14:00:00Z', '2026-06-11T16:00:00Z', 5000, 'dry');
    expect(dry.status).toBe(201);
    const moved = await crew.patch(`/api/slots/${dry.body.id}`, { version: 1, startsAt: '2026-06-11T13:00:00Z', endsAt: '2026-06-11T15:00:00Z' });
    expect(moved.body.code).toBe('stage-order');
    expect((await crew.patch(`/api/slots/${dry.body.id}`, { version: 1, startsAt: '2026-06-11T15:00:00Z', endsAt: '2026-06-11T17:00:00Z' })).body).toMatchObject({ startsAt: '2026-06-11T15:00:00.000Z', version: 2 });
  });
  test('what was recorded counts in place of what was planned', async () => {
    const [place, batch] = [await station(), await smokedBatch(club, crew)];
    // Smoking was recorded from 06:00Z to 09:00Z today; cooling may follow, drying may not.
    expect((await book(place, batch, '2026-06-11T06:00:00Z', '2026-06-11T08:00:00Z', 5000, 'cool')).status).toBe(201);
    const dry = await book(place, batch, '2026-06-11T06:00:00Z', '2026-06-11T08:00:00Z', 5000, 'dry');
    expect(dry.body.detail).toContain('Smoke was recorded from Wed 10 Jun 2026, 07:00 to Wed 10 Jun 2026, 10:00');
  });
});

describe('changing a slot', () => {
  test('moves, resizes, goes to another station, is cancelled and comes back only where there is room', async () => {
    const [one, two] = [await station({ capacity: 6000 }), await station({ capacity: 6000 })];
    const slot = (await book(one, await fresh(), '2026-06-11T08:00:00Z', '2026-06-11T10:00:00Z')).body;
    expect((await crew.patch(`/api/slots/${slot.id}`, { version: 1, amount: 6001 })).body.code).toBe('over-booked');
    expect((await crew.patch(`/api/slots/${slot.id}`, { version: 1, stationId: two, amount: 6000 })).body).toMatchObject({ station: { id: two }, amount: 6000, version: 2 });
    expect((await book(one, await fresh(), '2026-06-11T08:00:00Z', '2026-06-11T10:00:00Z', 6000)).status).toBe(201);
    expect((await crew.patch(`/api/slots/${slot.id}`, { version: 2, stationId: one })).body.code).toBe('over-booked');
    expect((await crew.patch(`/api/slots/${slot.id}`, { version: 2, cancelled: true })).body.version).toBe(3);
    expect((await member.get('/api/slots?from=2026-06-11T00:00:00Z&to=2026-06-12T00:00:00Z&stationId=' + two)).body.items).toEqual([]);
    expect((await book(two, await fresh(), '2026-06-11T09:00:00Z', '2026-06-11T11:00:00Z', 1000)).status).toBe(201);
    expect((await crew.patch(`/api/slots/${slot.id}`, { version: 3, cancelled: false })).body.detail).toContain('has 5 kg of 6 kg free');
  });
  test('a stale change is refused with what is there', async () => {
    const slot = (await book(await station(), await fresh(), '2026-06-11T08:00:00Z', '2026-06-11T10:00:00Z')).body;
    await crew.patch(`/api/slots/${slot.id}`, { version: 1, note: 'lid sticks' });
    const late = await crew.patch(`/api/slots/${slot.id}`, { version: 1, amount: 9 });
    expect(late.body).toMatchObject({ code: 'stale-edit', changes: [{ field: 'amount', yours: 9, theirs: 5000 }, { field: 'version', yours: 1, theirs: 2 }] });
  });
  test('a slot that is over still takes a note', async () => {
    const slot = (await book(await station(), await fresh(), '2026-06-10T11:00:00Z', '2026-06-10T12:30:00Z')).body;
    club.clock.now = new Date('2026-06-10T13:00:00Z');
    expect((await crew.patch(`/api/slots/${slot.id}`, { version: 1, note: 'was cold' })).body.note).toBe('was cold');
    expect((await crew.patch(`/api/slots/${slot.id}`, { version: 2, amount: 1 })).status).toBe(422);
    club.clock.now = new Date('2026-06-10T12:00:00Z');
  });
});

test('one slot is read by its id until it is cancelled', async () => {
  const slot = (await book(await station(), await fresh(), '2026-06-11T08:00:00Z', '2026-06-11T10:00:00Z')).body;
  expect((await member.get(`/api/slots/${slot.id}`)).body).toEqual(slot);
  await crew.patch(`/api/slots/${slot.id}`, { version: 1, cancelled: true });
  expect((await member.get(`/api/slots/${slot.id}`)).status).toBe(404);
});

test('the same key books once', async () => {
  const [place, batch] = [await station({ capacity: 5000 }), await fresh()];
  const body = { stationId: place, batchId: batch.id, stageKind: 'cure', startsAt: '2026-06-11T08:00:00Z', endsAt: '2026-06-11T10:00:00Z', amount: 5000 };
  const answers = await Promise.all([1, 2].map(() => crew.post('/api/slots', body, 'the-same-key')));
  expect(answers.map((a) => a.status)).toEqual([201, 201]);
  expect(answers[0]!.body.id).toBe(answers[1]!.body.id);
});
