import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bandInWords, diffusivity } from '../../server/domain/salt/diffusivity.ts';
import { saltCourse } from '../../server/domain/salt/course.ts';
import { saltAfterDrying, saltBeforeDrying } from '../../server/domain/salt/drying.ts';
import { equaliseSalt, freshenSalt } from '../../server/domain/salt/equalise.ts';
import { refitDiffusivity } from '../../server/domain/salt/refit.ts';
import { timeToSalt } from '../../server/domain/salt/time-to-salt.ts';
import { saltUptake } from '../../server/domain/salt/uptake.ts';
import type { CureConditions } from '../../server/domain/salt/uptake.ts';
import { resnikChirife, waterActivity } from '../../server/domain/salt/water-activity.ts';
import { equilibriumSalt, saltForTarget, waterPhaseSalt } from '../../server/domain/salt/water-phase.ts';
import { weightAfterCure } from '../../server/domain/salt/weight-change.ts';
import { refused } from '../support/refused.ts';

const usual: CureConditions = { thicknessMm: 25, openFaces: 2, brinePercent: 15, fat: 'fatty', temperatureC: 3, onceFrozen: false };
const uptake = (change: Partial<CureConditions & { minutes: number }>) => saltUptake({ ...usual, minutes: 360, ...change });
const time = (change: Partial<CureConditions & { targetPercent: number }>) => timeToSalt({ ...usual, targetPercent: 3.5, ...change });

describe('water-phase salt', () => {
  it.each([[2.5, 65, 3.7, 2], [2.5, 68, 3.546, 3], [2.5, 72, 3.36, 2]])('%d percent salt with %d percent moisture is %d percent (models.md, definition)', (saltPercent, moisturePercent, percent, digits) => {
    expect(waterPhaseSalt({ saltPercent, moisturePercent }).waterPhaseSaltPercent).toBeCloseTo(percent, digits);
  });

  it('the salt for a target brings it back (models.md, w m/(100 - w))', () => {
    const { saltGrams } = saltForTarget({ targetPercent: 3.5, fishWaterGrams: 7000 });
    expect(saltGrams).toBe(253.9);
    expect(equilibriumSalt({ saltGrams, brineWaterGrams: 0, fishWaterGrams: 7000 })).toMatchObject({ measured: false, percent: 3.5 });
  });

  it.each([[-1, 60], [31, 60], [2, 0], [2, 101], [29, 72], [25, 30], [Number.NaN, 60]])('refuses %d percent salt with %d percent moisture', (saltPercent, moisturePercent) => {
    expect(refused(() => waterPhaseSalt({ saltPercent, moisturePercent })).remedy).not.toBe('');
  });

  it('refuses weights below zero and nothing at all', () => {
    expect(refused(() => equilibriumSalt({ saltGrams: -1, brineWaterGrams: 1, fishWaterGrams: 1 })).field).toBe('saltGrams');
    expect(refused(() => equilibriumSalt({ saltGrams: 0, brineWaterGrams: 0, fishWaterGrams: 0 })).code).toBe('salt.nothing');
  });
});

