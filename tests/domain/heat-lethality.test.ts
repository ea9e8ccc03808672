import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { longestHold } from '../../server/domain/heat/hold.ts';
import { lethalRate, lethality, REFERENCES, segmentMinutes } from '../../server/domain/heat/lethality.ts';
import type { Reading } from '../../server/domain/heat/series.ts';
import { fToC } from '../../server/domain/units.ts';
import { DomainError } from '../../server/domain/working.ts';

const start = Date.parse('2026-06-01T10:00:00Z');
const log = (points: readonly (readonly [minute: number, celsius: number | null])[]): Reading[] => points.map(([minute, celsius]) => ({ at: new Date(start + minute * 60_000), celsius }));
const steady = (celsius: number, minutes: number, every = 1) => log(Array.from({ length: minutes / every + 1 }, (_, i) => [i * every, celsius] as const));
const ramp = (fromC: number, toC: number, minutes: number, every: number) => log(Array.from({ length: minutes / every + 1 }, (_, i) => [i * every, fromC + ((toC - fromC) * i * every) / minutes] as const));
const rows = (name: string) => readFileSync(new URL(`tables/${name}.csv`, import.meta.url), 'utf8').trim().split('\n').slice(1).map((line) => line.split(',').map((cell) => (cell === '' ? null : Number(cell))));

/** A core that moves by up to 4 C from one reading to the next: no leaps for the probe to be blamed for. */
const walk = (minLength: number, lowC: number, highC: number) => fc.tuple(fc.double({ min: lowC, max: highC, noNaN: true }), fc.array(fc.double({ min: -4, max: 4, noNaN: true }), { minLength: minLength - 1, maxLength: 29 }))
  .map(([first, moves]) => moves.reduce((cores, move) => [...cores, Math.min(highC, Math.max(lowC, cores.at(-1)! + move))], [first]));

