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

describe('heat, plan and keeping', () => {
  const minutesOf = (celsius: number[], every = 1) => celsius.map((c, i) => ({ at: new Date(Date.UTC(2026, 5, 1, 10) + i * every * 60_000).toISOString(), celsius: c }));

  test('thirty minutes at 62.78 C are 3.267 equivalent minutes at 70 C (models.md, lethality)', async () => {
    const { body } = await ask('lethality', { readings: minutesOf(new Array<number>(31).fill(62.78)) });
    expect(body.equivalentMinutes).toBeCloseTo(3.267, 2);
  });

  test('a log that ends in its 29th minute is not met, not nearly', async () => {
    const { body } = await ask('hold', { readings: minutesOf(new Array<number>(30).fill(64)) });
    expect([body.state, body.longestMinutes]).toEqual(['not-met', 29]);
  });

  test('a probe that writes -999 is left out and named; a log that looks like Fahrenheit is no pass', async () => {
    const broken = await ask('hold', { readings: [...minutesOf([63, 64]), { at: '2026-06-01T10:05:00Z', celsius: -999 }] });
    expect(broken.body.flags.map((f: { kind: string }) => f.kind)).toContain('probe-error');
    const fahrenheit = await ask('hold', { readings: minutesOf(new Array<number>(60).fill(150)) });
    expect([fahrenheit.body.state, fahrenheit.body.flags[0].kind]).toEqual(['not-recorded', 'fahrenheit']);
  });

  test('60 C air at 20 % dries and warms a 25 mm mackerel fillet; the likely core lies between slow and fast', async () => {
    const { status, body } = await ask('smoke-forecast', {
      speciesCode: 'atlantic-mackerel', thicknessMm: 25, facesOpen: 'one', startC: 5, heat: { likelyWPerM2K: 15, lowWPerM2K: 10, highWPerM2K: 22 }, stages: [{ airC: 60, relativeHumidityPct: 20, minutes: 120 }],
    });
    expect(status).toBe(200);
    expect([body.slow.endCoreC < body.likely.endCoreC, body.likely.endCoreC < body.fast.endCoreC]).toEqual([true, true]);
  });

  test('dry cure for two kilos: the salt is named by its kind, the clocks by group, and nothing is measured', async () => {
    const { status, body } = await ask('cure-plan', {
      pieces: [{ id: 'thick', grams: 1500, thicknessMm: 25, skin: true, form: 'fillet', species: 'atlantic-mackerel' }, { id: 'thin', grams: 500, thicknessMm: 10, skin: true, form: 'fillet', species: 'atlantic-mackerel' }],
      method: 'dry', targetPercent: 3.5, saltKind: 'table-salt', placeTemperatureC: 3,
    });
    expect(status).toBe(200);
    expect(body.amounts.ingredients[0]).toMatchObject({ ingredient: 'table-salt', grams: expect.any(Number), text: expect.any(String) });
    expect([body.groups.length > 0, body.measured]).toEqual([true, false]);
  });

  test('2 days at 0, 1 at 5 and half a day at 10 C use up 6.25 days on ice (FAO FTP 348)', async () => {
    const hours = [...new Array<number>(48).fill(0), ...new Array<number>(24).fill(5), ...new Array<number>(12).fill(10)];
    // Each step of temperature stands at its own instant: a reading just before the change and one at it.
    const readings = hours.flatMap((celsius, i) => {
      const at = Date.UTC(2026, 5, 1) + i * 3_600_000;
      return [{ at: new Date(at).toISOString(), celsius }, { at: new Date(at + 3_599_000).toISOString(), celsius }];
    });
    const { body } = await ask('days-used', { readings });
    expect(body.usedDays).toBeCloseTo(6.25, 1);
  });
});

