import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';
import { browser, goodPassword, invitationToken, joined } from '../support/browser.ts';

let club: TestClub;
let captain: Person;
beforeAll(async () => {
  club = await testClub();
  captain = await club.person('captain', 'Ebba Holm');
});
afterAll(() => club.close());

const later = (seconds: number) => { club.clock.now = new Date(club.clock.now.getTime() + seconds * 1000); };
const DAY = 86_400;
let count = 0;
const somebody = (over: object = {}) => ({ name: 'Nils Aune', userName: `nils${++count}`, password: goodPassword, ...over });
const look = (token: string) => browser(club).get(`/api/invitations/by-token/${token}`);
const accept = (token: string, body: object, sent?: { key?: string }, b = browser(club)) => b.post(`/api/invitations/by-token/${token}/accept`, body, sent);
const storedAnswers = async () => JSON.stringify(await club.database.query('', `select * from idempotent_answer`));

describe('an invitation', () => {
  it('is a captain\'s to make, list and withdraw', async () => {
    for (const person of [await club.person('crew'), await club.person('member'), club.stranger]) {
      const status = person === club.stranger ? 401 : 403;
      expect((await person.post('/api/invitations', { role: 'member' })).status).toBe(status);
      expect((await person.get('/api/invitations')).status).toBe(status);
      expect((await person.del(`/api/invitations/${randomUUID()}`)).status).toBe(status);
      expect((await person.post('/api/password-resets', { memberId: captain.id })).status).toBe(status);
    }
  });

  it.each(['captain', 'crew', 'member'] as const)('to be %s makes that, signs them in, and says who used it', async (role) => {
    const made = await captain.post('/api/invitations', { role, note: 'For the autumn' });
    expect(made.status).toBe(201);
    expect(made.body.link).toMatch(/^http:\/\/localhost:8080\/join\/[\w-]{43}$/);
    expect(made.body.invitation).toMatchObject({ role, note: 'For the autumn', state: 'open', usedBy: null, invitedBy: { id: captain.id, name: 'Ebba Holm' } });
    expect(Date.parse(made.body.invitation.expiresAt) - club.clock.now.getTime()).toBe(7 * DAY * 1000);
    const token = made.body.link.split('/').at(-1);
    expect((await look(token)).body).toEqual({ clubName: 'Test Club', role, invitedBy: 'Ebba Holm', expiresAt: made.body.invitation.expiresAt, returning: null });
    const own = browser(club);
    const body = somebody();
    const answer = await accept(token, body, {}, own);
    expect([answer.status, answer.body.me.role, answer.body.me.userName]).toEqual([201, role, body.userName]);
    expect((await own.get('/api/session')).body.me.id).toBe(answer.body.me.id);
    const [listed] = (await captain.get('/api/invitations')).body.items.filter((i: { id: string }) => i.id === made.body.invitation.id);
    expect(listed).toMatchObject({ state: 'used', usedBy: { id: answer.body.me.id, name: 'Nils Aune' } });
    const [entry] = await club.database.query('', `select actor_id from record_entry where subject_kind = 'member' and subject_id = $1 and action = 'created'`, [answer.body.me.id]);
    expect(entry).toEqual({ actor_id: answer.body.me.id });
  });

  it('lets a former member come back as they were: history, user name and a new password, once', async () => {
    const old = browser(club);
    const body = somebody({ name: 'Liv Moe' });
    const { me } = (await accept(await invitationToken(captain), body, {}, old)).body;
    const stays = await captain.post('/api/invitations', { role: 'crew', memberId: me.id });
    expect([stays.status, stays.body.errors[0]]).toMatchObject([409, { field: 'memberId', message: 'Liv Moe is a member already.' }]);
    expect((await captain.post('/api/invitations', { role: 'crew', memberId: randomUUID() })).body.errors[0].field).toBe('memberId');
    await captain.post(`/api/members/${me.id}/leave`, { version: 1 });
    const made = [await captain.post('/api/invitations', { role: 'crew', memberId: me.id }), await captain.post('/api/invitations', { role: 'crew', memberId: me.id })];
    expect(made[0]!.body.invitation).toMatchObject({ role: 'crew', state: 'open', returning: { id: me.id, name: 'Liv Moe' } });
    const [token, second] = made.map((m) => m.body.link.split('/').at(-1) as string) as [string, string];
    expect((await look(token)).body.returning).toEqual({ name: 'Liv Moe', userName: body.userName });
    expect((await accept(token, somebody())).status).toBe(409);
    const comeBack = (link: string, password: string, b = browser(club)) => b.post(`/api/invitations/by-token/${link}/return`, { password });
    expect((await comeBack(await invitationToken(captain), 'new words for autumn')).status).toBe(409);
    const again = browser(club);
    const answer = await comeBack(token, 'new words for autumn', again);
    expect([answer.status, answer.body.me]).toMatchObject([201, { id: me.id, userName: body.userName, role: 'crew' }]);
    expect((await again.get('/api/session')).body.me.id).toBe(me.id);
    expect((await old.get('/api/session')).body.me).toBe(null);
    expect((await captain.get(`/api/members/${me.id}`)).body).toMatchObject({ name: 'Liv Moe', role: 'crew', leftAt: null });
    expect((await browser(club).post('/api/session', { login: body.userName, password: goodPassword })).status).toBe(401);
    expect((await browser(club).post('/api/session', { login: body.userName, password: 'new words for autumn' })).status).toBe(200);
    for (const link of [token, second]) expect([(await look(link)).status, (await comeBack(link, 'other words than those')).body.code]).toEqual([410, 'link-ended']);
    const [entry] = await club.database.query('', `select actor_id from record_entry where subject_kind = 'member' and subject_id = $1 and after ? 'left_at' order by id desc limit 1`, [me.id]);
    expect(entry).toEqual({ actor_id: me.id });
  });

  it('that was left over when a former member came back lets nobody back in once they have left again', async () => {
    const { me } = (await accept(await invitationToken(captain), somebody({ name: 'Tor Lien' }))).body;
    await captain.post(`/api/members/${me.id}/leave`, { version: 1 });
    const links: { invitation: { id: string }; link: string }[] = [];
    for (let i = 0; i < 2; i += 1) links.push((await captain.post('/api/invitations', { role: 'captain', memberId: me.id, expiresInDays: 30 })).body);
    const [used, left] = links.map((m) => m.link.split('/').at(-1) as string) as [string, string];
    const comeBack = (token: string) => browser(club).post(`/api/invitations/by-token/${token}/return`, { password: 'new words for autumn' });
    expect((await comeBack(used)).status).toBe(201);
    const listed = (await captain.get('/api/invitations')).body.items.find((i: { id: string }) => i.id === links[1]!.invitation.id);
    expect(listed.state).toBe('withdrawn');
    const { version } = (await captain.get(`/api/members/${me.id}`)).body;
    expect((await captain.post(`/api/members/${me.id}/leave`, { version })).status).toBe(200);
    for (const token of [used, left]) expect([(await look(token)).status, (await comeBack(token)).status]).toEqual([410, 410]);
    expect((await captain.get(`/api/members/${me.id}`)).body.leftAt).not.toBe(null);
  });

  it('works once: a second use is told so in plain words', async () => {
    const token = await invitationToken(captain);
    await accept(token, somebody());
    for (const answer of [await look(token), await accept(token, somebody())]) {
      expect([answer.status, answer.body.code]).toEqual([410, 'link-ended']);
      expect(answer.body.detail).toBe('This invitation has been used. If it was you, sign in; if not, ask a captain for a new one.');
    }
  });

  it('works once when two use it at the same moment', async () => {
    const token = await invitationToken(captain);
    const before = (await captain.get('/api/members')).body.items.length;
    const answers = await Promise.all([1, 2, 3].map(() => accept(token, somebody())));
    expect(answers.map((a) => a.status).sort()).toEqual([201, 410, 410]);
    expect((await captain.get('/api/members')).body.items).toHaveLength(before + 1);
  });

  it('ends on its day', async () => {
    const made = await captain.post('/api/invitations', { role: 'crew', expiresInDays: 1 });
    const token = made.body.link.split('/').at(-1);
    later(DAY - 1);
    expect((await look(token)).status).toBe(200);
    later(1);
    for (const answer of [await look(token), await accept(token, somebody())]) {
      expect([answer.status, answer.body.detail]).toEqual([410, 'This invitation has expired. Ask a captain for a new one.']);
    }
    const [listed] = (await captain.get('/api/invitations')).body.items.filter((i: { id: string }) => i.id === made.body.invitation.id);
    expect(listed.state).toBe('expired');
  });

  it('can be withdrawn, twice as well, but not after its use', async () => {
    const made = await captain.post('/api/invitations', { role: 'crew' });
    const token = made.body.link.split('/').at(-1);
    for (let i = 0; i < 2; i++) expect((await captain.del(`/api/invitations/${made.body.invitation.id}`)).body).toMatchObject({ state: 'withdrawn' });
    expect((await accept(token, somebody())).body).toMatchObject({ status: 410, detail: 'This invitation was withdrawn. Ask a captain for a new one.' });
    const used = await captain.post('/api/invitations', { role: 'crew' });
    await accept(used.body.link.split('/').at(-1), somebody());
    expect((await captain.del(`/api/invitations/${used.body.invitation.id}`)).status).toBe(409);
    expect((await captain.del(`/api/invitations/${randomUUID()}`)).status).toBe(404);
  });

  it('of a captain who is one no more no longer works', async () => {
    const second = await club.person('captain');
    const token = await invitationToken(second, 'captain');
    await captain.patch(`/api/members/${second.id}`, { version: 1, role: 'crew' });
    expect((await accept(token, somebody())).status).toBe(410);
  });

  it('made twice with the same key is one, with the same link, which is kept nowhere', async () => {
    const key = randomUUID();
    const [one, two] = [await captain.post('/api/invitations', { role: 'crew' }, key), await captain.post('/api/invitations', { role: 'crew' }, key)];
    expect(two.body).toEqual(one.body);
    expect((await captain.get('/api/invitations')).body.items.filter((i: { id: string }) => i.id === one.body.invitation.id)).toHaveLength(1);
    const token = one.body.link.split('/').at(-1);
    expect(await storedAnswers()).not.toContain(token);
    expect(JSON.stringify(await club.database.query('', `select * from invitation`))).not.toContain(token);
    expect((await captain.post('/api/invitations', { role: 'captain' }, key)).body.code).toBe('key-reused');
    const keyless = await club.send('POST', '/api/invitations', captain.cookie, { role: 'crew' });
    expect([keyless.status, keyless.body.code]).toEqual([400, 'key-missing']);
  });

  it('used again with the same key from another network gives the same member a session, if the password fits', async () => {
    const token = await invitationToken(captain);
    const [key, body] = [randomUUID(), somebody()];
    const first = await accept(token, body, { key });
    const elsewhere = browser(club, '203.0.113.80');
    const again = await accept(token, body, { key }, elsewhere);
    expect([again.status, again.body.me]).toEqual([201, first.body.me]);
    expect((await elsewhere.get('/api/session')).body.me.id).toBe(first.body.me.id);
    const thief = browser(club);
    const guess = await accept(token, { ...body, password: 'a guess at the password' }, { key }, thief);
    // Told apart by the password itself: the key's fingerprint, which is kept for weeks, must not depend on it.
    expect([guess.status, guess.body.detail, thief.cookies.size]).toEqual([422, 'This was done already, with another password. Sign in with that one.', 0]);
    expect(await storedAnswers()).not.toContain(body.userName);
  });

  it('is refused by name where something is taken, and can then still be used', async () => {
    const taken = somebody({ email: 'nils@example.org' });
    await accept(await invitationToken(captain), taken);
    const token = await invitationToken(captain);
    const name = await accept(token, somebody({ userName: taken.userName.toUpperCase() }));
    expect([name.status, name.body.errors]).toEqual([409, [{ field: 'userName', message: 'That user name is taken.', remedy: 'Choose another.' }]]);
    const email = await accept(token, somebody({ email: ' Nils@Example.org' }));
    expect([email.status, email.body.errors[0].field]).toEqual([409, 'email']);
    expect((await accept(token, somebody())).status).toBe(201);
  });

  it.each([
    ['expiresInDays', { role: 'crew', expiresInDays: 31 }, '1 to 30 days'],
    ['expiresInDays', { role: 'crew', expiresInDays: 0 }, '1 to 30 days'],
    ['expiresInDays', { role: 'crew', expiresInDays: 1.5 }, 'int'],
    ['role', { role: 'pirate' }, 'captain'],
    ['role', {}, 'captain'],
    ['note', { role: 'crew', note: 'x'.repeat(10_000) }, '2000 characters'],
  ])('with a bad %s is not made', async (field, body, words) => {
    const refused = await captain.post('/api/invitations', body);
    expect(refused.status).toBe(400);
    expect(refused.body.errors[0]).toMatchObject({ field, message: expect.stringContaining(words), remedy: expect.any(String) });
  });

  it('that was never made is not found, whatever its link looks like', async () => {
    expect((await look('x'.repeat(43))).body).toMatchObject({ status: 404, detail: 'This link is not known. Check that all of it was copied, or ask for a new one.' });
    expect((await accept('x'.repeat(43), somebody())).status).toBe(404);
    expect((await look('short')).status).toBe(400);
    // A link for one thing opens no other.
    const token = await invitationToken(captain);
    expect((await browser(club).post(`/api/password-resets/by-token/${token}`, { password: goodPassword })).status).toBe(404);
  });
});