describe('water activity', () => {
  it.each([[3.5, 0.98, 'Resnik-Chirife'], [7, 0.957, 'Resnik-Chirife'], [10, 0.935, 'Resnik-Chirife'], [20, 0.839, 'Pitzer'], [26.42, 0.753, 'Pitzer']] as const)('%d percent is %d by %s (Chirife and Resnik 1984, from memory)', (waterPhaseSaltPercent, published, model) => {
    const answer = waterActivity({ waterPhaseSaltPercent });
    expect(answer.model).toBe(model);
    expect(Math.abs(answer.waterActivity - published)).toBeLessThanOrEqual(0.001);
  });

  it('Resnik and Chirife would give 0.776 at saturation, where 0.753 is true: never used above 12 % (models.md)', () => {
    expect(resnikChirife(26.42)).toBeCloseTo(0.776, 3);
    expect(Math.abs(waterActivity({ waterPhaseSaltPercent: 26.42 }).waterActivity - 0.753)).toBeLessThanOrEqual(0.001);
    expect([12, 12.01].map((waterPhaseSaltPercent) => waterActivity({ waterPhaseSaltPercent }).model)).toEqual(['Resnik-Chirife', 'Pitzer']);
  });

  it('changes model at 12 % without a step', () => {
    expect(Math.abs(waterActivity({ waterPhaseSaltPercent: 12 }).waterActivity - waterActivity({ waterPhaseSaltPercent: 12.0001 }).waterActivity)).toBeLessThan(0.001);
  });

  it('falls as salt rises, and is refused beyond saturation', () => {
    fc.assert(fc.property(fc.double({ min: 0, max: 26.3, noNaN: true }), (percent) => {
      expect(waterActivity({ waterPhaseSaltPercent: percent + 0.05 }).waterActivity).toBeLessThanOrEqual(waterActivity({ waterPhaseSaltPercent: percent }).waterActivity + 1e-4);
    }));
    for (const percent of [26.5, 30, -1, Number.NaN]) expect(refused(() => waterActivity({ waterPhaseSaltPercent: percent })).field).toBe('waterPhaseSaltPercent');
  });
});

describe('diffusivity (models.md, from memory, low confidence)', () => {
  it('tells its band in words', () => {
    expect([bandInWords(2), bandInWords(1.25)]).toEqual(['from half to twice the likely value', 'from 0.8 to 1.25 times the likely value']);
  });

  it('starts at 2e-10 fatty and 5e-10 lean at 5 C, medium between, 1.3 times once frozen, band times and divided by 2', () => {
    const at = (fat: 'lean' | 'medium' | 'fatty', onceFrozen = false) => diffusivity({ fat, temperatureC: 5, onceFrozen }).m2PerS;
    expect([at('fatty'), at('lean'), at('fatty', true)].map((value) => value.toPrecision(4))).toEqual(['2.000e-10', '5.000e-10', '2.600e-10']);
    expect(at('medium')).toBeCloseTo(3.1623e-10, 14);
    const spread = diffusivity({ ...usual });
    expect([spread.m2PerS / spread.lowM2PerS, spread.highM2PerS / spread.m2PerS]).toEqual([2, 2]);
  });

  it('grows by 20 % from 5 to 10 C (25 kJ/mol, computed)', () => {
    expect(diffusivity({ ...usual, temperatureC: 10 }).m2PerS / 2e-10).toBeCloseTo(1.2104, 3);
  });

  it.each([-30, 26, 68, Number.NaN])('refuses %d C', (temperatureC) => {
    expect(refused(() => diffusivity({ ...usual, temperatureC })).field).toBe('temperatureC');
  });
});

