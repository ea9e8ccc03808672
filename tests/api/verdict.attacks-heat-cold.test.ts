import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { applyRules } from '../../server/features/batches/rules.service.ts';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

/** Records that are wrong, or hide something, and must not come to a batch that may be shared. Each begins from one that may. */
let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

const fresh = async (more: Parameters<Smokehouse['land']>[0] = {}) => s.make([s.landing(await s.land(more), 5000)]);
const of = (batch: any, ruleId: string) => batch.checks.filter((c: any) => c.ruleId === ruleId).map((c: any) => [c.state, c.means]);

describe('a core that somebody typed (smoke.core MI569.7; wet flesh does not pass the boiling point)', () => {
  const smoke = (batch: { id: string }, more: object) => s.stage(batch, 'smoke', '09:00', '13:00', { massOutG: 2500, ...s.good, ...more });
  const changed = async (stage: any, more: object) => s.crew.patch(`/api/stages/${stage.id}`, { version: stage.version, ...more });

  test('the batch that every case begins from is clear', async () => {
    expect((await s.smoked(await fresh())).verdict).toBe('clear');
  });

  test('above 100 it is refused, and asked whether it is Fahrenheit; 118 F are 48 C', async () => {
    for (const maxCoreC of [100.1, 118, 119.9, 121, 145, 212]) {
      const { status, body } = await smoke(await fresh(), { maxCoreC });
      expect([maxCoreC, status, body.errors?.[0].field, body.errors?.[0].message]).toEqual([maxCoreC, 422, 'maxCoreC', expect.stringContaining('Fahrenheit')]);
    }
    const batch = await fresh();
    const good = (await smoke(batch, {})).body.stages[0];
    expect((await changed(good, { maxCoreC: 118 })).status).toBe(422);
    await expect(s.club.database.query('', `update stage set max_core_c = 118 where id = $1`, [good.id])).rejects.toMatchObject({ message: expect.stringContaining('stage_core_possible') });
  });

  test('from 85 on it is on hold until somebody says that it was read in Celsius, as a log is', async () => {
    const batch = await fresh();
    const asked = (await smoke(batch, { maxCoreC: 85 })).body;
    expect([asked.verdict, of(asked, 'smoke.core')]).toEqual(['hold', [['not-recorded', 'hold'], ['met', 'nothing']]]);
    expect(asked.stages[0].coreUnitConfirmed).toBe(false);
    const said = await changed(asked.stages[0], { coreUnitConfirmed: true });
    expect([said.status, said.body.verdict]).toEqual([200, 'clear']);
    // What was said of one figure says nothing of another.
    const other = await changed(said.body.stages[0], { maxCoreC: 98 });
    expect([other.body.verdict, other.body.stages[0].coreUnitConfirmed]).toEqual(['hold', false]);
    expect((await smoke(await fresh(), { maxCoreC: 84.9 })).body.verdict).toBe('clear');
    expect((await smoke(await fresh(), { maxCoreC: 90, coreUnitConfirmed: true })).body.verdict).toBe('clear');
    // A smoke with no figure has no unit to be sure of.
    await expect(s.club.database.query('', `update stage set max_core_c = null where id = $1`, [(await smoke(await fresh(), { maxCoreC: 90, coreUnitConfirmed: true })).body.stages[0].id])).rejects.toMatchObject({ message: expect.stringContaining('stage_core_unit_of_a_core') });
  });

  test('one that was stored before, 118 and all, is judged again and holds; so does what was drawn of it', async () => {
    const batch = await s.smoked(await fresh());
    await s.club.database.query('', `alter table stage drop constraint stage_core_possible`);
    await s.club.database.query('', `update stage set max_core_c = 118 where id = $1`, [batch.stages[0].id]);
    await s.club.database.query('', `alter table stage add constraint stage_core_possible check (cancelled_at is not null or max_core_c between -5 and 100) not valid`);
    await applyRules(s.club.context, 'as of a new version');
    const page = await s.page(batch);
    expect(of(page, 'smoke.core')).toEqual([['not-recorded', 'hold'], ['met', 'nothing']]);
    expect((await s.make([s.fromBatch(batch.id, 500)])).verdict).toBe('hold');
    // Nobody can say that it is right, only put it right or undo it.
    expect((await changed(page.stages[0], { coreUnitConfirmed: true })).status).toBe(422);
    expect((await changed(page.stages[0], { maxCoreC: 66 })).body.verdict).toBe('clear');
  });

  test('a second probe that is all Fahrenheit holds the batch although the first one and the typed figure are good', async () => {
    const batch = await s.smoked(await fresh());
    const rows = (celsius: number) => Array.from({ length: 12 }, (_, i) => ({ at: new Date(Date.parse(s.at('11:00')) + i * 300_000).toISOString(), celsius }));
    await s.crew.post(`/api/batches/${batch.id}/readings`, { place: 'core', probe: 'A', readings: rows(66) });
    const { body } = await s.crew.post(`/api/batches/${batch.id}/readings`, { place: 'core', probe: 'B', readings: rows(118) });
    expect([body.verdict, of(body, 'smoke.core').map(([state]: [string]) => state)]).toEqual(['hold', ['not-recorded', 'not-recorded']]);
  });
});
