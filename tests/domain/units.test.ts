import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cmToIn, cToF, formatCelsius, formatGrams, formatMm, formatNetWeight, fToC, gramsToLb, gramsToOz, inToCm, inToMm, millimetresInProse, mmToIn, parseCelsius, parseCm, parseMm, parseGrams,
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

describe('a thickness in millimetres (an inch is 25.4 mm exactly: international yard and pound agreement, 1959; NIST SP 811)', () => {
  it.each([['20', 'mm', 20], ['1', 'in', 25.4], ['1 in', 'mm', 25.4], ['0,75', 'in', 19.05], ['3/4"', 'mm', 19.05], ['1 1/2', 'in', 38.1], ['1-1/2 inches', 'mm', 38.1], ['2.5 cm', 'in', 25], ['20mm', 'in', 20], ['0', 'mm', 0], ['1/16', 'in', 1.59], ['.75', 'in', 19.05], ['½', 'in', 12.7], ['1½ in', 'mm', 38.1], ['2 ¾', 'in', 69.85]] as const)(
    'reads %j with default %s as %d mm', (text, unit, mm) => {
      expect(parseMm(text, unit)).toBe(mm);
    });

  it.each(['', '-3', 'thick', '1 2', '3/4 mm', '1/0', '20 ft', '100000', '.', '½½', '½ mm'])('refuses %j and says what to enter', (text) => {
    expect(caught(() => parseMm(text, 'mm'))).toMatchObject({ field: 'thickness', remedy: 'enter a thickness, such as 20 mm or 0.75 in' });
  });

  it('turns back what it turns: every hundredth of an inch reads as it was typed, and every tenth of a millimetre', () => {
    fc.assert(fc.property(fc.integer({ min: 1, max: 1000 }), (n) => {
      expect(formatMm(parseMm(String(n / 100), 'in'), 'us')).toBe(`${n / 100} in`);
      expect(formatMm(parseMm(String(n / 10), 'mm'), 'metric')).toBe(`${n / 10} mm`);
      expect(inToMm(mmToIn(n))).toBe(n);
    }));
  });

  it('rounds the most that a tray may be down, never to more', () => {
    expect([formatMm(34, 'us'), formatMm(34, 'us', 'down'), formatMm(25.4, 'us', 'down'), formatMm(34, 'metric', 'down')]).toEqual(['1.34 in', '1.33 in', '1 in', '34 mm']);
    fc.assert(fc.property(fc.integer({ min: 1, max: 150 }), (mm) => { expect(parseMm(formatMm(mm, 'us', 'down'), 'mm')).toBeLessThanOrEqual(mm); }));
  });

  it('tells the sentences of the domain in a person’s unit', () => {
    const text = 'Split into trays of at most 34 mm.';
    expect([millimetresInProse(text, 'metric'), millimetresInProse(text, 'us')]).toEqual([text, 'Split into trays of at most 1.33 in.']);
    expect(millimetresInProse('80 mm should pass. At most 102 mm would.', 'us')).toBe('3.15 in should pass. At most 4.01 in would.');
    // Within the ends: what is typed as it is told is not refused.
    expect(millimetresInProse('Thickness 500 mm is not from 3 to 150 mm; measure it.', 'us')).toBe('Thickness 19.69 in is not from 0.12 to 5.9 in; measure it.');
    expect(millimetresInProse('Lay at least 75 mm of ice under the fish and at least 75 mm over it.', 'us')).toBe('Lay at least 2.96 in of ice under the fish and at least 2.96 in over it.');
    expect(millimetresInProse('Lot 12 mmol, 5 min', 'us')).toBe('Lot 12 mmol, 5 min');
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