describe('saltUptake', () => {
  it('80 degrees, 20 min, 25 mm skinless, D 3e-10: 5.42 % of the way, mean gain 1.144 % (models.md, worked)', () => {
    const answer = saltUptake({ thicknessMm: 25, openFaces: 2, brinePercent: 21.116, minutes: 20, fat: 'fatty', temperatureC: 5, onceFrozen: false, club: { m2PerSAt5C: 3e-10, bandFactor: 2 } });
    expect(answer.accomplishedPercent).toBe(5.42);
    expect(answer.meanPercent).toBe(1.144);
    expect(answer.measured).toBe(false);
  });

  it('skin on one face is a piece twice as thick without (models.md)', () => {
    expect(uptake({ thicknessMm: 20, openFaces: 1 }).meanPercent).toBe(uptake({ thicknessMm: 40 }).meanPercent);
  });

  it('has a band around it and a profile from the brine inward', () => {
    const answer = uptake({});
    expect(answer.meanLowPercent).toBeLessThan(answer.meanPercent);
    expect(answer.meanHighPercent).toBeGreaterThan(answer.meanPercent);
    expect(answer.profile[0]).toEqual({ depthMm: 0, percent: 15 });
    expect(answer.profile.at(-1)).toEqual({ depthMm: 12.5, percent: answer.centrePercent });
    for (let i = 1; i < answer.profile.length; i++) expect(answer.profile[i]!.percent).toBeLessThanOrEqual(answer.profile[i - 1]!.percent);
  });

  it('a brine that is used up ends at the balance of salt (equilibrium bound)', () => {
    const answer = uptake({ brinePerFishWater: 1, minutes: 20_000 });
    expect(answer.equilibriumPercent).toBe(7.5);
    expect(answer.meanPercent).toBeCloseTo(7.5, 1);
    expect(equilibriumSalt({ saltGrams: 150, brineWaterGrams: 850, fishWaterGrams: 1000 }).percent).toBe(7.5);
  });

  const conditions = fc.record({
    thicknessMm: fc.double({ min: 1, max: 150, noNaN: true }), openFaces: fc.constantFrom<1 | 2>(1, 2), brinePercent: fc.double({ min: 0, max: 26.395, noNaN: true }),
    fat: fc.constantFrom<'lean' | 'medium' | 'fatty'>('lean', 'medium', 'fatty'), temperatureC: fc.double({ min: -2, max: 25, noNaN: true }), onceFrozen: fc.boolean(),
    brinePerFishWater: fc.option(fc.double({ min: 0.1, max: 20, noNaN: true })), minutes: fc.integer({ min: 0, max: 20_160 }),
  });

  it('more salt is never less salty', () => {
    fc.assert(fc.property(conditions, fc.double({ min: 0, max: 26.395, noNaN: true }), (input, other) => {
      const [less, more] = [Math.min(input.brinePercent, other), Math.max(input.brinePercent, other)].map((brinePercent) => saltUptake({ ...input, brinePercent }));
      expect(more!.meanPercent).toBeGreaterThanOrEqual(less!.meanPercent);
      expect(more!.centrePercent).toBeGreaterThanOrEqual(less!.centrePercent);
    }), { numRuns: 60 });
  });

  it('thicker is never faster, longer is never less', () => {
    fc.assert(fc.property(conditions, fc.double({ min: 0, max: 60, noNaN: true }), fc.integer({ min: 0, max: 3000 }), (input, extraMm, extraMinutes) => {
      const answer = saltUptake(input);
      expect(saltUptake({ ...input, thicknessMm: Math.min(150, input.thicknessMm + extraMm) }).meanPercent).toBeLessThanOrEqual(answer.meanPercent + 0.001);
      expect(saltUptake({ ...input, minutes: Math.min(20_160, input.minutes + extraMinutes) }).meanPercent).toBeGreaterThanOrEqual(answer.meanPercent - 0.001);
    }), { numRuns: 60 });
  });

  it('lies between the start and the end, always', () => {
    fc.assert(fc.property(conditions, fc.double({ min: 0, max: 26, noNaN: true }), (input, startPercent) => {
      const answer = saltUptake({ ...input, startPercent });
      const [low, high] = [startPercent, answer.equilibriumPercent].sort((a, b) => a - b);
      expect(answer.meanPercent).toBeGreaterThanOrEqual(low! - 0.001);
      expect(answer.meanPercent).toBeLessThanOrEqual(high! + 0.001);
      expect(answer.meanLowPercent).toBeLessThanOrEqual(answer.meanPercent);
      expect(answer.meanHighPercent).toBeGreaterThanOrEqual(answer.meanPercent);
    }), { numRuns: 60 });
  });

  it.each([
    [{ thicknessMm: 0 }, 'thicknessMm'], [{ thicknessMm: 500 }, 'thicknessMm'], [{ thicknessMm: -5 }, 'thicknessMm'], [{ brinePercent: 30 }, 'brinePercent'], [{ minutes: -1 }, 'minutes'],
    [{ minutes: 1e6 }, 'minutes'], [{ openFaces: 3 as never }, 'openFaces'], [{ temperatureC: 38 }, 'temperatureC'], [{ startPercent: 27 }, 'startPercent'], [{ brinePerFishWater: 0 }, 'brinePerFishWater'],
    [{ fat: 'greasy' as never }, 'fat'], [{ thicknessMm: Number.NaN }, 'thicknessMm'], [{ thicknessMm: Infinity }, 'thicknessMm'],
  ])('refuses %j', (change, field) => {
    const error = refused(() => uptake(change));
    expect(error.field).toBe(field);
    expect(error.remedy).not.toBe('');
  });
});

