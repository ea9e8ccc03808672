import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coolingChecks } from '../../server/domain/heat/cooling-checks.ts';
import type { CoolingInput } from '../../server/domain/heat/cooling-checks.ts';
import { COOLING_LIMITS, forecastCooling } from '../../server/domain/heat/cooling-forecast.ts';
import type { CoolingForecastInput } from '../../server/domain/heat/cooling-forecast.ts';
import { DomainError } from '../../server/domain/working.ts';

const start = Date.parse('2026-06-01T15:00:00Z');
const at = (minute: number) => new Date(start + minute * 60_000);
type Point = readonly [minute: number, celsius: number | null];
/** Straight lines between the points, read every five minutes. */
const log = (...points: Point[]) => {
  const list = [];
  for (let minute = 0; minute <= points.at(-1)![0]; minute += 5) {
    const after = points.findIndex(([m]) => m >= minute);
    const [m1, c1] = points[after]!;
    const [m0, c0] = points[Math.max(0, after - 1)]!;
    list.push({ at: at(minute), celsius: m1 === m0 ? c1 : c0! + ((c1! - c0!) * (minute - m0)) / (m1 - m0) });
  }
  return list;
};
const states = (readings: CoolingInput['readings'], change: Partial<CoolingInput> = {}) => coolingChecks({ readings, kind: 'smoked', ...change }).checks.map(({ state }) => state);

