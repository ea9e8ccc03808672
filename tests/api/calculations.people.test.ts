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

describe('yield', () => {
  const smoking = { species: 'atlantic-mackerel', form: 'whole', product: 'hot-smoked', stage: 'smoke' };

  test('smoking keeps 80 to 93 % while the club has no batches (models.md, from memory)', async () => {
    const { status, body } = await ask('yield-expected', smoking);
    expect([status, body.lowPct, body.likelyPct, body.highPct, body.batches]).toEqual([200, 80, 86.5, 93, 0]);
  });

  test('one batch against the published figure counts for half (equal variances, conjugate normal)', async () => {
    const { body } = await ask('yield-expected', { ...smoking, batches: [{ id: 'one', massInG: 1000, massOutG: 820 }] });
    expect([body.ownWeightPct, body.likelyPct < 86.5]).toEqual([50, true]);
  });

  test('a weight outside the range is questioned, not refused (models.md: 80 to 93 %, from memory)', async () => {
    expect((await ask('yield-question', { ...smoking, massInG: 1000, massOutG: 700 })).body).toMatchObject({ asks: true, standing: 'below', actualPct: 70 });
    expect((await ask('yield-question', { ...smoking, massInG: 1000, massOutG: 860 })).body).toMatchObject({ asks: false, standing: 'within' });
  });

  test('10 kg of whole mackerel are 5,128 g of fillets (conversion-factors.csv, FAO CWP: 1 / 1.95)', async () => {
    const { body } = await ask('yield-weights', { species: 'atlantic-mackerel', form: 'whole', product: 'hot-smoked', cure: { kind: 'dry' }, massInG: 10_000 });
    expect(body.stages[0]).toMatchObject({ stage: 'prepare', likelyGrams: 5128 });
  });

  test('more out of a batch than went in is refused by field', async () => {
    const { status, body } = await ask('yield-expected', { ...smoking, batches: [{ id: 'one', massInG: 100, massOutG: 101 }] });
    expect([status, body.errors[0].field]).toEqual([422, 'batches.0.massOutG']);
  });
});

describe('salt through drying, and its course', () => {
  test('3 % with 70 % water, dried to 86.5 %, is 3.69 % (balance of salt and water), and back', async () => {
    const after = (await ask('salt-after-drying', { curedPercent: 3, curedWaterPercent: 70, keptPercent: 86.5 })).body;
    expect([after.waterPhaseSaltPercent, after.measured]).toEqual([3.69, false]);
    expect((await ask('salt-before-drying', { finishedPercent: 3.69, curedWaterPercent: 70, keptPercent: 86.5 })).body.waterPhaseSaltPercent).toBeCloseTo(3, 2);
  });

  test('the course ends where the uptake of as many minutes is (same series, models.md)', async () => {
    const cure = { fat: 'fatty', temperatureC: 5, onceFrozen: false, thicknessMm: 25, openFaces: 2, brinePercent: 21.116 };
    const course = (await ask('salt-course', { ...cure, untilMinutes: 480 })).body;
    expect(course.points.at(-1)).toMatchObject({ minutes: 480, meanPercent: (await ask('salt-uptake', { ...cure, minutes: 480 })).body.meanPercent });
  });
});

describe('advice', () => {
  test('bluefish, 70 kg and 8 oz: 2 meals a month (models.md, mercury; FDA monitoring 1990-2012)', async () => {
    expect((await ask('mercury-meals', { speciesCode: 'bluefish', bodyKg: 70, mealGrams: 226.796185 })).body).toMatchObject({ mealsPerMonth: 2, exact: 2.55 });
  });

  test('a serving at five years is 57 g raw; under one year nothing is published (FDA/EPA 2021)', async () => {
    expect((await ask('serving', { ageYears: 5 })).body.rawGrams).toBe(57);
    expect((await ask('serving', { ageYears: 0.5 })).status).toBe(422);
  });

  test('butter that nobody ticked is asked about (21 USC 321(qq); EU 1169/2011)', async () => {
    const question = { speciesCodes: ['king-mackerel'], area: 'the far bank', product: 'hot-smoked', ingredients: 'fish, butter, salt' };
    const { body } = await ask('advice', question);
    expect(body.unticked).toEqual([{ code: 'milk', name: 'Milk', word: 'butter' }]);
    expect(body.items[0]).toMatchObject({ level: 'avoid', source: expect.any(String) });
    expect(JSON.stringify(body)).not.toContain('far bank');
    expect((await ask('advice', { ...question, allergens: ['milk'] })).body.unticked).toEqual([]);
    expect((await ask('allergens-found', { ingredients: 'tahini' })).body.found).toEqual([{ code: 'sesame', name: 'Sesame', word: 'tahini' }]);
  });
});
