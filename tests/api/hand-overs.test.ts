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

/** The clock moves on, so that one step comes after the other. */
const aMinuteLater = () => (club.clock.now = new Date(club.clock.now.getTime() + 60_000));
const packs = async (n: number) => packsOf(club, crew, await smokedBatch(club, crew), Array.from({ length: n }, () => 200));
const give = (packIds: string[], to: object, more: object = {}, by = crew) => by.post('/api/hand-overs', { packIds, to, ...more });
const read = async (packId: string) => (await crew.get(`/api/packs/${packId}`)).body;

describe('handing over', () => {
  test('several packs to a member: to whom, when, by whom; the member has them', async () => {
    const ids = await packs(3);
    const made = await give(ids, { memberId: ann.id }, { note: 'at the pier' });
    expect(made.status).toBe(201);
    expect(made.body.items).toHaveLength(3);
    expect(made.body.items[0]).toMatchObject({ kind: 'hand-over', from: null, to: 'Ann Sinclair', by: { name: 'Rob Tait' }, handedAt: club.clock.now.toISOString(), note: 'at the pier', undone: false });
    expect(await read(ids[0]!)).toMatchObject({ status: 'handed-over', holder: 'Ann Sinclair', handOvers: [{ to: 'Ann Sinclair' }] });
    expect((await ann.get('/api/packs?mine=true')).body.items).toHaveLength(3);
    expect((await ann.get('/api/hand-overs')).body.items).toHaveLength(3);
    expect((await finn.get('/api/hand-overs')).body.items).toHaveLength(0);
  });
  test('to a named recipient without an account', async () => {
    const [pack] = await packs(1);
    await give([pack!], { name: 'Old Magnus' });
    expect(await read(pack!)).toMatchObject({ status: 'handed-over', holder: 'Old Magnus', mine: false });
  });
  test('to the member who claimed it: the claim has come to its end', async () => {
    const [pack] = await packs(1);
    const claim = (await ann.post('/api/claims', { packId: pack })).body;
    expect((await give([pack!], { memberId: ann.id })).status).toBe(201);
    expect((await ann.get('/api/claims')).body.items.find((c: { id: string }) => c.id === claim.id)).toMatchObject({ status: 'handed-over', pack: { status: 'handed-over', mine: true } });
  });
  test('what another claimed is refused with the name, and the whole list with it', async () => {
    const [free, claimed, alsoClaimed] = await packs(3);
    await finn.post('/api/claims', { packId: claimed });
    await finn.post('/api/claims', { packId: alsoClaimed });
    const refused = await give([free!, claimed!], { memberId: ann.id });
    expect(refused.body).toMatchObject({ code: 'already-claimed', errors: [{ field: 'packIds.1' }] });
    expect(refused.body.detail).toContain('is claimed by Finn Isbister');
    expect((await give([free!, claimed!, alsoClaimed!], { name: 'Old Magnus' })).body.errors).toHaveLength(2);
    expect((await read(free!)).status).toBe('ready');
    expect((await read(free!)).handOvers).toEqual([]);
  });
  test('on hold, recalled, past its last day, gone already: refused', async () => {
    const held = await smokedBatch(club, crew, { evidence: { maxCoreC: 66, holdMinutes: null, cooled: true } });
    const recalled = await smokedBatch(club, crew);
    const [onHold] = await packsOf(club, crew, held, [100]);
    const [called] = await packsOf(club, crew, recalled, [100]);
    const [past] = await packsOf(club, crew, await smokedBatch(club, crew), [100], { lastDay: '2026-06-09' });
    await club.database.query('t-recall', `update batch set recalled_at = now(), recall_reason = 'smelt wrong' where id = $1`, [recalled.id]);
    expect((await give([onHold!], { memberId: ann.id })).body.code).toBe('on-hold');
    expect((await give([called!], { memberId: ann.id })).body.code).toBe('recalled');
    expect((await give([past!], { memberId: ann.id })).body.detail).toContain('was Tue 9 Jun 2026');
    const [gone] = await packs(1);
    await give([gone!], { memberId: finn.id });
    expect((await give([gone!], { memberId: ann.id })).body.detail).toContain('has gone to Finn Isbister already');
    expect((await give([randomUUID()], { memberId: ann.id })).status).toBe(404);
  });
  test('a time in the future or before packing, nobody and everybody at once: refused', async () => {
    const [pack] = await packs(1);
    expect((await give([pack!], { memberId: ann.id }, { handedAt: '2026-06-12T12:00:00Z' })).body.errors[0].field).toBe('handedAt');
    expect((await give([pack!], { memberId: ann.id }, { handedAt: '2026-06-10T08:00:00Z' })).body.detail).toContain('was packed later');
    expect((await give([pack!], {})).status).toBe(400);
    expect((await give([pack!], { memberId: ann.id, name: 'Ann' })).status).toBe(400);
    expect((await give([pack!], { memberId: randomUUID() })).status).toBe(404);
    expect((await give([pack!], { memberId: ann.id }, {}, ann)).status).toBe(403);
  });
  test('two at once give a pack once; the same key gives it once and answers twice', async () => {
    const [pack, other] = await packs(2);
    const both = await Promise.all([give([pack!], { memberId: ann.id }), give([pack!], { memberId: finn.id }, {}, captain)]);
    expect(both.map((a) => a.status).sort()).toEqual([201, 409]);
    const key = randomUUID();
    const same = await Promise.all([1, 2].map(() => crew.post('/api/hand-overs', { packIds: [other], to: { memberId: ann.id } }, key)));
    expect(same.map((a) => a.status)).toEqual([201, 201]);
    expect(same[0]!.body).toEqual(same[1]!.body);
  });
});

