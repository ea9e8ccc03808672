import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitSmoker } from '../../server/domain/heat/fit.ts';
import type { SmokerLog } from '../../server/domain/heat/fit.ts';
import { logOfSmoke } from '../../server/domain/heat/smoke-log.ts';
import { SMOKER_H } from '../../server/domain/heat/slab.ts';
import { smokeSoFar } from '../../server/domain/heat/so-far.ts';
import type { HeatTransfer } from '../../server/domain/heat/slab.ts';
import { forecastSmoke } from '../../server/domain/heat/smoke-forecast.ts';
import { DomainError } from '../../server/domain/working.ts';
import { madeSmoke } from '../support/made-smoke.ts';

const start = Date.parse('2026-06-01T08:00:00Z');
const at = (minutes: number) => new Date(start + minutes * 60_000);

/** The same scatter every time: roughly normal, of one kelvin at `size` 1. */
function scatter(seed: number): () => number {
  let state = seed;
  const uniform = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  return () => Array.from({ length: 12 }, uniform).reduce((a, b) => a + b) - 6;
}

/** A made smoke in a smoker whose h and humidity are known. */
function made(h: number, humidity: number, noiseC: number, seed: number, thicknessMm = 25): SmokerLog {
  const air = (minute: number) => 40 + 50 * Math.min(1, minute / 150);
  const chamber = Array.from({ length: 61 }, (_, i) => ({ at: at(i * 5), celsius: air(i * 5) }));
  const slab = { speciesCode: 'king-mackerel', thicknessMm, facesOpen: 'both' as const };
  const heat = { likelyWPerM2K: h, lowWPerM2K: h, highWPerM2K: h };
  const { points } = forecastSmoke({ ...slab, startC: 6, heat, log: { readings: chamber, relativeHumidityPct: humidity }, sampleMinutes: 5 }).likely;
  const noise = scatter(seed);
  const core = points.map(({ minutes, coreC }, i) => ({ at: at(minutes), celsius: coreC + (i === 0 ? 0 : noiseC * noise()) }));
  return { ...slab, chamber, core };
}

describe('learning a smoker from its logs', () => {
  it.each([[12, 20], [25, 30], [40, 15]])('finds h %d and humidity %d % again in a made log with half a degree of noise', (h, humidity) => {
    const fit = fitSmoker({ logs: [made(h, humidity, 0.5, 7)], priorHeat: { likelyWPerM2K: 20, lowWPerM2K: 6, highWPerM2K: 60 } });
    expect(fit.converged).toBe(true);
    expect(Math.abs(fit.hWPerM2K.value - h)).toBeLessThan(Math.max(2.5 * fit.hWPerM2K.standardError, 0.06 * h));
    expect(Math.abs(fit.relativeHumidityPct.value - humidity)).toBeLessThan(Math.max(2.5 * fit.relativeHumidityPct.standardError, 3));
    expect(fit.hWPerM2K.standardError).toBeLessThan(0.15 * h);
    expect(fit.hWPerM2K.logWeightPct).toBeGreaterThan(80);
    expect(fit.residualC).toBeLessThan(0.8);
  });

  it('more logs narrow the band, and the next forecast can use it', () => {
    const priorHeat = SMOKER_H.natural;
    const one = fitSmoker({ logs: [made(12, 25, 0.5, 1)], priorHeat });
    const three = fitSmoker({ logs: [1, 2, 3].map((seed) => made(12, 25, 0.5, seed, 18 + 4 * seed)), priorHeat });
    expect(three.hWPerM2K.standardError).toBeLessThan(one.hWPerM2K.standardError);
    expect(one.hWPerM2K.high - one.hWPerM2K.low).toBeLessThan(priorHeat.highWPerM2K - priorHeat.lowWPerM2K);
    const band = (heat: HeatTransfer) => {
      const { slow, fast } = forecastSmoke({ speciesCode: 'king-mackerel', thicknessMm: 25, thicknessUncertaintyMm: 0, facesOpen: 'both', startC: 5, heat, stages: [{ airC: 90, relativeHumidityPct: 20, minutes: 120 }] });
      return fast.endCoreC - slow.endCoreC;
    };
    expect(band(three.heat)).toBeLessThan(band(priorHeat));
    expect(band(three.heat)).toBeGreaterThan(0);
  });

  it('a short log says little: the value stays near what was believed, and its weight says so', () => {
    const whole = made(40, 20, 0.5, 3);
    const short = { ...whole, core: whole.core.slice(0, 6).map(({ at: when }) => ({ at: when, celsius: 6 })), chamber: whole.chamber.slice(0, 6).map(({ at: when }) => ({ at: when, celsius: 7 })) };
    const fit = fitSmoker({ logs: [short], priorHeat: SMOKER_H.natural });
    expect(fit.hWPerM2K.logWeightPct).toBeLessThan(15);
    expect(Math.abs(fit.hWPerM2K.value / SMOKER_H.natural.likelyWPerM2K - 1)).toBeLessThan(0.1);
  });

  it('fish that goes into a chamber already hot starts when its core log does', () => {
    const log = made(25, 30, 0, 2);
    const early = Array.from({ length: 20 }, (_, i) => ({ at: at(-100 + i * 5), celsius: 90 }));
    const fit = fitSmoker({ logs: [{ ...log, chamber: [...early, ...log.chamber] }], priorHeat: SMOKER_H.fan });
    expect(Math.abs(fit.hWPerM2K.value / 25 - 1)).toBeLessThan(0.05);
  });

  it('leaves out a failed probe and flags it; a noisier log gives a wider band', () => {
    const log = made(20, 25, 0.5, 5);
    const broken = { ...log, core: log.core.map((reading, i) => (i === 10 ? { ...reading, celsius: -999 } : reading)) };
    const fit = fitSmoker({ logs: [broken], priorHeat: SMOKER_H.fan });
    expect(fit.flags.some(({ kind }) => kind === 'probe-error')).toBe(true);
    expect(Math.abs(fit.hWPerM2K.value / 20 - 1)).toBeLessThan(0.15);
    expect(fitSmoker({ logs: [made(20, 25, 3, 5)], priorHeat: SMOKER_H.fan }).hWPerM2K.standardError).toBeGreaterThan(fit.hWPerM2K.standardError);
  });

  it('refuses no logs, too few readings, Fahrenheit, and an impossible slab', () => {
    const log = made(20, 25, 0, 5);
    const refused = (change: Partial<SmokerLog>) => () => fitSmoker({ logs: [{ ...log, ...change }], priorHeat: SMOKER_H.fan });
    expect(() => fitSmoker({ logs: [], priorHeat: SMOKER_H.fan })).toThrow(DomainError);
    expect(refused({ core: log.core.slice(0, 3) })).toThrow(/fewer than 5/);
    expect(refused({ core: log.core.map(({ at: when, celsius }) => ({ at: when, celsius: celsius! * 1.8 + 32 })) })).toThrow(/Celsius/);
    expect(refused({ thicknessMm: 0 })).toThrow(DomainError);
    expect(refused({ chamber: [] })).toThrow(DomainError);
  });
});

