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
    await expect(s.club.database.query('', `update stage set max_core_c = 118 where id = $1`, [good.id])).rejects.toMatchObject({ message: expect.stringContaining('a core of 118 C') });
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
    await s.club.database.query('', `alter table stage disable trigger stage_core_possible`);
    await s.club.database.query('', `update stage set max_core_c = 118 where id = $1`, [batch.stages[0].id]);
    await s.club.database.query('', `alter table stage enable trigger stage_core_possible`);
    // What else a later version writes there, it may write.
    await s.club.database.query('', `update stage set cooled_at = cooled_at, note = 'As it was' where id = $1`, [batch.stages[0].id]);
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

describe('readings of where a long cure stood that say nothing of the cure (brine.cold NY262.5)', () => {
  const cured = async (more: object = {}) => {
    const batch = await fresh({ caught_at: '2026-06-10T03:00:00Z', iced_at: '2026-06-10T03:30:00Z' });
    const { body } = await s.stage(batch, 'cure', '04:00', '09:00', { massOutG: 5000, ...more });
    const cure = body.stages.at(-1).id as string;
    expect(body.checks.filter((c: any) => c.ruleId === 'brine.cold').map((c: any) => c.state)).toEqual(['maxPlaceC' in more ? 'met' : 'not-recorded']);
    return { batch: await s.smoked(batch), cure };
  };
  const hourly = (celsius: number, from: string, to: string) => minutes(from, to, 60).map((ms) => ({ at: new Date(ms).toISOString(), celsius }));

  test('one reading after it, or one at its start, or a log that stops halfway or has a gap of two hours', async () => {
    const { batch, cure } = await cured();
    const told = async (readings: object[]) => {
      const body = await read(batch, 'storage', readings, { stageId: cure });
      const gone = await s.crew.patch(`/api/reading-lists/${body.list.id}`, { version: 1, withdrawn: true, reason: 'The next case' });
      expect(gone.body.verdict).toBe('hold');
      return [body.verdict, states(body, 'brine.cold')];
    };
    expect(await told(rows(['17:00', 2]))).toEqual(['hold', ['not-recorded']]);
    expect(await told(rows(['04:01', 2]))).toEqual(['hold', ['not-recorded']]);
    expect(await told(rows(['04:01', 2], ['09:00', 2]))).toEqual(['hold', ['not-recorded']]);
    expect(await told(hourly(2, '04:00', '07:00'))).toEqual(['hold', ['not-recorded']]);
    expect(await told([...hourly(2, '04:00', '05:00'), ...hourly(2, '07:00', '09:00')])).toEqual(['hold', ['not-recorded']]);
    expect(await told(rows(['04:30', 2], ['05:20', -999], ['06:10', 2], ['07:00', 2], ['08:00', 2]))).toEqual(['hold', ['not-recorded']]);
    expect(await told(hourly(2, '04:00', '09:00'))).toEqual(['clear', ['met']]);
    // Warm it is whenever it was read.
    expect(await told([...hourly(2, '04:00', '09:00'), ...rows(['09:30', 9])])).toEqual(['hold', ['not-met']]);
  });

  test('a figure that somebody read there and typed stands beside a log of a part of it; a part split off is asked the same', async () => {
    const { batch, cure } = await cured({ maxPlaceC: 3 });
    expect((await read(batch, 'storage', rows(['06:00', 2]), { stageId: cure })).verdict).toBe('clear');
    const whole = await fresh({ caught_at: '2026-06-10T03:00:00Z', iced_at: '2026-06-10T03:30:00Z' });
    const { body } = await s.stage(whole, 'cure', '04:00', '09:00', { massOutG: 5000 });
    await read(whole, 'storage', rows(['04:01', 2]), { stageId: body.stages.at(-1).id });
    const part = await s.make([s.fromBatch(whole.id, 2000)]);
    expect((await s.smoked(part, s.good, 1000)).verdict).toBe('hold');
  });
});

