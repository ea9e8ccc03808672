import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { refitDiffusivity } from '../../server/domain/salt/refit.ts';
import { fleshWater } from '../../server/domain/cure/pieces.ts';
import { readMigrations } from '../../server/platform/database/migrate.ts';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

const brine = { method: 'brine', brinePercent: 18, thicknessMm: 20, skin: true, temperatureC: 3, onceFrozen: false, fat: 'fatty' };
const dry = (saltGrams: number, more: object = {}) => ({ method: 'dry', saltKind: 'table-salt', saltGrams, thicknessMm: 20, skin: true, temperatureC: 3, onceFrozen: false, fat: 'fatty', ...more });
const fresh = async () => s.make([s.landing(await s.land(), 5000)]);
const cureOf = (batch: any) => batch.stages.find((stage: any) => stage.kind === 'cure');
const cured = async (cure: object, more: object = {}) => (await s.stage(await fresh(), 'cure', '01:00', '09:00', { massOutG: 4750, cure, ...more })).body;
const measure = (batch: { id: string }, value: number, more: object = {}) =>
  s.captain.post(`/api/batches/${batch.id}/measurements`, { kind: 'water-phase-salt', value, part: 'loin', laboratory: 'Harbour lab', sampledDay: '2026-06-10', reportedDay: '2026-06-10', ...more });
const figures = async () => (await s.ann.get('/api/salt-figures')).body;
const classOf = async (fat: string) => (await figures()).classes.find((c: any) => c.fat === fat);

describe('how fish was cured', () => {
  test('comes with its stage, is on the page, is corrected by version, and the record keeps both', async () => {
    const made = await cured(brine);
    expect(cureOf(made).cure).toMatchObject({ ...brine, saltGrams: null, version: 1, createdBy: { name: 'Rory Vik' } });
    const change = { ...brine, thicknessMm: 25, version: 1, reason: 'measured again' };
    const changed = await s.crew.patch(`/api/stages/${cureOf(made).id}/cure`, change);
    expect([changed.status, cureOf(changed.body).cure.thicknessMm, cureOf(changed.body).cure.version]).toEqual([200, 25, 2]);
    const late = await s.crew.patch(`/api/stages/${cureOf(made).id}/cure`, { ...change, thicknessMm: 30 });
    expect([late.status, late.body.changes]).toEqual([409, expect.arrayContaining([{ field: 'thicknessMm', yours: 30, theirs: 25 }])]);
    const { items } = (await s.crew.get(`/api/record?subjectKind=batch&subjectId=${made.id}`)).body;
    const told = items.filter((entry: any) => entry.subjectKind === 'cure');
    expect(told.map((entry: any) => [entry.action, entry.reason, entry.by.name])).toEqual([['changed', 'measured again', 'Rory Vik'], ['created', null, 'Rory Vik']]);
    expect(told[0].fields).toContainEqual({ field: 'thicknessMm', before: 20, after: 25 });
  });

  test('is told of a cure that was recorded without it, once', async () => {
    const { body } = await s.stage(await fresh(), 'cure', '01:00', '09:00', { massOutG: 4750 });
    const stage = cureOf(body);
    expect(stage.cure).toBeNull();
    const tell = () => s.crew.patch(`/api/stages/${stage.id}/cure`, { ...brine, version: 0 });
    const both = await Promise.all([tell(), tell()]);
    expect(both.map((a) => a.status).sort()).toEqual([200, 409]);
    expect((await s.page(body)).stages[0].cure.version).toBe(1);
  });

  test.each([
    ['151 mm', { ...brine, thicknessMm: 151 }, 'cure.thicknessMm'], ['a brine that water cannot hold (26.395 % at 60 F)', { ...brine, brinePercent: 27 }, 'cure.brinePercent'], ['a dry cure without its salt', { ...brine, method: 'dry', brinePercent: null }, 'cure.saltGrams'],
    ['a place of 30 C', { ...brine, temperatureC: 30 }, 'cure.temperatureC'], ['a salt that is none', dry(100, { saltKind: 'honey' }), 'cure.saltKind'], ['another method', { ...brine, method: 'hot' }, 'cure.method'],
  ])('%s is refused by field, and no stage is written', async (_what, cure, field) => {
    const batch = await fresh();
    const answer = await s.stage(batch, 'cure', '01:00', '09:00', { massOutG: 4750, cure });
    expect([answer.status >= 400 && answer.status < 500, answer.body.errors[0].field]).toEqual([true, field]);
    expect((await s.page(batch)).stages).toEqual([]);
  });

  test('belongs to a cure stage alone, in the service and in the database', async () => {
    const batch = await fresh();
    expect((await s.stage(batch, 'rinse', '01:00', '02:00', { massOutG: 5000, cure: brine })).body.errors[0].field).toBe('cure');
    const { body } = await s.stage(batch, 'rinse', '01:00', '02:00', { massOutG: 5000 });
    expect((await s.crew.patch(`/api/stages/${body.stages[0].id}/cure`, { ...brine, version: 0 })).status).toBe(422);
    const cure = (await s.stage(await fresh(), 'cure', '01:00', '09:00', { massOutG: 4750 })).body;
    const insert = `insert into cure (id, stage_id, batch_id, method, brine_percent, thickness_mm, skin, temperature_c, once_frozen, fat, created_by_id, created_at) values ($1, $2, $3, $4, $5, $6, true, 3, false, 'fatty', $7, now())`;
    const put = (of: any, method = 'brine', percent: number | null = 18, mm = 20) => s.club.database.query('', insert, [randomUUID(), of.stages[0].id, of.id, method, percent, mm, s.crew.id]);
    await expect(put(body)).rejects.toMatchObject({ constraint: 'cure_where_cured' });
    await expect(put(cure, 'brine', 27)).rejects.toMatchObject({ constraint: 'cure_brine_range' });
    await expect(put(cure, 'brine', 18, 151)).rejects.toMatchObject({ constraint: 'cure_thickness_range' });
    for (const [method, percent] of [['dry', null], ['brine', null], ['equilibrium-brine', 18]] as const) await expect(put(cure, method, percent)).rejects.toMatchObject({ constraint: 'cure_amounts_for_method' });
  });
});

