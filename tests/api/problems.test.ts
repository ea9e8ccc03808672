import { randomUUID } from 'node:crypto';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { problem } from '../../server/contract/common.ts';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';

let club: TestClub;
let captain: Person;
let member: Person;
let webDir: string;

const inline = 'document.documentElement.dataset.ready = "yes";';
const page = `<!doctype html><html><head><title>The app</title><script>${inline}</script></head><body></body></html>`;

beforeAll(async () => {
  webDir = mkdtempSync(path.join(tmpdir(), 'tidelarder-web-'));
  writeFileSync(path.join(webDir, 'index.html'), page);
  mkdirSync(path.join(webDir, '_app', 'immutable'), { recursive: true });
  writeFileSync(path.join(webDir, '_app', 'immutable', 'start.js'), 'export {};\n');
  club = await testClub({ webDir });
  [captain, member] = [await club.person('captain'), await club.person('member')];
});
afterAll(async () => {
  await club.close();
  rmSync(webDir, { recursive: true, force: true });
});

type Sent = { method?: string; url?: string; headers?: Record<string, string>; payload?: string | Buffer };
/** A raw request of the captain; the key and the type are there unless they are overwritten. */
async function send({ method = 'POST', url = '/api/boats', headers = {}, payload }: Sent) {
  const given = { cookie: captain.cookie, 'content-type': 'application/json', 'idempotency-key': randomUUID(), ...headers };
  const answer = await club.app.inject({ method: method as 'POST', url, headers: given, ...(payload === undefined ? {} : { payload }) });
  return { status: answer.statusCode, headers: answer.headers, body: JSON.parse(answer.payload) as any };
}

/** The shape of RFC 9457, section 3.1, with this service's own members. */
function expectProblem(answer: { status: number; headers: Record<string, unknown>; body: any }, status: number, code: string): void {
  expect(answer.status, JSON.stringify(answer.body)).toBe(status);
  expect(answer.headers['content-type']).toBe('application/problem+json; charset=utf-8');
  expect(answer.headers['cache-control']).toBe('no-store');
  expect(problem.strict().safeParse(answer.body).error).toBeUndefined();
  expect(answer.body).toMatchObject({ status, code, type: `urn:tidelarder:problem:${code}` });
  expect(answer.body.title.length).toBeGreaterThan(5);
  expect(answer.body.detail.length).toBeGreaterThan(10);
  expect(answer.body.requestId).toMatch(/^[0-9a-f-]{36}$/);
}
const boatsNamed = async (name: string) => (await captain.get('/api/boats')).body.items.filter((boat: { name: string }) => boat.name === name).length;

describe('bad input (400)', () => {
  test('names the field, the value and the remedy', async () => {
    const answer = await captain.post('/api/invitations', { role: 'member', expiresInDays: 400 });
    expectProblem(answer, 400, 'invalid-input');
    expect(answer.body.errors).toEqual([{ field: 'expiresInDays', value: 400, message: 'An invitation lasts 1 to 30 days', remedy: 'Change this and send it again: days the invitation lasts.' }]);
    expect(answer.body.detail).toContain('Days the invitation lasts');
  });
  test('lists every field that is wrong', async () => {
    const answer = await captain.post('/api/stations', { name: '', kind: 'oven', capacityUnit: 'racks', capacity: -3 });
    expectProblem(answer, 400, 'invalid-input');
    expect(answer.body.errors.map((error: { field: string }) => error.field).sort()).toEqual(['capacity', 'kind', 'name']);
    for (const error of answer.body.errors) expect(error.remedy).toContain(error.field);
  });
  test('names a field inside a list', async () => {
    const answer = await captain.post('/api/trips', { boatId: randomUUID(), day: '2026-06-01', area: 'Sound', people: [{ guestName: 'Ola', shareWeight: 500 }] });
    expectProblem(answer, 400, 'invalid-input');
    expect(answer.body.errors[0]).toMatchObject({ field: 'people.0.shareWeight', value: 500, message: 'A share weight is 0 to 100' });
  });
  test('names a field that the request does not have', async () => {
    const answer = await captain.post('/api/boats', { name: 'Dunlin', colour: 'red' });
    expectProblem(answer, 400, 'invalid-input');
    expect(answer.body.errors).toEqual([{ field: 'colour', message: 'is not a field of this request', remedy: 'Leave it out, or check its spelling.' }]);
    expect(await boatsNamed('Dunlin')).toBe(0);
  });
  test('names what is wrong in the address', async () => {
    const inPath = await captain.patch('/api/boats/17', { version: 1 });
    expectProblem(inPath, 400, 'invalid-input');
    expect(inPath.body.errors[0]).toMatchObject({ field: 'id', value: '17' });
    const inQuery = await captain.get('/api/landings?limit=9999');
    expectProblem(inQuery, 400, 'invalid-input');
    expect(inQuery.body.errors[0]).toMatchObject({ field: 'limit' });
    expectProblem(await captain.get('/api/landings?cursor=made-up'), 400, 'invalid-input');
  });
  test('never says a password back', async () => {
    const answer = await captain.put('/api/password', { current: 'the present one', next: 'hush' });
    expectProblem(answer, 400, 'invalid-input');
    expect(answer.body.errors[0].field).toBe('next');
    expect(JSON.stringify(answer.body)).not.toMatch(/hush|the present one/);
  });
  test.each(['{"name":', 'name=Dunlin', '{"name":"a"}}', ''])('a body that is not JSON: %j', async (payload) => {
    const answer = await send({ payload });
    expectProblem(answer, 400, 'invalid-input');
    expect(answer.body.detail).toMatch(/JSON/);
  });
  test.each(['null', '[]', '"Dunlin"', '17'])('JSON that is no object: %s', async (payload) => {
    expectProblem(await send({ payload }), 400, 'invalid-input');
  });
  test('a name that would change what every object inherits is refused', async () => {
    expectProblem(await send({ payload: '{"name":"Dunlin","__proto__":{"role":"captain"}}' }), 400, 'invalid-input');
  });
  test('an address that cannot be read', async () => {
    expectProblem(await send({ method: 'GET', url: '/api/landings/%E0%A4%A', headers: { 'content-type': '' } }), 400, 'invalid-input');
  });
});

