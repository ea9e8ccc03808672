import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LOT_ALPHABET, formatPackNo, newLotCode, parseLotCode, parsePackNo } from '../../server/domain/lot-code.ts';
import { addDays } from '../../server/domain/time.ts';
import { DomainError } from '../../server/domain/working.ts';

const bytes = (...values: number[]) => (n: number) => Uint8Array.from({ length: n }, (_, i) => values[i % values.length]!);
const anyCode = fc.tuple(fc.integer({ min: 0, max: 30_000 }), fc.array(fc.integer({ min: 0, max: 254 }), { minLength: 6, maxLength: 6 }))
  .map(([day, values]) => newLotCode(addDays('2020-01-01', day), bytes(...values)));

describe('lot codes', () => {
  it('use no characters that look alike', () => {
    for (const character of '0O1IL5S2Z8BUVGQDN') expect(LOT_ALPHABET).not.toContain(character);
    expect(new Set(LOT_ALPHABET).size).toBe(LOT_ALPHABET.length);
  });

  it('read back in any case, with or without spaces and dashes (rules.md lot.code: one code, one form)', () => {
    fc.assert(fc.property(anyCode, (code) => {
      expect(code).toMatch(/^[34679CFHJKMPRTWXY]{3}-[34679CFHJKMPRTWXY]{4}$/);
      expect(parseLotCode(code)).toBe(code);
      expect(parseLotCode(` ${code.toLowerCase().replace('-', ' – ')} `)).toBe(code);
      expect(parseLotCode([...code.replace('-', '')].join(' '))).toBe(code);
    }));
  });

  it('are refused when any one character is misread', () => {
    fc.assert(fc.property(anyCode, fc.nat(6), fc.integer({ min: 1, max: 16 }), (code, place, step) => {
      const compact = [...code.replace('-', '')];
      compact[place] = LOT_ALPHABET.charAt((LOT_ALPHABET.indexOf(compact[place]!) + step) % 17);
      expect(() => parseLotCode(compact.join(''))).toThrow(/misread/);
    }));
  });

  it('are refused when any two different characters change places', () => {
    fc.assert(fc.property(anyCode, fc.nat(6), fc.nat(6), (code, a, b) => {
      const compact = [...code.replace('-', '')];
      fc.pre(compact[a] !== compact[b]);
      [compact[a], compact[b]] = [compact[b]!, compact[a]!];
      expect(() => parseLotCode(compact.join(''))).toThrow(/misread/);
    }));
  });

  it('never share their first three characters on two days of 13 years', () => {
    const prefixes = Array.from({ length: 4913 }, (_, i) => newLotCode(addDays('2020-01-01', i), bytes(1)).slice(0, 3));
    expect(new Set(prefixes).size).toBe(4913);
    expect(newLotCode('2019-12-31', bytes(1))).toMatch(/^.{3}-.{4}$/);
  });

  it('take every character equally often from fair bytes', () => {
    const seen = new Map<string, number>();
    for (let byte = 0; byte < 255; byte += 1) {
      const character = newLotCode('2025-06-30', bytes(byte)).charAt(4);
      seen.set(character, (seen.get(character) ?? 0) + 1);
    }
    expect([...seen.values()]).toEqual(Array.from({ length: 17 }, () => 15));
  });

  it('are not made from a source of random bytes that is stuck', () => {
    expect(() => newLotCode('2025-06-30', bytes(255))).toThrow(/random/);
    expect(() => newLotCode('2025-06-31', bytes(1))).toThrow(DomainError);
  });

  it.each(['', 'K7M', 'K7M-94R', 'K7M-94R9-1', 'OOO-OOOO', '🐟🐟🐟-🐟🐟🐟🐟', 'x'.repeat(10_000)])('refuse %j with a remedy', (text) => {
    expect(() => parseLotCode(text)).toThrow(/label|read that character again/);
  });

  it('names the character that lot codes never use', () => {
    expect(() => parseLotCode('K7M-9OR9')).toThrow(/holds O/);
  });
});

describe('pack numbers', () => {
  it('are the lot and a count, and read back', () => {
    const lot = newLotCode('2025-06-30', bytes(3, 7, 11));
    expect(formatPackNo(lot, 12)).toBe(`${lot}-12`);
    expect(parsePackNo(formatPackNo(lot, 12).toLowerCase().replaceAll('-', ' '))).toEqual({ lot, packNo: 12 });
    expect(() => parsePackNo(lot)).toThrow(DomainError);
    expect(() => parsePackNo(`${lot}-0`)).toThrow(DomainError);
    expect(() => formatPackNo(lot, 0)).toThrow(DomainError);
    expect(() => formatPackNo(lot, 1.5)).toThrow(DomainError);
  });

  it('shows a real code as the example in its messages', () => {
    const example = /such as (\S+)/.exec(messageOf(() => parseLotCode('')))![1]!.replace(/\.$/, '');
    expect(parseLotCode(example)).toBe(example);
  });
});

function messageOf(run: () => unknown): string {
  try {
    run();
  } catch (error) {
    return (error as Error).message;
  }
  return '';
}