describe('a smoke reckoned by another integrator (Dormand and Prince, even cells)', () => {
  const startAt = '2026-06-01T08:00:00Z';
  it.each([[17, 34, 25, 'natural'], [10, 22, 20, 'natural'], [28, 30, 25, 'fan']] as const)('h %d and humidity %d %% are found again within twice their error', (h, humidity, thicknessMm, draught) => {
    const log = { speciesCode: 'atlantic-mackerel', thicknessMm, facesOpen: 'both' as const, ...madeSmoke({ hWPerM2K: h, humidityPct: humidity, thicknessMm, startAt }) };
    const fit = fitSmoker({ logs: [log], priorHeat: SMOKER_H[draught] });
    expect(Math.abs(fit.hWPerM2K.value - h)).toBeLessThan(2 * fit.hWPerM2K.standardError);
    expect(Math.abs(fit.relativeHumidityPct.value - humidity)).toBeLessThan(Math.max(2 * fit.relativeHumidityPct.standardError, 0.5));
    expect(fit.logs).toEqual([{ pointsUsed: 49, residualC: expect.any(Number), gaps: 0, leftOut: 0 }]);
    expect(fit.logs[0]!.residualC).toBeLessThan(0.2);
  });
});

describe('every smoke added', () => {
  it('narrows what is known of h and of the humidity, whichever it is', () => {
    const smokes = fc.array(fc.record({ thicknessMm: fc.integer({ min: 15, max: 35 }), seed: fc.integer({ min: 1, max: 1e6 }) }), { minLength: 2, maxLength: 4 });
    fc.assert(fc.property(smokes, (chosen) => {
      const logs = chosen.map(({ thicknessMm, seed }) => made(13, 27, 0.3, seed, thicknessMm));
      const fits = logs.map((_log, i) => fitSmoker({ logs: logs.slice(0, i + 1), priorHeat: SMOKER_H.natural }));
      for (let i = 1; i < fits.length; i += 1) {
        expect(fits[i]!.hWPerM2K.standardError / fits[i]!.hWPerM2K.value).toBeLessThan(fits[i - 1]!.hWPerM2K.standardError / fits[i - 1]!.hWPerM2K.value);
        expect(fits[i]!.pointsUsed).toBe(fits[i - 1]!.pointsUsed + fits[i]!.logs[i]!.pointsUsed);
      }
    }), { numRuns: 8 });
  });

  it('is refused by its number where the chamber was not read for over an hour, and is bridged and counted as a gap below that', () => {
    const log = made(13, 27, 0, 1);
    const without = (fromMinute: number, toMinute: number) => ({ ...log, chamber: log.chamber.filter(({ at: when }) => when <= at(fromMinute) || when >= at(toMinute)) });
    const fit = fitSmoker({ logs: [log, without(160, 200)], priorHeat: SMOKER_H.natural });
    expect(fit.logs.map(({ gaps }) => gaps)).toEqual([0, 1]);
    let refusal: unknown;
    try {
      fitSmoker({ logs: [log, without(100, 170)], priorHeat: SMOKER_H.natural });
    } catch (error) {
      refusal = error;
    }
    expect(refusal).toMatchObject({ field: 'logs.1.chamber', message: expect.stringContaining('70 minutes without one') });
  });
});

