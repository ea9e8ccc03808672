import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';
import { browser, goodPassword, invitationToken, joined } from '../support/browser.ts';

let club: TestClub;
let captain: Person;
let crew: Person;
let member: Person;
beforeAll(async () => { club = await testClub(); });
afterAll(() => club.close());
beforeEach(async () => {
  // Whoever was captain in the test before is none any more, so that "the last captain" is this one.
  const old = await club.database.query<{ id: string }>('', `select id from member where role = 'captain' and left_at is null`);
  captain = await club.person('captain', 'Ebba Holm');
  for (const { id } of old) await club.database.query('', `update member set role = 'member' where id = $1`, [id]);
  crew = await club.person('crew', 'Tor Vik');
  member = await club.person('member', 'Liv Strand');
});
const memberOf = async (id: string) => (await captain.get(`/api/members/${id}`)).body;

describe('members', () => {
  it('are listed for every member, those who left last, with no e-mail or password', async () => {
    await captain.post(`/api/members/${crew.id}/leave`, { version: 1 });
    const { status, body } = await member.get('/api/members');
    expect(status).toBe(200);
    expect(body.items.at(-1).leftAt).not.toBeNull();
    expect(Object.keys(body.items[0]).sort()).toEqual(['id', 'joinedAt', 'leftAt', 'name', 'role', 'userName', 'version']);
    expect((await club.stranger.get('/api/members')).status).toBe(401);
  });

  it('are shown one by one with an ETag; one who is not there is not found', async () => {
    const shown = await member.get(`/api/members/${crew.id}`);
    expect(shown.body).toMatchObject({ id: crew.id, name: 'Tor Vik', role: 'crew', leftAt: null, version: 1 });
    expect((await member.get(`/api/members/${crew.id}`, { 'if-none-match': String(shown.headers['etag']) })).status).toBe(304);
    expect((await member.get(`/api/members/${randomUUID()}`)).status).toBe(404);
    expect((await member.get('/api/members/7')).body.errors[0].field).toBe('id');
  });
});

describe('changing a member', () => {
  it('is a captain\'s for role and name, and takes effect with the next request', async () => {
    const changed = await captain.patch(`/api/members/${member.id}`, { version: 1, role: 'captain', name: 'Liv Strand Berg' });
    expect(changed.body).toMatchObject({ role: 'captain', name: 'Liv Strand Berg', version: 2 });
    expect((await member.get('/api/invitations')).status).toBe(200);
    await captain.patch(`/api/members/${member.id}`, { version: 2, role: 'member' });
    expect((await member.get('/api/invitations')).status).toBe(403);
  });

  it('is everybody\'s for their own name, and for nothing else', async () => {
    expect((await member.patch(`/api/members/${member.id}`, { version: 1, name: 'Liv S.' })).body.name).toBe('Liv S.');
    const role = await member.patch(`/api/members/${member.id}`, { version: 2, role: 'captain' });
    expect([role.status, role.body.code]).toEqual([403, 'not-allowed']);
    expect((await crew.patch(`/api/members/${member.id}`, { version: 2, name: 'Fish' })).status).toBe(403);
    expect(await memberOf(member.id)).toMatchObject({ name: 'Liv S.', role: 'member', version: 2 });
  });

  it('from an older version is refused and says what differs', async () => {
    await captain.patch(`/api/members/${member.id}`, { version: 1, name: 'Liv S.' });
    const stale = await captain.patch(`/api/members/${member.id}`, { version: 1, name: 'Livia' });
    expect([stale.status, stale.body.code]).toEqual([409, 'stale-edit']);
    expect(stale.body.changes).toContainEqual({ field: 'name', yours: 'Livia', theirs: 'Liv S.' });
  });

  it.each([
    ['name', { name: '' }, 'Enter a name'],
    ['name', { name: 'x'.repeat(10_000) }, '80 characters'],
    ['name', { name: 'a\u0000b' }, 'cannot be shown'],
    ['role', { role: 'admiral' }, 'captain'],
    ['email', { email: 'x@example.org' }, 'not a field'],
  ])('with a bad %s is refused by name', async (field, over, words) => {
    const refused = await captain.patch(`/api/members/${member.id}`, { version: 1, ...over });
    expect(refused.status).toBe(400);
    expect(refused.body.errors[0]).toMatchObject({ field, message: expect.stringContaining(words), remedy: expect.any(String) });
    expect((await memberOf(member.id)).version).toBe(1);
  });

  it('is in the record: who, before and after', async () => {
    await captain.patch(`/api/members/${member.id}`, { version: 1, role: 'crew' });
    const [entry] = await club.database.query('', `select actor_id, before, after from record_entry where subject_kind = 'member' and subject_id = $1 order by id desc limit 1`, [member.id]);
    expect(entry).toEqual({ actor_id: captain.id, before: { role: 'member' }, after: { role: 'crew' } });
  });
});

