import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';
import { packsOf, smokedBatch } from '../support/smoked-batch.ts';

let club: TestClub;
let captain: Person, crew: Person, ann: Person, finn: Person;
beforeAll(async () => {
  club = await testClub({ now: '2026-06-10T12:00:00Z' });
  [captain, crew, ann, finn] = [await club.person('captain', 'Isla Muir'), await club.person('crew', 'Rob Tait'), await club.person('member', 'Ann Sinclair'), await club.person('member', 'Finn Isbister')];
});
afterAll(() => club.close());

const packs = async (n: number) => packsOf(club, crew, await smokedBatch(club, crew), Array.from({ length: n }, () => 200));
const statusOf = async (packId: string) => (await crew.get(`/api/packs/${packId}`)).body.status;

test('a member claims a pack; it is theirs alone', async () => {
  const [pack] = await packs(1);
  const made = await ann.post('/api/claims', { packId: pack, note: 'for Sunday' });
  expect(made.status).toBe(201);
  expect(made.body).toMatchObject({ status: 'asked', note: 'for Sunday', member: { name: 'Ann Sinclair' }, decidedBy: null, createdAt: '2026-06-10T12:00:00.000Z', version: 1, pack: { id: pack, status: 'claimed', mine: true, version: 2 } });
  // The answer at once and the one read later are the same.
  expect((await ann.get('/api/claims')).body.items[0]).toEqual(made.body);
  const second = await finn.post('/api/claims', { packId: pack });
  expect(second.body).toMatchObject({ code: 'already-claimed', errors: [{ field: 'packId', remedy: 'Choose another pack.' }] });
  expect(second.raw.toString()).not.toContain('Ann');
  expect((await ann.post('/api/claims', { packId: pack })).body.detail).toMatch(/^You have claimed /);
});

test('crew read the claims of one member; a member reads their own whatever is asked', async () => {
  const [one, two] = await packs(2);
  const mine = (await ann.post('/api/claims', { packId: one })).body.id;
  await finn.post('/api/claims', { packId: two });
  const of = async (person: Person, query: string) => (await person.get(`/api/claims?${query}`)).body.items as { id: string; member: { id: string } }[];
  const found = await of(crew, `memberId=${ann.id}`);
  expect(found.map((c) => c.id)).toContain(mine);
  expect(new Set(found.map((c) => c.member.id))).toEqual(new Set([ann.id]));
  expect(await of(crew, `memberId=${ann.id}&status=confirmed`)).toEqual([]);
  expect(new Set((await of(finn, `memberId=${ann.id}`)).map((c) => c.member.id))).toEqual(new Set([finn.id]));
});

test('the same key claims once and gets the same answer', async () => {
  const [pack] = await packs(1);
  const key = randomUUID();
  const answers = await Promise.all([1, 2, 3].map(() => ann.post('/api/claims', { packId: pack }, key)));
  expect(answers.map((a) => a.status)).toEqual([201, 201, 201]);
  expect(new Set(answers.map((a) => a.body.id)).size).toBe(1);
});

test('64 members at once for the last pack: one has it, 63 are told that somebody else does', { timeout: 120_000 }, async () => {
  const [pack] = await packs(1);
  const members = await Promise.all(Array.from({ length: 64 }, () => club.person('member')));
  const answers = await Promise.all(members.map((m) => m.post('/api/claims', { packId: pack })));
  expect(answers.filter((a) => a.status === 201)).toHaveLength(1);
  expect(answers.filter((a) => a.status === 409 && a.body.code === 'already-claimed')).toHaveLength(63);
  const [rows] = await club.database.query<{ n: number }>('t-claims', `select count(*)::int as n from claim where pack_id = $1`, [pack]);
  expect(rows!.n).toBe(1);
});

