import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => void (s = await smokehouse()));
afterAll(() => s.club.close());

/** A dip of one pack that keeps to 16 June, on 10 June: it keeps to 12 June itself. */
async function dipOf(more: object = {}) {
  const batch = await s.make([s.landing(await s.land())]);
  await s.smoked(batch);
  const [pack] = await s.pack(batch, [500]);
  return s.make([s.fromPack(pack!.id)], { productKind: 'dip', name: 'Spread', ...more });
}
const mix = async (dip: any, more: object = {}) => (await s.stage(dip, 'mix', '18:00', '18:30', { massOutG: 800, addedG: 300, cooledAt: s.at('18:30'), ...more })).body;
const mixed = (page: any) => page.checks.filter((c: any) => c.ruleId === 'date.mixed').map((c: any) => [c.part, c.state, c.means]);
const change = async (stage: any, patch: object) => (await s.crew.patch(`/api/stages/${stage.id}`, { version: stage.version, ...patch })).body;
const lastDay = async (dip: any) => (await s.page(dip)).packs[0].lastDay;
const packed = (dip: any, weights: number[]) => s.pack(dip, weights, { packedAt: s.at('19:00') });

describe('date.mixed: a dip carries the earliest date of all that is in it (FC 3-501.17(C))', () => {
  test('without the date of its other ingredients it is on hold, says where to enter it, and nobody lets it go', async () => {
    const dip = await dipOf();
    const page = await mix(dip);
    expect([page.verdict, mixed(page)]).toEqual(['hold', [['ingredients', 'met', 'nothing'], ['others', 'not-recorded', 'hold']]]);
    expect(page.checks.find((c: any) => c.part === 'others')).toMatchObject({ evidenceAt: 'stage', evidenceStage: 'mix', releasable: false, whatToDo: expect.stringContaining('earliest date on their packages') });
    expect((await s.captain.post(`/api/batches/${dip.id}/releases`, { ruleId: 'date.mixed', reason: 'Fresh from the shop' })).status).not.toBe(201);
    const told = await change(page.stages.at(-1), { addedLastDay: '2026-06-30' });
    expect([told.verdict, told.stages.at(-1).addedLastDay, mixed(told)[1]]).toEqual(['clear', '2026-06-30', ['others', 'met', 'nothing']]);
    await packed(dip, [200]);
    expect(await lastDay(dip)).toBe('2026-06-12');
  });

  test('an earlier one shortens its date, and one that was past when it was mixed is not shared', async () => {
    const dip = await dipOf();
    const page = await mix(dip, { addedLastDay: '2026-06-11' });
    await packed(dip, [200]);
    expect([page.verdict, await lastDay(dip)]).toEqual(['clear', '2026-06-11']);
    const [stage] = (await s.page(dip)).stages;
    const past = await change(stage, { addedLastDay: '2026-06-09' });
    expect([past.verdict, mixed(past)[1], await lastDay(dip)]).toEqual(['do-not-share', ['others', 'not-met', 'do-not-share'], null]);
    const gone = await change((await s.page(dip)).stages[0], { addedLastDay: null });
    expect([gone.verdict, mixed(gone)[1]]).toEqual(['hold', ['others', 'not-recorded', 'hold']]);
  });

  test('words or allergens that tell of other ingredients ask for it too; fish alone does not', async () => {
    const alone = { massOutG: 500, addedG: 0 };
    expect((await mix(await dipOf({ ingredients: 'Smoked mackerel (fish), soured cream (milk)' }), alone)).verdict).toBe('hold');
    expect((await mix(await dipOf({ allergens: ['milk'] }), alone)).verdict).toBe('hold');
    expect((await mix(await dipOf(), alone)).verdict).toBe('clear');
    // Told of afterwards, it asks from then on.
    const dip = await dipOf();
    const page = await mix(dip, alone);
    const later = await s.captain.patch(`/api/batches/${dip.id}`, { version: (await s.page(dip)).version, allergens: ['egg'] });
    expect([page.verdict, later.status, (await s.page(dip)).verdict]).toEqual(['clear', 200, 'hold']);
  });

  test('a dip of a dip carries it on, and waits with it, whether it was packed or not', async () => {
    const first = await dipOf();
    const page = await mix(first);
    const whole = await s.make([s.fromBatch(first.id, 300)], { productKind: 'dip', name: 'Dip of a spread' });
    const [tub] = await packed(first, [200]);
    const ofPack = await s.make([s.fromPack(tub!.id)], { productKind: 'dip', name: 'Dip of a tub' });
    const plain = (batch: any, grams: number) => s.stage(batch, 'mix', '19:10', '19:20', { massOutG: grams, cooledAt: s.at('19:20') });
    await plain(whole, 300);
    await plain(ofPack, 200);
    for (const [dip, grams] of [[whole, 300], [ofPack, 200]] as const) {
      await s.pack(dip, [grams], { packedAt: s.at('19:30') });
      expect((await s.page(dip)).verdict).toBe('hold');
    }
    await change((await s.page(first)).stages.find((stage: any) => stage.id === page.stages.at(-1).id), { addedLastDay: '2026-06-11' });
    for (const dip of [first, whole, ofPack]) expect([(await s.page(dip)).verdict, await lastDay(dip)]).toEqual(['clear', '2026-06-11']);
  });

  test('it stands at the mixing alone, and far years are a slip', async () => {
    const batch = await s.make([s.landing(await s.land())]);
    expect((await s.stage(batch, 'smoke', '09:00', '13:00', { massOutG: 2500, addedLastDay: '2026-06-30' })).body.errors[0].field).toBe('addedLastDay');
    expect((await s.stage(await dipOf(), 'mix', '18:00', '18:30', { massOutG: 500, addedLastDay: '2062-06-30' })).body.errors[0].field).toBe('addedLastDay');
    await s.smoked(batch);
    await expect(s.club.database.query('t-added-day', `update stage set added_last_day = '2026-06-30' where batch_id = $1`, [batch.id])).rejects.toThrow(/stage_added_day_where_mixed/);
  });
});
