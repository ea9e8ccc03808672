import { describe, expect, it } from 'vitest';
import type { Check } from '$contract/common.ts';
import { CORE_LIMIT_C, HOLD_LIMIT_MINUTES } from '$domain/evidence.ts';
import { band, coolingForecast, smokeForecast, startCooling, startForecast, type ForecastValues } from '$lib/heat/forecast.ts';
import { sayCoolingForecast, saySmokeForecast, sayStall, span, spread } from '$lib/heat/say.ts';
import { heatLimits, limitIn } from '$lib/rules/limits.ts';
import { inOrder } from '$lib/ui/checks.ts';

const show = { temperature: (c: number) => `${c} °C` };
const limits = { limitC: CORE_LIMIT_C, neededMinutes: HOLD_LIMIT_MINUTES };
const origin = { landingId: 'l', species: 'Atlantic mackerel', speciesCode: 'atlantic-mackerel', form: 'fillet' as const, catcher: '', tripId: 't', day: '2026-06-10', boat: '', area: '', landedGrams: 1000, estimated: false, fish: null };
const start = (more: Partial<ForecastValues> = {}): ForecastValues => ({ ...startForecast({ origins: [origin] }), ...more });
const inC = (c: number) => c;

describe('a forecast of the smoke', () => {
  it('has a usual start that is likely to get through (common practice, no published program)', () => {
    const { forecast, wrong } = smokeForecast(start(), limits);
    expect(wrong).toBe('');
    expect(forecast!.likely.minutesToHold).not.toBeNull();
    expect(saySmokeForecast(forecast!, show)).toMatch(/^The core is likely to pass 62\.8 °C after 2 h \d\d min and to be through 30 minutes after 2 h \d\d min\./);
    expect(sayStall(forecast!, show)).toMatch(/^No stall is expected before 62\.8 °C\. The core levels off near 7\d/);
  });

  it('says when it will not get there, and when the program ends too early', () => {
    const cool = start({ steps: [{ key: 1, airC: 55, relativeHumidityPct: 60, minutes: 120 }] });
    expect(saySmokeForecast(smokeForecast(cool, limits).forecast!, show)).toMatch(/^The core is not likely to reach 62\.8 °C in 2 h 00 min: \d\d(\.\d)? °C at the most\.$/);
    const short = start({ steps: [{ key: 1, airC: 95, relativeHumidityPct: 60, minutes: 35 }] });
    expect(saySmokeForecast(smokeForecast(short, limits).forecast!, show)).toMatch(/the program ends before 30 minutes are through\.$/);
  });

  it('thicker is never faster, and the band holds the likely line', () => {
    const to = (thicknessMm: number) => smokeForecast(start({ thicknessMm }), limits).forecast!.likely.minutesToLimit!;
    expect([10, 20, 30, 40].map(to)).toEqual([10, 20, 30, 40].map(to).toSorted((a, b) => a - b));
    for (const p of band(smokeForecast(start(), limits).forecast!, (r) => r.coreC, inC)) expect(p.low! <= p.y! && p.y! <= p.high!).toBe(true);
  });

  it('says at which field something is missing or out of range', () => {
    expect(smokeForecast(start({ thicknessMm: null }), limits)).toMatchObject({ forecast: null, errors: { thicknessMm: 'Fill this in.' } });
    expect(smokeForecast(start({ thicknessMm: 0 }), limits).errors['thicknessMm']).toContain('not from 3 to 150 mm');
    expect(smokeForecast(start({ thicknessMm: 500 }), limits).errors['thicknessMm']).toContain('500 mm');
    expect(smokeForecast(start({ steps: [{ key: 1, airC: 250, relativeHumidityPct: 40, minutes: 60 }] }), limits).errors['stages.0.airC']).toContain('not from -1 to 121 C');
    expect(smokeForecast(start({ species: '' }), limits).errors).toHaveProperty('speciesCode');
  });

  it('begins with the fish that most of it is, when the tables know it', () => {
    expect(start().species).toBe('atlantic-mackerel');
    expect(startForecast({ origins: [{ ...origin, speciesCode: 'of-the-club', landedGrams: 5000 }, origin] }).species).toBe('');
    expect(startForecast({ origins: [] }).species).toBe('');
  });
});

