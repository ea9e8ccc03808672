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

describe('salt in the fish', () => {
  const brined = { fat: 'fatty', temperatureC: 5, onceFrozen: false, thicknessMm: 25, openFaces: 2, brinePercent: 21.116 };

  test('2.5 % salt with 65 % moisture is 3.70 % in the water phase (definition, models.md)', async () => {
    expect((await ask('water-phase-salt', { saltPercent: 2.5, moisturePercent: 65 })).body.waterPhaseSaltPercent).toBeCloseTo(3.7, 2);
  });

  test('a longer time is saltier, and the answer says it is no measurement', async () => {
    const short = (await ask('salt-uptake', { ...brined, minutes: 20 })).body;
    const long = (await ask('salt-uptake', { ...brined, minutes: 120 })).body;
    expect(long.meanPercent).toBeGreaterThan(short.meanPercent);
    expect([short.meanLowPercent < short.meanPercent, short.meanPercent < short.meanHighPercent, short.measured]).toEqual([true, true, false]);
  });

  test.each([[0], [500]])('a piece %d mm thick is refused by name', async (thicknessMm) => {
    const { status, body } = await ask('salt-uptake', { ...brined, thicknessMm, minutes: 20 });
    expect([status, body.errors[0].field]).toEqual([422, 'thicknessMm']);
  });

  test('a laboratory figure narrows the band', async () => {
    const { body } = await ask('salt-refit', { fat: 'fatty', measurements: [{ ...brined, fat: undefined, minutes: 240, measuredPercent: 4 }] });
    expect(body.bandFactor).toBeLessThan(2);
  });
});
