import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';
import { rowsIn } from '../support/rows.ts';

let club: TestClub;
let captain: Person, crew: Person, member: Person;
let boatId: string;
let rows: ReturnType<typeof rowsIn>;
beforeAll(async () => {
  club = await testClub({ now: '2026-06-10T23:30:00Z', timeZone: 'Europe/Oslo' });
  [captain, crew, member] = [await club.person('captain', 'Isla Muir'), await club.person('crew', 'Rory Vik'), await club.person('member', 'Ann Holm')];
  rows = rowsIn(club.database, captain.id);
  boatId = await rows.boat({ name: 'Kittiwake' });
});
afterAll(() => club.close());

const trip = (more: object = {}) => ({ boatId, day: '2026-06-09', area: 'Outer bank', ...more });

test('crew record a trip with who was aboard and their shares; a member reads it', async () => {
  const { status, body } = await crew.post('/api/trips', trip({ note: 'light wind', people: [{ memberId: member.id, shareWeight: 1.5 }, { guestName: 'Per', shareWeight: 0 }] }));
  expect(status).toBe(201);
  expect(body).toMatchObject({ boat: { name: 'Kittiwake' }, day: '2026-06-09', area: 'Outer bank', open: true, landingCount: 0, landedGrams: 0, leftGrams: 0, version: 1 });
  expect(body.people).toEqual([
    { memberId: member.id, guestName: null, name: 'Ann Holm', shareWeight: 1.5 },
    { memberId: null, guestName: 'Per', name: 'Per', shareWeight: 0 },
  ]);
  const read = await member.get(`/api/trips/${body.id}`);
  expect(read.body).toEqual({ ...body, landings: [] });
  expect((await member.get(`/api/trips/${body.id}`, { 'if-none-match': String(read.headers['etag']) })).status).toBe(304);
});

test('members and strangers record and change no trip', async () => {
  const id = await rows.trip(boatId);
  expect((await member.post('/api/trips', trip())).status).toBe(403);
  expect((await member.patch(`/api/trips/${id}`, { version: 1, open: false })).status).toBe(403);
  expect((await club.stranger.post('/api/trips', trip())).status).toBe(401);
  expect((await club.stranger.get('/api/trips')).status).toBe(401);
  expect((await club.stranger.get(`/api/trips/${id}`)).status).toBe(401);
});

test('the day counts in the club’s zone: past midnight in Oslo the 11th is today, the 12th is the future', async () => {
  expect((await crew.post('/api/trips', trip({ day: '2026-06-11' }))).status).toBe(201);
  const future = await crew.post('/api/trips', trip({ day: '2026-06-12' }));
  expect(future.status).toBe(422);
  expect(future.body.errors[0]).toMatchObject({ field: 'day', value: '2026-06-12', remedy: 'Enter the day you were out, 2026-06-11 at the latest.' });
  expect((await crew.post('/api/trips', trip({ day: '1999-12-31' }))).body.errors[0]).toMatchObject({ field: 'day', remedy: 'Check the year.' });
  expect((await crew.post('/api/trips', trip({ day: '2026-02-30' }))).status).toBe(400);
});

test('boats: unknown and retired ones are refused', async () => {
  expect((await crew.post('/api/trips', trip({ boatId: randomUUID() }))).body.errors[0].field).toBe('boatId');
  const retired = await rows.boat({ name: 'Old Tern', retired_at: '2026-01-01T00:00:00Z' });
  expect((await crew.post('/api/trips', trip({ boatId: retired }))).body.detail).toContain('Old Tern is retired');
});