describe('never claimed', () => {
  test('on hold, recalled, past its last day, without one, thrown away, not there', async () => {
    const held = await smokedBatch(club, crew, { evidence: { maxCoreC: 62.7, holdMinutes: 40, cooled: true } });
    const recalled = await smokedBatch(club, crew);
    const good = await smokedBatch(club, crew);
    const [onHold] = await packsOf(club, crew, held, [100]);
    const [called] = await packsOf(club, crew, recalled, [100]);
    const [past] = await packsOf(club, crew, good, [100], { lastDay: '2026-06-09' });
    const [unknown] = await packsOf(club, crew, good, [100], { lastDay: null });
    const [gone] = await packsOf(club, crew, good, [100], { status: 'discarded' });
    await club.database.query('t-recall', `update batch set recalled_at = now(), recall_reason = 'smelt wrong' where id = $1`, [recalled.id]);
    const claim = async (packId: string | undefined) => (await ann.post('/api/claims', { packId })).body;
    expect(await claim(onHold)).toMatchObject({ code: 'on-hold', status: 409 });
    expect(await claim(called)).toMatchObject({ code: 'recalled', status: 409 });
    expect((await claim(past)).detail).toContain('was Tue 9 Jun 2026');
    expect(await claim(unknown)).toMatchObject({ code: 'on-hold' });
    expect(await claim(gone)).toMatchObject({ code: 'conflict' });
    expect(await claim(randomUUID())).toMatchObject({ code: 'not-found' });
    const [{ n } = { n: -1 }] = await club.database.query<{ n: number }>('t-none', `select count(*)::int as n from claim where pack_id = any($1::uuid[])`, [[onHold, called, past, unknown, gone] as string[]]);
    expect(n).toBe(0);
  });
  test('on its last day until midnight of the club, not of UTC', async () => {
    const [first, second] = await packsOf(club, crew, await smokedBatch(club, crew), [100, 100], { lastDay: '2026-06-10' });
    club.clock.now = new Date('2026-06-10T22:59:00Z');
    expect((await ann.post('/api/claims', { packId: first })).status).toBe(201);
    club.clock.now = new Date('2026-06-10T23:00:00Z');
    expect((await ann.post('/api/claims', { packId: second })).status).toBe(409);
    club.clock.now = new Date('2026-06-10T12:00:00Z');
  });
});

test('a captain claims for another member, nobody else does, and not for one who left', async () => {
  const [one, two] = await packs(2);
  expect((await captain.post('/api/claims', { packId: one, memberId: finn.id })).body).toMatchObject({ member: { name: 'Finn Isbister' }, pack: { mine: false } });
  expect((await ann.post('/api/claims', { packId: two, memberId: finn.id })).status).toBe(403);
  expect((await crew.post('/api/claims', { packId: two, memberId: finn.id })).status).toBe(403);
  const left = await club.person('member');
  await club.database.query('t-left', `update member set left_at = now() where id = $1`, [left.id]);
  expect((await captain.post('/api/claims', { packId: two, memberId: left.id })).body.errors[0].field).toBe('memberId');
  expect(await statusOf(two!)).toBe('ready');
});

test('a claim made while its member leaves: nobody who left has a claim that stands', async () => {
  const leaving = await club.person('member');
  const ids = await packs(8);
  const going = captain.post(`/api/members/${leaving.id}/leave`, { version: 1 });
  const asked = await Promise.all(ids.map((packId) => captain.post('/api/claims', { packId, memberId: leaving.id })));
  expect((await going).status).toBe(200);
  for (const answer of asked) expect(answer.status === 201 || answer.body.errors[0].field === 'memberId').toBe(true);
  const standing = await club.database.query('t-standing', `select id from claim where member_id = $1 and status in ('asked', 'confirmed')`, [leaving.id]);
  expect(standing).toEqual([]);
  expect(await Promise.all(ids.map(statusOf))).toEqual(ids.map(() => 'ready'));
});

