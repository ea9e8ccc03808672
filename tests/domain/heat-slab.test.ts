import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compositionOfSpecies, fractionsOf, mixtureAt } from '../../server/domain/heat/composition.ts';
import { buckKPa, wetBulbC } from '../../server/domain/heat/humid-air.ts';
import { slabMaterial, surfaceActivity } from '../../server/domain/heat/slab-material.ts';
import type { SlabMaterial } from '../../server/domain/heat/slab-material.ts';
import { readTrace, runSlab } from '../../server/domain/heat/slab-run.ts';
import type { AirSegment } from '../../server/domain/heat/slab-run.ts';
import { slabRoots, slabThetaAt } from '../../server/domain/heat/slab-series.ts';
import type { SlabSetup } from '../../server/domain/heat/slab-flow.ts';
import { SMOKER_H } from '../../server/domain/heat/slab.ts';
import { forecastSmoke } from '../../server/domain/heat/smoke-forecast.ts';
import type { SmokeForecastInput } from '../../server/domain/heat/smoke-forecast.ts';
import { DomainError } from '../../server/domain/working.ts';

const mackerel = fractionsOf(compositionOfSpecies('king-mackerel'));
const flesh = slabMaterial(mackerel, 3);
const air = (airC: number, humidity: number) => ({ airC, vapourKPa: (buckKPa(airC) * humidity) / 100 });
const stage = (fromMinutes: number, toMinutes: number, airC: number, humidity: number): AirSegment => ({ fromS: fromMinutes * 60, toS: toMinutes * 60, from: air(airC, humidity), to: air(airC, humidity), jump: true });
const setup = (change: Partial<SlabSetup> = {}): SlabSetup => ({ material: flesh, lengthM: 0.0125, hWPerM2K: 25, wet: true, startC: 5, intervals: 32, ...change });
const PROGRAM = [stage(0, 60, 40, 40), stage(60, 120, 60, 30), stage(120, 240, 95, 15)];

/** Flesh whose properties do not change, as the exact series has them. */
function steadyFlesh(): { material: SlabMaterial; k: number; diffusivity: number } {
  const { conductivityWPerMK: k, specificHeatKjPerKgK, densityKgPerM3 } = mixtureAt(mackerel, 20);
  const heat = specificHeatKjPerKgK * 1000 * densityKgPerM3;
  return {
    k, diffusivity: k / heat,
    material: { ...flesh, solidsHeat: [heat, 0, 0], waterHeat: [0, 0, 0], solidsConduction: [k, 0, 0], solidsVolume: [1, 0, 0], waterConduction: [0, 0, 0], waterVolume: [0, 0, 0] },
  };
}

