import { afterAll, beforeAll, expect, test } from 'vitest';
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
  await s.stage(dip, 'mix', '18:00', '18:30', { massOutG: 250 });
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