describe('the last captain', () => {
  it('cannot step down or leave', async () => {
    const demoted = await captain.patch(`/api/members/${captain.id}`, { version: 1, role: 'crew' });
    expect([demoted.status, demoted.body.code, demoted.body.errors[0].remedy]).toEqual([409, 'last-captain', 'Make somebody else captain first.']);
    expect((await captain.post(`/api/members/${captain.id}/leave`, { version: 1 })).body.code).toBe('last-captain');
    expect(await memberOf(captain.id)).toMatchObject({ role: 'captain', leftAt: null, version: 1 });
  });

  it('is one of two captains who demote each other at once', async () => {
    const second = await club.person('captain');
    const answers = await Promise.all([
      captain.patch(`/api/members/${second.id}`, { version: 1, role: 'member' }),
      second.patch(`/api/members/${captain.id}`, { version: 1, role: 'member' }),
    ]);
    const statuses = answers.map((a) => a.status);
    // The second is refused by the rule of the last captain, or, where requests run one by one, as a captain no more.
    expect(statuses.filter((s) => s === 200)).toHaveLength(1);
    expect([403, 409]).toContain(statuses.find((s) => s !== 200));
    const left = await club.database.query('', `select 1 from member where role = 'captain' and left_at is null`);
    expect(left).toHaveLength(1);
  });

  it('is one of two captains who leave at once', async () => {
    const second = await club.person('captain');
    const answers = await Promise.all([captain.post(`/api/members/${captain.id}/leave`, { version: 1 }), second.post(`/api/members/${second.id}/leave`, { version: 1 })]);
    expect(answers.map((a) => a.status).sort()).toEqual([200, 409]);
    expect(answers.find((a) => a.status === 409)!.body.code).toBe('last-captain');
  });

  it('holds in the database itself', async () => {
    await expect(club.database.query('', `update member set left_at = now() where id = $1`, [captain.id])).rejects.toMatchObject({ constraint: 'member_last_captain' });
  });
});