describe('the slab solver', () => {
  it.each([[8, 0.006], [10, 0.0125], [25, 0.0125], [45, 0.025], [100, 0.04], [500, 0.05]])(
    'dry, h %d, half-thickness %d m: core and face within 0.1 C of the exact series every two minutes (Incropera section 5.5)', (h, lengthM) => {
      const { material, k, diffusivity } = steadyFlesh();
      const trace = runSlab(setup({ material, lengthM, hWPerM2K: h, wet: false }), [stage(0, 240, 80, 0)]);
      const roots = slabRoots((h * lengthM) / k, 60);
      for (let minutes = 2; minutes <= 240; minutes += 2) {
        const fourier = (diffusivity * minutes * 60) / lengthM ** 2;
        // The surface's series needs more terms than there are before this.
        if (fourier < 0.001) continue;
        const exact = (depth: number) => 80 - 75 * slabThetaAt(roots, fourier, depth);
        expect(Math.abs(readTrace(trace.minutes, trace.coreC, minutes) - exact(0)), `core at ${minutes} min`).toBeLessThan(0.1);
        expect(Math.abs(readTrace(trace.minutes, trace.surfaceC, minutes) - exact(1)), `face at ${minutes} min`).toBeLessThan(0.1);
      }
    });

  // Air that starts in balance with the fish and warms ever faster, so that nothing jumps and no dew falls.
  const activity = new Float64Array(2);
  surfaceActivity(flesh.waterKgPerM3 / flesh.dryKgPerM3, flesh.saltPerDry, activity);
  const warming = (share: number) => ({ airC: 5 + 65 * share ** 3, vapourKPa: activity[0]! * buckKPa(5) });
  const smooth: AirSegment[] = Array.from({ length: 32 }, (_, i) => ({ fromS: i * 112.5, toS: (i + 1) * 112.5, from: warming(i / 32), to: warming((i + 1) / 32), jump: false }));
  type End = { core: number; mean: number; loss: number; face: number };
  const end = (change: Partial<SlabSetup>, evenStepS: number): End => {
    const trace = runSlab(setup(change), smooth, { evenStepS });
    return { core: trace.coreC.at(-1)!, mean: trace.meanC.at(-1)!, loss: trace.lossGPerKg.at(-1)!, face: trace.surfaceC.at(-1)! };
  };
  const orders = (ends: End[], best: End, key: keyof End) => {
    const errors = ends.map((each) => Math.abs(each[key] - best[key]));
    return errors.slice(1).map((error, i) => Math.log2(errors[i]! / error));
  };

  it.each<[boolean, (keyof End)[]]>([[true, ['core', 'loss']], [false, ['core', 'mean']]])('is second order in time (wet: %s): halving the step divides the error by four', (wet, keys) => {
    const ends = [32, 64, 128, 256].map((steps) => end({ wet }, 3600 / steps));
    const best = end({ wet }, 3600 / 8192);
    for (const key of keys) for (const order of orders(ends, best, key)) expect(order, key).toBeGreaterThan(1.85);
    // The last half-cell follows its neighbour so closely that a bend in the air costs it half an order.
    for (const order of orders(ends, best, 'face')) expect(order, 'face').toBeGreaterThan(1.3);
    expect(Math.abs(ends[0]!.face - best.face)).toBeLessThan(0.02);
  });

  it.each<[boolean, (keyof End)[]]>([[true, ['core', 'mean', 'loss', 'face']], [false, ['core', 'mean', 'face']]])('is second order in space (wet: %s): halving the cells divides the error by four', (wet, keys) => {
    const ends = [16, 32, 64].map((intervals) => end({ wet, intervals }, 112.5 / 8));
    const best = end({ wet, intervals: 512 }, 112.5 / 8);
    for (const key of keys) for (const order of orders(ends, best, key)) expect(order, key).toBeGreaterThan(1.85);
  });

  it('the heat balance closes to 0.1 % in wet and dry, hot and cooling', () => {
    for (const wet of [true, false]) {
      for (const segments of [PROGRAM, [stage(0, 240, 80, 20)], [stage(0, 240, 107, 5)], [stage(0, 120, 20, 95)]]) {
        for (const lengthM of [0.005, 0.0125, 0.03]) {
          expect(Math.abs(runSlab(setup({ wet, lengthM }), segments).energyError), `${wet} ${lengthM}`).toBeLessThan(0.001);
        }
      }
    }
    expect(Math.abs(runSlab(setup({ startC: 60, wet: false }), [stage(0, 240, 3, 80)]).energyError)).toBeLessThan(0.001);
  });

  it('a thin wet piece settles at the wet-bulb before it dries (psychrometrics, rules.md smoke.stall)', () => {
    const wet = slabMaterial(mackerel, 0);
    for (const [airC, humidity] of [[50, 30], [70, 20], [80, 40]] as const) {
      const trace = runSlab(setup({ material: { ...wet, moistureM2PerS: 1e-7 }, lengthM: 0.003 }), [stage(0, 30, airC, humidity)]);
      expect(Math.abs(trace.coreC.at(-1)! - wetBulbC(airC, air(airC, humidity).vapourKPa))).toBeLessThan(0.3);
    }
  });

  it('loses no water when dry, takes none up as dew, and no more than it has', () => {
    const dew = runSlab(setup(), [stage(0, 10, 60, 95)]);
    expect(Math.min(...dew.lossGPerKg)).toBeGreaterThanOrEqual(-1e-9);
    const long = runSlab(setup({ lengthM: 0.0025 }), [stage(0, 24 * 60, 60, 5)]);
    expect(long.lossGPerKg.at(-1)).toBeLessThan(1000 * mackerel.water);
    expect(long.lossGPerKg.at(-1)).toBeGreaterThan(500);
    expect(long.coreC.at(-1)).toBeLessThanOrEqual(60.01);
    expect(Math.max(...runSlab(setup({ wet: false }), PROGRAM).lossGPerKg)).toBe(0);
  });
});

const usual: SmokeForecastInput = {
  speciesCode: 'king-mackerel', thicknessMm: 25, facesOpen: 'both', startC: 5, heat: SMOKER_H.fan, waterPhaseSaltPct: 3,
  stages: [{ airC: 35, relativeHumidityPct: 50, minutes: 60 }, { airC: 60, relativeHumidityPct: 35, minutes: 90 }, { airC: 95, relativeHumidityPct: 25, minutes: 150 }],
};
const forecast = (change: Partial<SmokeForecastInput> = {}) => forecastSmoke({ ...usual, ...change });

