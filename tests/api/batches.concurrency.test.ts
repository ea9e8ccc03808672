import { afterAll, beforeAll, expect, test } from 'vitest';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

const statuses = (answers: { status: number }[]) => answers.map((a) => a.status).sort();

test('two captains draw the last of a landing at once: never more than was landed, and the loser gets the numbers', async () => {
  const other = await s.club.person('captain');
  for (let round = 0; round < 5; round += 1) {
    const fish = await s.land({ grams: 5000 });
    const answers = await Promise.all([s.captain, other].map((captain) => captain.post('/api/batches', { draws: [s.landing(fish, 3000)] })));
    expect(statuses(answers)).toEqual([201, 409]);
    const loser = answers.find((a) => a.status === 409)!;
    expect([loser.body.code, loser.body.detail]).toEqual(['not-enough-left', expect.stringContaining('2 kg left, 3 kg asked')]);
    const [row] = await s.club.database.query<any>('', `select drawn_grams as d from landing where id = $1`, [fish]);
    expect(row.d).toBe(3000);
  }
});

test('sixteen draws of a landing at once: as many as fit', async () => {
  const fish = await s.land({ grams: 5000 });
  const answers = await Promise.all(Array.from({ length: 16 }, () => s.captain.post('/api/batches', { draws: [s.landing(fish, 700)] })));
  expect(answers.filter((a) => a.status === 201)).toHaveLength(7);
  expect(answers.filter((a) => a.body.code === 'not-enough-left')).toHaveLength(9);
});

test('two people split the last of a batch at once', async () => {
  const batch = await s.make([s.landing(await s.land(), 1000)]);
  const answers = await Promise.all([s.crew, s.captain].map((p) => p.post('/api/batches', { draws: [s.fromBatch(batch.id, 600)] })));
  expect(statuses(answers)).toEqual([201, 409]);
  expect((await s.page(batch)).onHandGrams).toBe(400);
});

test('moves that cross do not block each other', async () => {
  const make = async () => s.make([s.landing(await s.land(), 2000)]);
  const batches = await Promise.all([make(), make(), make(), make()]);
  const jobs = batches.flatMap((from, i) => batches.filter((_, j) => j !== i).map((to) => s.crew.post(`/api/batches/${to.id}/draws`, { draws: [s.fromBatch(from.id, 100)] })));
  const answers = await Promise.all(jobs);
  // Of two that cross, the later would make a batch from itself.
  expect(answers.every((a) => a.status === 201 || a.body.code === 'conflict')).toBe(true);
  expect(answers.filter((a) => a.status === 201).length).toBeGreaterThanOrEqual(3);
  const pages = await Promise.all(batches.map((b) => s.page(b)));
  expect(pages.reduce((sum, p) => sum + p.onHandGrams, 0)).toBe(8000);
});

test('two stages started at once: one runs', async () => {
  const batch = await s.make([s.landing(await s.land(), 2000)]);
  const answers = await Promise.all([s.crew, s.captain].map((p) => p.post(`/api/batches/${batch.id}/stages`, { kind: 'cure', startedAt: s.at('07:00') })));
  expect(statuses(answers)).toEqual([201, 409]);
  expect((await s.page(batch)).stages).toHaveLength(1);
});

test('two corrections at once: the second is refused as stale', async () => {
  const batch = await s.make([s.landing(await s.land(), 2000)]);
  const answers = await Promise.all([1800, 1900].map((grams) => s.captain.patch(`/api/draws/${batch.draws[0].id}`, { version: 1, grams })));
  expect(statuses(answers)).toEqual([200, 409]);
  expect(answers.find((a) => a.status === 409)!.body.code).toBe('stale-edit');
});

test('one pack into two dips at once: one gets it', async () => {
  const batch = await s.smoked(await s.make([s.landing(await s.land(), 5000)]));
  const [pack] = await s.pack(batch, [200]);
  const answers = await Promise.all([1, 2, 3].map(() => s.crew.post('/api/batches', { productKind: 'dip', draws: [s.fromPack(pack!.id)] })));
  expect(statuses(answers)).toEqual([201, 409, 409]);
});

test('the same key sent twice at once makes one batch', async () => {
  const fish = await s.land();
  const answers = await Promise.all([1, 2, 3, 4].map(() => s.captain.post('/api/batches', { draws: [s.landing(fish, 900)] }, 'one-key-for-all')));
  expect(statuses(answers)).toEqual([201, 201, 201, 201]);
  expect(new Set(answers.map((a) => a.body.id)).size).toBe(1);
});

test('a claim and a correction that puts the batch on hold, at once: no claim lands on a held batch', async () => {
  for (let round = 0; round < 5; round += 1) {
    const batch = await s.smoked(await s.make([s.landing(await s.land(), 5000)]));
    const [pack] = await s.pack(batch, [200]);
    const [claim, hold] = await Promise.all([
      s.ann.post('/api/claims', { packId: pack!.id }),
      s.crew.patch(`/api/stages/${batch.stages[0].id}`, { version: 1, holdMinutes: 5 }),
    ]);
    expect(hold.status).toBe(200);
    expect(claim.status === 201 || claim.body.code === 'on-hold').toBe(true);
    expect((await s.page(batch)).packs[0].verdict).toBe('hold');
  }
});
