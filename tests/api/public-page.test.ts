import { randomBytes } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { findRule } from '../../server/domain/rules/registry.ts';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';
import { packsOf, smokedBatch } from '../support/smoked-batch.ts';
import type { Smoked } from '../support/smoked-batch.ts';

let club: TestClub;
let crew: Person, ann: Person;
let batch: Smoked;
beforeAll(async () => {
  club = await testClub({ now: '2026-06-10T12:00:00Z' });
  [crew, ann] = [await club.person('crew', 'Rob Tait'), await club.person('member', 'Ann Sinclair')];
  batch = await smokedBatch(club, crew);
  await club.database.query('t-words', `update batch set ingredients = 'mackerel, salt, sugar', allergens = '{Fish,mustard}' where id = $1`, [batch.id]);
});
afterAll(() => club.close());

const codeOf = async (packId: string) => (await club.database.query<{ code: string }>('t-code', `select public_code as code from pack where id = $1`, [packId]))[0]!.code;
async function page(of: Smoked, options: Parameters<typeof packsOf>[4] = {}) {
  const [pack] = await packsOf(club, crew, of, [250], options);
  return club.stranger.get(`/api/public/packs/${await codeOf(pack!)}`);
}

test('tells a stranger what is in the bag, until when, how to keep it, what it contains', async () => {
  const answer = await page(batch);
  expect(answer.status).toBe(200);
  expect(answer.body).toMatchObject({
    clubName: 'Test Club', product: 'Hot-smoked mackerel', species: ['Atlantic mackerel'], lot: batch.lot, grams: 250, smokeDay: '2026-06-10', lastDay: '2026-06-16',
    dateKind: 'use-by', state: 'good', stateWords: 'Only if it was kept as written here all the time.', storage: 'refrigerated',
    storageWords: 'Keep refrigerated at 38 F (3.3 C) or below', ingredients: 'mackerel, salt, sugar', allergens: ['fish', 'mustard'], saleWords: 'Sport caught, not for resale', timeZone: 'Europe/London',
  });
  expect(answer.body.advice.items.map((item: any) => item.topic)).toEqual(['listeria', 'mercury', 'mercury', 'allergens']);
  expect(answer.body.advice.mercury).toEqual([{ speciesCode: 'atlantic-mackerel', name: 'Atlantic mackerel' }]);
  expect(answer.body.cautions.join(' ')).toContain('not an approval');
});

test('what nobody recorded and no rule asks for by itself is told beside a clear verdict, to whoever holds the pack and to a stranger, and changes nothing', async () => {
  const air = await smokedBatch(club, crew);
  const [pack] = await packsOf(club, crew, air, [250]);
  const read = async () => [(await ann.get(`/api/packs/${pack}`)).body, (await club.stranger.get(`/api/public/packs/${await codeOf(pack!)}`)).body];
  const [mine, theirs] = await read();
  // Hours before smoking with no temperature: rule chill.exposure asks for none, and would say do not share of one too warm.
  const titleOf = (id: string) => findRule(id)!.title;
  expect([mine.verdict, theirs.state]).toEqual(['clear', 'good']);
  expect(mine.notRecorded).toContain(titleOf('chill.exposure'));
  expect(theirs.notRecorded).toEqual(mine.notRecorded);
  for (const check of mine.checks) if (check.state === 'met') expect(mine.notRecorded).not.toContain(check.title);
  await club.database.query('t-hold', `update batch set verdict = 'hold' where id = $1`, [air.id]);
  const held = await read();
  expect(held.map((answer) => [answer.verdict ?? answer.state, answer.notRecorded])).toEqual([['hold', []], ['hold', []]]);
});

test('a dip tells the allergens of the lots that it was made from (people.allergens)', async () => {
  const [inside] = await packsOf(club, crew, batch, [250]);
  const { body: dip } = await (await club.person('captain')).post('/api/batches', { productKind: 'dip', allergens: ['milk'], draws: [{ source: { kind: 'pack', id: inside } }] });
  await crew.post(`/api/batches/${dip.id}/stages`, { kind: 'mix', startedAt: '2026-06-10T11:50:00Z', finishedAt: '2026-06-10T11:55:00Z', massOutG: 250, addedLastDay: '2026-06-30', cooledAt: '2026-06-10T11:55:00Z' });
  const made = await crew.post(`/api/batches/${dip.id}/packs`, { weightsG: [200], packageKind: 'tub', storage: 'refrigerated', packedAt: '2026-06-10T11:58:00Z' });
  const answer = await club.stranger.get(`/api/public/packs/${await codeOf(made.body.items[0].id)}`);
  expect(answer.body).toMatchObject({ productKind: 'dip', allergens: ['fish', 'milk', 'mustard'] });
});