describe('timeToSalt', () => {
  it('is the time at which the uptake is the target', () => {
    for (const change of [{}, { brinePerFishWater: 2 }, { openFaces: 1 as const, thicknessMm: 15 }]) {
      const answer = time(change);
      expect(answer.reachable).toBe(true);
      expect(uptake({ ...change, minutes: answer.minutes! }).meanPercent).toBeCloseTo(3.5, 1);
      expect(answer.earliestMinutes! * 2).toBeCloseTo(answer.minutes!, -1);
      expect(answer.latestMinutes! / 2).toBeCloseTo(answer.minutes!, -1);
      expect(answer.halfHourLessPercent).toBeLessThan(3.5);
      expect(answer.halfHourMorePercent).toBeGreaterThan(3.5);
    }
  });

  it('grows with the square of the thickness and never falls with it', () => {
    expect(time({ thicknessMm: 30 }).minutes! / time({ thicknessMm: 15 }).minutes!).toBeCloseTo(4, 1);
  });

  it('says why a target is never reached', () => {
    expect(time({ brinePercent: 3 })).toMatchObject({ reachable: false, minutes: null, reason: expect.stringContaining('3 %') });
    expect(time({ brinePerFishWater: 0.2 })).toMatchObject({ reachable: false });
    expect(time({ startPercent: 5 })).toMatchObject({ reachable: false, reason: expect.stringContaining('other way') });
    expect(time({ thicknessMm: 150, openFaces: 1, targetPercent: 14 })).toMatchObject({ reachable: false, reason: expect.stringContaining('14 days') });
    expect(time({ startPercent: 3.5 })).toMatchObject({ reachable: true, minutes: 0 });
  });
});

describe('after the cure', () => {
  const cure = { ...usual, minutes: 240 };

  it('evens out when sealed and keeps its mean (sealed slab, Crank 1975)', () => {
    const before = saltUptake(cure);
    const rested = equaliseSalt({ ...cure, restMinutes: 720, restTemperatureC: 3 });
    expect(rested.meanPercent).toBeCloseTo(before.meanPercent, 1);
    expect(rested.centrePercent).toBeGreaterThan(before.centrePercent);
    expect(rested.surfacePercent).toBeLessThan(15);
    const long = equaliseSalt({ ...cure, restMinutes: 20_000, restTemperatureC: 3 });
    expect(long.surfacePercent - long.centrePercent).toBeLessThan(0.05);
    expect(equaliseSalt({ ...cure, restMinutes: 0, restTemperatureC: 3 }).centrePercent).toBeCloseTo(before.centrePercent, 1);
  });

  it('loses salt in fresh water, more with time', () => {
    const means = [0, 10, 30, 60, 240].map((waterMinutes) => freshenSalt({ ...cure, waterMinutes, waterTemperatureC: 5 }).meanPercent);
    for (let i = 1; i < means.length; i++) expect(means[i]).toBeLessThan(means[i - 1]!);
  });

  it('weighs what models.md says (from memory): none near 15 %, less after a dry cure', () => {
    expect(weightAfterCure({ grams: 1000, cure: { kind: 'wet', brinePct: 15 } })).toMatchObject({ lowGrams: 1000, highGrams: 1000, changePercent: 0 });
    expect(weightAfterCure({ grams: 1000, cure: { kind: 'wet', brinePct: 8 } })).toMatchObject({ lowGrams: 1020, highGrams: 1080 });
    expect(weightAfterCure({ grams: 1000, cure: { kind: 'dry' } })).toMatchObject({ lowGrams: 900, highGrams: 970, changePercent: -6.5 });
    expect(refused(() => weightAfterCure({ grams: -1, cure: { kind: 'dry' } })).field).toBe('grams');
  });

  it.each([[{ restMinutes: -1 }, 'restMinutes'], [{ restTemperatureC: 40 }, 'temperatureC'], [{ thicknessMm: 0 }, 'thicknessMm']])('refuses %j', (change, field) => {
    expect(refused(() => equaliseSalt({ ...cure, restMinutes: 60, restTemperatureC: 3, ...change })).field).toBe(field);
  });
});