describe('leaving', () => {
  it('is for oneself or done by a captain, and for nobody else', async () => {
    expect((await crew.post(`/api/members/${member.id}/leave`, { version: 1 })).status).toBe(403);
    expect((await member.post(`/api/members/${member.id}/leave`, { version: 1 })).body.leftAt).toBe(club.clock.now.toISOString());
    expect((await captain.post(`/api/members/${crew.id}/leave`, { version: 1 })).status).toBe(200);
    const again = await captain.post(`/api/members/${crew.id}/leave`, { version: 2 });
    expect([again.status, again.body.detail]).toEqual([409, 'Tor Vik has left already. There is nothing to do.']);
    expect((await captain.post(`/api/members/${randomUUID()}/leave`, { version: 1 })).status).toBe(404);
  });

  it('ends access at once: cookie, refresh token and password', async () => {
    const { id, own } = await joined(club, 'crew', 'leaver');
    expect((await own.get('/api/members')).status).toBe(200);
    await captain.post(`/api/members/${id}/leave`, { version: 1 });
    expect((await own.get('/api/members')).status).toBe(401);
    expect((await own.get('/api/session')).body.me).toBeNull();
    expect((await own.post('/api/session/renew')).status).toBe(401);
    expect((await own.signIn('leaver', goodPassword)).status).toBe(401);
  });

  it('clears the cookies of somebody who leaves by themselves', async () => {
    const { id, own } = await joined(club, 'member', 'leaver2');
    expect((await own.post(`/api/members/${id}/leave`, { version: 1 })).status).toBe(200);
    expect(own.cookies.has('tl_access') || own.cookies.has('tl_refresh')).toBe(false);
  });

  it('keeps the name in lists and history, and takes no role any more', async () => {
    await captain.post(`/api/members/${crew.id}/leave`, { version: 1 });
    expect((await member.get('/api/members')).body.items.some((m: { id: string }) => m.id === crew.id)).toBe(true);
    const role = await captain.patch(`/api/members/${crew.id}`, { version: 2, role: 'captain' });
    expect([role.status, role.body.errors[0].field]).toEqual([409, 'role']);
  });

  it('sent again with the same key does it once and answers the same', async () => {
    const key = randomUUID();
    const first = await captain.post(`/api/members/${crew.id}/leave`, { version: 1 }, key);
    const second = await captain.post(`/api/members/${crew.id}/leave`, { version: 1 }, key);
    expect(second.body).toEqual(first.body);
    expect(second.status).toBe(200);
    expect((await captain.post(`/api/members/${member.id}/leave`, { version: 1 }, key)).body.code).toBe('key-reused');
  });

  it('of a captain ends the invitations and reset links that they made', async () => {
    const second = await club.person('captain');
    const token = await invitationToken(second);
    const reset = await second.post('/api/password-resets', { memberId: member.id });
    await captain.post(`/api/members/${second.id}/leave`, { version: 1 });
    expect((await browser(club).get(`/api/invitations/by-token/${token}`)).status).toBe(410);
    expect((await browser(club).get(`/api/password-resets/by-token/${reset.body.link.split('/').at(-1)}`)).status).toBe(410);
  });

  it('frees the packs that they had claimed, and leaves others\' claims', async () => {
    const packs = await clearPacks(3);
    await claim(packs[0]!, member.id, 'asked');
    await claim(packs[1]!, member.id, 'confirmed');
    await claim(packs[2]!, crew.id, 'asked');
    await member.post(`/api/members/${member.id}/leave`, { version: 1 });
    const rows = await club.database.query('', `select c.status as claim, p.status as pack, c.reason from claim c join pack p on p.id = c.pack_id where p.id = any($1::uuid[]) order by p.pack_no`, [packs]);
    expect(rows).toEqual([
      { claim: 'withdrawn', pack: 'ready', reason: 'Left the club' },
      { claim: 'withdrawn', pack: 'ready', reason: 'Left the club' },
      { claim: 'asked', pack: 'claimed', reason: '' },
    ]);
  });
});

/** Packs of a batch that is clear to share, put straight into the database: how they get there is another feature's matter. */
async function clearPacks(n: number): Promise<string[]> {
  const batch = randomUUID();
  await club.database.query('', `insert into batch (id, lot, name, product_kind, verdict, on_hand_grams, created_by_id, created_at)
    values ($1, $2, 'Smoked mackerel', 'hot-smoked', 'clear', 10000, $3, now())`, [batch, batch.slice(0, 8), captain.id]);
  const ids = Array.from({ length: n }, () => randomUUID());
  for (const [i, id] of ids.entries()) {
    await club.database.query('', `insert into pack (id, batch_id, pack_no, grams, package_kind, storage, packed_at, public_code, created_by_id, created_at)
      values ($1, $2, $3, 300, 'tub', 'refrigerated', now(), $4, $5, now())`, [id, batch, i + 1, id, captain.id]);
  }
  return ids;
}
async function claim(packId: string, memberId: string, status: 'asked' | 'confirmed'): Promise<void> {
  const decided = status === 'confirmed' ? captain.id : null;
  await club.database.query('', `insert into claim (id, pack_id, member_id, status, decided_by_id, decided_at, created_at)
    values ($1, $2, $3, $4, $5, case when $5::uuid is null then null else now() end, now())`, [randomUUID(), packId, memberId, status, decided]);
  await club.database.query('', `update pack set status = 'claimed' where id = $1`, [packId]);
}
