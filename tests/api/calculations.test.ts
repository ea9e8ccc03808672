import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { testClub } from '../support/app.ts';
import type { TestClub } from '../support/app.ts';

let club: TestClub;
let cookie: string;
beforeAll(async () => {
  club = await testClub();
  cookie = (await club.person('member')).cookie;
});
afterAll(() => club.close());

const ask = (name: string, body: object) => club.send('POST', `/api/calculations/${name}`, cookie, body);

describe('brine and kitchen measures', () => {
  test('80 degrees in 5 litres of water takes 1,338 g of salt (Seafish, worked example)', async () => {
    const strength = await ask('brine-strength', { given: 'degrees-saturated', value: 80 });
    expect(strength.status).toBe(200);
    const salt = await ask('salt-for-water', { percentByWeight: strength.body.percentByWeight, waterAmount: 5, waterUnit: 'litre' });
    expect(Math.abs(salt.body.saltGrams - 1338)).toBeLessThanOrEqual(2);
    expect(salt.body.working).toMatchObject({ formula: expect.any(String), source: expect.any(String), range: expect.any(String) });
  });

  test('one US cup of table salt is 292 g (USDA SR27)', async () => {
    expect((await ask('grams-of-measure', { ingredient: 'table-salt', amount: 1, measure: 'cup' })).body.grams).toBe(292);
  });

  test('a strength that no brine has is refused with the field, the value and the remedy', async () => {
    const { status, body } = await ask('brine-strength', { given: 'percent', value: 30 });
    expect(status).toBe(422);
    expect(body.errors[0]).toMatchObject({ field: 'value' });
    expect(body.detail).toContain('30');
  });

  test('words for a number are refused before the calculation', async () => {
    expect((await ask('brine-strength', { given: 'percent', value: 'ten' })).status).toBe(400);
  });
});