describe('drying takes water and leaves the salt (balance of salt and water)', () => {
  it('3 % in fish of 70 % water, 86.5 % kept, is 3.69 % (computed)', () => {
    expect(saltAfterDrying({ curedPercent: 3, curedWaterPercent: 70, keptPercent: 86.5 })).toMatchObject({ measured: false, waterPhaseSaltPercent: 3.69, waterPercentAfter: 65.32 });
  });

  it('turns back what it turns, and dries never to less salt', () => {
    fc.assert(fc.property(fc.double({ min: 0, max: 8, noNaN: true }), fc.double({ min: 60, max: 85, noNaN: true }), fc.double({ min: 70, max: 100, noNaN: true }), (curedPercent, curedWaterPercent, keptPercent) => {
      const after = saltAfterDrying({ curedPercent, curedWaterPercent, keptPercent }).waterPhaseSaltPercent;
      expect(after).toBeGreaterThanOrEqual(curedPercent - 0.001);
      expect(saltBeforeDrying({ finishedPercent: after, curedWaterPercent, keptPercent }).waterPhaseSaltPercent).toBeCloseTo(curedPercent, 2);
    }));
  });

  it.each([[{ keptPercent: 20 }, 'keptPercent'], [{ curedWaterPercent: 40, keptPercent: 55 }, 'keptPercent'], [{ curedPercent: 26, keptPercent: 60 }, 'keptPercent'], [{ curedPercent: 30 }, 'curedPercent'], [{ curedWaterPercent: 0 }, 'curedWaterPercent']])('refuses %j', (change, field) => {
    expect(refused(() => saltAfterDrying({ curedPercent: 3, curedWaterPercent: 70, keptPercent: 86.5, ...change })).field).toBe(field);
  });
});

describe('saltCourse', () => {
  it('is the uptake at each of its points, and only rises', () => {
    const course = saltCourse({ ...usual, brinePerFishWater: 2, untilMinutes: 960 });
    expect(course.points[0]).toMatchObject({ minutes: 0, meanPercent: 0 });
    const [middle, last] = [course.points[24]!, course.points.at(-1)!];
    expect(uptake({ brinePerFishWater: 2, minutes: 480 })).toMatchObject({ meanPercent: middle.meanPercent, meanLowPercent: middle.lowPercent, meanHighPercent: middle.highPercent, centrePercent: middle.centrePercent });
    expect(last.minutes).toBe(960);
    for (let i = 1; i < course.points.length; i++) expect(course.points[i]!.meanPercent).toBeGreaterThan(course.points[i - 1]!.meanPercent);
    expect(refused(() => saltCourse({ ...usual, untilMinutes: 0 })).field).toBe('untilMinutes');
  });
});

