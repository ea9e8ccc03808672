import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { testClub } from '../support/app.ts';
import type { Person, TestClub } from '../support/app.ts';

let club: TestClub;
let captain: Person;
let crew: Person;
let member: Person;
beforeAll(async () => {
  club = await testClub();
  [captain, crew, member] = [await club.person('captain'), await club.person('crew'), await club.person('member')];
});
afterAll(() => club.close());

const salt = { name: 'Table salt', ingredient: 'table-salt', grams: 250 };
const water = { name: 'Water', ingredient: 'water', grams: 1000 };
const body = (name: string, change: object = {}) => ({ name, method: 'dry', fishGrams: 1000, items: [salt, { name: 'Bay leaf', ingredient: null, grams: 4 }], ...change });

test('crew keeps a formula, everybody sees it, the record says who', async () => {
  const made = await crew.post('/api/formulas', body('Skerry cure', { note: 'Grandmother’s' }));
  expect(made.status).toBe(201);
  expect(made.body).toMatchObject({ name: 'Skerry cure', method: 'dry', fishGrams: 1000, items: [salt, { ingredient: null, grams: 4 }], note: 'Grandmother’s', retired: false, version: 1 });
  expect((await member.get('/api/formulas')).body.items).toContainEqual(made.body);
  expect((await member.post('/api/formulas', body('Not mine'))).status).toBe(403);
  const { items } = (await crew.get(`/api/record?subjectKind=formula&subjectId=${made.body.id}`)).body;
  expect(items[0]).toMatchObject({ subjectKind: 'formula', by: { id: crew.id } });
});

test('a name is taken once, whatever its case', async () => {
  await crew.post('/api/formulas', body('Ledge cure'));
  const again = await captain.post('/api/formulas', body('LEDGE cure'));
  expect(again.status).toBe(409);
  expect(again.body.errors[0]).toMatchObject({ field: 'name' });
});

test('a change keeps the rest; a late one is told; a retired one comes back', async () => {
  const { body: made } = await crew.post('/api/formulas', body('Sound cure'));
  const changed = await captain.patch(`/api/formulas/${made.id}`, { version: 1, fishGrams: 2000 });
  expect(changed.body).toMatchObject({ fishGrams: 2000, items: made.items, version: 2 });
  expect((await crew.patch(`/api/formulas/${made.id}`, { version: 1, name: 'Late' })).status).toBe(409);
  expect((await crew.patch(`/api/formulas/${made.id}`, { version: 2, retired: true })).body.retired).toBe(true);
  expect((await crew.patch(`/api/formulas/${made.id}`, { version: 3, retired: false })).body.retired).toBe(false);
});

describe('what cannot be kept is refused by field, and nothing is written', () => {
  test.each([
    ['no dose of nitrite is ever reckoned (rule nitrite)', { items: [salt, { name: 'Pink salt', ingredient: null, grams: 3 }] }, 'items.1.name'], ['no salt', { items: [water] }, 'items'],
    ['more salt than the water holds (26.395 % at 60 F)', { method: 'brine', items: [{ ...salt, grams: 400 }, water] }, 'items'], ['a brine without water', { method: 'brine' }, 'items'],
    ['an ingredient that is none', { items: [{ ...salt, ingredient: 'road-salt' }] }, 'items.0.ingredient'], ['no ingredient at all', { items: [] }, 'items'], ['no fish', { fishGrams: 0 }, 'fishGrams'],
    ['a weight below zero', { items: [{ ...salt, grams: -1 }] }, 'items.0.grams'], ['another method', { method: 'hot' }, 'method'],
  ])('%s', async (_why, change, field) => {
    const before = (await crew.get('/api/formulas')).body.items.length;
    const answer = await crew.post('/api/formulas', body('Bad cure', change));
    expect(answer.status).toBeGreaterThanOrEqual(400);
    expect(answer.status).toBeLessThan(500);
    expect(answer.body.errors[0].field).toBe(field);
    expect((await crew.get('/api/formulas')).body.items).toHaveLength(before);
  });

  test('a change of method alone is judged with the ingredients it has', async () => {
    const { body: made } = await crew.post('/api/formulas', body('Holm cure'));
    expect((await crew.patch(`/api/formulas/${made.id}`, { version: 1, method: 'brine' })).status).toBe(422);
    expect((await crew.get('/api/formulas')).body.items.find((f: { id: string }) => f.id === made.id)).toMatchObject({ method: 'dry', version: 1 });
  });
});
