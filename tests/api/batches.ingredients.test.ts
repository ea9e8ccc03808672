import { afterAll, beforeAll, expect, test } from 'vitest';
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
  await s.stage(dip, 'mix', '18:00', '18:30', { massOutG: 250, cooledAt: s.at('18:30') });
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