describe('smoked fish that is warm again (hold.cold NY262.3; tables/cumulative-exposure.csv)', () => {
  const day = (time: string, no = 11) => `2026-06-${no}T${time}:00.000Z`;
  const release = (batch: { id: string }) => s.captain.post(`/api/batches/${batch.id}/releases`, { ruleId: 'hold.cold', reason: 'It will do' });
  const lastDay = async (id: string) => (await s.crew.get(`/api/packs/${id}`)).body.lastDay;
  const lab = (batch: { id: string }, no = 12) => s.captain.post(`/api/batches/${batch.id}/measurements`, { kind: 'water-phase-salt', value: 3.6, part: 'loin', laboratory: 'Harbour laboratory', sampledDay: `2026-06-${no}`, reportedDay: `2026-06-${no}` });
  const smoked = async () => s.smoked(await fresh());
  const later = async <T>(run: () => Promise<T>): Promise<T> => {
    const was = s.club.clock.now;
    s.club.clock.now = new Date('2026-06-13T20:00:00Z');
    try {
      return await run();
    } finally {
      s.club.clock.now = was;
    }
  };

  test.each(['core', 'surface'])('at 18 to 20 C for a day after it was cold, by a probe on the %s, it is on hold and nobody lets it go', (place) => later(async () => {
    const batch = await smoked();
    const [pack] = await s.pack(batch, [200]);
    const body = await read(batch, place, [...(place === 'core' ? lines(['11:00', 66], ['13:00', 66], ['15:00', 4], ['16:00', 4]) : []), ...rows(['19:30', 18], ['22:00', 20], [day('06:00'), 20], [day('20:00'), 20])]);
    expect([body.verdict, states(body, 'hold.cold')]).toEqual(['hold', ['not-met']]);
    expect((await release(batch)).body.code).toBe('not-allowed');
    expect(await lastDay(pack!.id)).toBeNull();
    // Read every half hour it is known, and never shared.
    const known = await read(batch, place, minutes('19:30', '23:30', 30).map((ms) => ({ at: new Date(ms).toISOString(), celsius: 22 })), { probe: 'every half hour' });
    expect(known.verdict).toBe('do-not-share');
    // What is made of it is no better.
    const { id, version } = (await s.page(batch)).stages.at(-1);
    await s.crew.patch(`/api/stages/${id}`, { version, finishedAt: day('12:00', 12) });
    const part = await s.make([s.fromPack(pack!.id)], { productKind: 'dip' });
    expect(part.verdict).toBe('do-not-share');
  }));

  test('two hours at 9 C, shown cold again, a captain may let go; they cost a day, of a dip as well, and more readings are not let go with them', () => later(async () => {
    const batch = await smoked();
    const [pack, other] = await s.pack(batch, [200, 200]);
    expect(await lastDay(pack!.id)).toBe('2026-06-16');
    const open = await read(batch, 'storage', [{ at: day('08:00'), celsius: 3 }, { at: day('09:00'), celsius: 9 }]);
    expect([open.verdict, (await release(batch)).body.code, await lastDay(pack!.id)]).toEqual(['hold', 'not-allowed', null]);
    const shut = await read(batch, 'storage', [{ at: day('10:00'), celsius: 3 }]);
    expect(shut.verdict).toBe('hold');
    const freed = await release(batch);
    expect([freed.body.verdict, freed.body.releases[0].found]).toEqual(['clear', 'at most 9 C, above 5 C for up to 2 h 0 min']);
    // Two of the 24 hours that Listeria may have there are a twelfth of seven days.
    expect(await lastDay(pack!.id)).toBe('2026-06-15');
    const dip = await s.make([s.fromPack(other!.id)], { productKind: 'dip' });
    const mixed = await s.crew.post(`/api/batches/${dip.id}/stages`, { kind: 'mix', startedAt: day('12:00', 13), finishedAt: day('12:30', 13), massOutG: 200, cooledAt: day('13:00', 13) });
    expect(mixed.body.verdict).toBe('clear');
    const again = await read(batch, 'storage', [{ at: day('12:00'), celsius: 8 }, { at: day('14:00'), celsius: 3 }]);
    expect(again.verdict).toBe('hold');
  }));

  test('three days at 25 C, and a warm store of a part whose lot was let go for two hours', () => later(async () => {
    const hot = await smoked();
    await read(hot, 'storage', [{ at: s.at('18:00'), celsius: 25 }, { at: day('18:00', 13), celsius: 25 }, { at: day('18:30', 13), celsius: 3 }]);
    expect([(await s.page(hot)).verdict, (await release(hot)).body.code]).toEqual(['hold', 'not-allowed']);
    const whole = await smoked();
    await read(whole, 'storage', [{ at: day('08:00'), celsius: 3 }, { at: day('09:00'), celsius: 9 }, { at: day('10:00'), celsius: 3 }]);
    expect((await release(whole)).body.verdict).toBe('clear');
    const part = await s.make([s.fromBatch(whole.id, 1000)]);
    expect(part.verdict).toBe('clear');
    const [tub] = await s.pack(part, [200]);
    expect(await lastDay(tub!.id)).toBe('2026-06-15');
    // What was warm in the lot it came from is no fish for a pack without air.
    await lab(part, 13);
    const made = await s.crew.post(`/api/batches/${part.id}/packs`, { weightsG: [200], packageKind: 'vacuum', storage: 'refrigerated', packedAt: s.at('17:00') });
    expect([made.status, (await s.page(part)).verdict]).toEqual([201, 'hold']);
  }));

  test('packs without air that stood at 14 C are let go by nobody, nor frozen or opened to get round it; the database agrees', () => later(async () => {
    const batch = await smoked();
    await lab(batch);
    const [pack] = await s.pack(batch, [200], { packageKind: 'vacuum' });
    expect((await s.page(batch)).verdict).toBe('clear');
    const warm = await read(batch, 'storage', [{ at: day('08:00'), celsius: 3 }, { at: day('09:00'), celsius: 14 }, { at: day('10:00'), celsius: 3 }]);
    expect(warm.verdict).toBe('hold');
    expect((await release(batch)).body.code).toBe('not-allowed');
    const insert = `insert into release (id, batch_id, rule_id, found, reason, created_by_id, created_at) values (gen_random_uuid(), $1, 'hold.cold', 'x', 'It will do', $2, now())`;
    await expect(s.club.database.query('', insert, [batch.id, s.captain.id])).rejects.toMatchObject({ message: expect.stringContaining('pack without air') });
    const { version } = (await s.crew.get(`/api/packs/${pack!.id}`)).body;
    for (const patch of [{ storage: 'frozen' }, { packageKind: 'tub' }]) expect((await s.crew.patch(`/api/packs/${pack!.id}`, { version, ...patch })).body.code).toBe('not-allowed');
    expect((await s.crew.patch(`/api/packs/${pack!.id}`, { version, discarded: true })).status).toBe(200);
    expect((await release(batch)).body.verdict).toBe('clear');
    const made = await s.crew.post(`/api/batches/${batch.id}/packs`, { weightsG: [200], packageKind: 'jar', storage: 'refrigerated', packedAt: s.at('17:00') });
    expect([made.status, made.body.code]).toEqual([403, 'not-allowed']);
  }));

  test('a log of the core that goes on cooling is no warm store, and a dip is read warm the next day', () => later(async () => {
    expect((await read(await smoked(), 'core', lines(['11:00', 66], ['13:00', 66], ['14:30', 20], ['16:00', 4.3], ['19:50', 4.1]))).verdict).toBe('clear');
    // Cold once, it is kept so.
    expect((await read(await smoked(), 'core', rows(['17:00', 3], ['19:30', 3.4]))).verdict).toBe('hold');
    const [pack] = await s.pack(await smoked(), [250]);
    const dip = await s.make([s.fromPack(pack!.id)], { productKind: 'dip' });
    const mixed = await s.crew.post(`/api/batches/${dip.id}/stages`, { kind: 'mix', startedAt: day('12:00'), finishedAt: day('12:30'), massOutG: 250, cooledAt: day('13:00') });
    expect(mixed.body.verdict).toBe('clear');
    const warm = await read(dip, 'surface', [{ at: day('09:00', 12), celsius: 12 }]);
    expect([warm.verdict, states(warm, 'hold.cold')]).toEqual(['hold', ['not-met']]);
    expect((await release(dip)).body.code).toBe('not-allowed');
  }));
});
