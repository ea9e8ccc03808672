import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';
import { readPdf } from '../support/pdf-reading.ts';
import { packsOf, smokedBatch } from '../support/smoked-batch.ts';

let club: TestClub;
let crew: Person, member: Person;
beforeAll(async () => {
  club = await testClub({ now: '2026-06-10T12:00:00Z', config: { publicUrl: 'https://fish.example.org' } });
  [crew, member] = [await club.person('crew', 'Rob Tait'), await club.person('member')];
});
afterAll(() => club.close());

const packs = async (n: number, options: Parameters<typeof smokedBatch>[2] = {}) => packsOf(club, crew, await smokedBatch(club, crew, options), Array.from({ length: n }, (_, i) => 200 + i));
const print = (packIds: string[], more: object = {}) => crew.post('/api/label-runs', { packIds, layoutId: 'a4-2x4', ...more });
const pdfOf = async (run: { pdfPath: string }) => {
  const answer = await crew.get(run.pdfPath);
  expect(answer.headers).toMatchObject({ 'content-type': 'application/pdf', 'cache-control': 'private, no-store' });
  return readPdf(answer.raw);
};
const codes = async (ids: string[]) => (await club.database.query<{ code: string }>('t-codes', `select public_code as code from pack where id = any($1::uuid[]) order by pack_no`, [ids])).map((p) => p.code);

test('labels of a sheet, drawn and decoded: each code leads to its own pack', async () => {
  const ids = await packs(3);
  const run = await print(ids, { startAt: 7 });
  expect(run.status).toBe(201);
  expect(run.body).toMatchObject({ labels: 3, pages: 2, reprints: 0, onHold: 0 });
  const pages = await pdfOf(run.body);
  expect(pages.map((page) => page.codes.length)).toEqual([2, 1]);
  expect(pages.flatMap((page) => page.codes.map((code) => code.text)).sort()).toEqual((await codes(ids)).map((code) => `https://fish.example.org/p/${code}`).sort());
  const text = pages.map((page) => page.text).join(' ').replace(/\s+/g, ' ');
  for (const words of ['Hot-smoked mackerel', '16 Jun 2026', '200 g', '7.1 oz', 'Keep refrigerated at 38 F (3.3 C) or below', 'Contains: fish', 'Sport caught, not for resale', 'Test Club']) expect(text).toContain(words);
  expect(text).not.toContain('Reprint');
});

test('a reprint says so, each with its number, and the earlier run stays as it was', async () => {
  const ids = await packs(1);
  const first = (await print(ids)).body;
  const second = (await print(ids, { copies: 2 })).body;
  expect(second).toMatchObject({ labels: 2, reprints: 1 });
  const third = (await print(ids)).body;
  expect((await pdfOf(first))[0]!.text).not.toContain('Reprint');
  expect((await pdfOf(second))[0]!.text.match(/Reprint 1/g)).toHaveLength(2);
  expect((await pdfOf(third))[0]!.text).toContain('Reprint 2');
  expect((await crew.get(`/api/packs/${ids[0]}`)).body).toMatchObject({ printCount: 3, version: 1 });
});

test('the same key prints once', async () => {
  const ids = await packs(1);
  const key = randomUUID();
  const answers = await Promise.all([1, 2].map(() => crew.post('/api/label-runs', { packIds: ids, layoutId: 'a4-2x4' }, key)));
  expect(answers[0]!.body).toEqual(answers[1]!.body);
  expect((await crew.get(`/api/packs/${ids[0]}`)).body.printCount).toBe(1);
});

describe('a label is the pack as it is now', () => {
  test('on hold it is refused, with the reason, and counts as no print (label.content)', async () => {
    const held = await packsOf(club, crew, await smokedBatch(club, crew, { evidence: { maxCoreC: 61, holdMinutes: 0, cooled: true } }), [200, 210]);
    const answer = await print([...(await packs(1)), ...held]);
    expect(answer).toMatchObject({ status: 409, body: { code: 'on-hold', errors: [{ field: 'packIds.1' }, { field: 'packIds.2' }] } });
    expect(answer.body.errors[0].message).toContain('Not met: at least 62.8 C');
    expect((await crew.get(`/api/packs/${held[0]}`)).body.printCount).toBe(0);
  });
  test('marked as held it says HOLD and why, and no date; cleared it says the date', async () => {
    const batch = await smokedBatch(club, crew, { evidence: { maxCoreC: null, holdMinutes: 40, cooled: true } });
    const ids = await packsOf(club, crew, batch, [200]);
    const run = (await print(ids, { markHeld: true })).body;
    expect(run.onHold).toBe(1);
    const held = (await pdfOf(run))[0]!.text;
    expect(held).toContain('HOLD');
    expect(held).not.toContain('USE BY');
    await club.database.query('t-clear', `update batch set verdict = 'clear' where id = $1`, [batch.id]);
    expect((await pdfOf(run))[0]!.text).toContain('USE BY');
    await club.database.query('t-recall', `update batch set recalled_at = now(), recall_reason = 'smelt wrong' where id = $1`, [batch.id]);
    expect((await pdfOf(run))[0]!.text).toContain('RECALLED');
  });
  test('a pack that was thrown away has none, neither new nor old', async () => {
    const ids = await packs(2);
    const run = (await print(ids)).body;
    await crew.patch(`/api/packs/${ids[1]}`, { version: 1, discarded: true });
    expect((await print(ids)).body).toMatchObject({ code: 'conflict', errors: [{ field: 'packIds.1' }] });
    expect((await crew.get(run.pdfPath)).status).toBe(409);
    expect((await crew.get(`/api/packs/${ids[0]}`)).body.printCount).toBe(1);
  });
});