describe('refusals by kind', () => {
  test('a body above 1 MB (413)', async () => {
    expectProblem(await send({ payload: JSON.stringify({ name: 'x'.repeat(1_048_577) }) }), 413, 'too-large');
  });
  test.each(['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x', 'application/xml'])('a body of type %s (415)', async (type) => {
    const answer = await send({ headers: { 'content-type': type }, payload: '{"name":"Dunlin"}' });
    expectProblem(answer, 415, 'wrong-type');
    expect(answer.body.detail).toContain('application/json');
  });
  test('nobody signed in (401)', async () => {
    expectProblem(await club.stranger.get('/api/boats'), 401, 'not-signed-in');
    const forged = await club.send('GET', '/api/boats', `${captain.cookie.slice(0, -4)}AAAA`);
    expectProblem(forged, 401, 'not-signed-in');
  });
  test('a role that does not reach (403) says which does', async () => {
    const answer = await member.post('/api/boats', { name: 'Dunlin' });
    expectProblem(answer, 403, 'not-allowed');
    expect(answer.body.detail).toBe('This needs a captain. You are signed in as member.');
  });
  test('a record that is not there (404)', async () => {
    expectProblem(await captain.get(`/api/landings/${randomUUID()}`), 404, 'not-found');
    expectProblem(await captain.patch(`/api/boats/${randomUUID()}`, { version: 1, note: 'x' }), 404, 'not-found');
  });
  test('a taken name (409) names the field and the remedy', async () => {
    await captain.post('/api/boats', { name: 'Whimbrel' });
    const answer = await captain.post('/api/boats', { name: 'Whimbrel' });
    expectProblem(answer, 409, 'name-taken');
    expect(answer.body.errors).toEqual([{ field: 'name', message: 'There is a boat of that name.', remedy: 'Choose another name.' }]);
  });
  test('a stale edit (409) tells what somebody else changed', async () => {
    const { body: boat } = await captain.post('/api/boats', { name: 'Godwit' });
    expect((await captain.patch(`/api/boats/${boat.id}`, { version: 1, name: 'Black Godwit', note: 'moored at the pier' })).status).toBe(200);
    const late = await captain.patch(`/api/boats/${boat.id}`, { version: 1, note: 'ashore' });
    expectProblem(late, 409, 'stale-edit');
    expect(late.body.changes).toEqual([{ field: 'note', yours: 'ashore', theirs: 'moored at the pier' }, { field: 'version', yours: 1, theirs: 2 }]);
  });
});

