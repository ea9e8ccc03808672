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

const minutes = (from: string, to: string, step: number) => {
  const [start, end] = [Date.parse(s.at(from)), Date.parse(s.at(to))];
  return Array.from({ length: Math.floor((end - start) / (step * 60_000)) + 1 }, (_, i) => start + i * step * 60_000);
};
const rows = (...points: [time: string, celsius: number][]) => points.map(([time, celsius]) => ({ at: time.length === 5 ? s.at(time) : time, celsius }));
/** Every five minutes on straight lines between the points. */
const lines = (...points: [time: string, celsius: number][]) =>
  points.slice(1).flatMap(([to, c1], i) => {
    const [from, c0] = points[i]!;
    const times = minutes(from, to, 5);
    return times.map((ms, n) => ({ at: new Date(ms).toISOString(), celsius: c0 + ((c1 - c0) * n) / Math.max(1, times.length - 1) }));
  });
const read = async (batch: { id: string }, place: string, readings: object[], more: object = {}) => {
  const { status, body } = await s.crew.post(`/api/batches/${batch.id}/readings`, { place, readings, ...more });
  if (status !== 201) throw new Error(JSON.stringify(body));
  return body;
};
const states = (body: any, ruleId: string) => of(body, ruleId).map(([state]: [string]) => state);

describe('readings that show the fish warm while times of cooling were typed (cool.fc FC 3-501.14)', () => {
  const smoked = async (more: object = {}) => s.smoked(await fresh(), { ...s.good, ...more });

  test('at 40 C three hours after smoking, and 36 C later, it was cooled too slowly, whatever was typed', async () => {
    const body = await read(await smoked(), 'core', rows(['16:05', 40], ['18:00', 38], ['19:30', 36]));
    expect([body.verdict, states(body, 'cool.fc')]).toEqual(['do-not-share', ['not-met', 'not-met']]);
  });

  test('a log from 50 C half an hour after smoking to 25 C seven hours after it is too slow', async () => {
    const body = await read(await smoked(), 'core', lines(['13:30', 50], ['19:50', 25]));
    expect([body.verdict, states(body, 'cool.fc')]).toEqual(['do-not-share', ['not-met', 'not-met']]);
  });

  test('one reading alone that cannot be after the time typed for 21 C or 5 C', async () => {
    const late = await read(await smoked(), 'core', rows(['16:05', 30]));
    expect([late.verdict, states(late, 'cool.fc')[0]]).toEqual(['do-not-share', 'not-met']);
    const soon = await read(await smoked(), 'core', rows(['14:40', 30]));
    expect([soon.verdict, states(soon, 'cool.fc')]).toEqual(['hold', ['not-recorded', 'met']]);
    const cool = await read(await smoked(), 'core', rows(['17:00', 12]));
    expect([cool.verdict, states(cool, 'cool.fc')]).toEqual(['hold', ['met', 'not-recorded']]);
    // Withdrawn, the typed times stand again.
    const gone = await s.crew.patch(`/api/reading-lists/${cool.list.id}`, { version: 1, withdrawn: true, reason: 'Of another lot' });
    expect(gone.body.verdict).toBe('clear');
    // A thermometer is apt to be a little off.
    expect((await read(await smoked(), 'core', rows(['14:40', 22.9], ['16:10', 6.9], ['17:30', 3]))).verdict).toBe('clear');
  });

  test('a probe on the surface, one said to be of another stage, a second probe, and one that logged the smoke and was put back', async () => {
    const cures = async () => {
      const batch = await fresh();
      const { body } = await s.stage(batch, 'cure', '06:00', '08:00', { massOutG: 5000 });
      return { batch: await s.smoked(batch), cure: body.stages.at(-1).id };
    };
    expect((await read(await smoked(), 'surface', rows(['14:40', 30]))).verdict).toBe('hold');
    const { batch, cure } = await cures();
    expect((await read(batch, 'core', rows(['16:05', 40], ['18:00', 38], ['19:30', 36]), { stageId: cure })).verdict).toBe('do-not-share');
    const two = await smoked();
    expect((await read(two, 'core', lines(['09:00', 10], ['12:00', 66], ['13:00', 66], ['14:30', 20], ['16:00', 4], ['17:00', 3]), { probe: 'A' })).verdict).toBe('clear');
    expect((await read(two, 'core', rows(['16:05', 30]), { probe: 'B' })).verdict).toBe('do-not-share');
    const back = await smoked();
    await read(back, 'core', lines(['09:00', 10], ['12:00', 66], ['13:00', 66]));
    expect((await read(back, 'core', rows(['16:05', 30]))).verdict).toBe('hold');
  });

  test('above 21 C again within the six hours, once it was cold, it was not cooled to stay', async () => {
    const body = await read(await smoked({ cooledTo21At: null, cooledAt: null }), 'core', lines(['09:00', 10], ['12:00', 66], ['13:00', 66], ['14:30', 20], ['16:00', 4], ['17:00', 30], ['18:00', 4], ['18:30', 4]));
    expect([body.verdict, states(body, 'cool.fc')[0]]).toEqual(['do-not-share', 'not-met']);
  });

  test('of a part that was split off after it was cold as well; a log that begins below 57 C never shows it cold in time', async () => {
    const whole = await smoked();
    const part = await s.make([s.fromBatch(whole.id, 1000)]);
    expect(part.verdict).toBe('clear');
    expect((await read(part, 'core', rows(['16:05', 40], ['18:00', 38], ['19:30', 36]))).verdict).toBe('do-not-share');
    const untold = await read(await smoked({ cooledTo21At: null, cooledAt: null }), 'core', lines(['13:10', 50], ['14:30', 20], ['16:00', 4]));
    expect([untold.verdict, states(untold, 'cool.fc')]).toEqual(['hold', ['not-recorded', 'not-recorded']]);
  });

  test('of a dip that was said to be at 5 C and is read at 20 C half an hour later (cool.ambient FC 3-501.14(B))', async () => {
    const dip = async () => {
      const [pack] = await s.pack(await smoked(), [250]);
      const batch = await s.make([s.fromPack(pack!.id)], { productKind: 'dip' });
      return (await s.stage(batch, 'mix', '14:00', '14:30', { massOutG: 250, cooledAt: s.at('15:30') })).body;
    };
    for (const place of ['core', 'surface']) {
      const batch = await dip();
      expect(batch.verdict).toBe('clear');
      const warm = await read(batch, place, rows(['16:00', 20]));
      expect([place, warm.verdict, of(warm, 'cool.ambient')]).toEqual([place, 'hold', [['not-recorded', 'hold']]]);
    }
  });
});
