import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addDays, addMonths, daysBetween, earliestDay, formatDay, formatLocal, isDay, isTimeZone, localDay, occurrences, startOfLocalDay, zonedToInstant,
} from '../../server/domain/time.ts';
import { DomainError } from '../../server/domain/working.ts';

const OSLO = 'Europe/Oslo';

describe('local days', () => {
  it('puts an instant on the day of the zone, not of UTC', () => {
    const late = new Date('2025-06-30T23:30:00Z');
    expect(localDay(late, OSLO)).toBe('2025-07-01');
    expect(localDay(late, 'America/New_York')).toBe('2025-06-30');
    expect(localDay(late, 'Pacific/Kiritimati')).toBe('2025-07-01');
  });

  it('counts days across months, leap days and years', () => {
    expect(addDays('2024-02-28', 1)).toBe('2024-02-29');
    expect(addDays('2025-02-28', 1)).toBe('2025-03-01');
    expect(addDays('2025-01-01', -1)).toBe('2024-12-31');
    expect(daysBetween('2025-12-31', '2026-01-02')).toBe(2);
    expect(addMonths('2025-12-31', 2)).toBe('2026-02-28');
    expect(addMonths('2025-10-03', 2)).toBe('2025-12-03');
    expect(earliestDay(['2025-05-02', '2025-04-30', '2025-05-01'])).toBe('2025-04-30');
  });

  it('turns back what it adds', () => {
    fc.assert(fc.property(fc.integer({ min: -20_000, max: 20_000 }), (n) => {
      expect(daysBetween('2025-06-30', addDays('2025-06-30', n))).toBe(n);
    }));
  });

  it.each(['2025-02-29', '2025-13-01', '2025-00-10', '2025-1-1', '25-01-01', '2025-01-32', 'today', '', '2025-01-01T00:00', '9999-01-01'])('refuses %j as a day', (text) => {
    expect(isDay(text)).toBe(false);
    expect(() => addDays(text, 1)).toThrow(DomainError);
  });
});

describe('the clock changes in Oslo on 30 March and 26 October 2025 (EU summer time directive 2000/84/EC)', () => {
  it('refuses 02:30 in spring, which does not exist', () => {
    expect(occurrences({ day: '2025-03-30', time: '02:30' }, OSLO)).toBe(0);
    for (const which of ['reject-gap', 'earlier', 'later'] as const) {
      expect(() => zonedToInstant({ day: '2025-03-30', time: '02:30' }, OSLO, which)).toThrow(/clocks go forward/);
    }
  });

  it('tells the two 02:30 of autumn apart', () => {
    const local = { day: '2025-10-26', time: '02:30' };
    expect(occurrences(local, OSLO)).toBe(2);
    expect(zonedToInstant(local, OSLO).toISOString()).toBe('2025-10-26T00:30:00.000Z');
    expect(zonedToInstant(local, OSLO, 'earlier').toISOString()).toBe('2025-10-26T00:30:00.000Z');
    expect(zonedToInstant(local, OSLO, 'later').toISOString()).toBe('2025-10-26T01:30:00.000Z');
  });

  it('takes an ordinary time once, in summer and in winter', () => {
    expect(occurrences({ day: '2025-03-30', time: '03:00' }, OSLO)).toBe(1);
    expect(zonedToInstant({ day: '2025-03-30', time: '03:00' }, OSLO).toISOString()).toBe('2025-03-30T01:00:00.000Z');
    expect(zonedToInstant({ day: '2025-01-15', time: '14:20' }, OSLO).toISOString()).toBe('2025-01-15T13:20:00.000Z');
  });

  it('makes the days of the change 23 and 25 hours long', () => {
    const hours = (day: string) => (startOfLocalDay(addDays(day, 1), OSLO).getTime() - startOfLocalDay(day, OSLO).getTime()) / 3_600_000;
    expect([hours('2025-03-30'), hours('2025-10-26'), hours('2025-06-01')]).toEqual([23, 25, 24]);
  });

  it('starts a day without a midnight at its first moment (Santiago skips 00:00 on 7 September 2025, tz database)', () => {
    expect(startOfLocalDay('2025-09-07', 'America/Santiago').toISOString()).toBe('2025-09-07T04:00:00.000Z');
    expect(occurrences({ day: '2025-09-07', time: '00:00' }, 'America/Santiago')).toBe(0);
  });
});

describe('writing and reading', () => {
  it('writes times of the zone', () => {
    const at = new Date('2025-06-03T12:20:00Z');
    expect(formatLocal(at, OSLO, 'time')).toBe('14:20');
    expect(formatLocal(at, OSLO, 'day')).toBe('Tue 3 Jun 2025');
    expect(formatLocal(at, OSLO, 'day-time')).toBe('Tue 3 Jun 2025, 14:20');
    expect(formatDay('2024-02-29')).toBe('Thu 29 Feb 2024');
  });

  it.each(['24:00', '9:30', '12:60', '', 'noon', '12:30:00'])('refuses %j as a time of day', (time) => {
    expect(() => zonedToInstant({ day: '2025-06-03', time }, OSLO)).toThrow(/14:20/);
  });

  it('knows named zones and refuses other words and bare offsets', () => {
    expect(['Europe/Oslo', 'America/Argentina/Buenos_Aires', 'UTC'].map(isTimeZone)).toEqual([true, true, true]);
    expect(['Europe/Atlantis', '+01:00', '', 'x'.repeat(10_000), 'Oslo; drop'].map(isTimeZone)).toEqual([false, false, false, false, false]);
    expect(() => localDay(new Date(0), 'Europe/Atlantis')).toThrow(DomainError);
  });

  it('refuses a date that is none', () => {
    expect(() => localDay(new Date(Number.NaN), OSLO)).toThrow(DomainError);
  });

  it('reads back every instant outside the repeated hour', () => {
    fc.assert(fc.property(fc.integer({ min: 0, max: 15_000_000 }), (minute) => {
      const at = new Date(Date.UTC(2010, 0, 1) + minute * 60_000);
      const local = { day: localDay(at, OSLO), time: formatLocal(at, OSLO, 'time') };
      const both = [zonedToInstant(local, OSLO, 'earlier').getTime(), zonedToInstant(local, OSLO, 'later').getTime()];
      expect(both).toContain(at.getTime());
    }));
  });
});
