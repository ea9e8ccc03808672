import { describe, expect, it } from 'vitest';
import type { LearntFit, SmokerLearning } from '$contract/smokers.ts';
import { SMOKER_H } from '$domain/heat/slab.ts';
import { airEarlier, airSoFar, earlierSmokes, heatOf, logOfEarlier, smokeRunning, smokersOf, startOf, typedAir, usableFit, type Smoker } from '$lib/heat/chamber.ts';
import { coreAt, reckonSoFar, smokeForecast, smokerToStart, startForecast, withSmoker, type ForecastValues } from '$lib/heat/forecast.ts';
import { saySmokeForecast, sayStall, sumForecast } from '$lib/heat/say.ts';
import { isFarOff, sayFarOff, sayLearnt, saySmoke } from '$lib/heat/smoker.ts';
import { madeSmoke } from '../support/made-smoke.ts';

const limits = { limitC: 62.8, neededMinutes: 30 };
const working = { inputs: [], formula: '', source: '', certainty: 'from memory' as const };
const estimate = (value: number, standardError: number) => ({ value, standardError, low: value - 2 * standardError, high: value + 2 * standardError, logWeightPct: 90 });
const fit = (more: Partial<LearntFit> = {}): LearntFit => ({
  draught: 'fan', hWPerM2K: estimate(17.2, 2.1), relativeHumidityPct: estimate(34.4, 1), heat: { lowWPerM2K: 13, likelyWPerM2K: 17.2, highWPerM2K: 21.4 }, residualC: 0.5, pointsUsed: 147, smokes: 3, found: '', madeBy: { id: 'm', name: 'Ina' },
  madeAt: '2026-06-10T09:00:00Z', stale: false, working, ...more,
});
const smokers: Smoker[] = [{ id: 'north', name: 'North smoker', fit: fit() }, { id: 'old', name: 'Old smoker', fit: fit({ stale: true }) }, { id: 'new', name: 'New smoker', fit: null }];
const origin = { landingId: 'l', species: 'Atlantic mackerel', speciesCode: 'atlantic-mackerel', form: 'fillet' as const, catcher: '', tripId: 't', day: '2026-06-10', boat: '', area: '', landedGrams: 1000, estimated: false, fish: null };
const slot = (stationId: string, startsAt: string, stageKind = 'smoke') => ({ stageKind, startsAt, station: { id: stationId } });
const startWith = (slots: object[], running = false): ForecastValues => startForecast({ origins: [origin], slots: slots as never }, smokers, running);