describe('the smoke forecast', () => {
  it('starts from 8 to 15 W/m2K in natural draft and 20 to 45 with a fan (models.md, from memory)', () => {
    expect([SMOKER_H.natural, SMOKER_H.fan].map(({ lowWPerM2K, highWPerM2K }) => [lowWPerM2K, highWPerM2K])).toEqual([[8, 15], [20, 45]]);
    for (const { lowWPerM2K, likelyWPerM2K, highWPerM2K } of Object.values(SMOKER_H)) expect(likelyWPerM2K > lowWPerM2K && likelyWPerM2K < highWPerM2K).toBe(true);
  });

  it('reaches 62.8 C and holds it 30 minutes, with the slow case later and the fast one sooner', () => {
    const { slow, likely, fast, caution, working } = forecast();
    expect(fast.minutesToHold!).toBeLessThan(likely.minutesToHold!);
    expect(likely.minutesToHold!).toBeLessThan(slow.minutesToHold!);
    expect(likely.minutesToHold! - likely.minutesToLimit!).toBeCloseTo(30, 6);
    expect(likely.points.at(-1)).toMatchObject({ minutes: 300, airC: 95 });
    expect(caution).toMatch(/not evidence/);
    expect(working.uncertainty).toBeTruthy();
  });

  it('a usual smoke takes 7 to 20 % of the weight in natural draft (models.md yield, from memory)', () => {
    const { likely } = forecast({ heat: SMOKER_H.natural, thicknessMm: 20 });
    expect(likely.lossGPerKg).toBeGreaterThan(70);
    expect(likely.lossGPerKg).toBeLessThan(200);
  });

  it('stalls between 45 and 65 C in natural draft (rules.md smoke.stall)', () => {
    const { likely } = forecast({ heat: SMOKER_H.natural, thicknessMm: 20 });
    expect(likely.stall).toMatchObject({ withinRule: true });
    expect(likely.stall!.toMinutes - likely.stall!.fromMinutes).toBeGreaterThan(15);
  });

  it('says null when the core never gets there, and when the program ends before the hold is complete', () => {
    expect(forecast({ stages: [{ airC: 60, relativeHumidityPct: 30, minutes: 300 }] }).likely).toMatchObject({ minutesToLimit: null, minutesToHold: null });
    const whole = forecast().likely;
    const last = Math.floor(whole.minutesToHold!) - 150;
    const cut = forecast({ stages: [...usual.stages!.slice(0, 2), { ...usual.stages![2]!, minutes: last - 1 }] }).likely;
    expect(cut.minutesToLimit).not.toBeNull();
    expect(cut.minutesToHold).toBeNull();
  });

  it('thicker is never faster, a higher h never slower', () => {
    fc.assert(fc.property(fc.double({ min: 5, max: 60, noNaN: true }), fc.double({ min: 1, max: 30, noNaN: true }), (thicknessMm, more) => {
      const core = (change: Partial<SmokeForecastInput>) => forecast({ thicknessUncertaintyMm: 0, sampleMinutes: 60, ...change }).likely.minutesToLimit ?? Infinity;
      expect(core({ thicknessMm: thicknessMm + more })).toBeGreaterThanOrEqual(core({ thicknessMm }));
      const h = (likelyWPerM2K: number) => ({ likelyWPerM2K, lowWPerM2K: likelyWPerM2K, highWPerM2K: likelyWPerM2K });
      expect(core({ thicknessMm, heat: h(20 + more) })).toBeLessThanOrEqual(core({ thicknessMm, heat: h(20) }) + 0.01);
    }), { numRuns: 25 });
  });

  it('hotter air never makes the core colder', () => {
    fc.assert(fc.property(fc.double({ min: 20, max: 90, noNaN: true }), fc.double({ min: 1, max: 20, noNaN: true }), (airC, more) => {
      // The same vapour in both: hotter air is drier by its humidity, not by its water.
      const core = (celsius: number) => forecast({ sampleMinutes: 60, stages: [{ airC: celsius, relativeHumidityPct: (100 * 1.5) / buckKPa(celsius), minutes: 180 }] }).likely.endCoreC;
      expect(core(airC + more)).toBeGreaterThanOrEqual(core(airC) - 0.02);
    }), { numRuns: 25 });
  });

  it('a log of the same air gives the same forecast as the program, and flags its gaps', () => {
    const at = (minutes: number) => new Date(Date.parse('2026-06-01T08:00:00Z') + minutes * 60_000);
    const even = Array.from({ length: 61 }, (_, i) => ({ at: at(i * 5), celsius: 80 }));
    const program = forecast({ stages: [{ airC: 80, relativeHumidityPct: 20, minutes: 300 }] }).likely;
    const logged = forecast({ stages: undefined, log: { readings: even, relativeHumidityPct: 20 } });
    expect(logged.likely.endCoreC).toBeCloseTo(program.endCoreC, 1);
    expect(logged.flags).toEqual([]);
    const holed = forecast({ stages: undefined, log: { readings: even.filter((_, i) => i < 20 || i > 30), relativeHumidityPct: 20 } });
    expect(holed.flags.map(({ kind }) => kind)).toEqual(['gap']);
    // A second's readings are thinned, and change next to nothing.
    const dense = Array.from({ length: 18_001 }, (_, i) => ({ at: at(i / 60), celsius: 80 + Math.sin(i) }));
    expect(forecast({ stages: undefined, log: { readings: dense, relativeHumidityPct: 20 } }).likely.endCoreC).toBeCloseTo(program.endCoreC, 0);
  });

  it('a program goes on where a log ends: half logged and half typed is the same as all of it logged', () => {
    const at = (minutes: number) => new Date(Date.parse('2026-06-01T08:00:00Z') + minutes * 60_000);
    const log = (fromMinute: number, toMinute: number) => ({ readings: Array.from({ length: (toMinute - fromMinute) / 5 + 1 }, (_, i) => ({ at: at(fromMinute + i * 5), celsius: 80 })), relativeHumidityPct: 20 });
    const all = forecast({ stages: undefined, log: log(0, 240) });
    const onward = forecast({ stages: [{ airC: 80, relativeHumidityPct: 20, minutes: 120 }], log: log(0, 120) });
    expect([all.loggedMinutes, onward.loggedMinutes, onward.lastsMinutes, forecast().loggedMinutes]).toEqual([240, 120, 240, null]);
    expect(onward.likely.minutesToHold!).toBeCloseTo(all.likely.minutesToHold!, 1);
    // A chamber that was hot before the fish went in counts from when it did.
    const preheated = forecast({ stages: [{ airC: 80, relativeHumidityPct: 20, minutes: 120 }], log: { ...log(-60, 120), startAt: at(0) } });
    expect([preheated.loggedMinutes, preheated.likely.minutesToHold]).toEqual([120, expect.closeTo(onward.likely.minutesToHold!, 3)]);
    const holed = forecast({ stages: undefined, log: { ...log(0, 240), readings: log(0, 240).readings.filter((_, i) => i < 10 || i > 16) } });
    expect(holed.gaps).toEqual([{ fromAt: at(45).toISOString(), toAt: at(85).toISOString(), minutes: 40 }]);
    expect(() => forecast({ log: { ...log(0, 60), startAt: at(70) } })).toThrow(/after the chamber log/);
    expect(() => forecast({ stages: Array.from({ length: 2 }, () => ({ airC: 80, relativeHumidityPct: 20, minutes: 1440 })), log: log(0, 60) })).toThrow(/log and the program/);
  });

  it.each<[Partial<SmokeForecastInput>, string]>([
    [{ thicknessMm: 0 }, 'thicknessMm'], [{ thicknessMm: 500 }, 'thicknessMm'], [{ thicknessMm: Number.NaN }, 'thicknessMm'], [{ startC: 145 }, 'startC'], [{ startC: -18 }, 'startC'],
    [{ stages: [] }, 'stages'], [{ stages: [{ airC: 203, relativeHumidityPct: 30, minutes: 60 }] }, 'stages.0.airC'], [{ stages: [{ airC: 110, relativeHumidityPct: 100, minutes: 60 }] }, 'stages.0.relativeHumidityPct'],
    [{ stages: undefined }, 'stages'], [{ log: { readings: [], relativeHumidityPct: 20 } }, 'readings'], [{ stages: undefined, log: { readings: [], relativeHumidityPct: 20 } }, 'readings'],
    [{ limitC: 60 }, 'limitC'], [{ holdMinutes: 10 }, 'holdMinutes'], [{ heat: { lowWPerM2K: 30, likelyWPerM2K: 20, highWPerM2K: 40 } }, 'likelyWPerM2K'],
    [{ waterPhaseSaltPct: 30 }, 'waterPhaseSaltPct'], [{ speciesCode: undefined }, 'speciesCode'], [{ speciesCode: 'kraken' }, 'speciesCode'],
  ])('refuses %j', (change, field) => {
    let error: unknown;
    try {
      forecast(change);
    } catch (thrown) {
      error = thrown;
    }
    expect(error).toBeInstanceOf(DomainError);
    expect((error as DomainError).field).toBe(field);
  });
});
