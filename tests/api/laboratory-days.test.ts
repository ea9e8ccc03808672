import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());
beforeEach(() => now('2026-06-10T20:00:00Z'));

const now = (instant: string) => void (s.club.clock.now = new Date(instant));
const fresh = async () => s.make([s.landing(await s.land({ pooling: 'pooled' }), 5000)]);
const part = (batch: { id: string }, grams: number) => s.make([s.fromBatch(batch.id, grams)]);
const figure = { kind: 'water-phase-salt', value: 3.6, part: 'loin', laboratory: 'Quay Laboratory' };
const sampled = (batch: { id: string }, sampledDay: string, more: object = {}) => s.captain.post(`/api/batches/${batch.id}/measurements`, { ...figure, sampledDay, reportedDay: sampledDay, ...more });
const vacuum = { weightsG: [200], packageKind: 'vacuum', storage: 'refrigerated', packedAt: '2026-06-10T17:00:00.000Z' };
const packed = async (batch: { id: string }) => (await s.crew.post(`/api/batches/${batch.id}/packs`, vacuum)).status;
const saltForNoAir = async (batch: { id: string }) => (await s.page(batch)).saltForNoAir;
const stage = async (batch: { id: string }, kind: string, from: string, to: string, more: object = {}) => {
  const { status, body } = await s.crew.post(`/api/batches/${batch.id}/stages`, { kind, startedAt: from, finishedAt: to, ...more });
  if (status !== 201) throw new Error(JSON.stringify(body));
  return body;
};
/** Straight into the table, as a row that an earlier version let in. */
const stored = (batch: { id: string }, sampledDay: string, value = 3.6, kind = 'water-phase-salt') =>
  s.club.database.query('', `insert into measurement (id, batch_id, kind, value, part, laboratory, sampled_day, reported_day, created_by_id, created_at) values (gen_random_uuid(), $1, $2, $3, 'loin', 'Quay Laboratory', $4::date, $4::date, $5, now())`, [batch.id, kind, value, sampledDay, s.captain.id]);

test.each(['water-phase-salt', 'nitrite', 'water-activity'])('a laboratory’s %s of a sample from before the fish was caught or smoked is refused by its day (salt.rop HG ch. 13, salt.air MI569.8)', async (kind) => {
  const value = { 'water-phase-salt': 3.6, nitrite: 120, 'water-activity': 0.96 }[kind]!;
  const raw = await fresh();
  for (const day of ['2026-01-01', '2026-06-09']) {
    const { status, body } = await sampled(raw, day, { kind, value });
    expect([day, status, body.errors[0].field, body.errors[0].message]).toEqual([day, 422, 'sampledDay', expect.stringContaining('caught')]);
  }
  now('2026-06-12T20:00:00Z');
  const smoked = await fresh();
  await stage(smoked, 'smoke', '2026-06-12T09:00:00Z', '2026-06-12T13:00:00Z', { massOutG: 2500, ...s.good, cooledTo21At: '2026-06-12T14:30:00Z', cooledAt: '2026-06-12T16:00:00Z' });
  const early = await sampled(smoked, '2026-06-11', { kind, value });
  expect([early.status, early.body.errors[0]]).toEqual([422, expect.objectContaining({ field: 'sampledDay', message: expect.stringContaining('12 Jun 2026') })]);
  expect((await sampled(smoked, '2026-06-12', { kind, value })).status).toBe(201);
});

test('a sample from before the smoke that is in the record unlocks no pack without air, in the service or in the database, and no 14 days (salt.rop HG ch. 13)', async () => {
  const batch = await s.smoked(await fresh());
  await stored(batch, '2026-01-01');
  expect([await saltForNoAir(batch), await packed(batch)]).toEqual([false, 422]);
  await expect(s.rows.pack(batch.id, 90, { package_kind: 'vacuum', storage: 'refrigerated' })).rejects.toThrow();
  // A figure of the smoked fish is one; the old one counts against it still.
  expect((await sampled(batch, '2026-06-10')).status).toBe(201);
  expect([await saltForNoAir(batch), await packed(batch)]).toEqual([true, 201]);
  await stored(batch, '2026-01-01', 2.9);
  expect(await saltForNoAir(batch)).toBe(false);
});

test('nitrite from before the smoke does not help a low salt, and a high one stands against the batch (nitrite HG ch. 13)', async () => {
  const batch = await s.smoked(await fresh());
  await sampled(batch, '2026-06-10', { value: 3.2 });
  await stored(batch, '2026-06-01', 150, 'nitrite');
  expect([await saltForNoAir(batch), await packed(batch)]).toEqual([false, 422]);
  await expect(s.rows.pack(batch.id, 90, { package_kind: 'vacuum', storage: 'refrigerated' })).rejects.toThrow();
  await sampled(batch, '2026-06-10', { kind: 'nitrite', value: 150 });
  expect([await saltForNoAir(batch), await packed(batch)]).toEqual([true, 201]);
  await stored(batch, '2026-06-01', 250, 'nitrite');
  expect((await sampled(batch, '2026-06-10', { value: 3.3 })).body).toMatchObject({ verdict: 'do-not-share', saltForNoAir: false });
});

