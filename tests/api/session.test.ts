import { PassThrough } from 'node:stream';
import pino from 'pino';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { buildApp } from '../../server/app.ts';
import { hashToken } from '../../server/platform/auth/tokens.ts';
import { testClub } from '../support/app.ts';
import type { TestClub } from '../support/app.ts';
import { browser, goodPassword, joined } from '../support/browser.ts';
import type { Browser } from '../support/browser.ts';

let club: TestClub;
let mara: { id: string; own: Browser };
let count = 0;
beforeAll(async () => { club = await testClub(); });
afterAll(() => club.close());
// Each test has a member of its own, so that no count or session of another test plays a part.
let login = '';
beforeEach(async () => {
  login = `mara${++count}`;
  mara = await joined(club, 'crew', login, `192.0.2.${count}`);
});

const later = (seconds: number) => { club.clock.now = new Date(club.clock.now.getTime() + seconds * 1000); };
const who = async (b: Browser) => (await b.get('/api/session')).body.me?.userName ?? null;
const renew = (b: Browser) => b.post('/api/session/renew');
const family = (id: string) =>
  club.database.query<{ used: boolean; revoked: boolean }>('', `select used_at is not null as used, revoked_at is not null as revoked from refresh_token where member_id = $1 order by used_at is null`, [id]);

describe('who is signed in', () => {
  it('tells a stranger nothing, not even the name of the club', async () => {
    const answer = await browser(club).get('/api/session');
    expect([answer.status, answer.body]).toEqual([200, { me: null, club: null, accessExpiresAt: null }]);
  });

  it('tells a member who they are, their club, and when the access token runs out: ten minutes after it was made', async () => {
    const before = Date.now();
    const own = browser(club);
    const { body } = await own.signIn(login, goodPassword);
    expect(body.me).toEqual({ id: mara.id, name: `Name of ${login}`, userName: login, email: `${login}@example.org`, role: 'crew' });
    expect(body.club.name).toBe('Test Club');
    // Made between the two, in whole seconds.
    expect(Date.parse(body.accessExpiresAt) - 600_000).toBeGreaterThan(before - 1000);
    expect(Date.parse(body.accessExpiresAt) - 600_000).toBeLessThanOrEqual(Date.now());
    const { headers } = await own.get('/api/session');
    expect((await own.get('/api/session', { headers: { 'if-none-match': String(headers.etag) } })).status).toBe(304);
  });
});

describe('signing in', () => {
  it('takes the user name or the e-mail, in any case', async () => {
    for (const typed of [login, login.toUpperCase(), `${login}@example.org`, ` ${login}@EXAMPLE.org `]) {
      const own = browser(club);
      expect((await own.signIn(typed, goodPassword)).status).toBe(200);
      expect(await who(own)).toBe(login);
    }
  });

  it('answers an unknown name and a wrong password alike', async () => {
    const wrong = await browser(club).signIn(login, 'herring under moonlight');
    const unknown = await browser(club).signIn('nobody-here', 'herring under moonlight');
    expect([wrong.status, wrong.body.code]).toEqual([401, 'sign-in-failed']);
    expect({ ...unknown.body, requestId: '' }).toEqual({ ...wrong.body, requestId: '' });
    expect(wrong.cookies).toEqual([]);
  });

  it('hands tokens over only in cookies that scripts cannot read and other sites do not send', async () => {
    const answer = await browser(club).signIn(login, goodPassword);
    expect(answer.cookies.map((c) => [c.name, c.path, c.httpOnly, c.sameSite])).toEqual([
      ['tl_access', '/api', true, 'Strict'], ['tl_refresh', '/api/session', true, 'Strict'], ['tl_device', '/api/session', true, 'Strict'],
    ]);
    for (const { value } of answer.cookies) expect(JSON.stringify(answer.body)).not.toContain(value);
  });

  it('keeps a password only as argon2id with at least 19 MiB, 2 passes (OWASP password storage), and tokens only as hashes', async () => {
    const [row] = await club.database.query<{ hash: string }>('', `select password_hash as hash from member where id = $1`, [mara.id]);
    const cost = /^\$argon2id\$v=19\$m=(\d+),t=(\d+),p=(\d+)\$/.exec(row!.hash)!.slice(1).map(Number);
    expect(cost[0]).toBeGreaterThanOrEqual(19_456);
    expect(cost[1]).toBeGreaterThanOrEqual(2);
    const token = mara.own.cookies.get('tl_refresh')!.value;
    expect(Buffer.from(token, 'base64url')).toHaveLength(32);
    const kept = await club.database.query<{ token_hash: string }>('', `select token_hash from refresh_token where member_id = $1`, [mara.id]);
    expect(kept).toEqual([{ token_hash: hashToken(token) }]);
  });

  it('refuses what is not filled in, naming the field', async () => {
    const { status, body } = await browser(club).post('/api/session', { login: '', password: '' });
    expect(status).toBe(400);
    expect(body.errors.map((e: { field: string; message: string }) => [e.field, e.message])).toEqual([['login', 'Enter your user name or e-mail'], ['password', 'Enter your password']]);
  });
});

