import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { z } from 'zod';
import { connection } from '../../web/src/lib/api/connection.svelte.ts';
import { ContractFailure, get, NetworkFailure, post, Problem, withQuery } from '../../web/src/lib/api/client.ts';
import { renewSession, whenSessionEnds } from '../../web/src/lib/api/renew.ts';

const boat = z.object({ name: z.string() });
type Call = { path: string; init: RequestInit };
let calls: Call[] = [];

const json = (status: number, body: unknown): Response =>
  new Response(JSON.stringify(body), { status, headers: { 'content-type': 'application/json' } });
const unauthorised = (): Response => json(401, { type: 'x', title: 'Sign in first', status: 401, detail: 'd', code: 'not-signed-in' });

/** Answers requests with a function of the call and of how many came before it. */
function answer(reply: (call: Call, before: number) => Response | Promise<Response>): void {
  vi.stubGlobal('fetch', (path: string, init: RequestInit) => {
    calls.push({ path, init });
    return Promise.resolve(reply({ path, init }, calls.length - 1));
  });
}
const header = (call: Call | undefined, name: string): string | null => new Headers(call?.init.headers).get(name);

beforeEach(() => {
  calls = [];
  const store = new Map<string, string>();
  vi.stubGlobal('localStorage', {
    getItem: (key: string) => store.get(key) ?? null,
    setItem: (key: string, value: string) => void store.set(key, value),
    removeItem: (key: string) => void store.delete(key),
  });
  vi.stubGlobal('navigator', { onLine: true });
  whenSessionEnds(() => undefined);
});
afterEach(() => vi.unstubAllGlobals());

describe('reading and writing', () => {
  it('gives what the contract describes', async () => {
    answer(() => json(200, { name: 'Tern', extra: 1 }));
    expect(await get('/api/boats/1', boat)).toEqual({ name: 'Tern' });
  });

  it('refuses an answer of another shape', async () => {
    answer(() => json(200, { title: 'Tern' }));
    await expect(get('/api/boats/1', boat)).rejects.toBeInstanceOf(ContractFailure);
  });

  it('makes a problem document an error with its fields', async () => {
    answer(() => json(422, { type: 't', title: 'A value cannot be right', status: 422, detail: 'Too heavy.', code: 'invalid-value', errors: [{ field: 'grams', value: 900000, message: 'Too heavy.', remedy: 'Check the unit.' }] }));
    const failure = await post('/api/boats', {}, boat).catch((cause: unknown) => cause);
    expect(failure).toBeInstanceOf(Problem);
    expect(failure).toMatchObject({ status: 422, code: 'invalid-value', errors: [{ field: 'grams', remedy: 'Check the unit.' }] });
  });

  it('reads a refusal that is no problem document', async () => {
    answer(() => new Response('<h1>Bad gateway</h1>', { status: 502 }));
    await expect(get('/api/boats', boat)).rejects.toMatchObject({ status: 502, title: 'The server is not well.' });
  });

  it('sends the key it is given, or one of its own', async () => {
    answer(() => json(201, { name: 'Tern' }));
    await post('/api/boats', { name: 'Tern' }, boat, { idempotencyKey: 'k1' });
    await post('/api/boats', { name: 'Tern' }, boat);
    expect(header(calls[0], 'idempotency-key')).toBe('k1');
    expect(header(calls[1], 'idempotency-key')).toMatch(/^[0-9a-f-]{36}$/);
    expect(calls[0]?.init.body).toBe('{"name":"Tern"}');
  });

  it('tells a missing answer from a refusal, and the banner knows until an answer comes', async () => {
    answer(() => Promise.reject(new TypeError('failed')));
    await expect(get('/api/boats', boat)).rejects.toBeInstanceOf(NetworkFailure);
    expect(connection.up).toBe(false);
    answer(() => json(200, { name: 'Tern' }));
    await get('/api/boats', boat);
    expect(connection.up).toBe(true);
  });

  it('leaves out of the address what is not set', () => {
    expect(withQuery('/api/packs', { cursor: undefined, status: 'ready', q: '' })).toBe('/api/packs?status=ready');
    expect(withQuery('/api/packs', {})).toBe('/api/packs');
  });
});

describe('an expired session', () => {
  it('is renewed once and the request sent again with its key', async () => {
    let renewed = false;
    answer(({ path }) => {
      if (path === '/api/session/renew') {
        renewed = true;
        return json(200, {});
      }
      return renewed ? json(201, { name: 'Tern' }) : unauthorised();
    });
    expect(await post('/api/boats', {}, boat, { idempotencyKey: 'k2' })).toEqual({ name: 'Tern' });
    expect(calls.map((call) => call.path)).toEqual(['/api/boats', '/api/session/renew', '/api/boats']);
    expect(header(calls[2], 'idempotency-key')).toBe('k2');
  });

  it('is renewed once for many requests at the same time', async () => {
    let renewed = false;
    answer(async ({ path }) => {
      if (path === '/api/session/renew') {
        await new Promise((resolve) => setTimeout(resolve, 20));
        renewed = true;
        return json(200, {});
      }
      return renewed ? json(200, { name: 'Tern' }) : unauthorised();
    });
    await Promise.all(Array.from({ length: 8 }, () => get('/api/boats', boat)));
    expect(calls.filter((call) => call.path === '/api/session/renew')).toHaveLength(1);
  });

  it('is not renewed again when another tab did so since', async () => {
    localStorage.setItem('tidelarder.renewedAt', String(Date.now() + 1000));
    answer(() => json(200, {}));
    expect(await renewSession(Date.now())).toBe(true);
    expect(calls).toHaveLength(0);
  });

  it('ends when it cannot be renewed, and the refusal stands', async () => {
    const ended = vi.fn();
    whenSessionEnds(ended);
    answer(() => unauthorised());
    await expect(get('/api/boats', boat)).rejects.toMatchObject({ status: 401 });
    expect(ended).toHaveBeenCalledTimes(1);
  });

  it('does not end for want of a connection', async () => {
    const ended = vi.fn();
    whenSessionEnds(ended);
    answer(({ path }) => (path === '/api/session/renew' ? Promise.reject(new TypeError('failed')) : unauthorised()));
    await expect(get('/api/boats', boat)).rejects.toMatchObject({ status: 401 });
    expect(ended).not.toHaveBeenCalled();
  });

  it('is not looked for when a password was wrong', async () => {
    answer(() => unauthorised());
    await expect(post('/api/session', {}, boat)).rejects.toBeInstanceOf(Problem);
    expect(calls).toHaveLength(1);
  });
});