describe('what the laboratory figures say', () => {
  test('two figures of fatty fish: the value and the band are those of the same figures typed in, finished fish read back by its weights', async () => {
    const before = await classOf('fatty');
    expect(before).toMatchObject({ startM2PerSAt5C: 2e-10, m2PerSAt5C: 2e-10, bandFactor: 2, figures: [] });
    const first = await cured(brine);
    await measure(first, 4.2);
    const second = await cured(brine);
    await s.smoked(second, s.good, 4085);
    await measure(second, 5.1, { part: 'whole' });
    const learnt = await classOf('fatty');
    const { waterPercent } = fleshWater('atlantic-mackerel', 'fatty');
    // 4,085 of 4,750 g is 86 % kept; dry matter of the raw flesh over 0.95, the rest is water and salt.
    const r = 5.1 / 94.9;
    const curedWaterPercent = Math.round(100 * ((100 - (100 - waterPercent) / 0.95 + r * 14) / (1 + r))) / 100;
    const conditions = { thicknessMm: 20, openFaces: 1 as const, brinePercent: 18, temperatureC: 3, onceFrozen: false, minutes: 480 };
    const typed = refitDiffusivity({ fat: 'fatty', measurements: [{ ...conditions, measuredPercent: 5.1, keptPercent: 86, curedWaterPercent }, { ...conditions, measuredPercent: 4.2 }] });
    expect(learnt.m2PerSAt5C).toBeCloseTo(typed.m2PerSAt5C, 13);
    expect(learnt.bandFactor).toBeCloseTo(typed.bandFactor, 6);
    expect(learnt.bandFactor).toBeLessThan(2);
    expect(learnt.figures.map((f: any) => [f.lot, f.measuredPercent, f.keptPercent])).toEqual(expect.arrayContaining([[second.lot, 5.1, 86], [first.lot, 4.2, null]]));
    expect(learnt.working.model).toBe('salt-fit');
    expect((await figures()).measured).toBe(false);
    // A corrected cure and a withdrawn figure are followed at once.
    const [one] = (await s.page(second)).measurements;
    await s.captain.patch(`/api/measurements/${one.id}`, { version: 1, withdrawn: true, reason: 'Another sample' });
    expect((await classOf('fatty')).figures).toHaveLength(1);
    await s.crew.patch(`/api/stages/${cureOf(first).id}/cure`, { ...brine, thicknessMm: 24, version: 1 });
    expect((await classOf('fatty')).m2PerSAt5C).toBeGreaterThan(learnt.m2PerSAt5C);
    // Thickness that takes more than any muscle has: shown, and the start is used.
    await s.crew.patch(`/api/stages/${cureOf(first).id}/cure`, { ...brine, thicknessMm: 60, version: 2 });
    expect(await classOf('fatty')).toMatchObject({ used: false, m2PerSAt5C: 2e-10, bandFactor: 2, figures: [{}] });
  });

  test('what is left out is named with why; a prediction makes no batch clear', async () => {
    const [mixed, untold, belly] = [await cured({ ...brine, fat: 'mixed' }), (await s.stage(await fresh(), 'cure', '01:00', '09:00', { massOutG: 4750 })).body, await cured(brine)];
    const checks = (await s.page(belly)).checks;
    const raw = await fresh();
    await measure(raw, 4);
    await measure(mixed, 4);
    await measure(untold, 4);
    await measure(belly, 4, { part: 'belly' });
    const { leftOut } = await figures();
    expect(leftOut.map((l: any) => [l.batchId, l.why])).toEqual(expect.arrayContaining([
      [mixed.id, expect.stringContaining('several fat classes')], [untold.id, expect.stringContaining('Tell it at its cure stage')], [raw.id, expect.stringContaining('no cure stage of its own')], [belly.id, expect.stringContaining('only loin and whole')],
    ]));
    expect((await s.page(belly)).checks.map((c: any) => [c.ruleId, c.state])).toEqual(checks.map((c: any) => [c.ruleId, c.state]));
  });
});

