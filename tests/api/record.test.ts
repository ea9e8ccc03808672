import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';
import { rowsIn } from '../support/rows.ts';

let club: TestClub;
let captain: Person, crew: Person, member: Person;
let rows: ReturnType<typeof rowsIn>;
beforeAll(async () => {
  club = await testClub({ now: '2026-06-10T12:00:00Z' });
  [captain, crew, member] = [await club.person('captain', 'Isla Muir'), await club.person('crew', 'Rory Vik'), await club.person('member', 'Ann Holm')];
  rows = rowsIn(club.database, captain.id);
});
afterAll(() => club.close());

type Field = { field: string; before?: unknown; after?: unknown };
const of = async (kind: string, id: string, more = '') => (await crew.get(`/api/record?subjectKind=${kind}&subjectId=${id}${more}`)).body;
const field = (fields: Field[], name: string) => fields.find((f) => f.field === name);

test('who made a boat and who changed it, newest first, with the values before and after', async () => {
  const { body: boat } = await captain.post('/api/boats', { name: 'Kittiwake' });
  club.clock.now = new Date('2026-06-10T13:00:00Z');
  await captain.patch(`/api/boats/${boat.id}`, { version: 1, note: 'new engine', retired: true });
  const { items } = await of('boat', boat.id);
  expect(items.map((e: { action: string }) => e.action)).toEqual(['changed', 'created']);
  expect(items[0]).toMatchObject({ at: '2026-06-10T13:00:00.000Z', by: { id: captain.id, name: 'Isla Muir' }, subjectKind: 'boat', subjectId: boat.id, reason: null });
  expect(field(items[0].fields, 'note')).toEqual({ field: 'note', before: '', after: 'new engine' });
  expect(field(items[0].fields, 'retired')).toEqual({ field: 'retired', before: false, after: true });
  expect(items[1].fields).toEqual([{ field: 'name', after: 'Kittiwake' }]);
});

test('a trip’s record holds its landings and its people, told by name and as the API writes them', async () => {
  const boat = await rows.boat({ name: 'Dunlin' });
  const trip = await rows.trip(boat);
  const person = randomUUID();
  await club.database.query('test-aboard', `insert into trip_person (id, trip_id, member_id, share_hundredths) values ($1, $2, $3, 150)`, [person, trip, member.id]);
  const landing = await rows.landing(trip, { catcher_kind: 'member', catcher_member_id: member.id, caught_at: '2026-06-09T08:00:00Z' });
  await club.database.query('test-lengths', `update landing set lengths_mm = array[305, 310], catcher_kind = 'guest', catcher_member_id = null, catcher_guest = 'Per' where id = $1`, [landing]);
  await club.database.query('test-close', `update trip set closed_at = '2026-06-10T10:00:00Z' where id = $1`, [trip]);
  const { items } = await of('trip', trip);
  expect(items.map((e: { subjectKind: string; action: string }) => `${e.subjectKind} ${e.action}`)).toEqual(['trip changed', 'landing changed', 'landing created', 'trip-person created', 'trip created']);
  const [closed, corrected, landed, aboard, made] = items.map((e: { fields: Field[] }) => e.fields);
  expect(closed).toEqual([{ field: 'open', before: true, after: false }]);
  expect(field(corrected, 'lengthsCm')).toEqual({ field: 'lengthsCm', before: [], after: [30.5, 31] });
  expect(field(corrected, 'catcher')).toEqual({ field: 'catcher', before: 'Ann Holm', after: 'Per' });
  expect(field(landed, 'caughtAt')).toEqual({ field: 'caughtAt', after: '2026-06-09T08:00:00.000Z' });
  expect(field(landed, 'speciesCode')!.after).toBe('atlantic-mackerel');
  expect(field(aboard, 'member')!.after).toEqual({ id: member.id, name: 'Ann Holm' });
  expect(field(aboard, 'shareWeight')!.after).toBe(1.5);
  expect(field(made, 'boat')!.after).toEqual({ id: boat, name: 'Dunlin' });
  expect(items[0].by).toBeNull();
});

test('what is counted by the database itself is no entry', async () => {
  const trip = await rows.trip(await rows.boat());
  const landing = await rows.landing(trip);
  await rows.draw(await rows.batch(), landing, 1000);
  expect((await of('landing', landing)).items.length).toBe(1);
});

test('pages are cut by the entry’s number: entries added meanwhile shift none', async () => {
  const boat = await rows.boat();
  for (let n = 0; n < 11; n += 1) await club.database.query('test-note', `update boat set note = $2 where id = $1`, [boat, `note ${n}`]);
  const notes: unknown[] = [];
  let cursor: string | null = null;
  do {
    const page = await of('boat', boat, `&limit=5${cursor ? `&cursor=${cursor}` : ''}`);
    notes.push(...page.items.map((e: { fields: Field[] }) => field(e.fields, 'note')?.after));
    cursor = page.nextCursor;
    await club.database.query('test-note', `update boat set note = $2 where id = $1`, [boat, `later ${notes.length}`]);
  } while (cursor);
  expect(notes).toEqual(['note 10', 'note 9', 'note 8', 'note 7', 'note 6', 'note 5', 'note 4', 'note 3', 'note 2', 'note 1', 'note 0', undefined]);
});

test('the whole record is read newest first; half a subject is refused', async () => {
  const boat = await rows.boat({ name: 'Newest' });
  const { body } = await crew.get('/api/record?limit=1');
  expect(body.items[0]).toMatchObject({ subjectKind: 'boat', subjectId: boat });
  expect(body.nextCursor).toBeTruthy();
  expect((await crew.get('/api/record?subjectKind=boat')).body.errors[0]).toMatchObject({ field: 'subjectId' });
  expect((await crew.get('/api/record?cursor=abc')).status).toBe(400);
});

test('members and strangers do not read the record', async () => {
  expect((await member.get('/api/record')).status).toBe(403);
  expect((await club.stranger.get('/api/record')).status).toBe(401);
});

test('passwords and addresses are never in the record', async () => {
  await club.database.query('test-secret', `update member set password_hash = 'other-hash', email = 'ann@example.org' where id = $1`, [member.id]);
  const text = JSON.stringify(await of('member', member.id));
  expect(text).not.toContain('other-hash');
  expect(text).not.toContain('argon2id');
  expect(text).not.toContain('ann@example.org');
});
