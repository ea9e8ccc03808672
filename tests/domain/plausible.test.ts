import { describe, expect, it } from 'vitest';
import { checkInstant, checkLanding, checkTemperatureC } from '../../server/domain/plausible.ts';
import type { TemperaturePlace } from '../../server/domain/plausible.ts';
import { SPECIES } from '../../server/domain/species/index.ts';
import { DomainError } from '../../server/domain/working.ts';

const landing = (count: number | null, grams: number, species: string | number = 'atlantic-mackerel') =>
  () => checkLanding({ speciesOrMaxFishGrams: species, count, grams, form: 'whole' });

describe('checkLanding', () => {
  it('takes an ordinary catch and tells the mean', () => {
    expect(landing(40, 16_000)()).toEqual({ meanGrams: 400 });
    expect(landing(null, 16_000)()).toEqual({ meanGrams: null });
    expect(landing(1, 1500, 2000)()).toEqual({ meanGrams: 1500 });
  });

  it('refuses a 900 kg mackerel and asks about the unit', () => {
    expect(landing(1, 900_000)).toThrow(/Weight 900 kg for one fish is more than any Atlantic mackerel weighs \(5 kg\); check the unit/);
    expect(landing(10, 900_000)).toThrow(/90 kg each/);
    expect(landing(1, 2001, 2000)).toThrow(DomainError);
  });

  it('takes the heaviest fish of every species and not a gram more (ceilings from memory)', () => {
    for (const { code, maxFishGrams } of SPECIES) {
      expect(landing(1, maxFishGrams, code)()).toEqual({ meanGrams: maxFishGrams });
      expect(landing(1, maxFishGrams + 1, code)).toThrow(DomainError);
    }
  });

  it.each([[40, 0], [40, -5], [0, 500], [-1, 500], [1.5, 500], [40, 199], [40, Number.NaN], [null, 0], [40, 1.5], [1, 1e12], [1_000_000, 1e8]])('refuses %d fish of %d g', (count, grams) => {
    expect(landing(count, grams)).toThrow(DomainError);
  });

  it('refuses a species that is not in the table', () => {
    expect(landing(1, 500, 'kraken')).toThrow(/choose a species/);
    expect(landing(1, 500, 0)).toThrow(DomainError);
  });
});

describe('checkTemperatureC', () => {
  it.each([[4.4, 'fish'], [62.8, 'core'], [28.3, 'air'], [3, 'water'], [0, 'ice'], [-18, 'fish'], [107, 'chamber']] as const)('takes %d C in %s', (c, where) => {
    expect(checkTemperatureC(c, where)).toBe(c);
  });

  it.each([[-999, 'core'], [121, 'core'], [999, 'air'], [Number.NaN, 'water'], [Number.POSITIVE_INFINITY, 'ice'], [-60, 'fish']] as const)('refuses %d C in %s', (c, where) => {
    expect(() => checkTemperatureC(c, where as TemperaturePlace)).toThrow(DomainError);
  });

  it('says when a temperature looks like Fahrenheit, and what it would be (145 F is 62.8 C, rules.md smoke.core)', () => {
    expect(() => checkTemperatureC(145, 'core')).toThrow(/looks like Fahrenheit; enter 62.8 C/);
    expect(() => checkTemperatureC(40, 'fish')).toThrow(/looks like Fahrenheit; enter 4.4 C/);
    expect(() => checkTemperatureC(83, 'air')).toThrow(/Fahrenheit/);
    expect(() => checkTemperatureC(-999, 'core')).not.toThrow(/Fahrenheit/);
  });
});

describe('checkInstant', () => {
  const now = new Date('2025-06-30T12:00:00Z');
  const at = (text: string) => () => checkInstant(new Date(text), now, 'caughtAt');

  it('takes the past and five minutes of a fast clock', () => {
    expect(at('2000-01-01T00:00:00Z')().getUTCFullYear()).toBe(2000);
    expect(at('2025-06-30T12:05:00Z')()).toBeInstanceOf(Date);
  });

  it('refuses the future, before 2000, and no date', () => {
    expect(at('2025-06-30T12:05:01Z')).toThrow(/future/);
    expect(at('1999-12-31T23:59:59Z')).toThrow(/2000/);
    expect(at('nonsense')).toThrow(DomainError);
  });
});
