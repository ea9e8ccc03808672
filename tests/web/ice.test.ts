import { describe, expect, test } from 'vitest';
import { iceFor, layers, usualIce } from '../../web/src/lib/fish/ice.ts';

describe('the ice to take', () => {
  test('10 kg of fish from 20 C need 2.3 kg to cool (FAO TP 331), and never less than their weight is taken', () => {
    const { ice } = iceFor({ ...usualIce, catchG: 10_000, fishC: 20 });
    expect(Math.abs(ice!.coolingG - 2300)).toBeLessThanOrEqual(60);
    expect(ice!.loadG).toBe(10_000);
  });

  test('a box that melts a lot needs more', () => {
    const box = { ...usualIce, catchG: 10_000, fishC: 30, hours: 48, airC: 30, meltG: 8000, meltAirC: 20 };
    expect(iceFor(box).ice!.loadG).toBeGreaterThan(10_000);
  });

  test.each([
    [{ catchG: null }, 'catchG'], [{ fishC: 68 }, 'fishC'], [{ hours: -1 }, 'hours'], [{ meltG: 500 }, 'meltAirC'], [{ meltG: 500, meltAirC: -4 }, 'meltAirC'],
  ] as const)('%o is refused at %s', (change, field) => {
    const { ice, errors } = iceFor({ ...usualIce, ...change });
    expect([ice, Object.keys(errors)]).toEqual([null, [field]]);
  });

  test('layers of 75, 100 and 125 mm chill in 2, 4 and 6.5 hours (FAO TP 331)', () => {
    expect(layers.map((l) => l.hours)).toEqual([2, 4, 6.5]);
  });
});