describe('the log of a smoke', () => {
  const smoke = { id: 's', startedAt: at(0), finishedAt: at(60) };
  const list = (more: object) => ({ place: 'core', probe: '', stageId: 's', unitConfirmed: false, atMs: [-5, 0, 10, 20, 30, 60, 65].map((m) => at(m).getTime()), celsius: [5, 6, 20, 40, 60, 64, 50], ...more });
  it('is what was read from its start to its end, by lists of that stage or of none', () => {
    const { core, chamber } = logOfSmoke(smoke, [list({}), list({ place: 'chamber', stageId: null }), list({ stageId: 'other' }), list({ place: 'storage' })]);
    expect(core!.readings.map(({ celsius }) => celsius)).toEqual([6, 20, 40, 60, 64]);
    expect(chamber!.readings).toHaveLength(5);
    expect(logOfSmoke(smoke, [list({ stageId: 'other' })])).toEqual({ core: null, chamber: null });
  });
  it('takes the core that was hot for the shortest time, unless it was hardly read, and the chamber that was read most', () => {
    const warm = list({ probe: 'A', celsius: [5, 6, 63, 64, 65, 66, 50] });
    const few = list({ probe: 'C', atMs: [at(0).getTime()], celsius: [4] });
    const { core, chamber } = logOfSmoke(smoke, [warm, list({ probe: ' b ' }), few, { ...few, place: 'chamber', probe: 'D' }, list({ place: 'chamber', probe: 'E' })]);
    expect([core!.probe, chamber!.probe]).toEqual(['b', 'E']);
  });
  it('goes to the last reading while the smoke runs', () => {
    expect(logOfSmoke({ ...smoke, finishedAt: null }, [list({})]).core!.readings).toHaveLength(6);
  });
});

describe('a smoke that still runs (made by Dormand and Prince)', () => {
  const startAt = '2026-06-01T08:00:00Z';
  const whole = madeSmoke({ hWPerM2K: 12, humidityPct: 30, thicknessMm: 25, startAt });
  const slab = { speciesCode: 'atlantic-mackerel', thicknessMm: 25, facesOpen: 'both' as const };
  const believed = { likelyWPerM2K: 18, lowWPerM2K: 13, highWPerM2K: 25 };
  // The chamber stands at 90 C from two and a half hours on: after 31 readings of each.
  const upTo = (count: number, place: 'core' | 'chamber') => ({ probe: '', unitConfirmed: false, readings: whole[place].slice(0, count) });
  const rest = (heat: HeatTransfer, relativeHumidityPct: number) =>
    forecastSmoke({ ...slab, startC: 6, heat, log: { readings: whole.chamber.slice(0, 31), relativeHumidityPct }, stages: [{ airC: 90, relativeHumidityPct, minutes: 90 }] }).likely;
  const logged = whole.core.at(-1)!.celsius;

  it('is forecast nearer to what its core then did than by what was believed of the smoker before', () => {
    const soFar = smokeSoFar({ ...slab, heat: believed, relativeHumidityPct: 30, chamber: upTo(31, 'chamber'), core: upTo(31, 'core') });
    expect(soFar).toMatchObject({ learnt: true, startAt: '2026-06-01T08:00:00.000Z', startC: 6, lastCoreC: whole.core[30]!.celsius, lastCoreAt: whole.core[30]!.at });
    const [own, before] = [Math.abs(rest(soFar.heat, soFar.relativeHumidityPct).endCoreC - logged), Math.abs(rest(believed, 30).endCoreC - logged)];
    expect(own).toBeLessThan(0.5);
    expect(before).toBeGreaterThan(3 * own);
  });

  it('keeps what was believed while its core says too little, and says why; a core in Fahrenheit is refused', () => {
    const few = smokeSoFar({ ...slab, heat: believed, relativeHumidityPct: 30, chamber: upTo(31, 'chamber'), core: upTo(3, 'core') });
    expect(few).toMatchObject({ learnt: false, heat: believed, relativeHumidityPct: 30, why: expect.stringContaining('fewer than 5') });
    expect(smokeSoFar({ ...slab, heat: believed, relativeHumidityPct: 30, chamber: upTo(31, 'chamber'), core: null })).toMatchObject({ learnt: false, heat: believed, startAt: null });
    const hot = { probe: '', unitConfirmed: false, readings: whole.core.map((r) => ({ ...r, celsius: r.celsius * 1.8 + 32 })) };
    expect(() => smokeSoFar({ ...slab, heat: believed, relativeHumidityPct: 30, chamber: upTo(49, 'chamber'), core: hot })).toThrow(/Celsius/);
  });

  it('starts where both were read: nothing is known of the air before the chamber was', () => {
    const late = { ...upTo(31, 'chamber'), readings: whole.chamber.slice(4, 31) };
    expect(smokeSoFar({ ...slab, heat: believed, relativeHumidityPct: 30, chamber: late, core: upTo(31, 'core') })).toMatchObject({ startAt: whole.core[4]!.at, startC: whole.core[4]!.celsius });
  });
});