describe('the cooling checks', () => {
  it('57 to 21 C in exactly 2 hours and to 5 C in exactly 6 is met; a minute more is not (rules.md cool.fc, FC 3-501.14)', () => {
    const good = coolingChecks({ readings: log([0, 57], [120, 21], [360, 5], [370, 4]), kind: 'smoked' });
    expect(good.checks.slice(0, 2)).toMatchObject([{ ruleId: 'cool.fc', state: 'met', minutes: 120, found: '2 h 0 min' }, { state: 'met', minutes: 360 }]);
    expect(states(log([0, 57], [125, 21], [360, 5])).slice(0, 2)).toEqual(['not-met', 'met']);
    expect(states(log([0, 57], [120, 21], [365, 5])).slice(0, 2)).toEqual(['met', 'not-met']);
  });

  it('60 to 21 C in 2 hours and to 4.4 C in a further 4 (rules.md cool.hg, from memory); cool.fc can hold where it does not', () => {
    expect(states(log([0, 62], [10, 60], [130, 21], [370, 4.4], [380, 4]))).toEqual(['met', 'met', 'met', 'met']);
    expect(states(log([0, 62], [10, 60], [30, 57], [150, 21], [390, 5], [600, 4]))).toEqual(['met', 'met', 'not-met', 'not-met']);
  });

  it('counts from the hottest reading on, not from the way up', () => {
    expect(states(log([0, 10], [120, 66], [180, 66], [200, 60], [300, 20], [480, 4]))).toEqual(['met', 'met', 'met', 'met']);
  });

  it('what began cold, or was cold for a moment, and stood warm is not cold yet; a wander of 2 C changes nothing (rules.md cool.ambient, cool.fc: FC 3-501.14)', () => {
    const dip = { kind: 'ambient', startedAt: at(0) } as const;
    expect(states(log([0, 3], [20, 3], [25, 20], [330, 20], [340, 3]), dip)).toEqual(['not-met']);
    expect(states(log([0, 15], [60, 4], [120, 4], [125, 20], [400, 20]), dip)).toEqual(['not-met']);
    expect(states(log([0, 15], [60, 4], [120, 4], [125, 20], [200, 20]), dip)).toEqual(['not-recorded']);
    expect(states(log([0, 15], [60, 4], [120, 4], [130, 6.9], [140, 4], [400, 4]), dip)).toEqual(['met']);
    // Out of the fish for ten minutes, and back in it.
    expect(states(log([0, 57], [60, 40], [65, 20], [75, 20], [80, 39], [150, 21], [350, 5], [355, 4])).slice(0, 2)).toEqual(['not-met', 'met']);
  });

  it('a log that begins cold, long after mixing, does not say when it got cold: neither met nor not met (cool.ambient FC 3-501.14(B))', () => {
    expect(states([300, 310, 320].map((minute) => ({ at: at(minute), celsius: 3 })), { kind: 'ambient', startedAt: at(0) })).toEqual(['not-recorded']);
    expect(states([230, 240, 250].map((minute) => ({ at: at(minute), celsius: 3 })), { kind: 'ambient', startedAt: at(0) })).toEqual(['met']);
  });

  it('to 5 C within 4 hours from mixing at room temperature (rules.md cool.ambient, FC 3-501.14(B))', () => {
    expect(states(log([0, 20], [240, 5], [250, 4]), { kind: 'ambient' })).toEqual(['met']);
    expect(states(log([0, 20], [245, 5], [250, 4]), { kind: 'ambient' })).toEqual(['not-met']);
    expect(states(log([0, 20], [240, 5], [250, 4]), { kind: 'ambient', startedAt: at(-10) })).toEqual(['not-met']);
  });

  it('is not recorded when the log begins too cool, unless somebody says when smoking ended', () => {
    const late = log([0, 40], [60, 20], [200, 4]);
    expect(states(late)).toEqual(['not-recorded', 'not-recorded', 'not-recorded', 'met']);
    expect(states(late, { startedAt: at(-50) })).toEqual(['met', 'met', 'met', 'met']);
    expect(states(late, { startedAt: at(-70) })).toEqual(['not-met', 'met', 'not-met', 'met']);
    expect(states([])).toEqual(['not-recorded', 'not-recorded', 'not-recorded', 'not-recorded']);
  });

  it('a log that ends too warm is open while there is time and not met after', () => {
    expect(states(log([0, 60], [60, 30])).slice(0, 2)).toEqual(['not-recorded', 'not-recorded']);
    const slow = coolingChecks({ readings: log([0, 60], [200, 30]), kind: 'smoked' });
    expect(slow.state).toBe('not-met');
    expect(slow.checks[0]).toMatchObject({ state: 'not-met', minutes: null, found: expect.stringContaining('30 C when the log ends') });
  });

  it('a gap never helps: starts count early and ends late in it', () => {
    const sparse = (...points: Point[]) => points.map(([minute, celsius]) => ({ at: at(minute), celsius }));
    // 21 C fell somewhere between minutes 90 and 130: open, so not a pass.
    expect(coolingChecks({ readings: sparse([0, 57], [10, 55], [90, 30], [130, 15], [350, 4]), kind: 'smoked' }).checks[0]).toMatchObject({ state: 'not-recorded', found: expect.stringContaining('gap') });
    // cool.fc is what holds a batch; the second rule, open, holds none and says only that (rules.md: cool.fc decides).
    const open = coolingChecks({ readings: sparse([0, 61], [10, 55], [90, 30], [130, 15], [140, 14], [350, 6], [390, 3]), kind: 'smoked' }).checks;
    expect(open.map((c) => [c.ruleId, c.part, c.state, c.whatToDo])).toEqual([
      ['cool.fc', 'to-21', 'not-recorded', 'The gap leaves it open. Hold it.'], ['cool.fc', 'to-end', 'not-recorded', 'The gap leaves it open. Hold it.'],
      ['cool.hg', 'to-21', 'not-recorded', 'The gap leaves it open.'], ['cool.hg', 'to-end', 'not-recorded', 'The gap leaves it open.'],
    ]);
    // However late in the gap, it was in time.
    expect(states(sparse([0, 57], [10, 55], [90, 30], [115, 15], [350, 4])).slice(0, 2)).toEqual(['met', 'met']);
    // However early in it, it was too late.
    expect(states(sparse([0, 57], [10, 55], [125, 30], [150, 15], [350, 4]))[0]).toBe('not-met');
  });

  it('a failed probe is no reading, of two readings at one time the warmer counts, and Fahrenheit is not judged', () => {
    const good = log([0, 57], [115, 21], [355, 4.4], [370, 4]);
    const failed = coolingChecks({ readings: [...good, { at: at(371), celsius: -999 }], kind: 'smoked' });
    expect(failed.flags.map(({ kind }) => kind)).toEqual(['probe-error']);
    expect(failed.checks[0]!.state).toBe('met');
    const conflict = coolingChecks({ readings: [...good, { at: at(115), celsius: 25 }], kind: 'smoked' });
    expect(conflict.flags.map(({ kind }) => kind)).toEqual(['out-of-order', 'conflict']);
    expect(conflict.checks[0]!.minutes!).toBeGreaterThan(115);
    expect(states(log([0, 135], [110, 70], [300, 41]))).toEqual(['not-recorded', 'not-recorded', 'not-recorded', 'not-recorded']);
  });

  it('warmer readings never turn not met into met', () => {
    const core = fc.array(fc.double({ min: 0, max: 70, noNaN: true }), { minLength: 2, maxLength: 40 });
    fc.assert(fc.property(core, fc.double({ min: 0, max: 5, noNaN: true }), (list, warmer) => {
      const cooling = [...list].sort((a, b) => b - a);
      const of = (add: number) => coolingChecks({ readings: cooling.map((celsius, i) => ({ at: at(i * 10), celsius: celsius + add })), kind: 'ambient' }).state;
      if (of(warmer) === 'met') expect(of(0)).toBe('met');
    }));
  });

  it('refuses a start after the first reading, and a kind it does not know', () => {
    expect(() => states(log([0, 57], [100, 20]), { startedAt: at(10) })).toThrow(DomainError);
    expect(() => states([], { kind: 'frozen' as 'smoked' })).toThrow(DomainError);
  });
});