test('people: unknown, listed twice, both member and guest, absurd shares are refused by their place in the list', async () => {
  const people = async (...list: object[]) => (await crew.post('/api/trips', trip({ people: list }))).body;
  expect((await people({ guestName: 'Per' }, { memberId: randomUUID() })).errors[0]).toMatchObject({ field: 'people.1.memberId' });
  expect((await people({ memberId: member.id }, { memberId: member.id })).errors[0]).toMatchObject({ field: 'people.1' });
  expect((await people({ guestName: 'Per' }, { guestName: 'PER' })).errors[0]).toMatchObject({ field: 'people.1' });
  expect((await people({ guestName: 'Per', memberId: member.id })).errors[0].field).toBe('people.0');
  expect((await people({ guestName: 'Per', shareWeight: -1 })).errors[0]).toMatchObject({ field: 'people.0.shareWeight', value: -1 });
  expect((await people({ guestName: 'Per', shareWeight: 0.333 })).errors[0]).toMatchObject({ field: 'people.0.shareWeight', value: 0.333 });
  expect((await people({ guestName: 'x'.repeat(10_000) })).errors[0]).toMatchObject({ field: 'people.0.guestName', message: 'Keep the name within 80 characters' });
  expect((await people({ guestName: 'Per 🎣' })).people[0].name).toBe('Per 🎣');
});

test('somebody who left may be named for a day on which they still belonged, not for a later one', async () => {
  const gone = await club.person('member', 'Bo Berg');
  await club.database.query('test-left', `update member set left_at = '2026-05-20T10:00:00Z' where id = $1`, [gone.id]);
  expect((await crew.post('/api/trips', trip({ day: '2026-05-20', people: [{ memberId: gone.id }] }))).status).toBe(201);
  const later = await crew.post('/api/trips', trip({ day: '2026-05-21', people: [{ memberId: gone.id }] }));
  expect(later.status).toBe(422);
  expect(later.body.detail).toContain('Bo Berg left the club on 2026-05-20');
});

test('a change keeps whoever stays aboard, and the record tells only what changed', async () => {
  const { body: made } = await crew.post('/api/trips', trip({ people: [{ guestName: 'Per' }, { guestName: 'Siri' }] }));
  const changed = await crew.patch(`/api/trips/${made.id}`, { version: 1, area: 'Inner bank', people: [{ guestName: 'Per', shareWeight: 2 }, { guestName: 'Kari' }] });
  expect(changed.body).toMatchObject({ area: 'Inner bank', version: 2 });
  expect(changed.body.people.map((p: { name: string; shareWeight: number }) => [p.name, p.shareWeight])).toEqual([['Kari', 1], ['Per', 2]]);
  const entries = await club.database.query<{ subject_kind: string; action: string }>(
    'test-trip-entries', `select subject_kind, action from record_entry where (subject_id = $1 or parent_id = $1) and action <> 'created' order by id`, [made.id]);
  expect(entries).toEqual([{ subject_kind: 'trip', action: 'changed' }, { subject_kind: 'trip-person', action: 'removed' }, { subject_kind: 'trip-person', action: 'changed' }]);
});

test('a stale change is refused with what somebody else changed, and nothing is written', async () => {
  const { body: made } = await crew.post('/api/trips', trip());
  await captain.patch(`/api/trips/${made.id}`, { version: 1, area: 'North reef' });
  const late = await crew.patch(`/api/trips/${made.id}`, { version: 1, area: 'South reef', note: 'choppy', people: [{ guestName: 'Per' }] });
  expect(late.status).toBe(409);
  expect(late.body.changes).toContainEqual({ field: 'area', yours: 'South reef', theirs: 'North reef' });
  expect(late.body.changes).toContainEqual({ field: 'version', yours: 1, theirs: 2 });
  expect((await crew.get(`/api/trips/${made.id}`)).body).toMatchObject({ area: 'North reef', note: '', people: [] });
});

test('two changes of one version at once: one is made, the other is stale', async () => {
  const { body: made } = await crew.post('/api/trips', trip());
  const answers = await Promise.all([captain.patch(`/api/trips/${made.id}`, { version: 1, area: 'A' }), crew.patch(`/api/trips/${made.id}`, { version: 1, area: 'B' })]);
  expect(answers.map((a) => a.status).sort()).toEqual([200, 409]);
});