describe('a gift', () => {
  test('the member who has a pack passes it on; nobody else does', async () => {
    const [pack] = await packs(1);
    await give([pack!], { memberId: ann.id });
    expect((await finn.post('/api/gifts', { packId: pack, to: { name: 'A neighbour' } })).status).toBe(403);
    expect((await captain.post('/api/gifts', { packId: pack, to: { name: 'A neighbour' } })).status).toBe(403);
    expect((await ann.post('/api/gifts', { packId: pack, to: { memberId: ann.id } })).status).toBe(409);
    aMinuteLater();
    const first = await ann.post('/api/gifts', { packId: pack, to: { memberId: finn.id }, note: 'enjoy' });
    expect(first.body).toMatchObject({ kind: 'gift', from: 'Ann Sinclair', to: 'Finn Isbister', note: 'enjoy' });
    expect((await ann.post('/api/gifts', { packId: pack, to: { name: 'A neighbour' } })).status).toBe(403);
    aMinuteLater();
    expect((await finn.post('/api/gifts', { packId: pack, to: { name: 'A neighbour' } })).status).toBe(201);
    expect(await read(pack!)).toMatchObject({ status: 'handed-over', holder: 'A neighbour' });
    expect((await read(pack!)).handOvers.map((h: { to: string }) => h.to)).toEqual(['Ann Sinclair', 'Finn Isbister', 'A neighbour']);
    // A member reads the steps that touch them.
    expect((await ann.get(`/api/packs/${pack}`)).body.handOvers.map((h: { to: string }) => h.to)).toEqual(['Ann Sinclair', 'Finn Isbister']);
  });
  test('nothing recalled is passed on', async () => {
    const batch = await smokedBatch(club, crew);
    const [pack] = await packsOf(club, crew, batch, [100]);
    await give([pack!], { memberId: ann.id });
    await club.database.query('t-recall', `update batch set recalled_at = now(), recall_reason = 'smelt wrong' where id = $1`, [batch.id]);
    expect((await ann.post('/api/gifts', { packId: pack, to: { name: 'A neighbour' } })).body.code).toBe('recalled');
  });
});

describe('undoing', () => {
  const undo = (id: string, version = 1, by = captain) => by.post(`/api/hand-overs/${id}/undo`, { version, reason: 'wrong bag' });
  test('a captain takes a hand-over back: the pack is ready, the step stays on record as undone', async () => {
    const [pack] = await packs(1);
    const [made] = (await give([pack!], { memberId: ann.id })).body.items;
    expect((await undo(made.id, 1, crew)).status).toBe(403);
    expect((await captain.post(`/api/hand-overs/${made.id}/undo`, { version: 1 })).status).toBe(400);
    expect((await undo(made.id)).body).toMatchObject({ undone: true, version: 2 });
    expect(await read(pack!)).toMatchObject({ status: 'ready', holder: null, handOvers: [{ undone: true }] });
    expect((await undo(made.id, 2)).body.code).toBe('conflict');
    expect((await finn.post('/api/claims', { packId: pack })).status).toBe(201);
  });
  test('its claim stands again', async () => {
    const [pack] = await packs(1);
    const claim = (await ann.post('/api/claims', { packId: pack })).body;
    const [made] = (await give([pack!], { memberId: ann.id })).body.items;
    await undo(made.id);
    expect(await read(pack!)).toMatchObject({ status: 'claimed', claim: { id: claim.id, status: 'confirmed', member: { name: 'Ann Sinclair' } } });
  });
  test('in a recalled lot the pack comes back and the claim does not', async () => {
    const batch = await smokedBatch(club, crew);
    const [pack] = await packsOf(club, crew, batch, [100]);
    await ann.post('/api/claims', { packId: pack });
    const [made] = (await give([pack!], { memberId: ann.id })).body.items;
    await club.database.query('t-recall', `update batch set recalled_at = now(), recall_reason = 'smelt wrong' where id = $1`, [batch.id]);
    expect((await undo(made.id)).status).toBe(200);
    expect(await read(pack!)).toMatchObject({ status: 'ready', claim: null, recalled: true });
  });
  test('of one who left, the pack comes back free: their claim does not stand again', async () => {
    const [pack] = await packs(1);
    const leaving = await club.person('member');
    const claim = (await leaving.post('/api/claims', { packId: pack })).body;
    const [made] = (await give([pack!], { memberId: leaving.id })).body.items;
    expect((await captain.post(`/api/members/${leaving.id}/leave`, { version: 1 })).status).toBe(200);
    expect((await undo(made.id)).status).toBe(200);
    expect(await read(pack!)).toMatchObject({ status: 'ready', claim: null });
    expect((await crew.get('/api/claims')).body.items.find((c: { id: string }) => c.id === claim.id)).toMatchObject({ status: 'refused' });
  });
  test('steps are undone from the last', async () => {
    const [pack] = await packs(1);
    const [made] = (await give([pack!], { memberId: ann.id })).body.items;
    aMinuteLater();
    const gift = (await ann.post('/api/gifts', { packId: pack, to: { memberId: finn.id } })).body;
    expect((await undo(made.id)).body.code).toBe('conflict');
    expect((await undo(gift.id)).status).toBe(200);
    expect(await read(pack!)).toMatchObject({ status: 'handed-over', holder: 'Ann Sinclair' });
    expect((await undo(made.id)).status).toBe(200);
    expect((await read(pack!)).status).toBe('ready');
  });
});