test('nothing about people: no catcher, crew, claimant, holder or giver', async () => {
  const [pack] = await packsOf(club, crew, batch, [250]);
  await crew.post('/api/hand-overs', { packIds: [pack], to: { memberId: ann.id }, note: 'from Rob' });
  await ann.post('/api/gifts', { packId: pack, to: { name: 'Magnus' } });
  const answer = await club.stranger.get(`/api/public/packs/${await codeOf(pack!)}`);
  expect(answer.status).toBe(200);
  const text = answer.raw.toString();
  for (const name of ['Ina', 'Rob', 'Ann', 'Magnus', 'Narrows', crew.id, ann.id]) expect(text).not.toContain(name);
});

test('not indexed, not kept, no address passed on', async () => {
  for (const answer of [await page(batch), await club.stranger.get('/api/public/packs/nothing-here')]) {
    expect(answer.headers).toMatchObject({ 'x-robots-tag': 'noindex, nofollow', 'cache-control': 'no-store', 'referrer-policy': 'no-referrer' });
  }
});

describe('the state, the worst first', () => {
  test('past its day, also just after midnight of the club', async () => {
    club.clock.now = new Date('2026-06-16T22:59:00Z');
    expect((await page(batch)).body.state).toBe('good');
    club.clock.now = new Date('2026-06-16T23:00:00Z');
    expect((await page(batch)).body).toMatchObject({ state: 'past', stateWords: 'Its last day is over. Do not eat it.' });
    club.clock.now = new Date('2026-06-10T12:00:00Z');
  });
  test('without a day, on hold, thrown away, recalled: do not eat it', async () => {
    expect((await page(batch, { lastDay: null })).body.state).toBe('unknown');
    expect((await page(batch, { status: 'discarded' })).body).toMatchObject({ state: 'hold', stateWords: expect.stringContaining('Do not eat it') });
    const held = await smokedBatch(club, crew, { evidence: { maxCoreC: null, holdMinutes: null, cooled: false } });
    expect((await page(held)).body).toMatchObject({ state: 'hold', stateWords: expect.stringContaining('Do not eat it') });
    await club.database.query('t-recall', `update batch set recalled_at = now(), recall_reason = 'Rob left it out' where id = $1`, [held.id]);
    const recalled = await page(held);
    expect(recalled.body).toMatchObject({ state: 'recalled', stateWords: expect.stringContaining('Do not eat it') });
    expect(recalled.raw.toString()).not.toContain('Rob');
    expect(recalled.body.recallReason).toBeNull();
  });
  test('recalled: why, and how to reach the club in its own words; nothing on how to keep it', async () => {
    const captain = await club.person('captain');
    const { version } = (await captain.get('/api/club')).body;
    expect((await captain.patch('/api/club', { version, contactWords: 'Call the harbour office, 555 0134' })).status).toBe(200);
    expect((await page(batch)).body).toMatchObject({ recallReason: null, contactWords: 'Call the harbour office, 555 0134', storageWords: expect.stringContaining('Keep') });
    const lot = await smokedBatch(club, crew);
    expect((await captain.post(`/api/batches/${lot.id}/recall`, { reason: 'The cold shelf stood open for a night' })).status).toBe(200);
    const answer = await page(lot);
    expect(answer.body).toMatchObject({ state: 'recalled', recallReason: 'The cold shelf stood open for a night', contactWords: 'Call the harbour office, 555 0134', storageWords: '', labelWords: [] });
    expect((await captain.patch('/api/club', { version: version + 1, contactWords: '' })).body.contactWords).toBe('');
  });
});

test('a code that is none and a code that is not there get the same words', async () => {
  const strange = ['x', 'nothing here', randomBytes(18).toString('base64url'), '0'.repeat(199), "' or 1=1 --"];
  const answers = await Promise.all(strange.map((code) => club.stranger.get(`/api/public/packs/${encodeURIComponent(code)}`)));
  expect(answers.map((a) => a.status)).toEqual(strange.map(() => 404));
  expect(new Set(answers.map((a) => a.body.detail)).size).toBe(1);
});

test('codes have at least 128 bits and no order', async () => {
  const made = await crew.post(`/api/batches/${(await smokedBatch(club, crew)).id}/packs`, { weightsG: Array.from({ length: 20 }, () => 100), packageKind: 'tub', storage: 'refrigerated', packedAt: '2026-06-10T11:30:00Z' });
  const codes = await Promise.all(made.body.items.map((p: { id: string }) => codeOf(p.id)));
  for (const code of codes) expect(Buffer.from(code, 'base64url').length).toBeGreaterThanOrEqual(16);
  expect(new Set(codes.map((code) => code.slice(0, 4))).size).toBe(20);
});