describe('what becomes of a claim', () => {
  const claimed = async (n = 1) => {
    const ids = await packs(n);
    return { ids, claim: (await ann.post('/api/claims', { packId: ids[0] })).body };
  };
  test('a captain confirms it once', async () => {
    const { claim } = await claimed();
    const done = await captain.post(`/api/claims/${claim.id}/confirm`, { version: 1 });
    expect(done.body).toMatchObject({ status: 'confirmed', decidedBy: { name: 'Isla Muir' }, version: 2 });
    expect((await captain.post(`/api/claims/${claim.id}/confirm`, { version: 1 })).body.code).toBe('stale-edit');
    expect((await captain.post(`/api/claims/${claim.id}/confirm`, { version: 2 })).body.code).toBe('conflict');
  });
  test('not while its batch is on hold', async () => {
    const batch = await smokedBatch(club, crew);
    const [pack] = await packsOf(club, crew, batch, [100]);
    const { body } = await ann.post('/api/claims', { packId: pack });
    await club.database.query('t-hold', `update batch set verdict = 'hold' where id = $1`, [batch.id]);
    expect((await captain.post(`/api/claims/${body.id}/confirm`, { version: 1 })).body.code).toBe('on-hold');
  });
  test('a captain refuses it with a reason; the pack is free', async () => {
    const { ids, claim } = await claimed();
    expect((await captain.post(`/api/claims/${claim.id}/refuse`, { version: 1, reason: 'kept for the supper' })).body).toMatchObject({ status: 'refused', reason: 'kept for the supper', pack: { status: 'ready' } });
    expect((await finn.post('/api/claims', { packId: ids[0] })).status).toBe(201);
    expect((await captain.post(`/api/claims/${claim.id}/refuse`, { version: 2 })).body.code).toBe('conflict');
  });
  test('the member withdraws it; others do not, and members do not even see it', async () => {
    const { ids, claim } = await claimed();
    expect((await finn.post(`/api/claims/${claim.id}/withdraw`, { version: 1 })).status).toBe(404);
    expect((await captain.post(`/api/claims/${claim.id}/withdraw`, { version: 1 })).status).toBe(403);
    expect((await ann.post(`/api/claims/${claim.id}/withdraw`, { version: 1 })).body.status).toBe('withdrawn');
    expect(await statusOf(ids[0]!)).toBe('ready');
  });
  test('a captain moves it to another pack, or to another member', async () => {
    const { ids, claim } = await claimed(2);
    const toPack = await captain.post(`/api/claims/${claim.id}/move`, { version: 1, toPackId: ids[1], reason: 'the first is small' });
    expect(toPack.body).toMatchObject({ status: 'confirmed', member: { name: 'Ann Sinclair' }, pack: { id: ids[1], status: 'claimed' } });
    expect(await statusOf(ids[0]!)).toBe('ready');
    const toMember = await captain.post(`/api/claims/${toPack.body.id}/move`, { version: 1, toMemberId: finn.id });
    expect(toMember.body).toMatchObject({ status: 'confirmed', member: { name: 'Finn Isbister' }, pack: { id: ids[1] } });
    const own = (await ann.get('/api/claims?mine=true')).body.items.filter((c: { pack: { id: string } }) => ids.includes(c.pack.id));
    expect(own.map((c: { status: string }) => c.status)).toEqual(['moved', 'moved']);
  });
  test('a move that cannot be done changes nothing', async () => {
    const { ids, claim } = await claimed(2);
    await finn.post('/api/claims', { packId: ids[1] });
    expect((await captain.post(`/api/claims/${claim.id}/move`, { version: 1, toPackId: ids[1] })).body.code).toBe('already-claimed');
    expect((await captain.post(`/api/claims/${claim.id}/move`, { version: 1, toMemberId: ann.id })).body.code).toBe('conflict');
    expect((await captain.post(`/api/claims/${claim.id}/move`, { version: 1, toMemberId: randomUUID() })).status).toBe(404);
    expect((await captain.post(`/api/claims/${claim.id}/move`, { version: 1 })).status).toBe(400);
    expect((await ann.get('/api/claims')).body.items.find((c: { id: string }) => c.id === claim.id)).toMatchObject({ status: 'asked', version: 1, pack: { status: 'claimed' } });
  });
  test('members and crew decide nothing', async () => {
    const { claim } = await claimed();
    for (const verb of ['confirm', 'refuse', 'move']) {
      for (const person of [ann, crew]) expect((await person.post(`/api/claims/${claim.id}/${verb}`, { version: 1, ...(verb === 'move' ? { toMemberId: finn.id } : {}) })).status).toBe(403);
    }
  });
});

test('crew lists everybody’s claims in pages, a member their own', async () => {
  const all: string[] = [];
  let cursor: string | null = null;
  do {
    const page: { body: { items: { id: string }[]; nextCursor: string | null } } = await crew.get(`/api/claims?limit=10${cursor ? `&cursor=${cursor}` : ''}`);
    all.push(...page.body.items.map((c) => c.id));
    cursor = page.body.nextCursor;
  } while (cursor);
  const [rows] = await club.database.query<{ n: number }>('t-all-claims', `select count(*)::int as n from claim`);
  expect(new Set(all).size).toBe(rows!.n);
  const own = (await finn.get('/api/claims?limit=100')).body.items;
  expect(own.length).toBeGreaterThan(0);
  expect(own.every((c: { member: { name: string } }) => c.member.name === 'Finn Isbister')).toBe(true);
  expect((await crew.get('/api/claims?status=refused&limit=100')).body.items.every((c: { status: string }) => c.status === 'refused')).toBe(true);
});