test('a figure of fish that was smoked again after its sample, or whose smoke was moved past it, is none of what it is now (salt.rop HG ch. 13)', async () => {
  const batch = await s.smoked(await fresh());
  await sampled(batch, '2026-06-10');
  expect(await saltForNoAir(batch)).toBe(true);
  now('2026-06-12T20:00:00Z');
  const smoke = (await s.page(batch)).stages.at(-1);
  const undone = await s.crew.patch(`/api/stages/${smoke.id}`, { version: smoke.version, cancelled: true, reason: 'Never lit' });
  expect([undone.status, undone.body.saltForNoAir]).toEqual([200, false]);
  const again = await stage(batch, 'smoke', '2026-06-12T09:00:00Z', '2026-06-12T13:00:00Z', { massOutG: 2500, maxCoreC: 66, holdMinutes: 35, cooledTo21At: '2026-06-12T14:30:00Z', cooledAt: '2026-06-12T16:00:00Z' });
  expect([again.saltForNoAir, (await s.crew.post(`/api/batches/${batch.id}/packs`, { ...vacuum, packedAt: '2026-06-12T17:00:00Z' })).status]).toEqual([false, 422]);
  // Smoked again in a batch of its own.
  now('2026-06-10T20:00:00Z');
  const first = await s.smoked(await fresh());
  const second = await part(first, 1000);
  await sampled(second, '2026-06-10');
  expect(await saltForNoAir(second)).toBe(true);
  now('2026-06-12T20:00:00Z');
  const twice = await stage(second, 'smoke', '2026-06-12T09:00:00Z', '2026-06-12T13:00:00Z', { massOutG: 900, maxCoreC: 66, holdMinutes: 35, cooledTo21At: '2026-06-12T14:30:00Z', cooledAt: '2026-06-12T16:00:00Z' });
  expect(twice.saltForNoAir).toBe(false);
  expect((await sampled(second, '2026-06-12')).body.saltForNoAir).toBe(true);
});

test('a sample from before fish was taken from its smoked lot is of that lot, whose figures make none pass elsewhere (salt.rop HG ch. 13)', async () => {
  const lot = await s.smoked(await fresh());
  await sampled(lot, '2026-06-10');
  now('2026-06-12T08:00:00Z');
  const some = await part(lot, 1000);
  expect(some.saltForNoAir).toBe(false);
  expect((await sampled(some, '2026-06-11')).body.errors[0].field).toBe('sampledDay');
  await stored(some, '2026-06-11');
  expect([await saltForNoAir(some), await packed(some)]).toEqual([false, 422]);
  await expect(s.rows.pack(some.id, 90, { package_kind: 'vacuum', storage: 'refrigerated' })).rejects.toThrow();
  expect((await sampled(some, '2026-06-12')).body.saltForNoAir).toBe(true);
  expect(await packed(some)).toBe(201);
});

test('a sample of cured fish tells of its cure and not of the smoked fish; no day that has not come, no report before its sample (salt.rop HG ch. 13)', async () => {
  now('2026-06-12T20:00:00Z');
  const batch = await fresh();
  await stage(batch, 'cure', '2026-06-11T06:00:00Z', '2026-06-11T09:00:00Z', { massOutG: 4900 });
  await stage(batch, 'smoke', '2026-06-12T09:00:00Z', '2026-06-12T13:00:00Z', { massOutG: 2500, maxCoreC: 66, holdMinutes: 35, cooledTo21At: '2026-06-12T14:30:00Z', cooledAt: '2026-06-12T16:00:00Z' });
  const cured = await sampled(batch, '2026-06-11');
  expect([cured.status, cured.body.saltForNoAir, cured.body.measurements.length]).toEqual([201, false, 1]);
  expect((await sampled(batch, '2026-06-11', { kind: 'water-activity', value: 0.96 })).body.errors[0].field).toBe('sampledDay');
  // Too much nitrite of the cured fish can be told, and holds it.
  const nitrite = await sampled(batch, '2026-06-11', { kind: 'nitrite', value: 250 });
  expect([nitrite.status, nitrite.body.checks.filter((c: any) => c.ruleId === 'nitrite').map((c: any) => c.state)]).toEqual([201, ['not-met']]);
  expect((await sampled(batch, '2026-06-13')).body.errors[0].field).toBe('sampledDay');
  expect((await sampled(batch, '2026-06-12', { reportedDay: '2026-06-11' })).body.errors[0].field).toBe('reportedDay');
  expect((await sampled(batch, '2026-06-12')).body.saltForNoAir).toBe(true);
});

test.each([['Pacific/Auckland', '2026-06-10T13:00:00Z', '2026-06-10', '2026-06-11'], ['America/Halifax', '2026-06-11T02:00:00Z', '2026-06-09', '2026-06-10']])(
  'the day on which the smoke ended is the club’s own, in %s (salt.rop HG ch. 13)', async (zone, end, before, same) => {
    const club = (await s.captain.get('/api/club')).body;
    expect((await s.captain.patch('/api/club', { version: club.version, timeZone: zone })).status).toBe(200);
    now('2026-06-12T20:00:00Z');
    const batch = await s.make([s.landing(await s.land({ caught_at: '2026-06-09T00:00:00Z', iced_at: '2026-06-09T01:00:00Z' }), 5000)]);
    const startedAt = new Date(Date.parse(end) - 4 * 3_600_000).toISOString();
    await stage(batch, 'smoke', startedAt, end, { massOutG: 2500, maxCoreC: 66, holdMinutes: 35 });
    await stored(batch, before);
    expect(await saltForNoAir(batch)).toBe(false);
    expect((await sampled(batch, same)).body.saltForNoAir).toBe(true);
    const present = (await s.captain.get('/api/club')).body;
    await s.captain.patch('/api/club', { version: present.version, timeZone: 'Europe/London' });
  },
);
