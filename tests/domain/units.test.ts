import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cmToIn, cToF, formatCelsius, formatGrams, formatNetWeight, fToC, gramsToLb, gramsToOz, inToCm, parseCelsius, parseCm, parseGrams,
} from '../../server/domain/units.ts';
import { DomainError, MAX_GRAMS } from '../../server/domain/working.ts';

describe('parseGrams', () => {
  it.each([
    ['450', 'g', 450], ['1.2 kg', 'g', 1200], ['1,2', 'kg', 1200], ['0.310', 'kg', 310], ['0,31kg', 'g', 310],
    ['1.250', 'kg', 1250], ['1,234.5 g', 'g', 1235], ['1.234,5 g', 'g', 1235], [' 12 KG ', 'g', 12000], ['0', 'g', 0],
    ['1 kg 200 g', 'lb', 1200], ['2 grams', 'kg', 2],
  ] as const)('reads %j with default %s as %i g', (text, unit, grams) => {
    expect(parseGrams(text, unit)).toBe(grams);
  });

  it.each([
    ['1 lb', 454], ['3 lb 4 oz', 1474], ['3lb4oz', 1474], ['8 oz', 227], ['2.5 lbs', 1134],
  ] as const)('reads %j as %i g (pound of 453.59237 g, 1959 agreement)', (text, grams) => {
    expect(parseGrams(text, 'g')).toBe(grams);
  });

  it.each([
    ['', 'g'], ['mackerel', 'g'], ['-5', 'g'], ['−5 kg', 'g'], ['1,200', 'g'], ['1.200', 'g'], ['1,200', 'lb'], ['0.31', 'g'], ['5 stone', 'g'],
    ['1 2', 'g'], ['250; 260', 'g'], ['1e9', 'g'], ['3 lb 16 oz', 'g'], ['9'.repeat(40), 'g'], ['1.2.3', 'kg'], ['🐟', 'g'], ['100001 kg', 'g'], ['NaN', 'g'],
  ] as const)('refuses %j with default %s, naming the value and the remedy', (text, unit) => {
    const error = caught(() => parseGrams(text, unit, 'grams'));
    expect(error.field).toBe('grams');
    expect(error.value).toBe(text);
    expect(error.remedy).not.toBe('');
    expect(error.message).toContain(error.remedy);
  });

  it('keeps a message short when the text is 10,000 characters long', () => {
    expect(caught(() => parseGrams('7'.repeat(10_000), 'g')).message.length).toBeLessThan(200);
  });

  it('reads back every metric weight it writes, and US weights within 0.05 oz', () => {
    fc.assert(fc.property(fc.integer({ min: 1, max: MAX_GRAMS }), (grams) => {
      expect(parseGrams(formatGrams(grams, 'metric'), 'g')).toBe(grams);
      expect(Math.abs(parseGrams(formatGrams(Math.max(grams, 3), 'us'), 'g') - Math.max(grams, 3))).toBeLessThanOrEqual(2);
    }));
  });
});

describe('writing weights', () => {
  it.each([[0, '0 g', '0 oz'], [450, '450 g', '15.9 oz'], [999, '999 g', '2 lb 3.2 oz'], [1000, '1 kg', '2 lb 3.3 oz'], [12_345, '12.345 kg', '27 lb 3.5 oz'], [454, '454 g', '1 lb']])(
    'writes %i g as %s or %s', (grams, metric, us) => {
      expect(formatGrams(grams, 'metric')).toBe(metric);
      expect(formatGrams(grams, 'us')).toBe(us);
    });

  it('writes net weight in grams and ounces (rules.md label.content)', () => {
    expect(formatNetWeight(250)).toBe('250 g (8.8 oz)');
    expect(formatNetWeight(113)).toBe('113 g (4 oz)');
  });

  it('takes 113 g for 4 oz (rules.md people.servings)', () => {
    expect(gramsToOz(113)).toBeCloseTo(4, 1);
    expect(gramsToLb(453.59237)).toBeCloseTo(1, 10);
  });
});

describe('temperature', () => {
  it.each([[145, 62.8], [150, 65.6], [160, 71.1], [38, 3.3], [40, 4.4], [83, 28.3], [36, 2.2], [165, 73.9], [90, 32.2], [200, 93.3]])(
    'pairs %i F with %d C as rules.md does (165 and 200 F to the tenth)', (f, c) => {
      expect(parseCelsius(String(f), 'F')).toBe(c);
    });

  it.each([['62,8', 'C', 62.8], ['62.8 °C', 'F', 62.8], ['145 F', 'C', 62.8], ['-18', 'C', -18], ['−18 c', 'F', -18], ['+4', 'C', 4], ['0', 'F', -17.8], ['144.9', 'F', 62.72]] as const)(
    'reads %j with default %s as %d C', (text, unit, c) => {
      expect(parseCelsius(text, unit)).toBe(c);
    });

  it.each(['', 'hot', '12 K', '1.2.3', '--4', '99999', '4 5'])('refuses %j', (text) => {
    expect(caught(() => parseCelsius(text, 'C', 'coreC')).field).toBe('coreC');
  });

  it('writes both scales to a tenth', () => {
    expect(formatCelsius(62.8, 'C')).toBe('62.8 °C');
    expect(formatCelsius(62.8, 'F')).toBe('145 °F');
    expect(formatCelsius(5, 'F')).toBe('41 °F');
    expect(formatCelsius(-0.01, 'C')).toBe('0 °C');
  });

  it('has -40 the same on both scales and turns back what it turns', () => {
    expect(cToF(-40)).toBe(-40);
    fc.assert(fc.property(fc.double({ min: -100, max: 300, noNaN: true }), (c) => { expect(fToC(cToF(c))).toBeCloseTo(c, 9); }));
  });
});

describe('length', () => {
  it.each([['41.5', 'cm', 41.5], ['415 mm', 'in', 41.5], ['16 in', 'cm', 40.6], ['16', 'in', 40.6], ['30,2 cm', 'in', 30.2]] as const)(
    'reads %j with default %s as %d cm', (text, unit, cm) => {
      expect(parseCm(text, unit)).toBe(cm);
    });

  it.each(['', '0', '-3', 'long', '1001', '1 2'])('refuses %j', (text) => {
    expect(() => parseCm(text, 'cm')).toThrow(DomainError);
  });

  it('takes 2.54 cm for an inch (1959 agreement)', () => {
    expect(inToCm(1)).toBe(2.54);
    expect(cmToIn(25.4)).toBeCloseTo(10, 12);
  });
});

function caught(run: () => unknown): DomainError {
  try {
    run();
  } catch (error) {
    if (error instanceof DomainError) return error;
    throw error;
  }
  throw new Error('nothing was refused');
}