describe('several packs at once', () => {
  const several = (person: Person, packIds: string[], more: object = {}, key = randomUUID()) => person.post('/api/claims/several', { packIds, ...more }, key);

  test('all of them are claimed, in the order asked for, one named twice once', async () => {
    const [one, two, three] = await packs(3);
    const made = await several(ann, [two!, one!, two!], { note: 'for Sunday' });
    expect(made.status).toBe(201);
    expect(made.body.items.map((c: any) => [c.pack.id, c.status, c.note, c.member.id])).toEqual([two, one].map((id) => [id, 'asked', 'for Sunday', ann.id]));
    expect(await Promise.all([one!, two!, three!].map(statusOf))).toEqual(['claimed', 'claimed', 'ready']);
  });

  test('one that went in the meantime is named, by its place in the list, and none is claimed', async () => {
    const [one, two, three] = await packs(3);
    await finn.post('/api/claims', { packId: two });
    const code = (await crew.get(`/api/packs/${two}`)).body;
    const refused = await several(ann, [one!, two!, three!]);
    expect([refused.status, refused.body.code]).toEqual([409, 'already-claimed']);
    expect(refused.body.detail).toContain(`Somebody else claimed ${code.lot}-2.`);
    expect(refused.body.errors).toEqual([{ field: 'packIds.1', value: two, message: `Somebody else claimed ${code.lot}-2.`, remedy: 'Choose another pack.' }]);
    expect(refused.raw.toString()).not.toContain('Finn');
    expect(await Promise.all([one!, three!].map(statusOf))).toEqual(['ready', 'ready']);
  });

  test('everything that stands in the way is named at once', async () => {
    const [one, two, three] = await packs(3);
    await finn.post('/api/claims', { packId: one });
    await crew.post('/api/hand-overs', { packIds: [two], to: { name: 'Neighbour Tove' } });
    const nowhere = randomUUID();
    const refused = await several(ann, [one!, two!, nowhere, three!]);
    expect(refused.body.detail).toMatch(/^Nothing was claimed\. Somebody else claimed .+ has gone to somebody already\. This pack was not found\.$/);
    expect(refused.body.errors.map((e: any) => e.field)).toEqual(['packIds.0', 'packIds.1', 'packIds.2']);
    expect(await statusOf(three!)).toBe('ready');
  });

  test('the same key claims once and gets the same answer', async () => {
    const chosen = await packs(2);
    const key = randomUUID();
    const answers = await Promise.all([1, 2, 3].map(() => several(ann, chosen, {}, key)));
    expect(answers.map((a) => a.status)).toEqual([201, 201, 201]);
    expect(new Set(answers.map((a) => JSON.stringify(a.body))).size).toBe(1);
  });

  test('16 members at once for packs of two lots, in either order: one has all, nobody else any, and nobody waits for ever', { timeout: 60_000 }, async () => {
    const chosen = [...(await packs(2)), ...(await packs(2))];
    const members = await Promise.all(Array.from({ length: 16 }, () => club.person('member')));
    const answers = await Promise.all(members.map((m, i) => several(m, i % 2 === 0 ? chosen : chosen.toReversed())));
    expect(answers.map((a) => a.status).sort()).toEqual([201, ...Array.from({ length: 15 }, () => 409)]);
    const rows = await club.database.query<{ member: string }>('t-several', `select member_id as member from claim where pack_id = any($1::uuid[])`, [chosen]);
    expect([rows.length, new Set(rows.map((r) => r.member)).size]).toEqual([4, 1]);
  });

  test('for another member only a captain claims; an empty list says what to do', async () => {
    const [one, two] = await packs(2);
    expect((await several(finn, [one!], { memberId: ann.id })).status).toBe(403);
    expect((await several(captain, [one!, two!], { memberId: ann.id })).body.items.map((c: any) => c.member.name)).toEqual(['Ann Sinclair', 'Ann Sinclair']);
    const empty = await several(ann, []);
    expect([empty.status, empty.body.errors[0].field, empty.body.errors[0].message]).toEqual([400, 'packIds', expect.stringMatching(/choose at least one pack/i)]);
  });
});
