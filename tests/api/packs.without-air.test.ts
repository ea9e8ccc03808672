import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { applyRules } from '../../server/features/batches/rules.service.ts';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

/** Packs without air (FC 3-502.12(C), 3-501.13(E); NY262.3) that the rules want thrown away, were used up, or stood too warm. */
let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

const smoked = async () => s.smoked(await s.make([s.landing(await s.land(), 5000)]));
const lab = async (batch: { id: string }) =>
  (await s.captain.post(`/api/batches/${batch.id}/measurements`, { kind: 'water-phase-salt', value: 3.6, part: 'loin', laboratory: 'Harbour laboratory', sampledDay: '2026-06-10', reportedDay: '2026-06-10' })).body.measurements.at(-1);
const salted = async () => {
  const batch = await smoked();
  return { batch, figure: await lab(batch) };
};
const vacuum = (batch: { id: string }, weights = [200], more: object = {}) => s.pack(batch, weights, { packageKind: 'vacuum', ...more });
const say = async (id: string, fields: object, person = s.crew) => person.patch(`/api/packs/${id}`, { version: (await s.crew.get(`/api/packs/${id}`)).body.version, ...fields });
const discard = (id: string) => say(id, { discarded: true });
const sql = (text: string, params: string[] = []) => s.club.database.query('', text, params);
/** Half an hour apart: readings that join. */
const stored = (batch: { id: string }, ...celsius: number[]) =>
  s.crew.post(`/api/batches/${batch.id}/readings`, { place: 'storage', readings: celsius.map((value, i) => ({ at: new Date(Date.parse(s.at('17:30')) + i * 1_800_000).toISOString(), celsius: value })) });
const withdrawn = (list: { id: string }) => s.crew.patch(`/api/reading-lists/${list.id}`, { version: 1, withdrawn: true, reason: 'Of another store' });
const release = (batch: { id: string }) => s.captain.post(`/api/batches/${batch.id}/releases`, { ruleId: 'hold.cold', reason: 'It will do' });
const holdCold = (page: any) => page.checks.filter((c: any) => c.ruleId === 'hold.cold' && c.means !== 'nothing');

describe('thrown away, as the rules ask', () => {
  test('a vacuum pack whose laboratory figure was withdrawn; it does not come back without one', async () => {
    const { batch, figure } = await salted();
    const [pack] = await vacuum(batch);
    await s.captain.patch(`/api/measurements/${figure.id}`, { version: figure.version, withdrawn: true, reason: 'Of another lot' });
    expect((await s.page(batch)).verdict).not.toBe('clear');
    expect((await discard(pack!.id)).status).toBe(200);
    expect((await s.page(batch)).verdict).toBe('clear');
    expect((await say(pack!.id, { discarded: false })).body.errors[0].field).toBe('storage');
    await expect(sql(`update pack set status = 'ready' where id = $1`, [pack!.id])).rejects.toThrow(/without air/);
    await lab(batch);
    expect((await say(pack!.id, { discarded: false })).status).toBe(200);
  });

  test('one of a lot that was let go warm before anybody asked for packs without air', async () => {
    const { batch } = await salted();
    const [pack] = await vacuum(batch);
    await stored(batch, 2, 8, 2);
    await sql('alter table release disable trigger release_warm_without_air');
    await sql(`insert into release (id, batch_id, rule_id, found, reason, created_by_id, created_at) values (gen_random_uuid(), $1, 'hold.cold', 'at most 8 C', 'It will do', $2, now())`, [batch.id, s.captain.id]);
    await sql('alter table release enable trigger release_warm_without_air');
    expect((await discard(pack!.id)).status).toBe(200);
    expect((await say(pack!.id, { discarded: false })).body.code).toBe('not-allowed');
    await expect(sql(`update pack set status = 'ready' where id = $1`, [pack!.id])).rejects.toThrow(/stood too warm/);
  });

  test('one that was frozen later than the day it was packed', async () => {
    const batch = await smoked();
    const [pack] = await vacuum(batch, [200], { storage: 'frozen' });
    await sql('alter table pack disable trigger pack_frozen_at_once');
    await sql(`update pack set frozen_day = '2026-06-12' where id = $1`, [pack!.id]);
    await sql('alter table pack enable trigger pack_frozen_at_once');
    expect((await discard(pack!.id)).status).toBe(200);
    expect((await say(pack!.id, { discarded: false })).status).toBe(422);
    await expect(sql(`update pack set status = 'ready' where id = $1`, [pack!.id])).rejects.toThrow(/frozen/);
  });
});