describe('requests from another site', () => {
  it.each([
    ['another origin', { origin: 'https://evil.example' }],
    ['an origin that hides itself', { origin: 'null' }],
    ['a browser that says cross-site', { 'sec-fetch-site': 'cross-site' }],
    ['a sister site', { 'sec-fetch-site': 'same-site', origin: 'http://localhost:8080' }],
  ])('are refused: %s', async (_what, headers) => {
    for (const send of [
      () => mara.own.signIn(login, goodPassword, { headers }),
      () => mara.own.del('/api/session', { headers }),
      () => mara.own.post('/api/session/renew', undefined, { headers }),
      () => mara.own.patch(`/api/members/${mara.id}`, { version: 1, name: 'Changed' }, { headers }),
    ]) {
      const refused = await send();
      expect([refused.status, refused.body.code]).toEqual([403, 'cross-site']);
    }
    expect(await who(mara.own)).toBe(login);
  });

  it('from the own page are taken', async () => {
    const own: Record<string, string>[] = [{ origin: 'http://localhost:8080' }, { 'sec-fetch-site': 'same-origin' }];
    for (const headers of own) {
      expect((await browser(club).signIn(login, goodPassword, { headers })).status).toBe(200);
    }
  });
});

describe('renewing', () => {
  it('exchanges the refresh token for another, and keeps the person signed in', async () => {
    const before = mara.own.cookies.get('tl_refresh')!.value;
    const answer = await renew(mara.own);
    expect([answer.status, answer.body.me.userName]).toEqual([200, login]);
    expect(mara.own.cookies.get('tl_refresh')!.value).not.toBe(before);
    expect((await renew(mara.own)).status).toBe(200);
    expect((await family(mara.id)).map((t) => t.used)).toEqual([true, true, false]);
  });

  it('with a token used before ends the whole family, and access tokens at once', async () => {
    const thief = mara.own.tab();
    await renew(mara.own);
    later(61);
    const refused = await renew(thief);
    expect([refused.status, refused.body.code]).toEqual([401, 'not-signed-in']);
    expect((await family(mara.id)).every((t) => t.revoked)).toBe(true);
    expect(await who(mara.own)).toBeNull();
    expect((await renew(mara.own)).status).toBe(401);
  });

  it('with a token whose successor was used ends the family, however soon', async () => {
    const thief = mara.own.tab();
    await renew(mara.own);
    await renew(mara.own);
    expect((await renew(thief)).status).toBe(401);
    expect((await renew(mara.own)).status).toBe(401);
  });

  it('again within 60 seconds, when a dead spot lost the answer, is given a working session', async () => {
    const phone = mara.own.tab();
    await renew(mara.own);
    later(60);
    expect((await renew(phone)).status).toBe(200);
    expect(await who(phone)).toBe(login);
    later(600);
    expect((await renew(phone)).status).toBe(200);
  });

  it('from two tabs at once signs nobody out, whichever answer comes last', async () => {
    const tabs = [mara.own.tab(), mara.own.tab(), mara.own.tab()];
    const answers = await Promise.all(tabs.map(renew));
    expect(answers.map((a) => a.status)).toEqual([200, 200, 200]);
    // The cookies of one browser are one jar: each of the answers may be the one that stays.
    expect(new Set(tabs.map((t) => t.cookies.get('tl_refresh')!.value)).size).toBe(1);
    later(600);
    for (const tab of tabs) expect((await renew(tab.tab())).status).toBe(200);
  });

  it('lets one browser of a member go on when another one\'s session ends by reuse', async () => {
    const other = browser(club);
    await other.signIn(login, goodPassword);
    const thief = mara.own.tab();
    await renew(mara.own);
    later(61);
    await renew(thief);
    expect((await renew(other)).status).toBe(200);
    expect(await who(other)).toBe(login);
  });

  it('ends after 30 days without a renewal, and with no token or a made-up one', async () => {
    later(30 * 86_400);
    expect((await renew(mara.own)).status).toBe(401);
    expect((await renew(browser(club))).status).toBe(401);
    const forger = browser(club, '192.0.2.200', new Map([['tl_refresh', { value: 'x'.repeat(43), path: '/' }]]));
    expect((await renew(forger)).status).toBe(401);
  });
});

