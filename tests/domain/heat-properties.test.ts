import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compositionOfSpecies, fractionsOf, mixtureAt, thermalProperties } from '../../server/domain/heat/composition.ts';
import { buckKPa, buckSlope, humidAir } from '../../server/domain/heat/humid-air.ts';
import { brineActivity, slabMaterial, surfaceActivity } from '../../server/domain/heat/slab-material.ts';
import { slabCoefficient, slabRoots, slabTheta } from '../../server/domain/heat/slab-series.ts';
import { DomainError } from '../../server/domain/working.ts';

describe('properties of flesh', () => {
  it.each([
    ['atlantic-cod', 0.5428, 3.7484, 1047.6], ['king-mackerel', 0.5268, 3.6562, 1054.7],
  ])('%s at 20 C (models.md, computed from Choi and Okos 1986)', (species, k, cp, rho) => {
    const found = thermalProperties({ ...compositionOfSpecies(species), temperatureC: 20 });
    expect(found.conductivityWPerMK).toBeCloseTo(k, 4);
    expect(found.specificHeatKjPerKgK).toBeCloseTo(cp, 4);
    expect(found.densityKgPerM3).toBeCloseTo(rho, 1);
    expect(found.working).toMatchObject({ source: expect.stringContaining('Choi and Okos') });
  });

  it('the solver\'s quadratics follow Choi and Okos 1986 within 0.1 % from 0 to 110 C', () => {
    for (const species of ['atlantic-cod', 'king-mackerel', 'atlantic-mackerel']) {
      const fractions = fractionsOf(compositionOfSpecies(species));
      const m = slabMaterial(fractions, 0);
      const value = (q: readonly [number, number, number], t: number) => q[0] + q[1] * t + q[2] * t * t;
      for (const t of [0, 15, 35, 62.8, 80, 110]) {
        const w = m.waterKgPerM3;
        const exact = mixtureAt(fractions, t);
        const k = (value(m.solidsConduction, t) + w * value(m.waterConduction, t)) / (value(m.solidsVolume, t) + w * value(m.waterVolume, t));
        expect(k / exact.conductivityWPerMK).toBeCloseTo(1, 3);
        expect((value(m.solidsHeat, t) + w * value(m.waterHeat, t)) / (m.densityKgPerM3 * exact.specificHeatKjPerKgK * 1000)).toBeCloseTo(1, 3);
      }
    }
  });

  it.each([
    [{ waterPct: 40 }, 'composition'], [{ waterPct: -1 }, 'waterPct'], [{ fatPct: Number.NaN }, 'fatPct'], [{ temperatureC: 200 }, 'temperatureC'], [{ temperatureC: -20 }, 'temperatureC'],
  ])('refuses %j', (change, field) => {
    expect(fieldOf(() => thermalProperties({ waterPct: 76, proteinPct: 20, fatPct: 2, ashPct: 1, temperatureC: 20, ...change }))).toBe(field);
  });

  it('refuses a species with no published flesh', () => {
    expect(fieldOf(() => compositionOfSpecies('kraken'))).toBe('speciesCode');
  });
});

describe('humid air', () => {
  it.each([[50, 30, 32.46], [70, 20, 41.82], [80, 20, 48.71], [80, 40, 60.36]])('wet-bulb of %d C and %d %% is %d C (models.md, computed)', (airC, relativeHumidityPct, wetBulb) => {
    expect(humidAir({ airC, relativeHumidityPct }).wetBulbC).toBeCloseTo(wetBulb, 2);
  });

  it('saturation is 0.61121 kPa at 0 C and close to one atmosphere at 100 C (Buck)', () => {
    expect(buckKPa(0)).toBe(0.61121);
    expect(buckKPa(100)).toBeCloseTo(101.3, 0);
  });

  it('saturated air has its wet-bulb and dew point at its own temperature; drier air lies lower', () => {
    fc.assert(fc.property(fc.double({ min: 0, max: 90, noNaN: true }), fc.double({ min: 1, max: 99, noNaN: true }), (airC, humidity) => {
      expect(humidAir({ airC, relativeHumidityPct: 100 }).wetBulbC).toBeCloseTo(airC, 6);
      const air = humidAir({ airC, relativeHumidityPct: humidity });
      expect(air.wetBulbC).toBeLessThan(airC);
      expect(air.dewPointC).toBeLessThanOrEqual(air.wetBulbC + 1e-9);
    }));
  });

  it('the slope of saturation is that of the curve', () => {
    for (const t of [0, 40, 95]) expect(buckSlope(t, buckKPa(t))).toBeCloseTo((buckKPa(t + 1e-4) - buckKPa(t - 1e-4)) / 2e-4, 6);
  });

  it.each([[{ airC: 200 }, 'airC'], [{ relativeHumidityPct: 101 }, 'relativeHumidityPct'], [{ airC: 110, relativeHumidityPct: 90 }, 'relativeHumidityPct'], [{ pressureKPa: 5 }, 'pressureKPa']])('refuses %j', (change, field) => {
    expect(fieldOf(() => humidAir({ airC: 60, relativeHumidityPct: 30, ...change }))).toBe(field);
  });
});