test('crew lists all hand-overs in pages', async () => {
  const all: string[] = [];
  let cursor: string | null = null;
  do {
    const page: { body: { items: { id: string }[]; nextCursor: string | null } } = await crew.get(`/api/hand-overs?limit=5${cursor ? `&cursor=${cursor}` : ''}`);
    all.push(...page.body.items.map((h) => h.id));
    cursor = page.body.nextCursor;
  } while (cursor);
  const [rows] = await club.database.query<{ n: number }>('t-all', `select count(*)::int as n from hand_over`);
  expect(new Set(all).size).toBe(rows!.n);
});

describe('a recall of what was passed on', () => {
  const tells = async (who: Person, kind: string) => (await who.get('/api/today')).body.waiting.filter((w: { kind: string }) => w.kind === kind);

  test('names whom to tell on the first screen, in the list of what I passed on and on the pack, until somebody says that they were told', async () => {
    const batch = await smokedBatch(club, crew, { name: 'Smoked trout' });
    const [kept, passed] = await packsOf(club, crew, batch, [200, 210]);
    await give([kept!, passed!], { memberId: ann.id });
    aMinuteLater();
    expect((await ann.post('/api/gifts', { packId: passed, to: { name: 'Aunt Gerd' } })).status).toBe(201);
    const list = async () => (await ann.get('/api/hand-overs?passedOn=true')).body.items.filter((h: { packId: string }) => h.packId === passed);
    expect(await list()).toEqual([expect.objectContaining({ to: 'Aunt Gerd', fromMe: true, recalled: false, told: false })]);
    expect((await ann.get(`/api/packs/${passed}`)).body).toMatchObject({ mine: false, handOvers: expect.arrayContaining([expect.objectContaining({ to: 'Aunt Gerd', fromMe: true })]) });
    expect((await finn.get('/api/hand-overs?passedOn=true')).body.items.filter((h: { packId: string }) => h.packId === passed)).toEqual([]);
    expect((await ann.post(`/api/packs/${passed}/told`, { told: true })).body.code).toBe('conflict');

    aMinuteLater();
    // Other recalls of this file's club stay open.
    const open = async () => (await tells(captain, 'recall-open')).filter((w: { id: string }) => w.id === batch.id);
    await captain.post(`/api/batches/${batch.id}/recall`, { reason: 'stood warm' });
    expect(await tells(ann, 'recall-tell')).toEqual([expect.objectContaining({ title: 'Recalled: tell Aunt Gerd', detail: expect.stringContaining('stood warm'), path: `/packs/${passed}` })]);
    expect((await list())[0]).toMatchObject({ recalled: true, told: false });
    expect(await open()).toEqual([expect.objectContaining({ id: batch.id, title: 'The recall of Smoked trout is not settled', detail: `Lot ${batch.lot}: call Ann Sinclair, Aunt Gerd (2 packs)` })]);
    const holders = (await crew.get(`/api/batches/${batch.id}/holders`)).body.items;
    expect(holders).toEqual([expect.objectContaining({ holder: 'Ann Sinclair', through: null, told: false }), expect.objectContaining({ holder: 'Aunt Gerd', through: 'Ann Sinclair', told: false })]);

    expect((await finn.post(`/api/packs/${passed}/told`, { told: true })).status).toBe(403);
    expect((await ann.post(`/api/packs/${passed}/told`, { told: true })).body).toEqual({ packId: passed, told: true });
    expect(await tells(ann, 'recall-tell')).toEqual([]);
    expect((await list())[0]).toMatchObject({ recalled: true, told: true });
    expect((await open())[0].detail).toBe(`Lot ${batch.lot}: call Ann Sinclair (1 pack)`);
    await crew.post(`/api/packs/${kept}/told`, { told: true });
    expect(await open()).toEqual([]);
    // What one holds oneself is not to be eaten, told or not.
    expect((await tells(ann, 'recalled-pack')).filter((w: { path: string }) => w.path === `/packs/${kept}`)).toHaveLength(1);

    // Told of one recall is not told of the next.
    aMinuteLater();
    await captain.post(`/api/batches/${batch.id}/recall/lift`, { reason: 'it was another' });
    aMinuteLater();
    await captain.post(`/api/batches/${batch.id}/recall`, { reason: 'it was this one' });
    expect(await tells(ann, 'recall-tell')).toHaveLength(1);
    expect((await open())[0].count).toBe(2);
  });

  test('a hold of what was passed on, and a lot that must not be shared, is told in the same places until the lot is clear or a recall says more', async () => {
    const batch = await smokedBatch(club, crew, { name: 'Smoked perch' });
    const [kept, passed] = await packsOf(club, crew, batch, [200, 210]);
    await give([kept!, passed!], { memberId: ann.id });
    aMinuteLater();
    expect((await ann.post('/api/gifts', { packId: passed, to: { name: 'Cousin Bob' } })).status).toBe(201);
    const told = async (who: Person) => (await tells(who, 'held-tell')).filter((w: { path: string }) => w.path === `/packs/${passed}`);
    const list = async () => (await ann.get('/api/hand-overs?passedOn=true')).body.items.find((h: { packId: string }) => h.packId === passed);
    expect([await told(ann), await list()]).toEqual([[], expect.objectContaining({ verdict: 'clear', recalled: false })]);

    // A hold far too short is corrected into the record: the lot goes on hold.
    const [stage] = (await crew.get(`/api/batches/${batch.id}`)).body.stages;
    const fixed = await crew.patch(`/api/stages/${stage.id}`, { version: stage.version, holdMinutes: 10, reason: 'misread' });
    expect([fixed.status, fixed.body.verdict]).toEqual([200, 'hold']);
    expect(await told(ann)).toEqual([expect.objectContaining({
      title: 'On hold: tell Cousin Bob', detail: expect.stringMatching(/^You passed on Smoked perch, pack .+\. It must not be eaten or passed on until the club says so: keep it cold\.$/), mark: 'hold',
    })]);
    expect([await told(finn), await told(crew)]).toEqual([[], []]);
    expect(await list()).toMatchObject({ verdict: 'hold', notMet: true, recalled: false });

    await club.database.query('t-dns', `update batch set verdict = 'do-not-share' where id = $1`, [batch.id]);
    expect(await told(ann)).toEqual([expect.objectContaining({ title: 'Do not share: tell Cousin Bob', mark: 'do-not-share' })]);
    aMinuteLater();
    await captain.post(`/api/batches/${batch.id}/recall`, { reason: 'too cool' });
    expect([await told(ann), (await tells(ann, 'recall-tell')).filter((w: { path: string }) => w.path === `/packs/${passed}`).length]).toEqual([[], 1]);
    await captain.post(`/api/batches/${batch.id}/recall/lift`, { reason: 'looked at again' });
    await club.database.query('t-clear', `update batch set verdict = 'clear', not_met = false where id = $1`, [batch.id]);
    expect(await told(ann)).toEqual([]);
  });

  test('a captain is not asked to confirm a claim of a recalled pack, and is told of the packs that are still there', async () => {
    const batch = await smokedBatch(club, crew);
    const [asked] = await packsOf(club, crew, batch, [200, 200]);
    const claim = (await finn.post('/api/claims', { packId: asked })).body;
    const toDecide = async () => (await tells(captain, 'claim-to-decide')).map((w: { id: string }) => w.id);
    expect(await toDecide()).toContain(claim.id);
    await captain.post(`/api/batches/${batch.id}/recall`, { reason: 'glass' });
    expect(await toDecide()).not.toContain(claim.id);
    expect((await tells(captain, 'recall-open')).find((w: { id: string }) => w.id === batch.id).detail).toBe(`Lot ${batch.lot}: 2 packs still in the larder to discard`);
    expect(await tells(crew, 'recall-open')).toEqual([]);
  });
});
