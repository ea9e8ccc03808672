import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { READY_LAYOUTS } from '../../server/domain/labels/layouts.ts';
import { readPdf } from '../support/pdf-reading.ts';
import { smokehouse } from '../support/smokehouse.ts';
import type { Smokehouse } from '../support/smokehouse.ts';

let s: Smokehouse;
beforeAll(async () => {
  s = await smokehouse();
});
afterAll(() => s.club.close());

test('what a lot was cured in is in what was split off it and in the dip made of it: page, label and public page (label.content, people.allergens)', async () => {
  const lot = await s.smoked(await s.make([s.landing(await s.land({ pooling: 'pooled' }), 5000)], { ingredients: 'Atlantic mackerel, salt, sugar', allergens: ['mustard'] }));
  const part = await s.make([s.fromBatch(lot.id, 500)], { ingredients: 'Black pepper, Salt' });
  const [pack] = await s.pack(part, [250]);
  const dip = await s.make([s.fromPack(pack!.id)], { productKind: 'dip', ingredients: 'Cream cheese (milk, salt), lemon', allergens: ['milk'] });
  await s.stage(dip, 'mix', '18:00', '18:30', { massOutG: 250, cooledAt: s.at('18:30'), addedLastDay: '2026-06-30' });
  const [sold] = await s.pack(dip, [200], { packedAt: s.at('19:00') });

  const all = 'Cream cheese (milk, salt), lemon, Black pepper, Salt, Atlantic mackerel, sugar';
  const page = await s.page(dip);
  expect([page.ingredients, page.allergens]).toEqual(['Cream cheese (milk, salt), lemon', ['milk']]);
  expect(page.inherited).toEqual([
    { batchId: part.id, lot: part.lot, ingredients: 'Black pepper, Salt', allergens: [] },
    { batchId: lot.id, lot: lot.lot, ingredients: 'Atlantic mackerel, salt, sugar', allergens: ['mustard'] },
  ]);
  const { publicUrl } = (await s.crew.get(`/api/packs/${sold!.id}`)).body;
  const open = (await s.club.stranger.get(`/api/public/packs/${publicUrl.split('/').at(-1)}`)).body;
  expect([open.ingredients, open.allergens]).toEqual([all, ['fish', 'milk', 'mustard']]);
  const run = (await s.crew.post('/api/label-runs', { packIds: [sold!.id], layoutId: 'roll-62x100' })).body;
  const [label] = await readPdf((await s.crew.get(run.pdfPath)).raw);
  expect(label!.text.replace(/\s+/g, ' ')).toContain('Ingredients: Cream cheese (milk, salt), lemon, Black pepper, Salt');

  const tag = (await s.crew.get(`/api/batches/${dip.id}`)).headers['etag'] as string;
  const { version } = await s.page(lot);
  await s.crew.patch(`/api/batches/${lot.id}`, { version, ingredients: 'Atlantic mackerel, salt, honey' });
  expect((await s.crew.get(`/api/batches/${dip.id}`, { 'if-none-match': tag })).body.inherited[1].ingredients).toBe('Atlantic mackerel, salt, honey');
});