describe('the smoker of a forecast', () => {
  it('is the one that the batch is booked in to smoke, the latest slot first; its humidity and draught come with it', () => {
    const v = startWith([slot('new', '2026-06-10T08:00:00Z'), slot('north', '2026-06-11T08:00:00Z'), slot('tub', '2026-06-12T08:00:00Z', 'cure')]);
    expect([v.smoker, v.draught, v.logHumidityPct, v.steps.map((s) => s.relativeHumidityPct)]).toEqual(['north', 'fan', 34, [34, 34, 34]]);
    expect(withSmoker(v, '', smokers)).toMatchObject({ smoker: '', draught: 'fan', steps: v.steps });
  });

  it('is the club’s only one where none is booked, or the one that has learnt from the most smokes, and says which; else none', () => {
    expect(startWith([]).smoker, 'north has learnt from 3; what old has learnt is stale').toBe('north');
    expect(startWith([]).logHumidityPct).toBe(34);
    expect(smokerToStart({}, smokers)).toEqual({ id: 'north', why: 'most' });
    expect(smokerToStart({}, [smokers[2]!])).toEqual({ id: 'new', why: 'only' });
    expect(smokerToStart({}, smokers.slice(1))).toEqual({ id: '', why: '' });
    expect(smokerToStart({}, [smokers[0]!, { ...smokers[0]!, id: 'south' }]), 'two alike').toEqual({ id: '', why: '' });
    expect(smokerToStart({}, [])).toEqual({ id: '', why: '' });
    expect(smokerToStart({ slots: [slot('new', '2026-06-10T08:00:00Z')] as never }, smokers)).toEqual({ id: 'new', why: '' });
  });

  it('is used with what it has learnt, and the forecast says so; without, or when that is stale, the usual value of the draught is, and why', () => {
    expect(heatOf({ smoker: 'north', draught: 'natural' }, smokers)).toMatchObject({ heat: fit().heat, says: 'As North smoker has learnt from 3 smokes: heat transfer 17 W/m² K, give or take 2; humidity 34 %.' });
    expect(heatOf({ smoker: 'old', draught: 'natural' }, smokers)).toMatchObject({ heat: SMOKER_H.natural, says: expect.stringContaining('Old smoker has to be fitted anew') });
    expect(heatOf({ smoker: 'new', draught: 'fan' }, smokers)).toMatchObject({ heat: SMOKER_H.fan, says: 'The usual values with a fan. New smoker has learnt nothing yet.' });
    expect(heatOf({ smoker: '', draught: 'natural' }, smokers).says).toBe('The usual values of natural draught.');
    expect(usableFit(smokers, 'old')).toBeNull();
    const { forecast } = smokeForecast(startWith([slot('north', '2026-06-11T08:00:00Z')]), limits, typedAir(heatOf({ smoker: 'north', draught: 'fan' }, smokers)));
    expect(forecast!.working.inputs).toContainEqual({ name: 'h is', value: 'learnt by North smoker from 3 smokes' });
    expect(forecast!.working.inputs).toContainEqual({ name: 'h, likely', value: 17.2, unit: 'W/m2 K' });
  });

  it('is a smoker that is still in use', () => {
    const station = { kind: 'smoker', retired: false, id: 'a', name: 'A', fit: null };
    expect(smokersOf([station, { ...station, id: 'b', retired: true }, { ...station, id: 'c', kind: 'bench' }] as never)).toEqual([{ id: 'a', name: 'A', fit: null }]);
  });

  it('is told in one line, and a smoke that lies far off the fit is named', () => {
    expect(sayLearnt(fit())).toBe('Heat transfer 17 W/m² K, give or take 2, from 3 smokes; humidity 34 %');
    expect(sayLearnt(fit({ hWPerM2K: estimate(12.34, 0.31), smokes: 1 }))).toBe('Heat transfer 12.3 W/m² K, give or take 0.3, from 1 smoke; humidity 34 %');
    expect(saySmoke({ speciesCode: 'atlantic-mackerel', thicknessMm: 25, facesOpen: 'both', saltPct: 3 })).toBe('Atlantic mackerel, 25 mm, on a rack, 3 % salt');
    expect([0.4, 3.5].map((residualC) => isFarOff({ fit: { pointsUsed: 9, residualC, gaps: 0, leftOut: 0 } }))).toEqual([false, true]);
  });

  it('is told of a single smoke that the fit does not follow it, as there are no others', () => {
    const off = { fit: { pointsUsed: 9, residualC: 3.5, gaps: 0, leftOut: 0 }, batch: { id: 'b', name: 'Mackerel', lot: 'L7' } } as Parameters<typeof sayFarOff>[0];
    const away = (celsius: number) => `${celsius} °C`;
    expect(sayFarOff(off, 1, away)).toBe('The fit does not follow the log of lot L7 well: it is off by 3.5 °C.');
    expect(sayFarOff(off, 2, away)).toBe('Lot L7 lies far off the others.');
  });
});

const startAt = '2026-06-10T09:00:00.000Z';
const made = madeSmoke({ hWPerM2K: 16, humidityPct: 34, thicknessMm: 25, startAt });
const list = (place: string, readings: { at: string; celsius: number }[], more: object = {}) => ({ place, probe: '', stageId: 's', unitConfirmed: false, withdrawn: false, readings: readings.map((r) => ({ ...r, withdrawn: false })), ...more }) as never;