describe('cooling and the boat', () => {
  test('10 kg of fish from 20 C take 2.3 kg of ice to cool (FAO TP 331)', async () => {
    const { body } = await ask('ice-to-load', { catchG: 10_000, fishC: 20, hours: 8, airC: 12 });
    expect(Math.abs(body.coolingG - 2300)).toBeLessThanOrEqual(100);
    expect(body.loadG).toBeGreaterThanOrEqual(body.ruleOfThumbG);
  });

  test('a layer of 75 mm takes 2 hours from 10 to 2 C in ice (FAO TP 331); outside the published layers it refuses', async () => {
    expect((await ask('chilling-time', { thicknessMm: 75 })).body.hours).toBe(2);
    expect((await ask('chilling-time', { thicknessMm: 300 })).status).toBe(422);
  });

  test('warm fish that reaches 21 C after three hours has broken FC 3-501.14; no readings are no pass', async () => {
    const at = (minutes: number) => new Date(Date.UTC(2026, 5, 1, 16) + minutes * 60_000).toISOString();
    const readings = Array.from({ length: 60 }, (_, i) => ({ at: at(i * 6), celsius: 62 - (41 * i) / 30 })).filter((r) => r.celsius > 3);
    const { body } = await ask('cooling-checks', { readings, kind: 'smoked' });
    expect(body.checks.find((c: { ruleId: string; part: string }) => c.ruleId === 'cool.fc' && c.part === 'to-21').state).toBe('not-met');
    expect((await ask('cooling-checks', { readings: [], kind: 'smoked' })).body.state).toBe('not-recorded');
  });

  test('without a time of icing the histamine check of mackerel is not recorded (rules.md chill.unknown)', async () => {
    const { body } = await ask('histamine-line', { speciesCode: 'atlantic-mackerel', deathAt: '2026-06-01T08:00:00Z' });
    expect([body.applies, body.state]).toEqual([true, 'not-recorded']);
  });

  test('a deep tray cools slower than a shallow one', async () => {
    const tray = (thicknessMm: number) => ask('cooling-forecast', { speciesCode: 'atlantic-mackerel', thicknessMm, facesOpen: 'one', startC: 63, stages: [{ medium: 'cabinet', mediumC: 2, minutes: 480 }] });
    const [shallow, deep] = [(await tray(20)).body, (await tray(60)).body];
    expect(shallow.likely.minutesTo21C).toBeLessThan(deep.likely.minutesTo21C ?? Infinity);
  });
});

describe('what a record comes to', () => {
  const tub = { product: 'hot-smoked', packageKind: 'tub', storage: 'refrigerated' };

  test.each([
    ['made 1 May, discard 7 May', { smokeDay: '2026-05-01' }, '2026-05-07'],
    ['cooked 1 October, frozen 3, thawed 10 October: last day 14 October', { smokeDay: '2026-10-01', frozenDay: '2026-10-03', thawedDay: '2026-10-10' }, '2026-10-14'],
  ])('%s (FC 3-501.17, worked cases of rules.md)', async (_case, days, lastDay) => {
    const { status, body } = await ask('last-day', { ...tub, ...days });
    expect([status, body.lastDay, body.kind]).toEqual([200, lastDay, 'use-by']);
    expect(body.reasons[0].ruleId).toBe('date.seven');
  });

  test('nothing recorded gives no date, and a vacuum pack in the refrigerator without a laboratory figure is refused (salt.rop, rop.freeze)', async () => {
    expect((await ask('last-day', tub)).body.lastDay).toBe(null);
    const refused = await ask('last-day', { ...tub, packageKind: 'vacuum', smokeDay: '2026-05-01' });
    expect([refused.status, refused.body.errors[0].field, refused.body.detail]).toEqual([422, 'storage', expect.stringContaining('freeze it at once')]);
  });

  test('a club that tightens shortens, and a looser number of days is not looked at', async () => {
    const last = async (days: number) => (await ask('last-day', { ...tub, smokeDay: '2026-05-01', club: { 'date.seven.days': days } })).body.lastDay;
    expect([await last(5), await last(30)]).toEqual(['2026-05-05', '2026-05-07']);
  });

  test('a bluefish of 60 cm to the fork weighs exp(-11.5089) 60^3.0682 kg (NOAA NEFSC, length-weight.csv)', async () => {
    const { body } = await ask('length-weight', { speciesCode: 'bluefish', lengthsCm: [60], lengthKind: 'fork' });
    expect(Math.abs(body.grams - 1000 * Math.exp(-11.5089) * 60 ** 3.0682)).toBeLessThanOrEqual(0.5);
    expect((await ask('length-weight', { speciesCode: 'bluefish', lengthsCm: [60], lengthKind: 'total' })).body.errors[0].field).toBe('lengthKind');
  });

  test('bellies have a clock of their own (common practice), and the thin piece is done first', async () => {
    const piece = { grams: 500, skin: true, form: 'fillet', species: 'atlantic-mackerel' };
    const { body } = await ask('cure-groups', { pieces: [{ ...piece, id: 'thick', thicknessMm: 25 }, { ...piece, id: 'belly', thicknessMm: 25, part: 'belly' }, { ...piece, id: 'thin', thicknessMm: 10 }], targetPercent: 3.5, surfacePercent: 26.395, temperatureC: 3 });
    const minutes = Object.fromEntries(body.groups.map((g: any) => [g.ids[0], g.takeOutMinutes]));
    expect(Object.keys(minutes).sort()).toEqual(['belly', 'thick', 'thin']);
    expect([minutes.thin < minutes.thick, minutes.belly]).toEqual([true, minutes.thick]);
  });

  test('ten by 6, 6 and 2 is 4, 4 and 2; eleven 5, 5 and 1 (models.md, the Alabama paradox)', async () => {
    const shares = async (total: number) => (await ask('share-out', { total, weights: [6, 6, 2] })).body.rows.map((r: any) => r.share);
    expect([await shares(10), await shares(11)]).toEqual([[4, 4, 2], [5, 5, 1]]);
  });
});