describe('lethality', () => {
  it('a ramp from 50 to 70 C in 20 minutes is 3.2502 minutes (models.md, computed), exact however seldom it is read', () => {
    for (const every of [1, 2, 5, 10]) expect(lethality({ readings: ramp(50, 70, 20, every) }).equivalentMinutes).toBeCloseTo(3.2502, 4);
  });

  it('the trapezoid gives 3.2757 minute by minute and 3.8647 every five, for comparison (models.md, computed)', () => {
    expect(lethality({ readings: ramp(50, 70, 20, 1) }).trapezoidMinutes).toBeCloseTo(3.2757, 4);
    expect(lethality({ readings: ramp(50, 70, 20, 5) }).trapezoidMinutes).toBeCloseTo(3.8647, 4);
  });

  it('thirty minutes at 62.78 C, which is 145 F, are 3.267 (models.md)', () => {
    expect(lethality({ readings: steady(fToC(145), 30) }).equivalentMinutes).toBeCloseTo(3.267, 3);
  });

  it('thirty minutes at 62.78 C as it is printed are 3.269: the published 3.267 is of 145 F, which is 62.778 C (models.md, 0.1 % apart)', () => {
    const found = lethality({ readings: steady(62.78, 30) }).equivalentMinutes;
    // 30 x 10^((62.78 - 70)/7.5) by hand; the limit of smoke.core, 62.8 C, gives no less.
    expect(found).toBeCloseTo(3.2693, 4);
    expect(Math.abs(found / 3.267 - 1)).toBeLessThan(0.001);
    expect(lethality({ readings: steady(62.8, 30) }).equivalentMinutes).toBeGreaterThan(found);
  });

  it('every row of the Listeria table (tables/lethality-listeria.csv, HG table A-3, from memory)', () => {
    for (const [celsius, rate, minutes] of rows('lethality-listeria')) {
      expect(lethalRate(celsius!, 'listeria')).toBeCloseTo(rate!, 3);
      // The minutes were rounded from rates rounded before, up to 0.15 off at 63 C.
      expect(Math.abs(2 / lethalRate(celsius!, 'listeria') - minutes!)).toBeLessThan(celsius === 63 ? 0.16 : 0.09);
    }
  });

  it('every row of the botulinum table (tables/lethality-nonproteolytic-botulinum-b.csv: HG table A-4, from memory; UK FSA)', () => {
    for (const [celsius, rate, fdaMinutes, ukMinutes] of rows('lethality-nonproteolytic-botulinum-b')) {
      const minutes = (organism: 'botulinum-fda' | 'botulinum-uk') => REFERENCES[organism].sixDMinutes / lethalRate(celsius!, organism);
      if (rate !== null && rate !== undefined) {
        expect(Math.abs(lethalRate(celsius!, 'botulinum-fda') / rate - 1)).toBeLessThan(0.011);
        // Rounded to a tenth, or from a rate rounded before.
        expect(Math.abs(minutes('botulinum-fda') - fdaMinutes!)).toBeLessThan(Math.max(0.051, 0.011 * fdaMinutes!));
      }
      expect(Math.abs(minutes('botulinum-uk') - ukMinutes!)).toBeLessThanOrEqual(ukMinutes! < 10 ? 0.06 : 0.5);
    }
  });

  it('two minutes at 70 C is met, a second less is not (rules.md smoke.lethality)', () => {
    expect(lethality({ readings: log([[0, 70], [2, 70]]) }).state).toBe('met');
    expect(lethality({ readings: log([[0, 70], [2 - 1 / 60, 70]]) })).toMatchObject({ state: 'not-met', found: '1.98 minutes at 70 C' });
  });

  it('counts nothing in a gap and says so', () => {
    const found = lethality({ readings: log([[0, 70], [1, 70], [31, 70], [31.5, 70]]) });
    expect(found.equivalentMinutes).toBeCloseTo(1.5, 9);
    expect(found).toMatchObject({ state: 'not-met', gaps: [{ minutes: 30 }], recordedMinutes: 1.5 });
  });

  it('splits a line where it crosses the reference and z changes', () => {
    const fine = Array.from({ length: 2000 }, (_, i) => lethalRate(85 + (i + 0.5) / 200, 'botulinum-fda') / 200).reduce((a, b) => a + b);
    expect(segmentMinutes(85, 95, 10, 'botulinum-fda')).toBeCloseTo(fine, 4);
  });

  it('hotter is never less lethal, and cutting a log up changes nothing', () => {
    fc.assert(fc.property(walk(2, 20, 84), fc.double({ min: 0, max: 1, noNaN: true }), fc.nat(), (cores, hotter, pick) => {
      const of = (list: readonly number[]) => lethality({ readings: log(list.map((celsius, i) => [i * 3, celsius] as const)) }).equivalentMinutes;
      const raised = cores.map((celsius, i) => (i === pick % cores.length ? celsius + hotter : celsius));
      expect(of(raised)).toBeGreaterThanOrEqual(of(cores) * (1 - 1e-12));
      const halved = cores.flatMap((celsius, i) => (i === 0 ? [celsius] : [(cores[i - 1]! + celsius) / 2, celsius]));
      const other = lethality({ readings: log(halved.map((celsius, i) => [i * 1.5, celsius] as const)) }).equivalentMinutes;
      expect(Math.abs(other - of(cores))).toBeLessThanOrEqual(1e-9 * (1 + other));
    }));
  });

  it('leaves out probe errors and flags them', () => {
    for (const bad of [-999, 999, -127, null, Number.NaN, 9999]) {
      const found = lethality({ readings: log([[0, 70], [1, bad], [2, 70]]) });
      expect(found.flags.map(({ kind }) => kind), String(bad)).toEqual(['probe-error']);
      expect(found.equivalentMinutes).toBeCloseTo(2, 9);
    }
  });

  it('judges nothing on a log with Fahrenheit in it, nor on a core hotter than is usual until the unit is confirmed', () => {
    expect(lethality({ readings: steady(145, 30) })).toMatchObject({ state: 'not-recorded', equivalentMinutes: 0 });
    expect(lethality({ readings: log([[0, 40], [5, 80], [10, 145]]) })).toMatchObject({ state: 'not-recorded', found: 'The unit of the log is in doubt.' });
    const hot = log([[0, 80], [5, 90], [10, 90]]);
    expect(lethality({ readings: hot }).state).toBe('not-recorded');
    expect(lethality({ readings: hot, unitConfirmed: true }).state).toBe('met');
  });

  it('one leap of a probe makes nothing lethal, within a log or at its ends', () => {
    for (const points of [[[0, 55], [1, 84], [2, 55]], [[0, 84], [1, 55], [2, 55]], [[0, 55], [1, 55], [2, 84]]] as const) {
      const found = lethality({ readings: log(points) });
      expect(found.flags.map(({ kind }) => kind)).toEqual(['spike']);
      expect(found.equivalentMinutes).toBeLessThan(0.1);
    }
    // What a probe writes when it has just been switched on is doubted even when it stays.
    expect(lethality({ readings: steady(85, 10) }).state).toBe('not-recorded');
  });

  it('is not recorded without two readings that join, and refuses what is no time', () => {
    for (const points of [[], [[0, 80]], [[0, 80], [20, 80]]] as const) expect(lethality({ readings: log(points) }).state).toBe('not-recorded');
    expect(() => lethality({ readings: [{ at: 'yesterday', celsius: 70 }] })).toThrow(DomainError);
    expect(() => lethality({ readings: [], maxGapMinutes: 60 })).toThrow(DomainError);
  });
});