test('advice on batch, pack and public page: of all that is in it, naming no place and nobody (people.*; 21 USC 321(qq))', async () => {
  await s.club.database.query('', `update trip set area = 'Far Bank' where id = $1`, [s.tripId]);
  const lot = await s.smoked(await s.make([s.landing(await s.land({ pooling: 'pooled', species_code: 'king-mackerel' }), 5000)], { ingredients: 'king mackerel, butter, salt', allergens: ['mustard'] }));
  const page = await s.page(lot);
  // The tables' advice for king mackerel is to avoid it (mercury.csv, FDA/EPA).
  expect(page.advice.items.filter((item: any) => item.level === 'avoid').map((item: any) => item.topic).sort()).toEqual(['listeria', 'mercury']);
  expect(page.advice.label.join(' ')).toContain('Contains: Fish (King mackerel), Mustard, Milk');
  expect(page.unticked).toEqual([{ code: 'milk', name: 'Milk', word: 'butter' }]);
  expect(page.printed.allergens, 'labels name what the words give away, ticked or not').toEqual(['fish', 'mustard', 'milk']);
  const tag = (await s.crew.get(`/api/batches/${lot.id}`)).headers['etag'] as string;
  const named = await s.crew.patch(`/api/batches/${lot.id}`, { version: page.version, allergens: ['mustard', 'milk'] });
  expect([named.status, named.body.unticked]).toEqual([200, []]);
  expect((await s.crew.get(`/api/batches/${lot.id}`, { 'if-none-match': tag })).status).toBe(200);

  const [pack] = await s.pack(lot, [250]);
  const ofPack = (await s.ann.get(`/api/packs/${pack!.id}`)).body;
  const answer = await s.club.stranger.get(`/api/public/packs/${ofPack.publicUrl.split('/').at(-1)}`);
  expect(answer.body.advice).toEqual(ofPack.advice);
  expect(answer.body.advice.mercury).toEqual([{ speciesCode: 'king-mackerel', name: 'King mackerel' }]);
  for (const told of ['Far Bank', 'Ann', 'Isla', 'Rory', 'Kittiwake']) expect(answer.raw.toString()).not.toContain(told);
  // The words for a label stand on one with room for them, and no common label is refused for them.
  for (const { id } of READY_LAYOUTS) {
    const run = await s.crew.post('/api/label-runs', { packIds: [pack!.id], layoutId: id });
    expect([id, run.status]).toEqual([id, 201]);
    if (id !== 'roll-62x100') continue;
    const [label] = await readPdf((await s.crew.get(run.body.pdfPath)).raw);
    expect(label!.text.replace(/\s+/g, ' ')).toContain('High in mercury: not for pregnant');
  }
});