describe('signing out', () => {
  it('ends this session and clears its cookies, and leaves others alone', async () => {
    const other = browser(club);
    await other.signIn(login, goodPassword);
    const kept = mara.own.tab();
    expect((await mara.own.del('/api/session')).status).toBe(200);
    expect([...mara.own.cookies.keys()]).toEqual(['tl_device']);
    expect((await renew(kept)).status).toBe(401);
    expect((await renew(other)).status).toBe(200);
  });

  it('works when the access token has run out, and when nobody is signed in', async () => {
    const kept = mara.own.tab();
    mara.own.cookies.delete('tl_access');
    expect((await mara.own.del('/api/session')).status).toBe(200);
    expect((await renew(kept)).status).toBe(401);
    expect((await browser(club).del('/api/session')).status).toBe(200);
  });

  it('everywhere ends every session of this member at once', async () => {
    const other = browser(club);
    await other.signIn(login, goodPassword);
    const bystander = await joined(club, 'member', `by${count}`);
    expect((await mara.own.del('/api/session/everywhere')).status).toBe(200);
    expect(await who(other)).toBeNull();
    expect((await other.get('/api/members')).status).toBe(401);
    expect((await renew(other)).status).toBe(401);
    expect(await who(bystander.own)).not.toBeNull();
    expect((await mara.own.signIn(login, goodPassword)).status).toBe(200);
  });
});

describe('changing the password', () => {
  const next = 'three gulls on a pier';
  it('keeps this device in, puts every other one out, and takes only the new password', async () => {
    const other = browser(club);
    await other.signIn(login, goodPassword);
    expect((await mara.own.put('/api/password', { current: goodPassword, next })).body.me.userName).toBe(login);
    expect(await who(mara.own)).toBe(login);
    expect((await renew(mara.own)).status).toBe(200);
    expect(await who(other)).toBeNull();
    expect((await renew(other)).status).toBe(401);
    expect((await browser(club).signIn(login, goodPassword)).status).toBe(401);
    expect((await browser(club).signIn(login, next)).status).toBe(200);
  });

  it('asks for the present one, and for a longer and another one, naming the field', async () => {
    const cases = [[{ current: 'not this one at all', next }, 422, 'current'], [{ current: goodPassword, next: goodPassword }, 422, 'next'], [{ current: goodPassword, next: 'short' }, 400, 'next']] as const;
    for (const [body, status, field] of cases) {
      const refused = await mara.own.put('/api/password', body);
      expect([refused.status, refused.body.errors[0].field]).toEqual([status, field]);
      expect(JSON.stringify(refused.body)).not.toMatch(/not this one|lantern/);
    }
    expect((await browser(club).signIn(login, goodPassword)).status).toBe(200);
  });

  it('stops guessing of the present one after ten tries', async () => {
    for (let i = 0; i < 10; i++) expect((await mara.own.put('/api/password', { current: `guess number ${i}`, next })).status).toBe(422);
    expect((await mara.own.put('/api/password', { current: goodPassword, next })).status).toBe(429);
    later(15 * 60);
    expect((await mara.own.put('/api/password', { current: goodPassword, next })).status).toBe(200);
  });
});

describe('tokens of others', () => {
  it('are refused: unsigned, of another secret, of a refresh token', async () => {
    const part = (value: object) => Buffer.from(JSON.stringify(value)).toString('base64url');
    const claims = { sub: mara.id, epoch: 1, family: mara.id, exp: 4_000_000_000 };
    const real = mara.own.cookies.get('tl_access')!.value;
    for (const value of [`${part({ alg: 'none', typ: 'JWT' })}.${part(claims)}.`, `${part({ alg: 'HS256' })}.${part(claims)}.${'A'.repeat(43)}`, real.slice(0, -4), mara.own.cookies.get('tl_refresh')!.value]) {
      expect(await who(browser(club, '192.0.2.201', new Map([['tl_access', { value, path: '/api' }]])))).toBeNull();
    }
  });
});

describe('the log', () => {
  it('holds no password, token, name or e-mail, even at its most talkative', async () => {
    const lines: string[] = [];
    const stream = new PassThrough().on('data', (chunk: Buffer) => lines.push(chunk.toString()));
    const app = await buildApp({ ...club.context, logger: pino({ level: 'trace' }, stream), webDir: null });
    const loud = { ...club, app } as TestClub;
    const own = browser(loud);
    await own.signIn(login, 'a wrong password here');
    await own.signIn(login, goodPassword);
    await renew(own);
    await own.put('/api/password', { current: goodPassword, next: 'short' });
    await own.get(`/api/invitations/by-token/${'t'.repeat(43)}`);
    await own.post(`/api/password-resets/by-token/${'t'.repeat(43)}`, { password: goodPassword });
    const tokens = [...own.cookies.values()].map((c) => c.value);
    await own.del('/api/session');
    await app.close();
    const log = lines.join('');
    expect(log).toContain('/api/session/renew');
    for (const secret of [...tokens, 'wrong password', goodPassword, login, 't'.repeat(43), '192.0.2.']) expect(log).not.toContain(secret);
  });
});