describe('refitDiffusivity (weighted least squares with the published start)', () => {
  const measured = (m2PerSAt5C: number, minutes: number, error = 0) => {
    const conditions = { thicknessMm: 20, openFaces: 1 as const, brinePercent: 18, temperatureC: 3, onceFrozen: false, minutes };
    return { ...conditions, measuredPercent: saltUptake({ ...conditions, fat: 'fatty', club: { m2PerSAt5C, bandFactor: 2 } }).meanPercent + error };
  };

  it('finds the diffusivity the figures were made with, and narrows the band with each', () => {
    const times = [120, 240, 360, 480, 600, 720, 960, 1200];
    const bands = [1, 2, 4, 8].map((count) => refitDiffusivity({ fat: 'fatty', measurements: times.slice(0, count).map((minutes) => measured(3.4e-10, minutes)) }));
    expect(bands.at(-1)!.m2PerSAt5C / 3.4e-10).toBeCloseTo(1, 1);
    for (let i = 1; i < bands.length; i++) expect(bands[i]!.bandFactor).toBeLessThan(bands[i - 1]!.bandFactor);
    expect(bands[0]!.bandFactor).toBeLessThan(2);
    expect(bands.every((fit) => fit.bandFactor > 1)).toBe(true);
  });

  it('one loose figure moves it less than one tight one', () => {
    const [loose, tight] = [2, 0.1].map((sdPercent) => refitDiffusivity({ fat: 'fatty', measurements: [{ ...measured(5e-10, 360), sdPercent }] }));
    expect(loose!.m2PerSAt5C).toBeLessThan(tight!.m2PerSAt5C);
    expect(loose!.m2PerSAt5C).toBeGreaterThan(2e-10);
    expect(loose!.bandFactor).toBeGreaterThan(tight!.bandFactor);
  });

  it('figures that disagree leave the band wide, never wider than the start, and are pointed at', () => {
    const apart = refitDiffusivity({ fat: 'fatty', measurements: [measured(2e-10, 360, 2.5), measured(2e-10, 360, -1.5), measured(2e-10, 360, 2.5)] });
    const agreeing = refitDiffusivity({ fat: 'fatty', measurements: [measured(2e-10, 360), measured(2e-10, 360), measured(2e-10, 360)] });
    expect(apart.bandFactor).toBeGreaterThan(agreeing.bandFactor);
    expect(apart.bandFactor).toBeLessThanOrEqual(2);
    expect(apart.notes.join(' ')).toContain('far from the others');
  });

  it('reads a figure of finished fish back to the cure', () => {
    const sample = measured(3e-10, 480);
    const finished = saltAfterDrying({ curedPercent: sample.measuredPercent, curedWaterPercent: 68, keptPercent: 85 }).waterPhaseSaltPercent;
    const fit = (measurement: Parameters<typeof refitDiffusivity>[0]['measurements'][number]) => refitDiffusivity({ fat: 'fatty', measurements: [{ ...measurement, sdPercent: 0.3 }] }).m2PerSAt5C;
    expect(fit({ ...sample, measuredPercent: finished, keptPercent: 85, curedWaterPercent: 68 }) / fit(sample)).toBeCloseTo(1, 3);
    expect(fit({ ...sample, measuredPercent: finished })).toBeGreaterThan(fit(sample));
    expect(refused(() => fit({ ...sample, keptPercent: 85 })).field).toBe('measurements.0.curedWaterPercent');
  });

  it('feeds back into a prediction with the narrower band', () => {
    const club = refitDiffusivity({ fat: 'fatty', measurements: [measured(3e-10, 240), measured(3e-10, 480)] });
    const [before, afterwards] = [uptake({}), uptake({ club })];
    expect(afterwards.meanHighPercent - afterwards.meanLowPercent).toBeLessThan(before.meanHighPercent - before.meanLowPercent);
    expect(afterwards.measured).toBe(false);
  });

  it.each([
    [[], 'measurements'], [[{ ...measured(2e-10, 60), measuredPercent: -1 }], 'measurements.0.measuredPercent'], [[{ ...measured(2e-10, 60), minutes: 0 }], 'measurements.0.minutes'],
    [[{ ...measured(2e-10, 60), thicknessMm: 0 }], 'thicknessMm'], [[measured(2e-10, 60), { ...measured(2e-10, 60), sdPercent: 0 }], 'measurements.1.sdPercent'],
  ])('refuses %j', (measurements, field) => {
    expect(refused(() => refitDiffusivity({ fat: 'fatty', measurements })).field).toBe(field);
  });
});