describe('the exact slab', () => {
  it.each([[0.1, 0.3111, 1.0161], [0.5, 0.6533, 1.0701], [1, 0.8603, 1.1191], [5, 1.3138, 1.2402], [10, 1.4289, 1.262], [100, 1.5552, 1.2731]])(
    'first root and coefficient at Bi %d (Incropera table 5.1)', (biot, zeta, c1) => {
      const root = slabRoots(biot, 1)[0]!;
      // Printed to four places; the book's last digit is a unit off in places.
      expect(Math.abs(root - zeta)).toBeLessThan(1.01e-4);
      expect(Math.abs(slabCoefficient(root) - c1)).toBeLessThan(1.01e-4);
    });

  it('four roots at Bi 1 (Carslaw and Jaeger)', () => {
    for (const [i, root] of [0.8603, 3.4256, 6.4373, 9.5293].entries()) expect(slabRoots(1, 4)[i]).toBeCloseTo(root, 4);
  });

  it.each([[1, 0.5, 0.7725, 0.5045], [10, 0.2, 0.8293, 0.1225]])('centre and face at Bi %d, Fo %d (models.md, computed)', (biot, fourier, centre, face) => {
    expect(slabTheta({ biot, fourier, depth: 0 }).theta).toBeCloseTo(centre, 4);
    expect(slabTheta({ biot, fourier, depth: 1 }).theta).toBeCloseTo(face, 4);
  });

  it('every root solves zeta tan zeta = Bi inside its own bracket', () => {
    fc.assert(fc.property(fc.double({ min: -4, max: 5, noNaN: true }), (power) => {
      for (const [n, zeta] of slabRoots(10 ** power, 20).entries()) {
        expect(zeta).toBeGreaterThan(n * Math.PI);
        expect(zeta).toBeLessThan(n * Math.PI + Math.PI / 2);
        expect(Math.abs(zeta * Math.sin(zeta) - 10 ** power * Math.cos(zeta)) / (zeta + 10 ** power)).toBeLessThan(1e-12);
      }
    }));
  });

  it.each([[{ biot: 0 }, 'biot'], [{ fourier: 0 }, 'fourier'], [{ depth: 1.1 }, 'depth']])('refuses %j', (change, field) => {
    expect(fieldOf(() => slabTheta({ biot: 1, fourier: 0.5, depth: 0, ...change }))).toBe(field);
  });
});

describe('water activity at the face', () => {
  it.each([[3.5, 0.98], [7, 0.957], [10, 0.935], [20, 0.839], [26.395, 0.753]])('brine of %d %% (Chirife and Resnik 1984, from memory)', (pct, activity) => {
    expect(Math.abs(brineActivity(pct).activity - activity)).toBeLessThan(0.0005);
  });

  it('falls as the face dries and as it gets saltier, and its slope is that of the curve', () => {
    const read = (water: number, salt: number) => {
      const out = new Float64Array(2);
      surfaceActivity(water, salt, out);
      return out;
    };
    fc.assert(fc.property(fc.double({ min: 0.02, max: 4, noNaN: true }), fc.double({ min: 0.001, max: 0.3, noNaN: true }), (water, salt) => {
      expect(read(water * 0.9, 0)[0]).toBeLessThan(read(water, 0)[0]!);
      expect(read(water, salt)[0]).toBeLessThan(read(water, 0)[0]!);
      const numeric = (read(water * 1.00001, salt)[0]! - read(water * 0.99999, salt)[0]!) / (water * 2e-5);
      expect(Math.abs(read(water, salt)[1]! - numeric)).toBeLessThan(0.02 * Math.abs(numeric) + 0.02);
    }));
  });
});

function fieldOf(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    if (error instanceof DomainError) return error.field;
    throw error;
  }
  return 'no error';
}