describe('a forecast of the cooling', () => {
  const fish = { species: 'atlantic-mackerel', saltPct: 3 };
  const { cooling } = heatLimits(undefined);
  it('says how deep the trays may be, and what a deep one does', () => {
    const thin = coolingForecast({ ...startCooling(), depthMm: 10 }, fish, cooling).forecast!;
    expect([thin.passes, sayCoolingForecast(thin, show)]).toEqual([true, expect.stringMatching(/^Likely fast enough, even if it goes slowly: 21 °C after/)]);
    const deep = coolingForecast({ ...startCooling(), depthMm: 80, facesOpen: 'one', medium: 'cabinet' }, fish, cooling).forecast!;
    expect([deep.passes, deep.advice, sayCoolingForecast(deep, show)]).toEqual([false, expect.stringMatching(/^Split into trays of at most \d+ mm\.$/), expect.stringMatching(/^It may cool too slowly/)]);
  });

  it('is held against the club’s own limits: a depth that passes the rule’s two hours may fail the club’s 45 minutes', () => {
    const depth = { ...startCooling(), depthMm: 25 };
    const byRule = coolingForecast(depth, fish, cooling).forecast!;
    const took = byRule.slow.minutesTo21C! - byRule.slow.minutesTo57C!;
    expect([byRule.passes, took > 45 && took < 120]).toEqual([true, true]);
    const byClub = coolingForecast(depth, fish, { ...cooling, to21: 45 }).forecast!;
    expect([byClub.passes, sayCoolingForecast(byClub, show)]).toEqual([false, expect.stringMatching(/^It may cool too slowly/)]);
    expect(byClub.deepestMm!).toBeLessThan(byRule.deepestMm!);
    const colder = (first: number) => coolingForecast(depth, fish, { ...cooling, endsC: { ...cooling.endsC, 'cool.fc to-21': first } }).forecast!;
    expect([colder(5).passes, colder(5).deepestMm! < byRule.deepestMm!, colder(30).deepestMm]).toEqual([false, true, byRule.deepestMm]);
    expect(coolingForecast(depth, fish, { ...cooling, to5: 361 }).wrong).toContain('not for more');
  });

  it('names the field of the screen that is wrong, with and without time in the room', () => {
    expect(coolingForecast({ ...startCooling(), mediumC: 60 }, fish, cooling).errors).toHaveProperty('mediumC');
    expect(coolingForecast({ ...startCooling(), benchMinutes: 30, benchC: 60 }, fish, cooling).errors).toHaveProperty('benchC');
    expect(coolingForecast({ ...startCooling(), depthMm: 0 }, fish, cooling).errors).toHaveProperty('thicknessMm');
  });
});

it('a span is rounded up, so that a forecast is never early by rounding', () => {
  expect([59.2, 60, 112.01, 5].map(span)).toEqual(['1 h 00 min', '1 h 00 min', '1 h 53 min', '5 min']);
});

it('the club’s own limit counts where there is one, and the rule’s until the rules are read', () => {
  const rules = [{ limits: [{ id: 'smoke.core.celsius', value: 62.8, club: { value: 65 } }, { id: 'smoke.core.minutes', value: 30, club: null }] }] as never;
  expect(heatLimits(rules).hold).toEqual({ limitC: 65, neededMinutes: 30 });
  expect(heatLimits(undefined)).toEqual({ hold: { limitC: 62.8, neededMinutes: 30 }, cooling: { to21: 120, to5: 360, hgTo21: 120, to4: 240, endsC: { 'cool.fc to-21': 21, 'cool.fc to-end': 5, 'cool.hg to-21': 21, 'cool.hg to-end': 4.4 } } });
  expect(limitIn(rules, 'no.such', 7)).toBe(7);
});

it('checks are read with what stands against the fish first, and what is for information apart', () => {
  const check = (ruleId: string, more: Partial<Check>): Check => ({ ruleId, part: '', title: ruleId, about: '', state: 'met', found: '', limit: '', source: '', certainty: 'published', whatToDo: '', means: 'nothing', counts: true, tightened: false, releasable: false, released: null, working: null, group: 'smoke', evidenceAt: 'stage', evidenceStage: null, evidencePlace: null, ...more });
  const { counting, forInformation } = inOrder([
    check('fine', {}), check('info', { counts: false, state: 'not-recorded' }), check('held', { state: 'not-recorded', means: 'hold' }), check('let-go', { state: 'not-met', counts: false, released: { by: 'Ina', reason: 'tasted' } }),
    check('worst', { state: 'not-met', means: 'do-not-share' }),
  ]);
  expect(counting.map((c) => c.ruleId)).toEqual(['worst', 'held', 'let-go', 'fine']);
  expect(forInformation.map((c) => c.ruleId)).toEqual(['info']);
});

it('a band is told with each of its ends whole, and not at all where both read the same', () => {
  expect(spread('2 h 16 min', '2 h 24 min')).toBe('(2\u00a0h\u00a016\u00a0min to 2\u00a0h\u00a024\u00a0min)');
  expect(spread('68 °C', '68 °C')).toBe('');
});