test('a trip is closed and opened again', async () => {
  const { body: made } = await crew.post('/api/trips', trip());
  expect((await crew.patch(`/api/trips/${made.id}`, { version: 1, open: false })).body).toMatchObject({ open: false, version: 2 });
  expect((await crew.patch(`/api/trips/${made.id}`, { version: 2, open: true })).body).toMatchObject({ open: true, version: 3 });
  expect((await crew.patch(`/api/trips/${randomUUID()}`, { version: 1, open: true })).status).toBe(404);
  expect((await crew.get('/api/trips/not-an-id')).status).toBe(400);
});

test('the same key twice at once makes one trip with one list of people', async () => {
  const key = randomUUID();
  const body = trip({ area: 'Twice', people: [{ guestName: 'Per' }] });
  const answers = await Promise.all([1, 2, 3].map(() => crew.post('/api/trips', body, key)));
  expect(answers.map((a) => a.status)).toEqual([201, 201, 201]);
  expect(answers[1]!.body).toEqual(answers[0]!.body);
  expect(await club.database.query('test-twice', `select p.guest_name from trip t join trip_person p on p.trip_id = t.id where t.area = 'Twice'`)).toEqual([{ guest_name: 'Per' }]);
});

test('totals leave out landings that were taken out', async () => {
  const id = await rows.trip(boatId);
  const landing = await rows.landing(id, { grams: 4000 });
  await rows.landing(id, { grams: 900, withdrawn_at: '2026-06-10T07:00:00Z' });
  await rows.draw(await rows.batch(), landing, 1500);
  expect((await member.get(`/api/trips/${id}`)).body).toMatchObject({ landingCount: 1, landedGrams: 4000, leftGrams: 2500 });
});

test('120 trips are paged newest first while others are added: none twice, none left out', async () => {
  const own = await testClub();
  try {
    const reader = await own.person('member');
    const ownRows = rowsIn(own.database, reader.id);
    const boat = await ownRows.boat();
    const day = (n: number) => new Date(Date.UTC(2026, 0, 1 + Math.floor(n / 3))).toISOString().slice(0, 10);
    for (let n = 0; n < 120; n += 1) await ownRows.trip(boat, { day: day(n), area: `trip ${n}` });
    const seen: { id: string; day: string; area: string }[] = [];
    let cursor: string | null = null;
    do {
      const { body } = await reader.get(`/api/trips?limit=25${cursor ? `&cursor=${cursor}` : ''}`);
      expect(body.items.length).toBeLessThanOrEqual(25);
      seen.push(...body.items);
      cursor = body.nextCursor;
      // One newer than all, one on the very day that the page ended on, one older than all.
      await ownRows.trip(boat, { day: '2026-06-10', area: 'added' });
      await ownRows.trip(boat, { day: '2025-01-01', area: 'added' });
    } while (cursor);
    const first = seen.filter((t) => t.area !== 'added');
    expect(new Set(first.map((t) => t.id)).size).toBe(120);
    expect(first.length).toBe(120);
    expect(new Set(seen.map((t) => t.id)).size).toBe(seen.length);
    const order = seen.map((t) => `${t.day} ${t.id}`);
    expect(order).toEqual([...order].sort().reverse());
  } finally {
    await own.close();
  }
});

test('a cursor of another list, a broken one and a wild limit are refused', async () => {
  for (const cursor of ['abc', Buffer.from('["2026-02-31","x"]').toString('base64url'), Buffer.from('[1,2]').toString('base64url')]) {
    const answer = await member.get(`/api/trips?cursor=${cursor}`);
    expect(answer.status).toBe(400);
    expect(answer.body.errors[0]).toMatchObject({ field: 'cursor', remedy: 'Read the list from its start.' });
  }
  expect((await member.get('/api/trips?limit=1000')).body.errors[0].field).toBe('limit');
});