describe('stock of salt and sugar', () => {
  const count = (counts: object[], who = s.crew, key?: string) => who.post('/api/cure-stock/counts', { counts }, key);
  const saltNow = async () => (await s.ann.get('/api/cure-stock')).body.items.find((i: any) => i.ingredient === 'table-salt');
  const at = (iso: string) => (s.club.clock.now = new Date(iso));

  test('crew counts, a member sees it and may not count; counted again with the same key it is one count', async () => {
    at('2026-06-10T00:30:00Z');
    expect((await count([{ ingredient: 'table-salt', grams: 2000 }], s.ann)).status).toBe(403);
    const key = randomUUID();
    const body = [{ ingredient: 'table-salt', grams: 2000 }, { name: 'Bay leaf', grams: 50 }];
    const [first, again] = [await count(body, s.crew, key), await count(body, s.crew, key)];
    expect([first.status, again.status, again.body]).toEqual([201, 201, first.body]);
    expect(await saltNow()).toMatchObject({ name: 'Table salt', grams: 2000, countedBy: { name: 'Rory Vik' }, countedAt: '2026-06-10T00:30:00.000Z', outByGrams: 0 });
    at('2026-06-10T20:00:00Z');
    const { items } = (await s.crew.get(`/api/record?subjectKind=cure-stock&subjectId=${first.body.items[0].id}`)).body;
    expect(items.map((entry: any) => [entry.action, entry.by.name])).toEqual([['created', 'Rory Vik']]);
  });

  test('two cures at once both take from it; a corrected one follows, an undone one gives back, a typed name means its kind', async () => {
    const batches = [await fresh(), await fresh()];
    const both = await Promise.all(batches.map((batch) => s.stage(batch, 'cure', '01:00', '09:00', { massOutG: 4750, cure: dry(700, { others: [{ name: 'BAY LEAF', grams: 10 }] }) })));
    expect(both.map((a) => a.status)).toEqual([201, 201]);
    expect(await saltNow()).toMatchObject({ grams: 600, usedGrams: 1400 });
    expect((await s.ann.get('/api/cure-stock')).body.items.find((i: any) => i.name === 'Bay leaf')).toMatchObject({ grams: 30 });
    const [one, other] = both.map((a) => cureOf(a.body));
    await s.crew.patch(`/api/stages/${one.id}/cure`, { ...dry(1500), version: 1 });
    expect(await saltNow()).toMatchObject({ grams: 0, usedGrams: 2200, outByGrams: 200 });
    await s.crew.patch(`/api/stages/${other.id}`, { version: other.version, cancelled: true });
    expect(await saltNow()).toMatchObject({ grams: 500, outByGrams: 0 });
    const again = await count([{ name: 'table SALT', grams: 450 }]);
    expect(again.body.items.find((i: any) => i.ingredient === 'table-salt')).toMatchObject({ grams: 450, usedGrams: 0 });
    // Begun before the count, recorded after it: the count saw it already.
    await s.stage(await fresh(), 'cure', '03:00', '09:00', { massOutG: 4750, cure: dry(100) });
    expect(await saltNow()).toMatchObject({ grams: 450 });
  });

  test('brown sugar is one on the shelf, however a cup is filled with it and whatever it is called', async () => {
    const { now } = s.club.clock;
    at('2026-06-10T00:30:00Z');
    const told = await Promise.all([['brown-sugar-packed', ''], [null, 'Brown sugar'], ['brown-sugar', ''], [null, 'brown SUGAR, loose'], ['brown-sugar-unpacked', '']].map(([ingredient, name]) => count([{ ingredient, name, grams: 1000 }])));
    expect(told.map((a) => a.status)).toEqual([201, 201, 201, 201, 201]);
    expect((await count([{ ingredient: 'brown-sugar-packed', grams: 1 }, { ingredient: 'brown-sugar-unpacked', grams: 2 }])).body.errors[0].field).toBe('counts.1.name');
    s.club.clock.now = now;
    for (const [kind, others] of [['brown-sugar-packed', []], ['brown-sugar-unpacked', []], ['granulated-sugar', [{ name: 'Brown sugar', grams: 30 }]]] as const) {
      expect((await s.stage(await fresh(), 'cure', '01:00', '09:00', { massOutG: 4750, cure: { ...brine, sugarKind: kind, sugarGrams: 100, others } })).status).toBe(201);
    }
    const brown = (await s.ann.get('/api/cure-stock')).body.items.filter((i: any) => /brown/i.test(i.name));
    expect(brown).toEqual([expect.objectContaining({ ingredient: 'brown-sugar', name: 'Brown sugar', countedGrams: 1000, usedGrams: 230, grams: 770 })]);
    await expect(s.club.database.query('', `insert into cure_stock (id, ingredient, name, grams, counted_by_id, counted_at) values (gen_random_uuid(), 'brown-sugar-packed', 'Brown sugar, packed', 5, $1, now())`, [s.captain.id])).rejects.toMatchObject({ message: expect.stringContaining('cure_stock_brown_sugar_once') });
  });

  test('another ingredient that bears the name of a known kind takes from that kind', async () => {
    const { now } = s.club.clock;
    at('2026-06-10T00:30:00Z');
    await count([{ ingredient: 'honey', grams: 500 }]);
    s.club.clock.now = now;
    await s.stage(await fresh(), 'cure', '01:00', '09:00', { massOutG: 4750, cure: { ...brine, others: [{ name: 'honey', grams: 120 }] } });
    expect((await s.ann.get('/api/cure-stock')).body.items.find((i: any) => i.ingredient === 'honey')).toMatchObject({ name: 'Honey', grams: 380, usedGrams: 120 });
  });

  test('an ingredient of over a tonne is refused by its line, and the list is read whatever all cures took together', async () => {
    const refused = await s.stage(await fresh(), 'cure', '01:00', '09:00', { massOutG: 4750, cure: { ...brine, others: [{ name: 'Dill', grams: 5 }, { name: 'Juniper', grams: 100_000_000 }] } });
    expect([refused.status, refused.body.errors[0].field]).toEqual([422, 'cure.others.1.grams']);
    const { now } = s.club.clock;
    at('2026-06-10T00:30:00Z');
    await count([{ name: 'Juniper', grams: 10 }]);
    s.club.clock.now = now;
    const others = Array.from({ length: 40 }, () => ({ name: 'juniper', grams: 1_000_000 }));
    for (let i = 0; i < 3; i += 1) expect((await s.stage(await fresh(), 'cure', '01:00', '09:00', { massOutG: 4750, cure: { ...brine, others } })).status).toBe(201);
    const { status, body } = await s.ann.get('/api/cure-stock');
    expect([status, body.items.find((i: any) => i.name === 'Juniper')]).toEqual([200, expect.objectContaining({ grams: 0, usedGrams: 120_000_000, outByGrams: 119_999_990 })]);
  });

  test('a count of everything at once is whole or not at all; what is no ingredient is refused by its line; one is taken off the list', async () => {
    const before = (await s.ann.get('/api/cure-stock')).body;
    for (const [counts, field] of [
      [[{ ingredient: 'honey', grams: 5 }, { ingredient: 'road-salt', grams: 5 }], 'counts.1.ingredient'], [[{ name: 'Dill', grams: 5 }, { name: '', grams: 5 }], 'counts.1.name'], [[{ ingredient: 'honey', grams: -1 }], 'counts.0.grams'],
      [[{ ingredient: 'honey', grams: 1 }, { name: 'Honey', grams: 2 }], 'counts.1.name'],
    ] as const) expect((await count([...counts])).body.errors[0].field).toBe(field);
    expect((await s.ann.get('/api/cure-stock')).body).toEqual(before);
    const left = (await count([{ name: 'bay LEAF', grams: null }])).body;
    expect(left.items.map((i: any) => i.name)).not.toContain('Bay leaf');
  });

  test('two people who count several ingredients in other orders at once do not block each other', async () => {
    const many = ['honey', 'molasses', 'table-salt', 'maple-syrup'];
    const answers = await Promise.all([0, 1, 2, 3].map((i) => count((i % 2 ? many : [...many].reverse()).map((ingredient) => ({ ingredient, grams: 100 + i })))));
    expect(answers.map((a) => a.status)).toEqual([201, 201, 201, 201]);
    const grams = (await s.ann.get('/api/cure-stock')).body.items.filter((i: any) => many.includes(i.ingredient)).map((i: any) => i.grams);
    expect(new Set(grams).size).toBe(1);
  });
});