test('what cannot be printed is refused and counts as no print', async () => {
  const ids = await packs(1);
  expect((await print(ids, { startAt: 9 })).body.errors[0].field).toBe('startAt');
  expect((await print(ids, { layoutId: 'no-such' })).body.errors[0].field).toBe('layoutId');
  expect((await print(ids, { copies: 100 })).status).toBe(400);
  expect((await print([randomUUID()])).body.errors[0].field).toBe('packIds.0');
  expect((await crew.get(`/api/packs/${ids[0]}`)).body.printCount).toBe(0);
});

test('members print nothing', async () => {
  const ids = await packs(1);
  const run = (await print(ids)).body;
  expect((await member.post('/api/label-runs', { packIds: ids, layoutId: 'a4-2x4' })).status).toBe(403);
  expect((await member.get(run.pdfPath)).status).toBe(403);
  expect((await crew.get(`/api/label-runs/${randomUUID()}/pdf`)).status).toBe(404);
});

describe('layouts', () => {
  const geometry = { kind: 'sheet', pageWidthMm: 210, pageHeightMm: 297, rows: 5, columns: 2, labelWidthMm: 95, labelHeightMm: 50, marginTopMm: 20, marginLeftMm: 8, pitchXMm: 99, pitchYMm: 52, cornerMm: 0 };
  test('ready ones are there; the club adds its own, prints on it, changes and retires it', async () => {
    const listed = (await crew.get('/api/label-layouts')).body;
    expect(listed.codesLeadTo).toBe('https://fish.example.org');
    const ready = listed.items;
    expect(ready.map((l: { id: string }) => l.id)).toEqual(expect.arrayContaining(['a4-2x7', 'letter-2x5', 'roll-62x100']));
    const made = await crew.post('/api/label-layouts', { name: 'Boathouse sheet', geometry });
    expect(made.body).toMatchObject({ name: 'Boathouse sheet', rows: 5, version: 1 });
    expect((await crew.post('/api/label-layouts', { name: 'Boathouse sheet', geometry })).body.code).toBe('name-taken');
    const run = await print(await packs(2), { layoutId: made.body.id, startAt: 10 });
    expect(run.body).toMatchObject({ labels: 2, pages: 2 });
    // A run keeps the sheet that it was settled for.
    expect((await crew.patch(`/api/label-layouts/${made.body.id}`, { version: 1, geometry: { ...geometry, rows: 4 } })).body).toMatchObject({ rows: 4, version: 2 });
    expect(await pdfOf(run.body)).toHaveLength(2);
    expect((await crew.patch(`/api/label-layouts/${made.body.id}`, { version: 1, name: 'Other' })).body.code).toBe('stale-edit');
    await crew.patch(`/api/label-layouts/${made.body.id}`, { version: 2, retired: true });
    expect((await print(await packs(1), { layoutId: made.body.id })).status).toBe(404);
  });
  test('a removed name can be used again, and a stale change lists only the numbers that differ', async () => {
    const { body: made } = await crew.post('/api/label-layouts', { name: 'Shed roll', geometry });
    await crew.patch(`/api/label-layouts/${made.id}`, { version: 1, retired: true });
    const { body: other } = await crew.post('/api/label-layouts', { name: 'Attic roll', geometry });
    expect((await crew.patch(`/api/label-layouts/${other.id}`, { version: 1, name: 'Shed roll' })).body.errors[0]).toMatchObject({ field: 'name', message: 'A removed label sheet has that name.' });
    const back = await crew.post('/api/label-layouts', { name: 'Shed roll', geometry: { ...geometry, rows: 4 } });
    expect(back).toMatchObject({ status: 201, body: { id: made.id, rows: 4, version: 3 } });
    const late = await crew.patch(`/api/label-layouts/${other.id}`, { version: 5, name: 'Loft roll', geometry });
    expect(late.body.changes).toEqual([{ field: 'name', yours: 'Loft roll', theirs: 'Attic roll' }, { field: 'version', yours: 5, theirs: 1 }]);
  });
  test('a sheet that cannot be is refused by its first bad number', async () => {
    expect((await crew.post('/api/label-layouts', { name: 'Off the page', geometry: { ...geometry, rows: 6 } })).body.errors[0].field).toBe('geometry.rows');
    expect((await crew.post('/api/label-layouts', { name: 'Overlap', geometry: { ...geometry, pitchYMm: 40 } })).body.errors[0].field).toBe('geometry.pitchYMm');
    expect((await member.post('/api/label-layouts', { name: 'Nobody’s', geometry })).status).toBe(403);
  });
});