describe('addresses that lead nowhere', () => {
  test.each([['GET', '/api/nothing'], ['GET', '/api'], ['GET', '/api/'], ['POST', '/api/boats/all'], ['DELETE', '/api/boats'], ['PUT', '/'], ['GET', '/_app/immutable/gone.js']])('%s %s is a problem, not a page', async (method, url) => {
    const answer = await club.send(method, url, captain.cookie);
    expectProblem(answer, 404, 'not-found');
    expect(answer.body.detail).toContain(`${method} ${url}`);
  });
  test.each(['/', '/batches/some-batch', '/p/SOMECODE', '/apiary'])('%s gives the app', async (url) => {
    const answer = await club.send('GET', url, '');
    expect(answer.status).toBe(200);
    expect(answer.headers['content-type']).toMatch(/^text\/html/);
    expect(answer.body).toBe(page);
    expect(answer.headers['cache-control']).toBe('no-cache');
  });
  test('the page of a pack is kept out of search engines', async () => {
    const answer = await club.send('GET', '/p/SOMECODE', '');
    expect(answer.headers).toMatchObject({ 'x-robots-tag': 'noindex, nofollow', 'referrer-policy': 'no-referrer' });
  });
  test('a script with a hash in its name is kept for good', async () => {
    const answer = await club.send('GET', '/_app/immutable/start.js', '');
    expect(answer.status).toBe(200);
    expect(answer.headers['cache-control']).toBe('public, max-age=31536000, immutable');
  });
  test.each(['/../package.json', '/%2e%2e/package.json', '/..%2fpackage.json', '/_app/../../package.json'])('%s does not leave the folder of the app', async (url) => {
    const answer = await club.send('GET', url, '');
    expect(String(answer.body)).not.toContain('"tidelarder"');
  });
});

describe('requests from other sites', () => {
  const from = (headers: Record<string, string>) => send({ headers, payload: JSON.stringify({ name: `Tern ${randomUUID()}` }) });
  test.each([
    [{ 'sec-fetch-site': 'cross-site', origin: 'https://elsewhere.example' }], [{ 'sec-fetch-site': 'same-site', origin: 'http://localhost:8080' }],
    [{ origin: 'https://elsewhere.example' }], [{ origin: 'null' }], [{ 'sec-fetch-site': 'cross-site' }], [{ origin: 'http://localhost:8080.elsewhere.example' }],
  ] as [Record<string, string>][])('%j is refused', async (headers) => {
    expectProblem(await from(headers), 403, 'cross-site');
  });
  test.each([[{ 'sec-fetch-site': 'same-origin', origin: 'http://localhost:8080' }], [{ origin: 'http://localhost:8080' }], [{ 'sec-fetch-site': 'none' }], [{}]] as [Record<string, string>][])('%j is taken', async (headers) => {
    expect((await from(headers)).status).toBe(201);
  });
  test('every verb that changes is held to it, signing in and out too', async () => {
    const headers = { 'sec-fetch-site': 'cross-site', origin: 'https://elsewhere.example' };
    for (const [method, url] of [['POST', '/api/session'], ['DELETE', '/api/session'], ['PUT', '/api/password'], ['PATCH', '/api/club']] as const) {
      expectProblem(await send({ method, url, headers, payload: '{}' }), 403, 'cross-site');
    }
  });
});

describe('Idempotency-Key', () => {
  test.each([[''], ['short'], ['a'.repeat(101)], ['with a space']])('%j is no key (400)', async (key) => {
    const name = `Ruff ${randomUUID()}`;
    const answer = await send({ headers: { 'idempotency-key': key }, payload: JSON.stringify({ name }) });
    expectProblem(answer, 400, 'key-missing');
    expect(answer.body.detail).toContain('Idempotency-Key');
    expect(await boatsNamed(name)).toBe(0);
  });
  test('the same request again has the same answer and makes nothing', async () => {
    const key = randomUUID();
    const first = await captain.post('/api/boats', { name: 'Knot' }, key);
    const again = await captain.post('/api/boats', { name: 'Knot' }, key);
    expect([first.status, again.status]).toEqual([201, 201]);
    expect(again.body).toEqual(first.body);
    expect(await boatsNamed('Knot')).toBe(1);
  });
  test('an answer kept from an older version, which lacks what is said today, is no fault: it says that it was done (409)', async () => {
    const key = randomUUID();
    expect((await captain.post('/api/boats', { name: 'Turnstone' }, key)).status).toBe(201);
    await club.database.query('', `update idempotent_answer set body = (body::jsonb - 'version')::text where key = '${key}'`);
    const again = await captain.post('/api/boats', { name: 'Turnstone' }, key);
    expectProblem(again, 409, 'done-before');
    expect(again.body.detail).toContain('This was saved');
    expect(await boatsNamed('Turnstone')).toBe(1);
  });

  test('the same key with another body or another address is refused (422)', async () => {
    const key = randomUUID();
    await captain.post('/api/boats', { name: 'Dotterel' }, key);
    expectProblem(await captain.post('/api/boats', { name: 'Dotterel II' }, key), 422, 'key-reused');
    expectProblem(await captain.post('/api/species', { name: 'Dotterel', maxFishGrams: 100 }, key), 422, 'key-reused');
    expect(await boatsNamed('Dotterel II')).toBe(0);
  });
  test('a refused request leaves its key free', async () => {
    const key = randomUUID();
    await captain.post('/api/boats', { name: 'Avocet' });
    expectProblem(await captain.post('/api/boats', { name: 'Avocet' }, key), 409, 'name-taken');
    expect((await captain.post('/api/boats', { name: 'Avocet II' }, key)).status).toBe(201);
  });
  test('two people may use the same key', async () => {
    const key = randomUUID();
    const other = await club.person('captain');
    const [a, b] = [await captain.post('/api/boats', { name: 'Stint' }, key), await other.post('/api/boats', { name: 'Sanderling' }, key)];
    expect([a.body.name, b.body.name]).toEqual(['Stint', 'Sanderling']);
  });
});

