import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';

let club: TestClub;
let captain: Person, crew: Person, member: Person;
beforeAll(async () => {
  club = await testClub();
  [captain, crew, member] = [await club.person('captain', 'Isla Muir'), await club.person('crew'), await club.person('member')];
});
afterAll(() => club.close());

test('a captain adds a boat, everybody in the club sees it', async () => {
  const made = await captain.post('/api/boats', { name: 'Kittiwake', note: 'blue hull' });
  expect(made.status).toBe(201);
  expect(made.body).toMatchObject({ name: 'Kittiwake', note: 'blue hull', retired: false, version: 1 });
  const list = await member.get('/api/boats');
  expect(list.status).toBe(200);
  expect(list.body.items.map((b: { name: string }) => b.name)).toContain('Kittiwake');
});

test('crew, members and strangers add no boat', async () => {
  expect((await crew.post('/api/boats', { name: 'Nobody’s' })).status).toBe(403);
  expect((await member.post('/api/boats', { name: 'Nobody’s' })).status).toBe(403);
  expect((await club.stranger.post('/api/boats', { name: 'Nobody’s' })).status).toBe(401);
  expect((await club.stranger.get('/api/boats')).status).toBe(401);
});

test('a boat’s name is taken once, and the refusal names the field and the remedy', async () => {
  await captain.post('/api/boats', { name: 'Dunlin' });
  const again = await captain.post('/api/boats', { name: 'Dunlin' });
  expect(again.status).toBe(409);
  expect(again.body).toMatchObject({ code: 'name-taken', errors: [{ field: 'name', remedy: 'Choose another name.' }] });
});

test('an edit of an older version is refused with what changed meanwhile', async () => {
  const { body: boat } = await captain.post('/api/boats', { name: 'Guillemot' });
  const first = await captain.patch(`/api/boats/${boat.id}`, { version: 1, note: 'new engine' });
  expect(first.body).toMatchObject({ note: 'new engine', version: 2 });
  const late = await captain.patch(`/api/boats/${boat.id}`, { version: 1, note: 'red hull' });
  expect(late.status).toBe(409);
  expect(late.body).toMatchObject({ code: 'stale-edit', changes: [{ field: 'note', yours: 'red hull', theirs: 'new engine' }, { field: 'version', yours: 1, theirs: 2 }] });
});

test('a boat is retired and put back in use', async () => {
  const { body: boat } = await captain.post('/api/boats', { name: 'Old Tern' });
  expect((await captain.patch(`/api/boats/${boat.id}`, { version: 1, retired: true })).body.retired).toBe(true);
  expect((await captain.patch(`/api/boats/${boat.id}`, { version: 2, retired: false })).body).toMatchObject({ retired: false, version: 3 });
  expect((await captain.patch(`/api/boats/${randomUUID()}`, { version: 1, retired: true })).status).toBe(404);
});

test('the same key twice at once makes one boat and gives one answer', async () => {
  const key = randomUUID();
  const answers = await Promise.all([1, 2, 3].map(() => captain.post('/api/boats', { name: 'Fulmar' }, key)));
  expect(answers.map((a) => a.status)).toEqual([201, 201, 201]);
  expect(new Set(answers.map((a) => a.body.id)).size).toBe(1);
  const other = await captain.post('/api/boats', { name: 'Petrel' }, key);
  expect(other.body.code).toBe('key-reused');
});

test('a POST without a key is refused', async () => {
  const answer = await club.send('POST', '/api/boats', captain.cookie, { name: 'Skua' });
  expect(answer.status).toBe(400);
  expect(answer.body.code).toBe('key-missing');
});

test('names: an emoji is fine, 10,000 characters, nothing or control characters are not', async () => {
  expect((await captain.post('/api/boats', { name: 'Puffin 🐧' })).body.name).toBe('Puffin 🐧');
  const long = await captain.post('/api/boats', { name: 'x'.repeat(10_000) });
  expect(long.status).toBe(400);
  expect(long.body.errors[0]).toMatchObject({ field: 'name', message: 'Keep the name within 80 characters' });
  expect(long.body.errors[0].value.length).toBe(100);
  expect((await captain.post('/api/boats', { name: '   ' })).body.errors[0]).toMatchObject({ field: 'name', message: 'Enter a name' });
  expect((await captain.post('/api/boats', { name: 'a\u0000b' })).status).toBe(400);
  expect((await captain.post('/api/boats', { name: 'Gannet', colour: 'red' })).body.errors[0]).toMatchObject({ field: 'colour' });
});

test('a read that did not change is answered with 304', async () => {
  const first = await member.get('/api/boats');
  const again = await member.get('/api/boats', { 'if-none-match': String(first.headers['etag']) });
  expect(again.status).toBe(304);
  expect(again.raw.length).toBe(0);
});
