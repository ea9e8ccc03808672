import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { brineOf, brineStrength, saltForWater, SATURATED_PERCENT, WATER_UNITS } from '../../server/domain/cure/brine.ts';
import { changeBrine, coolBrineWithIce } from '../../server/domain/cure/brine-change.ts';
import { FREEZING_F } from '../../server/domain/cure/brine-table.ts';
import { cToF } from '../../server/domain/units.ts';
import { refused } from '../support/refused.ts';
import { numbers } from '../support/table.ts';

const degrees = (value: number) => brineStrength({ given: 'degrees-saturated', value });
const percents = fc.double({ min: 0, max: SATURATED_PERCENT, noNaN: true });

describe('brine at 60 F, row by row (brine-60F.csv, from memory, cross-checked)', () => {
  it.each(numbers('brine-60F'))('%d degrees: %d percent, %d lb a US gallon, specific gravity %d', (value, percent, lb, gravity, tableF) => {
    const strength = degrees(value);
    // The table's rows step by 0.528 cut to three places; the last place may be one off.
    expect(Math.abs(strength.percentByWeight - percent!)).toBeLessThan(0.0031);
    expect(Math.abs(strength.saltLbPerUsGallonWater - lb!)).toBeLessThanOrEqual(0.0031);
    expect(Math.abs(strength.specificGravity - gravity!)).toBeLessThanOrEqual(0.0008 + 1e-9);
    expect(Math.abs(cToF(strength.coldest.temperatureC) - tableF!)).toBeLessThanOrEqual(0.1);
  });

  it('copies the temperatures of every row', () => {
    expect(FREEZING_F).toEqual(numbers('brine-60F').map((row) => [row[0], row[4]]));
  });

  it.each([[10, 0.925], [20, 2.082], [26.395, 2.986]])('%d percent takes %d lb to a US gallon: 8.328 p/(100 - p) (models.md, by hand)', (value, lb) => {
    expect(brineStrength({ given: 'percent', value }).saltLbPerUsGallonWater).toBe(lb);
  });

  it('0.26395 percent to a salometer degree, 26.395 % saturated (models.md)', () => {
    for (const [value, percent] of [[1, 0.264], [40, 10.558], [80, 21.116], [100, 26.395]] as const) expect(degrees(value).percentByWeight).toBeCloseTo(percent, 3);
    expect(SATURATED_PERCENT).toBe(26.395);
  });

  it('tells freezing from salt falling out above 88.3 degrees (models.md)', () => {
    expect(degrees(88.3).coldest.because).toBe('freezes');
    expect(degrees(88.4).coldest.because).toBe('salt-falls-out');
    expect(degrees(100).coldest).toEqual({ temperatureC: 15.6, because: 'salt-falls-out' });
  });
});

describe('metric brine (brine-metric.csv, Seafish)', () => {
  it.each(numbers('brine-metric'))('%d degrees: %d percent, %d g to a litre of water, %d g in a litre of brine', (value, percent, perWater, perBrine) => {
    const strength = degrees(value);
    expect(Math.abs(strength.percentByWeight - percent!)).toBeLessThanOrEqual(0.006 + 1e-9);
    // The table's own rows differ from its percents by up to 0.2 %; 90 degrees is cut, not rounded.
    expect(Math.abs(strength.saltGramsPerLitreWater / perWater! - 1)).toBeLessThan(0.002);
    expect(Math.abs(strength.saltGramsPerLitreBrine / perBrine! - 1)).toBeLessThan(0.002);
  });

  it('5 L of water to 80 degrees takes 1,338 g (Seafish, worked)', () => {
    expect(saltForWater({ percentByWeight: degrees(80).percentByWeight, waterAmount: 5, waterUnit: 'litre' }).saltGrams).toBe(1338);
  });
});

describe('salt in water', () => {
  it.each([[292, 7.17, 27.2], [438, 10.38, 39.3], [584, 13.38, 50.7]])('%d g (1, 1.5, 2 cups of table salt) in a US gallon is %d percent, %d degrees (models.md, computed)', (saltGrams, percent, scale) => {
    const strength = brineOf({ saltGrams, waterGrams: 3781.8 });
    expect(strength.percentByWeight).toBeCloseTo(percent, 2);
    expect(strength.degreesSaturated).toBeCloseTo(scale, 1);
  });

  it('1 cup of table salt to 7 cups of water is about 15 %, 57 degrees (WSU extension, rule brine.strong)', () => {
    const strength = brineOf({ saltGrams: 292, waterGrams: 7 * 236.36 });
    expect(strength.percentByWeight).toBeCloseTo(15, 1);
    expect(Math.round(strength.degreesSaturated)).toBe(57);
  });

  it('names the canning scale, which reads 100 at 25 % (models.md)', () => {
    expect(brineStrength({ given: 'degrees-canning', value: 80 }).percentByWeight).toBe(20);
    expect(brineStrength({ given: 'percent', value: 20 }).degreesCanning).toBe(80);
    expect(brineStrength({ given: 'percent', value: 26 }).degreesCanning).toBeNull();
  });

  it('refuses more salt than the water holds (saturated, 26.395 %)', () => {
    const error = refused(() => brineOf({ saltGrams: 400, waterGrams: 1000 }));
    expect(error.code).toBe('brine.saturated');
    expect(error.remedy).toContain('358 g');
  });

  it('agrees with itself between water, salt and strength', () => {
    fc.assert(fc.property(percents, fc.double({ min: 1, max: 50, noNaN: true }), (percentByWeight, waterAmount) => {
      const { saltGrams, waterGrams } = saltForWater({ percentByWeight, waterAmount, waterUnit: 'litre' });
      expect(Math.abs((100 * saltGrams) / (saltGrams + waterGrams) - percentByWeight)).toBeLessThan(0.1);
    }));
  });
});