const tray: CoolingForecastInput = { speciesCode: 'king-mackerel', thicknessMm: 40, facesOpen: 'both', startC: 65, stages: [{ medium: 'cabinet', mediumC: 2, minutes: 720 }] };
const forecast = (change: Partial<CoolingForecastInput> = {}) => forecastCooling({ ...tray, ...change });

describe('the cooling forecast', () => {
  it('a deep tray in still air fails and is told to split; the depth it names passes and a millimetre more does not', () => {
    const { passes, deepestMm, advice } = forecast();
    expect(passes).toBe(false);
    expect(advice).toBe(`Split into trays of at most ${deepestMm} mm.`);
    expect(forecast({ thicknessMm: deepestMm! }).passes).toBe(true);
    expect(forecast({ thicknessMm: deepestMm! + 1 }).passes).toBe(false);
  });

  it('an ice bath and moving air let trays be deeper, and heat through one face alone makes them shallower', () => {
    const deepest = (change: Partial<CoolingForecastInput>) => forecast(change).deepestMm!;
    const still = deepest({});
    const fan = deepest({ stages: [{ medium: 'fan-cabinet', mediumC: 2, minutes: 720 }] });
    const ice = deepest({ stages: [{ medium: 'ice-bath', mediumC: 0.5, minutes: 720 }] });
    expect(still).toBeLessThan(fan);
    expect(fan).toBeLessThan(ice);
    expect(deepest({ facesOpen: 'one' })).toBeLessThan(still);
    expect(deepest({ stages: [{ medium: 'room', mediumC: 25, minutes: 60 }, ...tray.stages] })).toBeLessThan(still);
  });

  it('10 to 2 C in ice, 75/100/125 mm, takes 2/4/6.5 h within a fifth (FAO TP 331)', () => {
    for (const [thicknessMm, hours] of [[75, 2], [100, 4], [125, 6.5]] as const) {
      const run = forecast({ speciesCode: 'atlantic-cod', thicknessMm, startC: 10, sampleMinutes: 1, stages: [{ medium: 'ice-bath', mediumC: 0, minutes: 720, heat: { lowWPerM2K: 500, likelyWPerM2K: 500, highWPerM2K: 500 } }] }).likely;
      const reached = run.points.find(({ coreC }) => coreC <= 2)!.minutes / 60;
      expect(Math.abs(reached / hours - 1), `${thicknessMm} mm: ${reached} h`).toBeLessThan(0.2);
    }
  });

  it('says that no depth passes in a warm room', () => {
    expect(forecast({ stages: [{ medium: 'room', mediumC: 22, minutes: 720 }] })).toMatchObject({ passes: false, deepestMm: null, advice: expect.stringContaining('No depth') });
  });

  it('a club that allows less time never has a deeper tray pass', () => {
    const less = (most: number) => fc.integer({ min: 20, max: most });
    const limits = fc.record({ to21Minutes: less(120), to5Minutes: less(360), to4C4Minutes: less(240) });
    const byRule = forecast().deepestMm!;
    fc.assert(fc.property(limits, (club) => {
      expect(forecast({ limits: club }).deepestMm ?? 0).toBeLessThanOrEqual(byRule);
    }), { numRuns: 8 });
    expect(forecast({ limits: { ...COOLING_LIMITS, to21Minutes: 60 } }).deepestMm ?? 0).toBeLessThan(byRule);
  });

  it('deeper is never faster', () => {
    fc.assert(fc.property(fc.double({ min: 3, max: 80, noNaN: true }), fc.double({ min: 0.5, max: 30, noNaN: true }), (thicknessMm, more) => {
      const to21 = (mm: number) => forecast({ thicknessMm: mm }).likely.minutesTo21C ?? Infinity;
      expect(to21(thicknessMm + more)).toBeGreaterThanOrEqual(to21(thicknessMm));
    }), { numRuns: 10 });
  });

  it.each<[Partial<CoolingForecastInput>, string]>([
    [{ thicknessMm: 0 }, 'thicknessMm'], [{ thicknessMm: 500 }, 'thicknessMm'], [{ startC: 149 }, 'startC'], [{ stages: [] }, 'stages'],
    [{ stages: [{ medium: 'cabinet', mediumC: -18, minutes: 60 }] }, 'stages.0.mediumC'], [{ stages: [{ medium: 'cabinet', mediumC: 2, minutes: 0 }] }, 'stages.0.minutes'],
    [{ stages: [{ medium: 'snow' as 'room', mediumC: 2, minutes: 60 }] }, 'stages.0.medium'],
    [{ limits: { ...COOLING_LIMITS, to21Minutes: 121 } }, 'limits.to21Minutes'], [{ limits: { ...COOLING_LIMITS, to4C4Minutes: 0 } }, 'limits.to4C4Minutes'],
  ])('refuses %j', (change, field) => {
    let error: unknown;
    try {
      forecast(change);
    } catch (thrown) {
      error = thrown;
    }
    expect(error).toBeInstanceOf(DomainError);
    expect((error as DomainError).field).toBe(field);
  });
});
