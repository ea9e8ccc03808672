import { afterAll, beforeAll, expect, test } from 'vitest';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';
import { smokedBatch } from '../support/smoked-batch.ts';

let club: TestClub;
let captain: Person, crew: Person, member: Person;
beforeAll(async () => {
  club = await testClub();
  [captain, crew, member] = [await club.person('captain', 'Isla Muir'), await club.person('crew'), await club.person('member')];
});
afterAll(() => club.close());

const smoker = (name: string, more = {}) => ({ name, kind: 'smoker', capacityUnit: 'racks', capacity: 4, ...more });

test('a captain adds a station and everybody sees what it serves', async () => {
  const made = await captain.post('/api/stations', smoker('Old smoker', { opensAt: '06:00', closesAt: '23:00', note: 'drips' }));
  expect(made.status).toBe(201);
  expect(made.body).toMatchObject({ name: 'Old smoker', serves: ['dry', 'smoke'], opensAt: '06:00', closesAt: '23:00', retired: false, version: 1 });
  expect((await member.get('/api/stations')).body.items.map((s: { name: string }) => s.name)).toContain('Old smoker');
});

test('crew, members and strangers add and change none', async () => {
  for (const person of [crew, member]) expect((await person.post('/api/stations', smoker('Nobody’s'))).status).toBe(403);
  expect((await club.stranger.get('/api/stations')).status).toBe(401);
});

test('a name is taken once; hours come in pairs; capacity is above zero', async () => {
  await captain.post('/api/stations', smoker('Twin'));
  expect((await captain.post('/api/stations', smoker('Twin'))).body.code).toBe('name-taken');
  expect((await captain.post('/api/stations', smoker('Half', { opensAt: '06:00' }))).body.errors[0].field).toBe('closesAt');
  expect((await captain.post('/api/stations', smoker('None', { capacity: 0 }))).status).toBe(400);
});

test('a stale edit is refused with what changed', async () => {
  const { body } = await captain.post('/api/stations', smoker('Stale'));
  await captain.patch(`/api/stations/${body.id}`, { version: 1, note: 'first' });
  const late = await captain.patch(`/api/stations/${body.id}`, { version: 1, note: 'second' });
  expect(late.body).toMatchObject({ code: 'stale-edit', changes: [{ field: 'note', yours: 'second', theirs: 'first' }, { field: 'version', yours: 1, theirs: 2 }] });
});

test('a station does not change under what is booked on it', async () => {
  const { body: station } = await captain.post('/api/stations', smoker('Booked'));
  const batch = await smokedBatch(club, crew);
  const slot = await crew.post('/api/slots', { stationId: station.id, batchId: batch.id, stageKind: 'smoke', startsAt: '2026-06-11T08:00:00Z', endsAt: '2026-06-11T12:00:00Z', amount: 3 });
  expect(slot.status).toBe(201);
  const smaller = await captain.patch(`/api/stations/${station.id}`, { version: 1, capacity: 2 });
  expect(smaller.body).toMatchObject({ code: 'over-booked', detail: '3 racks of Booked is booked at one time. Move slots first, or choose at least that much.' });
  const shorter = await captain.patch(`/api/stations/${station.id}`, { version: 1, opensAt: '10:00', closesAt: '20:00' });
  expect(shorter.body.detail).toContain('Thu 11 Jun 2026, 09:00');
  expect((await captain.patch(`/api/stations/${station.id}`, { version: 1, retired: true })).status).toBe(409);
  expect((await crew.patch(`/api/slots/${slot.body.id}`, { version: 1, cancelled: true })).status).toBe(200);
  expect((await captain.patch(`/api/stations/${station.id}`, { version: 1, retired: true })).body).toMatchObject({ retired: true, version: 2 });
});
