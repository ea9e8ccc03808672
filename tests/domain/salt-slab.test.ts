import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { foForMeanLeft, leftAt, meanLeft, shortTimeMeanLeft } from '../../server/domain/salt/crank.ts';
import { limitedVolume } from '../../server/domain/salt/limited-volume.ts';
import { layerCentres, LAYERS, meanOf, moveOpen, moveSealed } from '../../server/domain/salt/slab-grid.ts';

const fos = fc.double({ min: 1e-6, max: 5, noNaN: true });
const parts = fc.double({ min: 0, max: 1, noNaN: true });

describe('a slab with its surface kept at one strength (Crank 1975; Newman 1931)', () => {
  it.each([[0.01, 0.8872], [0.05, 0.7477], [0.1, 0.6432], [0.2, 0.4959], [0.4, 0.3021], [0.6, 0.1844], [1, 0.0687]])('Fo %d leaves %d of the mean (models.md, computed)', (fo, left) => {
    expect(meanLeft(fo)).toBeCloseTo(left, 4);
  });

  it.each([[0.1, 0.9493], [0.3, 0.6068], [0.5, 0.3708], [1, 0.108]])('Fo %d leaves %d at the centre (models.md, computed)', (fo, left) => {
    expect(leftAt(fo, 0)).toBeCloseTo(left, 4);
  });

  it('the short-time form holds for Fo below 0.2 (models.md)', () => {
    for (const fo of [0.001, 0.05, 0.1, 0.199]) expect(Math.abs(shortTimeMeanLeft(fo) - meanLeft(fo))).toBeLessThan(0.0006);
    expect(Math.abs(meanLeft(0.05 - 1e-12) - meanLeft(0.05))).toBeLessThan(1e-8);
  });

  it('only ever goes on, everywhere, and the mean of the places is the mean', () => {
    fc.assert(fc.property(fos, fos, parts, (a, b, x) => {
      const [sooner, later] = [Math.min(a, b), Math.max(a, b)];
      expect(meanLeft(later)).toBeLessThanOrEqual(meanLeft(sooner) + 1e-9);
      expect(leftAt(later, x)).toBeLessThanOrEqual(leftAt(sooner, x) + 1e-9);
      expect(leftAt(later, x)).toBeLessThanOrEqual(leftAt(later, 0) + 1e-9);
    }));
    for (const fo of [0.01, 0.2, 1]) expect(meanOf(layerCentres().map((x) => leftAt(fo, x)))).toBeCloseTo(meanLeft(fo), 3);
  });

  it('turns back what it turns', () => {
    fc.assert(fc.property(fos, (fo) => {
      const left = meanLeft(fo);
      if (left > 1e-4) expect(meanLeft(foForMeanLeft(left))).toBeCloseTo(left, 8);
    }));
    expect(meanLeft(0)).toBe(1);
    expect(leftAt(0, 0.5)).toBe(1);
    expect(leftAt(0, 1)).toBe(0);
  });
});

describe('a slab in a brine that is used up (Crank 1975, limited volume)', () => {
  it.each([
    [0.5, 0.01, 0.2865, null], [0.5, 0.1, 0.6696, 0.1154], [0.5, 0.5, 0.9611, 0.8818], [1, 0.1, 0.5528, 0.0876], [1, 0.5, 0.9164, 0.811],
    [3, 0.01, 0.1461, null], [3, 0.1, 0.4346, 0.0643], [3, 0.5, 0.8392, 0.7122],
  ] as const)('ratio %d, Fo %d: %d of the end taken, centre at %d (finite differences, computed independently)', (ratio, fo, taken, centre) => {
    const slab = limitedVolume(ratio);
    expect(slab.taken(fo)).toBeCloseTo(taken, 3);
    if (centre !== null) expect(slab.reachedAt(fo, 0)).toBeCloseTo(centre, 3);
  });

  it('with very much brine it is the slab whose surface stays as it is', () => {
    const slab = limitedVolume(1e4);
    for (const fo of [1e-5, 0.001, 0.05, 0.3, 1]) expect(slab.taken(fo)).toBeCloseTo(1 - meanLeft(fo), 3);
    for (const fo of [0.05, 0.3, 1]) expect(slab.reachedAt(fo, 0.4)).toBeCloseTo(1 - leftAt(fo, 0.4), 3);
  });

  it('joins its two forms, never goes back and ends at 1', () => {
    for (const ratio of [0.06, 0.5, 3, 50]) {
      const slab = limitedVolume(ratio);
      expect(Math.abs(slab.taken(1e-4 - 1e-12) - slab.taken(1e-4))).toBeLessThan(1e-4);
      let before = 0;
      for (let fo = 1e-6; fo < 20; fo *= 1.3) {
        const taken = slab.taken(fo);
        expect(taken).toBeGreaterThanOrEqual(before - 1e-9);
        before = taken;
      }
      expect(before).toBeCloseTo(1, 6);
    }
  });

  it('the places add up to what was taken', () => {
    const slab = limitedVolume(0.7);
    for (const fo of [0.02, 0.2, 1]) expect(meanOf(layerCentres().map((x) => slab.reachedAt(fo, x)))).toBeCloseTo(slab.taken(fo), 3);
  });
});

describe('a slab moved on layer by layer (Crank 1975, cosine series)', () => {
  const even = new Array<number>(LAYERS).fill(1);

  it('with its surface at nothing it follows the published series', () => {
    for (const fo of [0.05, 0.1, 0.4, 1]) {
      expect(Math.abs(meanOf(moveOpen(even, 0, fo)) - meanLeft(fo))).toBeLessThan(0.001);
      expect(moveOpen(even, 0, fo)[0]).toBeCloseTo(leftAt(fo, 0.5 / LAYERS), 3);
    }
  });

  it('sealed it keeps its salt and flattens', () => {
    fc.assert(fc.property(fc.array(fc.double({ min: 0, max: 26, noNaN: true }), { minLength: LAYERS, maxLength: LAYERS }), fc.double({ min: 1e-3, max: 3, noNaN: true }), (layers, fo) => {
      const moved = moveSealed(layers, fo);
      expect(meanOf(moved)).toBeCloseTo(meanOf(layers), 8);
      expect(Math.max(...moved)).toBeLessThanOrEqual(Math.max(...layers) + 1e-9);
      expect(Math.min(...moved)).toBeGreaterThanOrEqual(Math.min(...layers) - 1e-9);
    }));
  });

  it('two steps are one step', () => {
    const layers = layerCentres().map((x) => x * x);
    const [twice, once] = [moveSealed(moveSealed(layers, 0.03), 0.05), moveSealed(layers, 0.08)];
    for (let layer = 0; layer < LAYERS; layer++) expect(twice[layer]).toBeCloseTo(once[layer]!, 9);
    expect(moveOpen(layers, 5, 0)).toEqual(layers);
  });

  it('a cosine fades as exp(-pi^2 Fo) when sealed (exact)', () => {
    const moved = moveSealed(layerCentres().map((x) => Math.cos(Math.PI * x)), 0.1);
    expect(moved[0]).toBeCloseTo(Math.exp(-(Math.PI ** 2) * 0.1) * Math.cos((Math.PI * 0.5) / LAYERS), 9);
  });
});
