import { describe, expect, it } from 'vitest';
import { unlikelyTemperature } from '../../server/domain/unlikely-temperature.ts';

describe('a typed temperature that is unlikely where it was taken', () => {
  it('asks about -4 C for 4 C where a cure stood, and about what was typed in the other unit (38 F is 3.3 C, 4 C is 39.2 F: exact conversions)', () => {
    expect(unlikelyTemperature(-4, 'cure-place')).toMatchObject({ says: expect.stringContaining('below freezing'), meantC: [4] });
    expect(unlikelyTemperature(38, 'cure-place')!.meantC).toEqual([3.3]);
    expect(unlikelyTemperature(((4 - 32) * 5) / 9, 'cure-place')!.meantC).toContain(4);
  });

  it('asks nothing of what a refrigerator, an ice box or a cool room holds, whether the rule meets it or not', () => {
    for (const c of [0, 0.5, 3.3, 3.4, 4.4, 12, 20]) expect(unlikelyTemperature(c, 'cure-place'), `${c} C`).toBeNull();
  });

  it('asks of a core that is too hot to be one, and of one far too cold for a smoke (MI569.7: 62.8 C)', () => {
    expect(unlikelyTemperature(110, 'smoked-core')!.meantC).toEqual([43.3]);
    for (const c of [45, 62.7, 62.8, 71.1, 84]) expect(unlikelyTemperature(c, 'smoked-core'), `${c} C`).toBeNull();
    expect(unlikelyTemperature(((63 - 32) * 5) / 9, 'smoked-core')!.meantC).toContain(63);
  });

  it('asks of fish, air and water at a landing what was typed as Fahrenheit', () => {
    expect(unlikelyTemperature(34, 'landed-fish')!.meantC).toEqual([1.1]);
    expect(unlikelyTemperature(-4, 'landed-fish')!.meantC[0]).toBe(4);
    expect(unlikelyTemperature(50, 'air')!.meantC).toEqual([10]);
    expect(unlikelyTemperature(34, 'water')!.meantC).toEqual([1.1]);
    for (const [c, place] of [[-1, 'landed-fish'], [28.3, 'landed-fish'], [28.3, 'air'], [-15, 'air'], [-1.8, 'water'], [28.3, 'water']] as const) expect(unlikelyTemperature(c, place), `${c} ${place}`).toBeNull();
  });

  it('takes a freezer for a store, and asks of what is neither freezer nor refrigerator (FC 3-402.11: -20 C freezes)', () => {
    for (const c of [-35, -20, -18, -12, -1, 2.2, 5]) expect(unlikelyTemperature(c, 'store'), `${c} C`).toBeNull();
    expect(unlikelyTemperature(-4, 'store')!.meantC).toEqual([4, 24.8]);
  });

  it('offers nothing that would itself be asked about', () => {
    for (let c = -50; c <= 120; c += 0.5) for (const place of ['cure-place', 'store', 'brine', 'smoked-core', 'landed-fish', 'air', 'water'] as const)
      for (const meant of unlikelyTemperature(c, place)?.meantC ?? []) expect(unlikelyTemperature(meant, place), `${c} ${place}`).toBeNull();
  });
});