describe('ingredients that nobody typed', () => {
  const dry = (more: object = {}) => ({ method: 'dry', saltKind: 'table-salt', saltGrams: 300, thicknessMm: 20, skin: true, temperatureC: 3, onceFrozen: false, fat: 'fatty', ...more });
  const sweet = dry({ sugarKind: 'brown-sugar-packed', sugarGrams: 150, others: [{ name: 'Soy sauce', grams: 200 }, { name: 'Black pepper', grams: 20 }] });
  const fresh = async (more: object = {}) => s.make([s.landing(await s.land({ pooling: 'pooled' }), 5000)], more);
  const cured = async (cure?: object, more: object = {}) => (await s.stage(await fresh(more), 'cure', '06:00', '08:00', { massOutG: 4800, cure: cure ?? null })).body;
  const packed = async (batch: any, more: object = {}) => (await s.pack(batch, [250], more))[0]!.id;
  const stageOf = async (batch: any) => (await s.page(batch)).stages.find((stage: any) => stage.kind === 'cure');
  const open = async (packId: string) => (await s.club.stranger.get(`/api/public/packs/${(await s.crew.get(`/api/packs/${packId}`)).body.publicUrl.split('/').at(-1)}`)).body;
  const runOf = async (packId: string): Promise<string> => (await s.crew.post('/api/label-runs', { packIds: [packId], layoutId: 'roll-62x100', markHeld: true })).body.pdfPath;
  const drawn = async (pdfPath: string) => (await readPdf((await s.crew.get(pdfPath)).raw)).map((page) => page.text).join(' ').replace(/\s+/g, ' ');
  const line = 'Atlantic mackerel (fish), salt, Soy sauce, brown sugar, Black pepper';

  test('come from the cure, on the batch, the label and the public page; a corrected cure is followed, by an earlier run that is drawn again too (label.content)', async () => {
    const lot = await s.smoked(await cured(sweet));
    expect((await s.page(lot)).printed).toEqual({
      ingredients: line, source: 'cure', missing: null, allergens: ['fish', 'wheat', 'soy'],
      fromCure: [{ code: 'wheat', name: 'Wheat', word: 'Soy sauce' }, { code: 'soy', name: 'Soy', word: 'Soy' }],
    });
    const pack = await packed(lot);
    expect([(await open(pack)).ingredients, (await open(pack)).allergens]).toEqual([line, ['fish', 'wheat', 'soy']]);
    const run = await runOf(pack);
    const words = await drawn(run);
    expect(words).toContain(`Ingredients: ${line}`);
    expect(words).toContain('Contains: fish, wheat, soy');

    const stage = await stageOf(lot);
    await s.crew.patch(`/api/stages/${stage.id}/cure`, { ...sweet, others: [{ name: 'Mustard seed', grams: 20 }], version: 1 });
    const now = 'Atlantic mackerel (fish), salt, brown sugar, Mustard seed';
    expect((await open(pack)).ingredients).toBe(now);
    for (const pdf of [run, await runOf(pack)]) {
      expect(await drawn(pdf)).toContain(`Ingredients: ${now}`);
      expect(await drawn(pdf)).toContain('Contains: fish, mustard');
    }
    expect((await open(pack)).advice.items.find((item: any) => item.topic === 'allergens').text).toContain('Mustard');
  });

  test('are asked about no more where the label names them already', async () => {
    expect((await cured(sweet)).unticked).toEqual([]);
    const typed = await cured(sweet, { ingredients: 'Mackerel, salt, soy sauce, butter' });
    expect(typed.unticked.map((one: any) => one.code)).toEqual(['milk']);
  });

  test('what was typed stands whole; allergens that the cure gives away are named all the same (people.allergens)', async () => {
    const lot = await s.smoked(await cured(sweet, { ingredients: 'Mackerel and salt', allergens: ['Soy', 'celery'] }));
    expect(lot.printed).toMatchObject({ ingredients: 'Mackerel and salt', source: 'typed', missing: null, allergens: ['fish', 'Soy', 'celery', 'wheat'] });
    const pack = await packed(lot);
    expect(await open(pack)).toMatchObject({ ingredients: 'Mackerel and salt', allergens: ['fish', 'Soy', 'celery', 'wheat'] });
    const emptied = await s.crew.patch(`/api/batches/${lot.id}`, { version: lot.version, ingredients: '' });
    expect(emptied.body.printed).toMatchObject({ ingredients: line, source: 'cure' });
  });

  test('are not named where the cure was not written down, nor where there is none: a list that leaves things out misleads', async () => {
    const lot = await s.smoked(await cured());
    expect(lot.printed).toEqual({ ingredients: '', source: null, missing: { what: 'cure-untold', lot: null }, allergens: ['fish'], fromCure: [] });
    const pack = await packed(lot);
    expect((await open(pack)).ingredients).toBe('');
    expect(await drawn(await runOf(pack))).not.toContain('Ingredients');
    await s.crew.patch(`/api/stages/${(await stageOf(lot)).id}/cure`, { ...dry(), version: 0 });
    expect((await open(pack)).ingredients).toBe('Atlantic mackerel (fish), salt');

    const uncured = await s.smoked(await fresh());
    expect(uncured.printed).toMatchObject({ ingredients: '', missing: { what: 'no-cure', lot: null } });
    expect((await s.make([])).printed).toMatchObject({ ingredients: '', missing: { what: 'no-fish', lot: null } });
    expect((await fresh({ productKind: 'raw' })).printed).toMatchObject({ ingredients: 'Atlantic mackerel (fish)', source: 'fish', missing: null });
  });

  test('an undone cure is none', async () => {
    const lot = await cured(sweet);
    const stage = await stageOf(lot);
    const undone = (await s.crew.patch(`/api/stages/${stage.id}`, { version: stage.version, cancelled: true })).body;
    expect(undone.printed).toMatchObject({ ingredients: '', missing: { what: 'no-cure' }, allergens: ['fish'], fromCure: [] });
  });

  test('follow the fish: what was split off, merged, and made into a dip', async () => {
    const one = await s.smoked(await cured(sweet));
    const other = await s.smoked(await cured(dry({ sugarKind: 'honey', sugarGrams: 60 })));
    const part = await s.make([s.fromBatch(one.id, 500)]);
    expect(part.printed).toMatchObject({ ingredients: line, source: 'cure' });
    const merged = await s.make([s.fromBatch(one.id, 500), s.fromBatch(other.id, 500)]);
    // Salt 600 g of both, then soy sauce 200, brown sugar 150, honey 60, pepper 20.
    expect(merged.printed.ingredients).toBe('Atlantic mackerel (fish), salt, Soy sauce, brown sugar, honey, Black pepper');

    const dip = await s.make([s.fromPack(await packed(one))], { productKind: 'dip' });
    expect(dip.printed).toMatchObject({ ingredients: '', missing: { what: 'mix-untold', lot: null }, allergens: ['fish', 'wheat', 'soy'] });
    const typed = (await s.crew.patch(`/api/batches/${dip.id}`, { version: dip.version, ingredients: 'Smoked mackerel (fish, salt), cream cheese (milk)', allergens: ['milk'] })).body;
    expect(typed.printed).toMatchObject({ ingredients: 'Smoked mackerel (fish, salt), cream cheese (milk)', source: 'typed', allergens: ['fish', 'milk', 'wheat', 'soy'] });
  });

  test('name the lot above whose cure nobody told; one that was typed speaks for itself', async () => {
    const untold = await s.smoked(await cured());
    const told = await s.smoked(await cured(sweet));
    const merged = await s.make([s.fromBatch(told.id, 500), s.fromBatch(untold.id, 500)]);
    expect(merged.printed).toMatchObject({ ingredients: '', missing: { what: 'cure-untold', lot: untold.lot }, allergens: ['fish', 'wheat', 'soy'] });
    await s.crew.patch(`/api/batches/${untold.id}`, { version: untold.version, ingredients: 'Mackerel, salt, dill' });
    expect((await s.page(merged)).printed).toMatchObject({ ingredients: 'Atlantic mackerel (fish), Mackerel, salt, dill, Soy sauce, brown sugar, Black pepper', source: 'mixed', missing: null });
  });

  test('of fish that was split off before the lot above was cured, its own cure tells alone', async () => {
    const whole = await fresh();
    const { now } = s.club.clock;
    s.club.clock.now = new Date(s.at('05:00'));
    const part = await s.make([s.fromBatch(whole.id, 2000)]);
    s.club.clock.now = now;
    await s.stage(whole, 'cure', '06:00', '08:00', { massOutG: 2900, cure: sweet });
    const { body } = await s.stage(part, 'cure', '06:00', '08:00', { massOutG: 1900, cure: dry() });
    expect(body.printed).toMatchObject({ ingredients: 'Atlantic mackerel (fish), salt', allergens: ['fish'], fromCure: [] });
    // Drawn after it, and drawn before it was written down but after it began: named.
    expect((await s.make([s.fromBatch(whole.id, 500)])).printed.ingredients).toBe(line);
    const late = await fresh();
    const early = await s.make([s.fromBatch(late.id, 2000)]);
    await s.stage(late, 'cure', '06:00', '08:00', { massOutG: 2900, cure: sweet });
    expect((await s.page(early)).printed.ingredients).toBe(line);
  });

  test('a page that a browser has is void when the cure changes, of the lot and of all made from it', async () => {
    const lot = await s.smoked(await cured());
    const part = await s.make([s.fromBatch(lot.id, 500)]);
    const deep = await s.make([s.fromBatch(part.id, 200)]);
    const stage = await stageOf(lot);
    for (const [version, facts, words] of [[0, dry(), 'Atlantic mackerel (fish), salt'], [1, sweet, line]] as const) {
      const tags = await Promise.all([lot, part, deep].map(async (b) => (await s.crew.get(`/api/batches/${b.id}`)).headers['etag'] as string));
      expect((await s.crew.get(`/api/batches/${deep.id}`, { 'if-none-match': tags[2]! })).status).toBe(304);
      expect((await s.crew.patch(`/api/stages/${stage.id}/cure`, { ...facts, version })).status).toBe(200);
      for (const [i, b] of [lot, part, deep].entries()) {
        const answer = await s.crew.get(`/api/batches/${b.id}`, { 'if-none-match': tags[i]! });
        expect([answer.status, answer.body.printed?.ingredients]).toEqual([200, words]);
      }
    }
  });
});