test('stocks of loose, packed and plain brown sugar counted before it was one become one, none of it lost and the record whole', async () => {
  const { query } = s.club.database;
  await query('', `alter table cure_stock drop constraint cure_stock_brown_sugar_once`);
  await query('', `update cure_stock set ingredient = 'was-brown', retired_at = now() where ingredient = 'brown-sugar'`);
  const old = async (ingredient: string | null, name: string, grams: number, countedAt: string) =>
    (await query<{ id: string }>('', `insert into cure_stock (id, ingredient, name, grams, counted_by_id, counted_at) values (gen_random_uuid(), $1, $2, $3, $4, $5::timestamptz) returning id`, [ingredient, name, grams, s.crew.id, s.at(countedAt)]))[0]!.id;
  const ids = [await old('brown-sugar-packed', 'Brown sugar, packed', 1000, '09:00'), await old(null, 'brown sugar', 200, '11:00'), await old('brown-sugar-unpacked', 'Brown sugar, loose', 600, '12:00')];
  const cured = async (from: string, cure: object) => expect((await s.stage(await fresh(), 'cure', from, '14:00', { massOutG: 4750, cure: { ...brine, sugarKind: 'granulated-sugar', sugarGrams: 5, ...cure } })).status).toBe(201);
  // Taken from what was counted before: 100 of the packed and 20 of the plain. The loose was counted after its 50 were gone.
  await cured('10:00', { sugarKind: 'brown-sugar-packed', sugarGrams: 100 });
  await cured('10:30', { others: [{ name: 'Brown sugar', grams: 30 }] });
  await cured('11:30', { sugarKind: 'brown-sugar-unpacked', sugarGrams: 50, others: [{ name: 'Brown sugar', grams: 20 }] });
  await cured('12:30', { sugarKind: 'brown-sugar-unpacked', sugarGrams: 40 });
  const script = readMigrations().find(({ name }) => name.endsWith('_brown_sugar_is_one'))!.script.replace(/^--.*$/gm, '');
  for (const statement of script.split(/;\s*$/m).filter((one) => one.trim() !== '')) await query('', statement);
  const brown = (await s.ann.get('/api/cure-stock')).body.items.filter((i: any) => /brown/i.test(i.name));
  expect(brown).toEqual([expect.objectContaining({ id: ids[2], ingredient: 'brown-sugar', name: 'Brown sugar', countedGrams: 1680, usedGrams: 40, grams: 1640, countedAt: s.at('12:00'), countedBy: { id: s.crew.id, name: 'Rory Vik' } })]);
  for (const [id, grams] of [[ids[0], 1000], [ids[1], 200], [ids[2], 600]] as const) {
    const told = await query<{ action: string; grams: number | null; was: number | null }>('', `select action, (after->>'grams')::int as grams, (before->>'grams')::int as was from record_entry where subject_id = $1 order by id`, [id]);
    expect(told).toEqual([{ action: 'created', grams, was: null }, { action: 'changed', grams: id === ids[2] ? 1680 : null, was: id === ids[2] ? 600 : null }]);
  }
});
