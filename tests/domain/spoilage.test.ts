import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { keepingTime, listeriaGrowthAt, spoilageUsed, warmSpellCost } from '../../server/domain/spoilage.ts';
import { refused } from '../support/refused.ts';

const START = Date.UTC(2026, 5, 1);
/** Readings [hour, celsius]. */
const log = (...readings: [number, number | null][]) => readings.map(([hour, celsius]) => ({ at: new Date(START + hour * 3_600_000), celsius }));
const hourly = (hours: number, celsius: (hour: number) => number) => log(...Array.from({ length: hours + 1 }, (_, hour): [number, number] => [hour, celsius(hour)]));

describe('rates (FAO FTP 348)', () => {
  it.each([[5, 4.4], [10, 2.5], [15, 1.6], [0, 10]])('an iced life of 10 days is, at %d C, %d days (models.md)', (temperatureC, days) => {
    expect(Math.round(keepingTime({ icedLifeDays: 10, temperatureC }).days * 10) / 10).toBe(days);
  });

  it('one warm afternoon: 5 hours at 12 C instead of 1 C cost 0.756 days (computed)', () => {
    expect(warmSpellCost({ usualC: 1, warmC: 12, hours: 5 })).toMatchObject({ usedDays: 1.008, extraDays: 0.756 });
  });

  it.each([[{ usualC: 1, warmC: 20, hours: 5 }, 'warmC'], [{ usualC: -1, warmC: 5, hours: 5 }, 'usualC'], [{ usualC: 1, warmC: 5, hours: -1 }, 'hours'], [{ usualC: 1, warmC: 53.6, hours: 1 }, 'warmC']])('refuses %j rather than stretch it', (input, field) => {
    expect(refused(() => warmSpellCost(input)).field).toBe(field);
  });

  it.each([[0.075, 4, 0.1068], [5.4 / 21, 8, 0.1165], [0.5 / 20, 4, 0.0356]])('Listeria %d log/day at %d C is %d at 5 C (US risk assessment, appendix 8)', (logPerDay, atC, published) => {
    expect(listeriaGrowthAt({ logPerDay, atC, toC: 5 })).toMatchObject({ informationOnly: true });
    expect(listeriaGrowthAt({ logPerDay, atC, toC: 5 }).logPerDay).toBeCloseTo(published, 4);
  });

  it('refuses Listeria outside 0 to 15 C', () => {
    expect(refused(() => listeriaGrowthAt({ logPerDay: 1, atC: -1.18, toC: 5 })).field).toBe('atC');
    expect(refused(() => listeriaGrowthAt({ logPerDay: 1, atC: 5, toC: 41 })).field).toBe('toC');
  });
});

