import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { readMigrations } from '../../server/platform/database/migrate.ts';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => void (s = await smokehouse()));
afterAll(() => s.club.close());
beforeEach(() => on('2026-06-10'));

/** Evening of a day in June: the club's own day is the same. */
const on = (day: string) => void (s.club.clock.now = new Date(`${day}T20:00:00Z`));
const read = async (id: string) => (await s.crew.get(`/api/packs/${id}`)).body;
const say = async (id: string, patch: object, by = s.crew) => by.patch(`/api/packs/${id}`, { version: (await read(id)).version, ...patch });
const fish = async (more: object = {}) => s.make([s.landing(await s.land())], more);
async function smokedPack(more: object = {}) {
  const batch = await fish();
  await s.smoked(batch);
  const [pack] = await s.pack(batch, [250], more);
  return { batch, id: pack!.id };
}
const why = { reason: 'Typed at the wrong pack' };
const frozenOn10 = { storage: 'frozen', frozenDay: '2026-06-10', thawedDay: null };

describe('date.freeze: freezing stops the count and never starts it again (FC 3-501.17)', () => {
  /** Smoked and frozen on 10 June, found thawed on 12 June: 6 days of 7 were left, so 17 June is the last. */
  async function thawedOn12() {
    on('2026-06-10');
    const { id } = await smokedPack({ storage: 'frozen' });
    on('2026-06-12');
    expect((await say(id, { storage: 'refrigerated', thawedDay: '2026-06-12' })).body.lastDay).toBe('2026-06-17');
    on('2026-06-16');
    return id;
  }

  test('once thawed, an earlier freezing told later gives no day back, whatever came in between', async () => {
    for (const way of [
      [{ ...frozenOn10, ...why }],
      [{ storage: 'refrigerated', frozenDay: null, thawedDay: null, ...why }, { ...frozenOn10, ...why }],
      [{ storage: 'frozen', thawedDay: null }, { frozenDay: '2026-06-10', ...why }],
      [{ packageKind: 'bag' }, { ...frozenOn10, ...why }, { packageKind: 'tub' }],
      [{ discarded: true }, { ...frozenOn10, ...why }, { discarded: false }],
    ]) {
      const id = await thawedOn12();
      for (const step of way) expect((await say(id, step)).status, JSON.stringify(step)).toBe(200);
      expect((await read(id)).lastDay <= '2026-06-17', JSON.stringify(way)).toBe(true);
      expect((await read(id)).labelWords.join(' ')).not.toContain('of thawing');
      const again = await say(id, { storage: 'refrigerated', thawedDay: '2026-06-16', ...why });
      expect([again.status, again.body.lastDay <= '2026-06-17'], JSON.stringify(way)).toEqual([200, true]);
    }
  });

  test('a day of thawing moved later, or taken out, needs a reason and keeps the shorter date', async () => {
    const id = await thawedOn12();
    for (const step of [{ thawedDay: '2026-06-16' }, { thawedDay: null }, frozenOn10, { frozenDay: null, thawedDay: null }]) {
      expect(await say(id, step), JSON.stringify(step)).toMatchObject({ status: 422, body: { errors: [{ field: 'reason' }] } });
    }
    expect((await read(id)).lastDay).toBe('2026-06-17');
    expect((await say(id, { thawedDay: '2026-06-16', ...why })).body.lastDay).toBe('2026-06-17');
    // An earlier day of thawing is the shorter one: it stands, and needs no reason.
    expect((await say(id, { thawedDay: '2026-06-11' })).body.lastDay).toBe('2026-06-16');
    expect((await say(id, { thawedDay: '2026-06-16', ...why })).body.lastDay).toBe('2026-06-16');
  });

  test('out of the freezer with no day told, a freezing told for a day before that gives none back', async () => {
    const { id } = await smokedPack({ storage: 'frozen' });
    on('2026-06-14');
    expect((await say(id, { storage: 'refrigerated' })).body.lastDay).toBe('2026-06-16');
    expect(await say(id, frozenOn10)).toMatchObject({ status: 422, body: { errors: [{ field: 'reason' }] } });
    expect((await say(id, { ...frozenOn10, ...why })).body.lastDay).toBe('2026-06-16');
    expect((await say(id, { storage: 'refrigerated', thawedDay: '2026-06-14' })).body.lastDay).toBe('2026-06-16');
  });

  test('an earlier day of freezing than was recorded needs a reason; frozen again today, all days before count', async () => {
    const { id } = await smokedPack();
    on('2026-06-12');
    await say(id, { storage: 'frozen' });
    expect(await say(id, { frozenDay: '2026-06-10' })).toMatchObject({ status: 422, body: { errors: [{ field: 'reason' }] } });
    expect((await say(id, { frozenDay: '2026-06-11', ...why })).status).toBe(200);
    on('2026-06-13');
    await say(id, { storage: 'refrigerated', thawedDay: '2026-06-13' });
    on('2026-06-14');
    expect((await say(id, { storage: 'frozen', thawedDay: null })).body).toMatchObject({ storage: 'frozen', dateKind: 'best-before' });
    on('2026-06-20');
    // Frozen again on the 14th: the 14th, 15th and 16th were left.
    expect((await say(id, { storage: 'refrigerated', thawedDay: '2026-06-20' })).body.lastDay).toBe('2026-06-22');
  });

  test('past its last day, it is not said to have been frozen before without a reason', async () => {
    const { id } = await smokedPack();
    on('2026-06-20');
    expect(await say(id, { storage: 'frozen', frozenDay: '2026-06-11' })).toMatchObject({ status: 422, body: { errors: [{ field: 'reason' }] } });
  });

  test('of a pack handed over: neither who has it nor crew give it days back', async () => {
    const { id } = await smokedPack({ storage: 'frozen' });
    await s.crew.post('/api/hand-overs', { packIds: [id], to: { memberId: s.ann.id } });
    on('2026-06-12');
    expect((await say(id, { storage: 'refrigerated', thawedDay: '2026-06-12' }, s.ann)).body.lastDay).toBe('2026-06-17');
    on('2026-06-16');
    expect((await say(id, { ...frozenOn10, ...why }, s.ann)).status).toBe(403);
    expect((await say(id, { ...frozenOn10, ...why })).body.lastDay).toBe('2026-06-17');
    expect((await say(id, { storage: 'refrigerated', thawedDay: '2026-06-16' }, s.ann)).body.lastDay).toBe('2026-06-17');
    const stranger = (await s.club.stranger.get(`/api/public/packs/${(await read(id)).publicUrl.split('/').pop()}`)).body;
    expect(stranger.lastDay).toBe('2026-06-17');
  });

  test('raw fish that thawed is for that day, however often it is called frozen (date.raw)', async () => {
    const batch = await fish({ productKind: 'raw' });
    const [pack] = await s.pack(batch, [250], { storage: 'frozen' });
    on('2026-06-12');
    expect((await say(pack!.id, { storage: 'refrigerated', thawedDay: '2026-06-12' })).body.lastDay).toBe('2026-06-12');
    on('2026-06-16');
    expect((await say(pack!.id, { ...frozenOn10, ...why })).body.lastDay).toBe('2026-06-12');
    expect((await say(pack!.id, { storage: 'refrigerated', thawedDay: '2026-06-16' })).body.lastDay).toBe('2026-06-12');
  });

  test('a dip of a pack that was thawed and called frozen again ends with the first thaw (date.mixed)', async () => {
    const id = await thawedOn12();
    expect((await say(id, { ...frozenOn10, ...why })).body.lastDay).toBe('2026-06-17');
    on('2026-06-16');
    const dip = await s.make([s.fromPack(id)], { productKind: 'dip', name: 'Spread' });
    await s.crew.post(`/api/batches/${dip.id}/stages`, { kind: 'mix', startedAt: '2026-06-16T15:00:00.000Z', finishedAt: '2026-06-16T15:30:00.000Z', massOutG: 250, cooledAt: '2026-06-16T16:00:00.000Z' });
    const [tub] = await s.pack(dip, [200], { packedAt: '2026-06-16T16:00:00.000Z' });
    expect(tub!.lastDay).toBe('2026-06-17');
  });

  test('no batch but a dip takes it, so it is not packed anew with another day of freezing', async () => {
    const id = await thawedOn12();
    for (const more of [{}, { productKind: 'raw' }]) expect((await s.captain.post('/api/batches', { draws: [s.fromPack(id)], ...more })).status).toBe(409);
  });

  test('the database keeps what was out of the freezer, whatever is written there', async () => {
    const id = await thawedOn12();
    const { query } = s.club.database;
    await query('t-out-pack', `update pack set storage = 'frozen', thawed_day = null where id = $1`, [id]);
    await expect(query('t-out-gone', 'delete from pack_out where pack_id = $1', [id])).rejects.toThrow(/never altered/);
    await expect(query('t-out-less', `update pack_out set out_day = '2026-06-09' where pack_id = $1`, [id])).rejects.toThrow(/never altered/);
    expect(await query('t-out-read', 'select frozen_day::text as f, thawed_day::text as t, out_day::text as o from pack_out where pack_id = $1', [id])).toEqual([{ f: '2026-06-10', t: '2026-06-12', o: '2026-06-12' }]);
  });
});