describe('headers', () => {
  test.each(['/', '/api/health', '/api/boats', '/api/nothing'])('%s carries the security headers', async (url) => {
    const { headers } = await club.send('GET', url, captain.cookie);
    expect(headers).toMatchObject({ 'x-content-type-options': 'nosniff', 'x-frame-options': 'SAMEORIGIN', 'cross-origin-resource-policy': 'same-origin' });
    expect(headers['referrer-policy']).toBe('same-origin');
    expect(headers).not.toHaveProperty('x-powered-by');
    expect(headers).not.toHaveProperty('server');
    const policy = Object.fromEntries(String(headers['content-security-policy']).split(';').map((part) => [part.trim().split(' ')[0], part.trim().split(' ').slice(1)]));
    expect(policy).toMatchObject({ 'default-src': ["'self'"], 'style-src': ["'self'"], 'object-src': ["'none'"], 'frame-ancestors': ["'none'"], 'base-uri': ["'self'"], 'form-action': ["'self'"] });
    // The app's one inline script is allowed by its hash, and no other.
    expect(policy['script-src']).toHaveLength(2);
    expect(policy['script-src']![1]).toMatch(/^'sha256-[A-Za-z0-9+/]{43}='$/);
    expect(JSON.stringify(policy['script-src'])).not.toMatch(/unsafe|\*|https?:/);
  });
  test('over plain http nothing asks for https', async () => {
    const { headers } = await club.send('GET', '/', '');
    expect(headers).not.toHaveProperty('strict-transport-security');
    expect(headers['content-security-policy']).not.toContain('upgrade-insecure-requests');
  });
  test('over https the browser is held to it', async () => {
    const secure = await testClub({ config: { publicUrl: 'https://fish.example.org' } });
    const { headers } = await secure.send('GET', '/api/health', '');
    await secure.close();
    expect(headers['strict-transport-security']).toMatch(/^max-age=15552000/);
    expect(headers['content-security-policy']).toContain('upgrade-insecure-requests');
  });
  test.each(['/api/boats', '/api/today', '/api/trips', '/api/stations', '/api/packs', '/api/batches', '/api/session'])('GET %s has an ETag, and is answered with 304 while nothing changed', async (url) => {
    const first = await captain.get(url);
    expect(first.status).toBe(200);
    expect(first.headers['cache-control']).toBe('private, no-cache');
    const tag = String(first.headers['etag']);
    expect(tag).toMatch(/^"[\w-]+"$/);
    for (const sent of [tag, `W/${tag}`, `"other", ${tag}`]) {
      const again = await captain.get(url, { 'if-none-match': sent });
      expect(again.status).toBe(304);
      expect(again.raw.length).toBe(0);
      expect(again.headers['etag']).toBe(tag);
    }
    expect((await captain.get(url, { 'if-none-match': '"other"' })).status).toBe(200);
  });
  test('a change has another ETag', async () => {
    const before = String((await captain.get('/api/boats')).headers['etag']);
    await captain.post('/api/boats', { name: 'Phalarope' });
    const after = await captain.get('/api/boats', { 'if-none-match': before });
    expect(after.status).toBe(200);
    expect(after.headers['etag']).not.toBe(before);
  });
});
