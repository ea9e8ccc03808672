import { afterAll, beforeAll, expect, test } from 'vitest';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';
import { rowsIn } from '../support/rows.ts';

let club: TestClub;
let captain: Person, crew: Person;
let rows: ReturnType<typeof rowsIn>;
beforeAll(async () => {
  club = await testClub({ now: '2026-06-10T12:00:00Z' });
  [captain, crew] = [await club.person('captain', 'Isla Muir'), await club.person('crew', 'Rob Tait')];
  rows = rowsIn(club.database, captain.id);
});
afterAll(() => club.close());

const at = (time: string) => `2026-06-10T${time}:00.000Z`;
const smoker = () => rows.station({ capacity: 10 });
async function batchOnHand(): Promise<string> {
  const batch = await rows.batch();
  await rows.draw(batch, await rows.landing(await rows.trip(await rows.boat())), 5000);
  return batch;
}
const book = (stationId: string, batchId: string, from: string, to: string, amount = 10) =>
  crew.post('/api/slots', { stationId, batchId, stageKind: 'smoke', startsAt: at(from), endsAt: at(to), amount });
const slotsOf = async (batchId: string) =>
  (await crew.get(`/api/slots?from=2026-06-09T00:00:00Z&to=2026-06-12T00:00:00Z&batchId=${batchId}`)).body.items.map((s: { startsAt: string; endsAt: string }) => [s.startsAt.slice(11, 16), s.endsAt.slice(11, 16)]);
/** Smoking since ten; the answer is the stage. */
async function smoking(batchId: string) {
  const made = await crew.post(`/api/batches/${batchId}/stages`, { kind: 'smoke', startedAt: at('10:00') });
  expect(made.status).toBe(201);
  return made.body.stages.at(-1);
}
const change = (stage: { id: string; version: number }, patch: object) => crew.patch(`/api/stages/${stage.id}`, { version: stage.version, ...patch });
const finish = async (stage: { id: string; version: number }, time: string) => {
  const done = await change(stage, { finishedAt: at(time), massOutG: 4000 });
  expect(done.status).toBe(200);
  return done.body.stages.at(-1);
};

test('a stage that finishes early ends its slot then, drops the one ahead, and another batch may have the station; the record says so', async () => {
  const [place, batch, other] = [await smoker(), await batchOnHand(), await batchOnHand()];
  const stage = await smoking(batch);
  const booked = await book(place, batch, '10:00', '16:00');
  await book(place, batch, '18:00', '20:00');
  expect((await book(place, other, '12:00', '15:00')).body.code).toBe('over-booked');
  await finish(stage, '11:30');
  expect(await slotsOf(batch)).toEqual([['10:00', '11:30']]);
  expect((await book(place, other, '12:00', '15:00')).status).toBe(201);
  const entries = (await crew.get(`/api/record?subjectKind=slot&subjectId=${booked.body.id}`)).body.items;
  expect(entries[0].fields).toContainEqual(expect.objectContaining({ field: 'endsAt', before: at('16:00'), after: at('11:30') }));
});

test('the stage undone, or opened again, has its slots back, but for what somebody else has booked meanwhile', async () => {
  const [place, batch] = [await smoker(), await batchOnHand()];
  const stage = await smoking(batch);
  await book(place, batch, '10:00', '16:00');
  await book(place, batch, '18:00', '20:00');
  const done = await finish(stage, '11:30');
  const open = await change(done, { finishedAt: null });
  expect(open.status).toBe(200);
  expect(await slotsOf(batch)).toEqual([['10:00', '16:00'], ['18:00', '20:00']]);
  const again = await finish(open.body.stages.at(-1), '11:00');
  expect((await book(place, await batchOnHand(), '18:30', '19:00', 1)).status).toBe(201);
  expect((await change(again, { cancelled: true })).status).toBe(200);
  expect(await slotsOf(batch)).toEqual([['10:00', '16:00']]);
});

test('a finish put right moves the end of the slot along', async () => {
  const [place, batch] = [await smoker(), await batchOnHand()];
  const stage = await smoking(batch);
  await book(place, batch, '10:00', '16:00');
  const done = await finish(stage, '11:00');
  expect((await change(done, { finishedAt: at('11:45') })).status).toBe(200);
  expect(await slotsOf(batch)).toEqual([['10:00', '11:45']]);
});

test('a station nobody booked is recorded afterwards for the hours that the stage took, if it had the room; never for others', async () => {
  const [place, batch] = [await smoker(), await batchOnHand()];
  expect((await book(place, batch, '10:00', '11:00')).body.errors[0]).toMatchObject({ field: 'endsAt', message: 'The slot is over already.' });
  const stage = await smoking(batch);
  await finish(stage, '11:30');
  expect((await book(place, batch, '09:00', '11:00')).body.errors[0]).toMatchObject({ field: 'startsAt', remedy: 'Choose a time within it.' });
  expect((await book(place, batch, '10:00', '11:45')).body.errors[0].field).toBe('endsAt');
  expect((await book(place, batch, '10:00', '11:30', 6)).status).toBe(201);
  const second = await batchOnHand();
  await finish(await smoking(second), '11:30');
  expect((await book(place, second, '10:00', '11:30', 6)).body.code).toBe('over-booked');
  expect((await book(place, second, '10:00', '11:30', 4)).status).toBe(201);
});

test('a recall frees what is booked ahead for the batch and for what was made of it; what stands in a station stays, as do other batches', async () => {
  const [place, oven] = [await smoker(), await smoker()];
  const [batch, other] = [await batchOnHand(), await batchOnHand()];
  const part = (await captain.post('/api/batches', { draws: [{ source: { kind: 'batch', id: batch }, grams: 1000 }] })).body;
  await book(place, batch, '11:00', '13:00');
  await book(place, batch, '18:00', '20:00');
  await book(oven, part.id, '15:00', '17:00');
  await book(oven, other, '18:00', '20:00');
  const before = (await crew.get(`/api/batches/${part.id}`)).headers['etag'];
  expect((await captain.post(`/api/batches/${batch}/recall`, { reason: 'The ice was gone' })).status).toBe(200);
  expect([await slotsOf(batch), await slotsOf(part.id), await slotsOf(other)]).toEqual([[['11:00', '13:00']], [], [['18:00', '20:00']]]);
  expect((await crew.get(`/api/batches/${part.id}`)).headers['etag']).not.toBe(before);
  expect((await book(place, other, '18:00', '20:00')).status).toBe(201);
  // Ended, it has to be booked anew: somebody else may have the time by now.
  expect((await captain.post(`/api/batches/${batch}/recall/lift`, { reason: 'It was another box' })).status).toBe(200);
  expect(await slotsOf(batch)).toEqual([['11:00', '13:00']]);
});