describe('a reset link', () => {
  const next = 'three gulls on a pier';
  const reset = async (memberId: string, key?: string) => {
    const made = await captain.post('/api/password-resets', { memberId }, key);
    return { made, token: String(made.body.link).split('/').at(-1)! };
  };
  const use = (token: string, password = next, key?: string) => browser(club).post(`/api/password-resets/by-token/${token}`, { password }, key ? { key } : {});

  it('sets a new password and ends every session of the member', async () => {
    const { id, own } = await joined(club, 'crew', `lost${++count}`);
    const { made, token } = await reset(id);
    expect(made.body.link).toMatch(/^http:\/\/localhost:8080\/reset\/[\w-]{43}$/);
    expect(made.body.expiresAt).toBe(new Date(club.clock.now.getTime() + DAY * 1000).toISOString());
    expect((await browser(club).get(`/api/password-resets/by-token/${token}`)).body).toEqual({ name: `Name of lost${count}`, expiresAt: made.body.expiresAt });
    expect((await own.get('/api/session')).body.me.id).toBe(id);
    expect([(await use(token)).status, (await own.get('/api/session')).body.me, (await own.post('/api/session/renew')).status]).toEqual([200, null, 401]);
    expect((await browser(club).signIn(`lost${count}`, goodPassword)).status).toBe(401);
    expect((await browser(club).signIn(`lost${count}`, next)).status).toBe(200);
    const [entry] = await club.database.query('', `select actor_id, after from record_entry where subject_kind = 'member' and subject_id = $1 order by id desc limit 1`, [id]);
    expect(entry).toEqual({ actor_id: id, after: { password_hash: '(changed)' } });
  });

  it('works for a captain too, and once, by two at once as well', async () => {
    const { id } = await joined(club, 'captain', `lost${++count}`);
    const { token } = await reset(id);
    const answers = await Promise.all([use(token), use(token, 'another one altogether')]);
    expect(answers.map((a) => a.status).sort()).toEqual([200, 410]);
    const third = await use(token);
    expect([third.status, third.body.code, third.body.detail]).toEqual([410, 'link-ended', 'This link has been used. Sign in with the new password, or ask a captain for another link.']);
  });

  it('ends after a day, when another is made, and when the member leaves', async () => {
    const { id } = await joined(club, 'member', `lost${++count}`);
    const first = await reset(id);
    const second = await reset(id);
    expect((await use(first.token)).status).toBe(410);
    later(DAY);
    expect((await use(second.token)).body).toMatchObject({ status: 410, detail: 'This link has ended. Ask a captain for a new one.' });
    const third = await reset(id);
    await captain.post(`/api/members/${id}/leave`, { version: 1 });
    expect((await use(third.token)).status).toBe(410);
    const fourth = await reset(id);
    expect([fourth.made.status, fourth.made.body.errors[0].field]).toEqual([409, 'memberId']);
  });

  it('made or used twice with the same key is one', async () => {
    const { id } = await joined(club, 'member', `lost${++count}`);
    const key = randomUUID();
    const [one, two] = [await reset(id, key), await reset(id, key)];
    expect(two.made.body).toEqual(one.made.body);
    expect(await storedAnswers()).not.toContain(one.token);
    const useKey = randomUUID();
    expect([(await use(one.token, next, useKey)).status, (await use(one.token, next, useKey)).status]).toEqual([200, 200]);
  });

  it('is refused for nobody and with a password too short, and can then still be used', async () => {
    const nobody = await captain.post('/api/password-resets', { memberId: randomUUID() });
    expect([nobody.status, nobody.body.errors[0]]).toEqual([422, expect.objectContaining({ field: 'memberId', remedy: 'Choose one from the list.' })]);
    const { id } = await joined(club, 'member', `lost${++count}`);
    const { token } = await reset(id);
    const short = await use(token, 'short');
    expect([short.status, short.body.errors[0].field, short.body.errors[0].value]).toEqual([400, 'password', undefined]);
    expect((await use(token)).status).toBe(200);
  });
});