describe('the chamber of a forecast', () => {
  const heat = heatOf({ smoker: 'north', draught: 'fan' }, smokers);
  const stage = { id: 's', kind: 'smoke' as const, startedAt: startAt, finishedAt: null };
  const lists = [list('chamber', made.chamber.slice(0, 31)), list('core', made.core.slice(0, 31))];

  it('is this smoke’s own log while it runs and its chamber was read twice; the fish’s start is the core’s', () => {
    expect(smokeRunning([{ ...stage, finishedAt: '2026-06-10T13:00:00Z' }], lists)).toBeNull();
    expect(smokeRunning([stage], [list('chamber', made.chamber.slice(0, 1)), list('core', made.core)])).toBeNull();
    expect(smokeRunning([stage], [list('chamber', made.chamber, { withdrawn: true }), list('core', made.core)])).toBeNull();
    const running = smokeRunning([stage], lists)!;
    const v = { ...startWith([slot('north', startAt)], true), saltPct: 0, steps: [{ key: 1, airC: 90, relativeHumidityPct: 34, minutes: 90 }] };
    expect([v.program, v.smoker]).toEqual(['so-far', 'north']);
    const soFar = reckonSoFar(v, heat, running).forecast!;
    const air = airSoFar(heat, running, soFar);
    const { forecast } = smokeForecast({ ...v, startC: null }, limits, air);
    expect([forecast!.loggedMinutes, forecast!.lastsMinutes, air.startC, startOf(running, soFar)]).toEqual([150, 240, 6, Date.parse(startAt)]);
    // What the made core then did, by Dormand and Prince: within half a degree at the end.
    expect(Math.abs(forecast!.likely.endCoreC - made.core.at(-1)!.celsius)).toBeLessThan(0.5);
    expect(Math.abs(coreAt(forecast!.likely, 150) - made.core[30]!.celsius)).toBeLessThan(0.5);
    const clock = (minutes: number) => new Date(Date.parse(startAt) + minutes * 60_000).toISOString().slice(11, 16);
    const show = { temperature: (c: number) => `${c} °C`, clock };
    expect(saySmokeForecast(forecast!, show)).toMatch(/^The core is likely to pass 62\.8 °C at 1[12]:\d\d/);
    expect([sumForecast(forecast!, show), sayStall(forecast!, show)]).toEqual([expect.stringMatching(/^62\.8 °C at 1[12]:\d\d, /), expect.not.stringContaining(' after ')]);
    const past = { ...forecast!, loggedMinutes: 239 };
    expect(saySmokeForecast(past, show)).toMatch(/^By this forecast the core passed 62\.8 °C at /);
    expect(reckonSoFar({ ...v, thicknessMm: null }, heat, running)).toMatchObject({ forecast: null, errors: { thicknessMm: 'Fill this in.' } });
    expect(reckonSoFar({ ...v, thicknessMm: 500 }, heat, running).wrong).toContain('500 mm');
  });

  it('is the log of an earlier smoke here, from its start to its end; the typed steps do not count then', () => {
    const other = (id: string, started: string, more: object = {}) => ({ batch: { id, lot: '', name: `Lot ${id}` }, stageId: 's', startedAt: started, finishedAt: '2026-06-10T13:00:00Z', smokedAt: { id: 'north', name: '' }, ...more });
    const learning = { station: { id: 'north', name: '' }, smokes: [other('a', startAt)], others: [other('b', '2026-06-11T09:00:00Z'), other('c', startAt, { smokedAt: { id: 'old' } }), other('me', startAt)] } as unknown as SmokerLearning;
    const earlier = earlierSmokes(learning, 'me', (at) => at.slice(0, 10));
    expect(earlier.map((s) => s.label)).toEqual(['2026-06-11, Lot b', '2026-06-10, Lot a']);
    const log = logOfEarlier(earlier[1]!, [list('chamber', made.chamber), list('core', made.core)]);
    const v = { ...startWith([slot('north', startAt)]), program: 'earlier' as const, steps: [{ key: 1, airC: null, relativeHumidityPct: null, minutes: null }] };
    const sixteen = { ...heat, heat: { likelyWPerM2K: 16, lowWPerM2K: 15, highWPerM2K: 17 } };
    const { forecast, wrong } = smokeForecast({ ...v, startC: 6, saltPct: 0 }, limits, airEarlier(sixteen, log, 34));
    expect([wrong, forecast!.lastsMinutes]).toEqual(['', 240]);
    expect(Math.abs(forecast!.likely.endCoreC - made.core.at(-1)!.celsius)).toBeLessThan(0.3);
    expect(smokeForecast(v, limits, airEarlier(heat, null, 34)).errors).toHaveProperty('earlier');
    expect(smokeForecast(v, limits, airEarlier(heat, log, null)).errors).toEqual({ logHumidityPct: 'Fill this in.' });
  });
});