describe('spoilageUsed', () => {
  it('2 days at 0, 1 at 5 and half a day at 10 C are 6.25 days on ice (FAO FTP 348, worked)', () => {
    const steps = log([0, 0], [48, 0], [48.0001, 5], [72, 5], [72.0001, 10], [84, 10]);
    const answer = spoilageUsed({ readings: steps, longestGapMinutes: 720, icedLifeDays: 10 });
    // A day between two readings is a gap here; the same hour by hour is not.
    expect(answer.usedWithGapsDays).toBeCloseTo(6.25, 2);
    const full = spoilageUsed({ readings: [...hourly(48, () => 0), ...log([48.0001, 5], ...Array.from({ length: 24 }, (_, i): [number, number] => [49 + i, 5]), [72.0001, 10], ...Array.from({ length: 12 }, (_, i): [number, number] => [73 + i, 10]))], icedLifeDays: 10 });
    expect(full.usedDays).toBeCloseTo(6.25, 2);
    expect(full).toMatchObject({ isComplete: true, isAtLeast: false, gaps: [], loggedHours: 84 });
    expect(full.leftDays).toBeCloseTo(3.75, 2);
  });

  it('flags gaps and leaves them out', () => {
    const answer = spoilageUsed({ readings: log([0, 2], [1, 2], [9, 8], [10, 2]) });
    expect(answer.gaps).toEqual([{ fromAt: new Date(START + 3_600_000).toISOString(), toAt: new Date(START + 9 * 3_600_000).toISOString(), hours: 8, mayAddDays: 1.08 }]);
    expect(answer).toMatchObject({ isComplete: false, loggedHours: 2 });
    expect(answer.usedDays).toBeLessThan(0.2);
    expect(answer.notes.join(' ')).toContain('8 hours');
  });

  it('finds the spells that cost most', () => {
    const answer = spoilageUsed({ readings: hourly(48, (hour) => (hour >= 13 && hour <= 17 ? 12 : hour === 30 ? 7 : 1)) });
    expect(answer.warmest).toHaveLength(2);
    expect(answer.warmest[0]).toMatchObject({ fromAt: new Date(START + 12 * 3_600_000).toISOString(), highestC: 12 });
    expect(answer.warmest[0]!.extraDays).toBeGreaterThan(answer.warmest[1]!.extraDays);
  });

  it('drops what a broken probe wrote, sorts what is out of order, counts twins once', () => {
    const clean = spoilageUsed({ readings: hourly(6, () => 4) });
    const dirty = spoilageUsed({ readings: log([0, 4], [2, 4], [1, 4], [3, 4], [3, 4], [3.5, -999], [4, 4], [5, 4], [5.5, null], [6, 4]) });
    expect(dirty.usedDays).toBe(clean.usedDays);
    expect(dirty.flags.map((flag) => flag.kind).sort()).toEqual(['duplicate', 'out-of-order', 'probe-error', 'probe-error']);
    expect(dirty.isComplete).toBe(false);
  });

  it('does not judge a log that looks like Fahrenheit', () => {
    const answer = spoilageUsed({ readings: hourly(6, () => 38), icedLifeDays: 10 });
    expect(answer).toMatchObject({ leftDays: null, isComplete: false, usedDays: 0 });
    expect(answer.notes.join(' ')).toContain('Fahrenheit');
  });

  it('says "more than" above 15 C, counts cold as ice, and stands still when frozen', () => {
    expect(spoilageUsed({ readings: hourly(24, () => 20) })).toMatchObject({ usedDays: 6.25, isAtLeast: true });
    expect(spoilageUsed({ readings: hourly(24, () => -1) })).toMatchObject({ usedDays: 1, frozenHours: 0 });
    expect(spoilageUsed({ readings: hourly(24, () => -18) })).toMatchObject({ usedDays: 0, frozenHours: 24 });
  });

  it('hotter and longer never use up less', () => {
    fc.assert(fc.property(fc.array(fc.double({ min: -5, max: 25, noNaN: true }), { minLength: 2, maxLength: 60 }), fc.double({ min: 0, max: 5, noNaN: true }), (temperatures, warmer) => {
      const used = (list: readonly number[]) => spoilageUsed({ readings: hourly(list.length - 1, (hour) => list[hour]!) }).usedDays;
      expect(used(temperatures.map((celsius) => celsius + warmer))).toBeGreaterThanOrEqual(used(temperatures) - 0.001);
      expect(used([...temperatures, 4])).toBeGreaterThanOrEqual(used(temperatures));
    }), { numRuns: 60 });
  });

  it('says so when there is nothing to reckon, and is plain data', () => {
    expect(spoilageUsed({ readings: [], icedLifeDays: 10 })).toMatchObject({ usedDays: 0, leftDays: null, isComplete: false });
    expect(spoilageUsed({ readings: log([0, 3]) }).notes[0]).toContain('not two usable readings');
    const answer = spoilageUsed({ readings: hourly(5, () => 3) });
    expect(JSON.parse(JSON.stringify(answer))).toEqual(answer);
    expect(refused(() => spoilageUsed({ readings: [{ at: 'yesterday', celsius: 3 }] })).code).toBe('series.time');
    expect(refused(() => spoilageUsed({ readings: [], icedLifeDays: -1 })).field).toBe('icedLifeDays');
  });
});