describe('the hold', () => {
  it('exactly 62.8 C for exactly 30 minutes is met, a second or a tenth short is not (rules.md smoke.core)', () => {
    expect(longestHold({ readings: steady(62.8, 30) })).toMatchObject({ state: 'met', longestMinutes: 30 });
    expect(longestHold({ readings: steady(62.7, 60) })).toMatchObject({ state: 'not-met', longestMinutes: 0, maxCoreC: 62.7, fromAt: null });
    expect(longestHold({ readings: log([[0, 62.8], [10, 63], [20, 63], [30 - 1 / 60, 63]]) })).toMatchObject({ state: 'not-met', found: '29.9 minutes at 62.8 C or more, when the log ends' });
  });

  it('a log that ends before the hold is complete is not met', () => {
    expect(longestHold({ readings: ramp(50, 65, 40, 1) })).toMatchObject({ state: 'not-met', endsInHold: true });
  });

  it('finds crossings on straight lines between readings', () => {
    const found = longestHold({ readings: log([[0, 61.8], [10, 63.8], [20, 63.8], [30, 63.8], [40, 63.8], [50, 61.8]]) });
    expect(found.longestMinutes).toBeCloseTo(40, 9);
    expect(found).toMatchObject({ state: 'met', fromAt: '2026-06-01T10:05:00.000Z', toAt: '2026-06-01T10:45:00.000Z', endsInHold: false });
  });

  it('a dip and a gap each end a hold; the longest counts, not the sum', () => {
    const dip = log([[0, 64], [10, 64], [20, 64], [25, 62], [30, 64], [40, 64], [50, 64]]);
    expect(longestHold({ readings: dip })).toMatchObject({ state: 'not-met' });
    const gap = log([[0, 64], [10, 64], [20, 64], [31, 64], [40, 64], [50, 64]]);
    expect(longestHold({ readings: gap })).toMatchObject({ state: 'not-met', longestMinutes: 20, gaps: [{ minutes: 11 }], whatToDo: expect.stringContaining('gap') });
    // Rising over the gap, the crossing is not guessed at either.
    expect(longestHold({ readings: log([[0, 40], [20, 70], [30, 70]]) }).longestMinutes).toBe(10);
  });

  it('readings out of order are put in their place and flagged, never left out to a hold\'s gain', () => {
    const cold = log([[0, 64], [10, 64], [20, 64], [30, 64], [15, 40]]);
    const found = longestHold({ readings: cold });
    expect(found.state).toBe('not-met');
    expect(found.flags.map(({ kind }) => kind)).toEqual(['out-of-order']);
  });

  it('duplicates count once, and of two readings at one time the colder counts', () => {
    const found = longestHold({ readings: [...steady(64, 30, 10), ...log([[30, 64], [20, 50]])] });
    expect(found.flags.map(({ kind }) => kind)).toEqual(['out-of-order', 'conflict', 'duplicate']);
    expect(found.state).toBe('not-met');
  });

  it('a leap down ends a hold and a leap up makes none', () => {
    expect(longestHold({ readings: log([[0, 64], [10, 64], [15, 40], [20, 64], [30, 64]]) })).toMatchObject({ state: 'not-met', flags: [] });
    const up = longestHold({ readings: log([[0, 50], [10, 50], [20, 64], [30, 50]]) });
    expect(up).toMatchObject({ longestMinutes: 0, flags: [{ kind: 'spike' }, { kind: 'gap' }] });
  });

  it('a hold needs readings through a failed probe as through any gap', () => {
    expect(longestHold({ readings: log([[0, 64], [10, 64], [15, -999], [20, 64], [30, 64]]) }).state).toBe('met');
    expect(longestHold({ readings: log([[0, 64], [10, 64], [20, -999], [30, 64]]) })).toMatchObject({ state: 'not-met', longestMinutes: 10 });
    expect(longestHold({ readings: log([[0, -999], [10, -999]]) }).state).toBe('not-recorded');
  });

  it('Fahrenheit typed as Celsius is flagged and never met', () => {
    const found = longestHold({ readings: steady(150, 40) });
    expect(found.state).toBe('not-recorded');
    expect(found.flags[0]).toMatchObject({ kind: 'fahrenheit' });
  });

  it('a club may tighten the limits and never loosen them', () => {
    expect(longestHold({ readings: steady(64, 30), neededMinutes: 45 }).state).toBe('not-met');
    expect(longestHold({ readings: steady(64, 60), limitC: 65.6 }).state).toBe('not-met');
    for (const loose of [{ limitC: 60 }, { neededMinutes: 20 }]) expect(() => longestHold({ readings: [], ...loose })).toThrow(DomainError);
  });

  it('taking readings away never lengthens a hold that had no shorter step', () => {
    fc.assert(fc.property(walk(3, 55, 70), fc.nat(), (cores, pick) => {
      const all = log(cores.map((celsius, i) => [i * 8, celsius] as const));
      // Without one reading in the middle there is a gap of 16 minutes: nothing may be gained by it.
      const fewer = all.filter((_, i) => i !== 1 + (pick % (cores.length - 2)));
      expect(longestHold({ readings: fewer }).longestMinutes).toBeLessThanOrEqual(longestHold({ readings: all }).longestMinutes + 1e-9);
    }));
  });
});