describe('that stood too warm and went into a dip (hold.cold)', () => {
  const drawn = async (...celsius: number[]) => {
    const { batch } = await salted();
    const [one, other] = await vacuum(batch, [200, 200]);
    await s.pack(batch, [200]);
    await stored(batch, ...celsius);
    const dip = await s.make([s.fromPack(one!.id), s.fromPack(other!.id)], { productKind: 'dip' });
    await s.crew.post(`/api/batches/${dip.id}/stages`, { kind: 'mix', startedAt: s.at('19:00'), finishedAt: s.at('19:20'), massOutG: 400, cooledAt: s.at('19:40') });
    return { batch, dip, packs: [one!, other!] };
  };

  test('go out of it no more than as packs: nobody lets the lot go, and it stands against the dip; taken out and thrown away, the rest may be', async () => {
    const { batch, dip, packs } = await drawn(2, 8, 2);
    const refused = await release(batch);
    expect([refused.status, refused.body.code, refused.body.errors[0].remedy]).toEqual([403, 'not-allowed', expect.stringContaining('Take out')]);
    expect(holdCold(await s.page(batch)).map((c: any) => c.releasable)).toEqual([false]);
    const page = await s.page(dip);
    expect([page.verdict, holdCold(page).map((c: any) => [c.state, c.releasable, c.found.startsWith(`lot ${batch.lot}: `)])]).toEqual(['hold', [['not-met', false, true]]]);
    expect((await release(dip)).status).toBe(403);
    await expect(sql(`insert into release (id, batch_id, rule_id, found, reason, created_by_id, created_at) values (gen_random_uuid(), $1, 'hold.cold', 'x', 'It will do', $2, now())`, [batch.id, s.captain.id])).rejects.toThrow(/without air/);
    for (const stage of page.stages) expect((await s.crew.patch(`/api/stages/${stage.id}`, { version: stage.version, cancelled: true, reason: 'Taken apart' })).status).toBe(200);
    for (const { id, version } of (await s.page(dip)).draws) expect((await s.crew.patch(`/api/draws/${id}`, { version, cancelled: true, reason: 'Taken apart' })).status).toBe(200);
    for (const { id } of packs) expect((await discard(id)).status).toBe(200);
    expect((await release(batch)).body.verdict).toBe('clear');
  });

  test('kept cold, they hold nothing; let go before it was asked, the lot is on hold again', async () => {
    const { batch, dip } = await drawn(2, 3, 2);
    expect([(await s.page(batch)).verdict, holdCold(await s.page(dip))]).toEqual(['clear', []]);
    const old = await drawn(2, 8, 2);
    const { found } = holdCold(await s.page(old.batch))[0];
    await sql('alter table release disable trigger release_warm_without_air');
    await sql(`insert into release (id, batch_id, rule_id, found, reason, created_by_id, created_at) values (gen_random_uuid(), $1, 'hold.cold', $3, 'It will do', $2, now())`, [old.batch.id, s.captain.id, found]);
    await sql('alter table release enable trigger release_warm_without_air');
    await applyRules(s.club.context, 'as of a new version');
    expect([(await s.page(old.batch)).verdict, (await s.page(old.dip)).verdict]).toEqual(['hold', 'hold']);
  });

  test('frozen at once they were cold without air, whatever the store was; frozen late they were not, for the database either', async () => {
    const batch = await smoked();
    const [pack] = await vacuum(batch, [200], { storage: 'frozen' });
    await s.pack(batch, [200]);
    await stored(batch, 2, 8, 2);
    await s.make([s.fromPack(pack!.id)], { productKind: 'dip' });
    expect((await release(batch)).body.verdict).toBe('clear');
    const late = await salted();
    const [frozen] = await vacuum(late.batch, [200], { storage: 'frozen' });
    await sql(`update pack set frozen_day = '2026-06-12' where id = $1`, [frozen!.id]);
    await stored(late.batch, 2, 8, 2);
    expect((await release(late.batch)).status).toBe(403);
    await expect(sql(`insert into release (id, batch_id, rule_id, found, reason, created_by_id, created_at) values (gen_random_uuid(), $1, 'hold.cold', 'x', 'It will do', $2, now())`, [late.batch.id, s.captain.id])).rejects.toThrow(/without air/);
  });
});

describe('of a lot that was let go warm (hold.cold)', () => {
  const releases = async (batch: { id: string }) => (await s.page(batch)).releases;
  const jar = (batch: { id: string }) => s.crew.post(`/api/batches/${batch.id}/packs`, { weightsG: [200], packageKind: 'jar', storage: 'refrigerated', packedAt: s.at('19:00') });

  test('none is made while that is found; with its readings withdrawn it may be, and found again nobody lets it go', async () => {
    const { batch } = await salted();
    const warm = (await stored(batch, 2, 8, 2)).body;
    const cold = (await stored(batch, 2, 3, 2)).body;
    const letGo = (await release(batch)).body;
    expect(letGo.verdict).toBe('clear');
    await withdrawn(cold.list);
    expect(await releases(batch)).toHaveLength(1);
    expect((await jar(batch)).status).toBe(403);
    const gone = (await withdrawn(warm.list)).body;
    expect([gone.verdict, await releases(batch)]).toEqual(['clear', []]);
    const reasonOf = async (kind: string, id: string) => (await s.captain.get(`/api/record?subjectKind=${kind}&subjectId=${id}`)).body.items[0].reason;
    expect([await reasonOf('release', letGo.releases[0].id), await reasonOf('reading-list', warm.list.id)], 'each has its own reason in the record').toEqual(['What was let go is not found any more.', 'Of another store']);
    expect([(await jar(batch)).status, (await s.page(batch)).verdict]).toEqual([201, 'clear']);
    const back = await s.crew.patch(`/api/reading-lists/${warm.list.id}`, { version: 2, withdrawn: false, reason: 'Of this store' });
    expect([back.status, back.body.verdict, (await release(batch)).status]).toEqual([200, 'hold', 403]);
  });

  test('what the captain let go stands as long as that is found, and is asked about anew once it was not', async () => {
    const { batch } = await salted();
    const warm = (await stored(batch, 2, 8, 2)).body;
    await release(batch);
    await s.crew.patch(`/api/batches/${batch.id}`, { version: (await s.page(batch)).version, note: 'Top shelf' });
    await s.captain.post(`/api/batches/${batch.id}/readings`, { place: 'surface', readings: [{ at: s.at('10:00'), celsius: 60 }] });
    expect(await releases(batch)).toHaveLength(1);
    await withdrawn(warm.list);
    const back = (await s.crew.patch(`/api/reading-lists/${warm.list.id}`, { version: 2, withdrawn: false, reason: 'Of this store' })).body;
    expect([back.verdict, await releases(batch), holdCold(back).map((c: any) => c.releasable)]).toEqual(['hold', [], [true]]);
  });
});