describe('one strength in every measure', () => {
  it('turns back what it turns', () => {
    fc.assert(fc.property(percents, (value) => {
      const strength = brineStrength({ given: 'percent', value });
      expect(brineStrength({ given: 'degrees-saturated', value: strength.degreesSaturated }).percentByWeight).toBeCloseTo(value, 1);
      expect(Math.abs(brineStrength({ given: 'specific-gravity', value: strength.specificGravity }).percentByWeight - value)).toBeLessThan(0.02);
    }));
  });

  it('is never less dense nor weaker with more salt', () => {
    fc.assert(fc.property(percents, percents, (a, b) => {
      const [less, more] = [Math.min(a, b), Math.max(a, b)].map((value) => brineStrength({ given: 'percent', value }));
      for (const key of ['degreesSaturated', 'specificGravity', 'saltGramsPerLitreWater', 'saltLbPerUsGallonWater', 'saltGramsPerLitreBrine'] as const) {
        expect(more![key]).toBeGreaterThanOrEqual(less![key]);
      }
    }));
  });

  it.each([
    ['percent', 30], ['percent', -1], ['percent', Number.NaN], ['degrees-saturated', 101], ['degrees-canning', -1], ['specific-gravity', 0.99], ['specific-gravity', 1.3], ['salty' as never, 5],
  ] as const)('refuses %s %d', (given, value) => {
    expect(refused(() => brineStrength({ given, value })).remedy).not.toBe('');
  });

  it('refuses water below zero and a unit it does not know', () => {
    for (const waterUnit of WATER_UNITS) expect(refused(() => saltForWater({ percentByWeight: 10, waterAmount: -1, waterUnit })).field).toBe('waterAmount');
    expect(refused(() => saltForWater({ percentByWeight: 10, waterAmount: 1, waterUnit: 'bucket' as never })).field).toBe('waterUnit');
    expect(refused(() => saltForWater({ percentByWeight: 30, waterAmount: 1, waterUnit: 'litre' })).message).toContain('30');
  });
});

describe('changing a brine (balance of weight)', () => {
  it('doubles the brine to halve it, and adds the salt that is short', () => {
    expect(changeBrine({ brineGrams: 1000, fromPercent: 20, toPercent: 10 })).toMatchObject({ waterToAddGrams: 1000, saltToAddGrams: 0, brineGramsAfter: 2000 });
    expect(changeBrine({ brineGrams: 1000, fromPercent: 10, toPercent: 20 })).toMatchObject({ waterToAddGrams: 0, saltToAddGrams: 125, brineGramsAfter: 1125 });
  });

  it('keeps the balance of salt', () => {
    fc.assert(fc.property(fc.double({ min: 0.5, max: 26, noNaN: true }), fc.double({ min: 0.5, max: 26, noNaN: true }), (fromPercent, toPercent) => {
      const change = changeBrine({ brineGrams: 10_000, fromPercent, toPercent });
      expect((change.brineGramsAfter * toPercent) / 100).toBeCloseTo((10_000 * fromPercent) / 100 + change.saltToAddGrams, -1);
    }));
  });

  it.each([[-1, 10, 5], [1000, 30, 5], [1000, 10, 0], [1000, 10, 27]])('refuses %d g from %d to %d percent', (brineGrams, fromPercent, toPercent) => {
    expect(refused(() => changeBrine({ brineGrams, fromPercent, toPercent })).remedy).not.toBe('');
  });
});

describe('cooling a brine with ice', () => {
  it('10 kg of water from 20 to 10 C takes 1,114 g (heat balance, 333.5 kJ/kg FAO TP 331, computed)', () => {
    expect(coolBrineWithIce({ brineGrams: 10_000, percentByWeight: 0, fromC: 20, toC: 10 })).toMatchObject({ iceGrams: 1114, percentAfter: 0, readyForFish: true });
  });

  it('tells what the ice takes from the strength, and when it is cold enough (rule brine.start, 15.6 C)', () => {
    const cooled = coolBrineWithIce({ brineGrams: 10_000, percentByWeight: 20, fromC: 20, toC: 15.7 });
    expect(cooled.percentAfter).toBeLessThan(20);
    expect(cooled.readyForFish).toBe(false);
    expect(coolBrineWithIce({ brineGrams: 10_000, percentByWeight: 20, fromC: 10, toC: 15 })).toMatchObject({ iceGrams: 0, percentAfter: 20, readyForFish: true });
  });

  it('refuses to cool a brine until its salt falls out', () => {
    expect(refused(() => coolBrineWithIce({ brineGrams: 1000, percentByWeight: 26.3, fromC: 20, toC: 3 })).field).toBe('toC');
    expect(refused(() => coolBrineWithIce({ brineGrams: 1000, percentByWeight: 10, fromC: 68.1, toC: 3 })).field).toBe('fromC');
  });
});