test('packs that there were are told out of the freezer by the record, as if it had been written then (date.freeze, FC 3-501.17)', async () => {
  const { query } = s.club.database;
  const told = (name: string) => query(name, 'select pack_id, frozen_day::text, thawed_day::text, out_day::text from pack_out order by pack_id, id', []);
  const before = await told('t-out-before');
  expect(before.length).toBeGreaterThan(10);
  const folder = readMigrations().find(({ name }) => name.endsWith('packs_out_of_the_freezer'))!;
  await query('t-out-empty', 'truncate pack_out', []);
  await query('t-out-again', folder.script.slice(folder.script.lastIndexOf('DO $$')), []);
  expect(await told('t-out-after')).toEqual(before);
});

describe('rop.freeze: a pack without air is frozen at once (FC 3-502.12(C), 3-501.13(E))', () => {
  const late = { status: 422, body: { errors: [{ field: 'frozenDay' }], detail: expect.stringContaining('rop.freeze') } };

  test('one that was frozen days after it was packed is none, by way of a tub or by any other order', async () => {
    const { batch, id } = await smokedPack({ packageKind: 'vacuum', storage: 'frozen' });
    on('2026-06-13');
    expect(await say(id, { packageKind: 'tub', frozenDay: '2026-06-13' })).toMatchObject(late);
    expect((await say(id, { packageKind: 'tub' })).status).toBe(200);
    expect((await say(id, { frozenDay: '2026-06-13' })).status).toBe(200);
    expect(await say(id, { packageKind: 'vacuum' })).toMatchObject(late);
    expect(await say(id, { packageKind: 'jar' })).toMatchObject(late);
    expect((await s.page(batch)).packs[0].packageKind).toBe('tub');
  });

  test('a tub that stood refrigerated is not turned into one some days later', async () => {
    const { id } = await smokedPack();
    on('2026-06-13');
    expect(await say(id, { packageKind: 'vacuum', storage: 'frozen' })).toMatchObject(late);
    expect((await say(id, { storage: 'frozen' })).status).toBe(200);
    expect(await say(id, { packageKind: 'vacuum' })).toMatchObject(late);
  });

  test('one that was opened and thawed is not closed again', async () => {
    const { id } = await smokedPack({ packageKind: 'vacuum', storage: 'frozen' });
    on('2026-06-12');
    await say(id, { storage: 'refrigerated', thawedDay: '2026-06-12', packageKind: 'tub' });
    expect(await say(id, { ...frozenOn10, packageKind: 'vacuum', ...why })).toMatchObject({ status: 422, body: { errors: [{ field: 'packageKind' }] } });
    expect((await say(id, { ...frozenOn10, ...why })).status).toBe(200);
    expect(await say(id, { packageKind: 'jar' })).toMatchObject({ status: 422, body: { errors: [{ field: 'packageKind' }] } });
  });

  test('a stored one is not shared, and the database takes no other', async () => {
    const { batch, id } = await smokedPack({ packageKind: 'vacuum', storage: 'frozen' });
    const wrong = (sql: string) => s.club.database.query(`t-late-${sql.length}`, `update pack set ${sql} where id = $1`, [id]);
    await expect(wrong(`frozen_day = '2026-06-13'`)).rejects.toThrow(/frozen/);
    await wrong(`package_kind = 'tub', frozen_day = '2026-06-13'`);
    await expect(wrong(`package_kind = 'vacuum'`)).rejects.toThrow(/frozen/);
    // From before the database asked.
    await s.club.database.query('t-late-off', 'alter table pack disable trigger pack_frozen_at_once');
    await wrong(`package_kind = 'vacuum'`);
    await s.club.database.query('t-late-on', 'alter table pack enable trigger pack_frozen_at_once');
    const after = (await s.captain.post(`/api/batches/${batch.id}/readings`, { place: 'surface', readings: [{ at: s.at('10:00'), celsius: 60 }] })).body;
    expect([after.verdict, after.checks.find((c: { ruleId: string }) => c.ruleId === 'rop.freeze').state]).toEqual(['do-not-share', 'not-met']);
  });

  test('with a laboratory’s figure for salt it may be frozen later (salt.rop, HG ch. 13), and not any more when that is withdrawn', async () => {
    const { batch, id } = await smokedPack({ packageKind: 'vacuum', storage: 'frozen' });
    const figure = (await s.captain.post(`/api/batches/${batch.id}/measurements`, { kind: 'water-phase-salt', value: 3.6, part: 'loin', laboratory: 'Harbour Laboratory', sampledDay: '2026-06-10', reportedDay: '2026-06-10' })).body.measurements[0];
    on('2026-06-12');
    expect((await say(id, { frozenDay: '2026-06-12' })).status).toBe(200);
    expect((await s.page(batch)).verdict).toBe('clear');
    const gone = await s.captain.patch(`/api/measurements/${figure.id}`, { version: figure.version, withdrawn: true, reason: 'Of another lot' });
    expect([gone.status, (await s.page(batch)).verdict]).toEqual([200, 'do-not-share']);
  });
});

describe('date.raw: raw fish frozen after its last day (FDA chart, memory; date.freeze, FC 3-501.17)', () => {
  test('has no date, like smoked fish in the same case', async () => {
    const batch = await fish({ productKind: 'raw' });
    const packs = await s.pack(batch, [250, 250]);
    expect(packs[0]!.lastDay).toBe('2026-06-11');
    on('2026-06-14');
    expect((await say(packs[0]!.id, { storage: 'frozen' })).body).toMatchObject({ storage: 'frozen', lastDay: null });
    expect((await say(packs[1]!.id, { storage: 'frozen', frozenDay: '2026-06-12', ...why })).body.lastDay).toBeNull();
    expect((await say(packs[1]!.id, { storage: 'refrigerated', thawedDay: '2026-06-14' })).body.lastDay).toBeNull();
    const [later] = await s.pack(batch, [250], { storage: 'frozen', packedAt: '2026-06-14T12:00:00.000Z' });
    expect(later!.lastDay).toBeNull();
  });
});
