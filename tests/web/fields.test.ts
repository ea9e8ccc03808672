import { describe, expect, it } from 'vitest';
import { newIdempotencyKey } from '../../web/src/lib/api/key.ts';
import { isHere, otherPlaces, placesFor } from '../../web/src/lib/frame/places.ts';
import { offerUserName } from '../../web/src/lib/frame/user-name.ts';
import { fromControl, toControl } from '../../web/src/lib/ui/local-instant.ts';
import { readQuantity, slideOf, unitIn, usualUnit, writeQuantity } from '../../web/src/lib/ui/quantity.ts';

describe('a number with its unit', () => {
  // The pound is 453.59237 g exactly: international yard and pound agreement, 1959.
  it.each([
    ['1,2', 'kg', 1200],
    ['450', 'g', 450],
    ['3 lb 4 oz', 'kg', 1474],
    ['1', 'lb', 454],
  ])('reads %s in %s as %i grams', (text, unit, grams) => {
    expect(readQuantity(text, 'weight', unit)).toEqual({ value: grams });
  });

  // 62.8 C and 145 F are the pair of the cooking rule in reference/rules.md.
  it('reads 145 F as 62.8 C and writes it back', () => {
    expect(readQuantity('145', 'temperature', '°F')).toEqual({ value: 62.8 });
    expect(writeQuantity(62.8, 'temperature', '°F')).toBe('145');
  });

  // A difference has no zero to move: 9 Fahrenheit degrees are 5 Celsius degrees.
  it('reads degrees between two temperatures without moving the zero', () => {
    expect([readQuantity('9', 'degrees', '°F'), readQuantity('5', 'degrees', '°C'), readQuantity('-9', 'degrees', '°F')]).toEqual([{ value: 5 }, { value: 5 }, { value: -5 }]);
    expect([writeQuantity(3, 'degrees', '°F'), writeQuantity(3, 'degrees', '°C')]).toEqual(['5.4', '3']);
  });

  // An inch is 25.4 mm exactly: international yard and pound agreement, 1959; NIST SP 811.
  it('takes a thickness in millimetres or inches by the person’s units, and writes it back', () => {
    expect([usualUnit('thickness', 'metric', false), usualUnit('thickness', 'us', false)]).toEqual(['mm', 'in']);
    expect([readQuantity('0.75', 'thickness', 'in'), readQuantity('3/4', 'thickness', 'in'), readQuantity('20', 'thickness', 'mm')]).toEqual([{ value: 19.05 }, { value: 19.05 }, { value: 20 }]);
    expect([writeQuantity(19.05, 'thickness', 'in'), writeQuantity(20, 'thickness', 'in'), writeQuantity(20, 'thickness', 'mm')]).toEqual(['0.75', '0.79', '20']);
    expect(readQuantity('thick', 'thickness', 'in')).toHaveProperty('error', expect.stringContaining('0.75 in'));
  });

  it('slides a thickness by twentieths of an inch within its ends, and all else as it is stored', () => {
    const ends = { min: 5, max: 60, step: 1 };
    const inches = slideOf('thickness', 'us', ends);
    expect([inches.min, inches.max, inches.step, inches.to(0.75), inches.of(25.4)]).toEqual([0.2, 2.35, 0.05, 19.05, 1]);
    expect([inches.to(inches.min) >= 5, inches.to(inches.max) <= 60]).toEqual([true, true]);
    for (const [kind, system] of [['thickness', 'metric'], ['temperature', 'us'], ['number', 'us']] as const) expect(slideOf(kind, system, ends)).toMatchObject(ends);
  });

  it('takes nothing typed as nothing, not as zero', () => {
    expect(readQuantity('  ', 'weight', 'kg')).toEqual({ value: null });
    expect(writeQuantity(null, 'weight', 'kg')).toBe('');
  });

  it.each(['abc', '-3', '1,200'])('refuses %s grams with a remedy', (text) => {
    expect(readQuantity(text, 'weight', 'g')).toHaveProperty('error', expect.stringMatching(/enter|write/));
  });

  it('writes a weight without losing a gram, in kilograms', () => {
    for (const grams of [1, 999, 1474, 100_000]) {
      expect(readQuantity(writeQuantity(grams, 'weight', 'kg'), 'weight', 'kg')).toEqual({ value: grams });
    }
  });

  it('starts in the units of the person', () => {
    expect([usualUnit('weight', 'metric', true), usualUnit('weight', 'us', false), usualUnit('temperature', 'us', false)]).toEqual(['g', 'lb', '°F']);
  });
});

describe('the unit of a field', () => {
  it('is the person’s own until one is picked in the same form', () => {
    expect(unitIn('weight', 'metric', false, undefined)).toBe('kg');
    expect(unitIn('weight', 'metric', false, { unit: 'lb', small: false })).toBe('lb');
  });

  it('puts ounces beside pounds and grams beside kilograms, never both systems in one form', () => {
    expect(unitIn('weight', 'metric', true, { unit: 'lb', small: false })).toBe('oz');
    expect(unitIn('weight', 'us', false, { unit: 'g', small: true })).toBe('kg');
  });
});

describe('a date and time in the zone of the club', () => {
  it('shows and reads the clock of the club', () => {
    expect(toControl('2026-06-03T12:20:00Z', 'Europe/Oslo')).toBe('2026-06-03T14:20');
    expect(fromControl('2026-06-03T14:20', 'Europe/Oslo', false)).toEqual({ instant: '2026-06-03T12:20:00.000Z', twice: false });
  });

  // Europe/Oslo goes forward on 29 March 2026 at 02:00 and back on 25 October 2026 at 03:00: the IANA time zone data.
  it('refuses a time that the clocks skip', () => {
    expect(fromControl('2026-03-29T02:30', 'Europe/Oslo', false)).toHaveProperty('error', expect.stringContaining('does not exist'));
  });

  it('tells the two times apart when the clocks go back', () => {
    expect(fromControl('2026-10-25T02:30', 'Europe/Oslo', false)).toEqual({ instant: '2026-10-25T00:30:00.000Z', twice: true });
    expect(fromControl('2026-10-25T02:30', 'Europe/Oslo', true)).toEqual({ instant: '2026-10-25T01:30:00.000Z', twice: true });
  });
});

describe('small helpers', () => {
  it('make a key where randomUUID is missing, as RFC 9562 sets out version 4', () => {
    const source = { getRandomValues: <T>(bytes: T): T => ((bytes as Uint8Array).fill(255), bytes) };
    expect(newIdempotencyKey(source as never)).toBe('ffffffff-ffff-4fff-bfff-ffffffffffff');
  });

  it('offer a user name in plain letters', () => {
    expect(offerUserName('Åse-Mærit Hallvik')).toBe('asemaerit');
    expect(offerUserName('Øystein')).toBe('oystein');
    expect(offerUserName('Γιώργος')).toBe('');
  });

  it('show people their own places', () => {
    expect(placesFor(otherPlaces, 'member').map((place) => place.href)).toEqual(['/stations', '/models', '/account']);
    expect(placesFor(otherPlaces, 'captain').map((place) => place.href)).toContain('/club');
    expect(isHere('/', '/fish')).toBe(false);
    expect(isHere('/fish', '/fish/new')).toBe(true);
    expect(isHere('/fish', '/fishing')).toBe(false);
  });
});
