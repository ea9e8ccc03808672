import { describe, expect, it } from 'vitest';
import { sideBySide } from '$lib/calendar/layout.ts';
import { comesAgain, hourMarks, mondayOf, placeIn, shiftWithin, spanOf, STEP_MS, stepWithin, timeOn, weekOf } from '$lib/calendar/span.ts';

const at = (hour: number) => hour * 3_600_000;
const slot = (id: string, from: number, to: number) => ({ id, startMs: at(from), endMs: at(to) });

describe('slots side by side', () => {
  it('keeps slots that only touch in one lane', () => {
    const lanes = sideBySide([slot('a', 8, 10), slot('b', 10, 12)]);
    expect(lanes.get('a')).toEqual({ lane: 0, lanes: 1 });
    expect(lanes.get('b')).toEqual({ lane: 0, lanes: 1 });
  });

  it('puts slots that share a time into lanes of their own and uses a free lane again', () => {
    const lanes = sideBySide([slot('c', 11, 13), slot('a', 8, 12), slot('b', 9, 10)]);
    expect(lanes.get('a')).toEqual({ lane: 0, lanes: 2 });
    expect(lanes.get('b')).toEqual({ lane: 1, lanes: 2 });
    expect(lanes.get('c')).toEqual({ lane: 1, lanes: 2 });
  });

  it('never gives one lane to two slots of the same moment', () => {
    const slots = Array.from({ length: 40 }, (_, i) => slot(String(i), (i * 7) % 20, ((i * 7) % 20) + 1 + (i % 5)));
    const lanes = sideBySide(slots);
    for (const a of slots) {
      for (const b of slots) {
        if (a.id >= b.id || a.startMs >= b.endMs || b.startMs >= a.endMs) continue;
        expect(lanes.get(a.id)!.lane, `${a.id} and ${b.id}`).not.toBe(lanes.get(b.id)!.lane);
        expect(lanes.get(a.id)!.lanes).toBe(lanes.get(b.id)!.lanes);
      }
    }
  });

  it('treats a short slot as long as it is drawn', () => {
    expect(sideBySide([slot('a', 8, 8.25), slot('b', 8.25, 9)], at(0.5)).get('b')).toEqual({ lane: 1, lanes: 2 });
  });
});

// Europe/Oslo: clocks go forward 30 March 2025 at 02:00 and back 26 October 2025 at 03:00 (IANA time zone database).
describe('the hours of a day', () => {
  const zone = 'Europe/Oslo';

  it('has 24 hours on a plain day', () => {
    expect(hourMarks('2025-06-03', zone).map((m) => m.label)).toHaveLength(24);
  });

  it('has 23 hours, without 02:00, when clocks go forward', () => {
    const labels = hourMarks('2025-03-30', zone).map((m) => m.label);
    expect(labels).toHaveLength(23);
    expect(labels).not.toContain('02:00');
  });

  it('has 25 hours, with 02:00 twice, when clocks go back', () => {
    const marks = hourMarks('2025-10-26', zone);
    expect(marks).toHaveLength(25);
    expect(marks.filter((m) => m.label === '02:00').map((m) => m.again)).toEqual([false, true]);
    expect(marks.reduce((sum, m) => sum + m.length, 0)).toBeCloseTo(1, 9);
  });

  it('places a slot across midnight on both days', () => {
    const [from, to] = [Date.parse('2025-06-03T20:00:00Z'), Date.parse('2025-06-04T01:00:00Z')];
    // 22:00 to 03:00 in Oslo.
    expect(placeIn(spanOf('2025-06-03', zone), from, to)).toEqual({ at: 22 / 24, length: 2 / 24 });
    expect(placeIn(spanOf('2025-06-04', zone), from, to)).toEqual({ at: 0, length: 3 / 24 });
  });

  it('moves in quarter hours and keeps a quarter of the slot on the day', () => {
    const span = spanOf('2025-06-03', zone);
    const from = span.startMs + at(1);
    expect(shiftWithin(span, from, from + at(1), 20 * 60_000)).toBe(STEP_MS);
    expect(shiftWithin(span, from, from + at(1), -at(9))).toBe(-at(1.75));
    expect(shiftWithin(span, from, from + at(1), at(99))).toBe(at(22.75));
  });

  it('brings a slot that begins between quarters to a quarter, and only when it is moved', () => {
    const span = spanOf('2025-06-03', zone);
    const minute = 60_000;
    const from = span.startMs + at(14) + 16 * minute;
    expect(shiftWithin(span, from, from + at(1), 3 * minute)).toBe(0);
    expect(shiftWithin(span, from, from + at(1), 20 * minute)).toBe(14 * minute);
    expect(stepWithin(span, from, from + at(1), 0, 1)).toBe(14 * minute);
    expect(stepWithin(span, from, from + at(1), 0, -1)).toBe(-minute);
    expect(stepWithin(span, from, from + at(1), 14 * minute, -1)).toBe(-minute);
  });

  it('tells the second of the hour that comes twice from the first', () => {
    // 02:30 summer time, then 02:30 winter time.
    const [first, second] = [new Date('2025-10-26T00:30:00Z'), new Date('2025-10-26T01:30:00Z')];
    expect([comesAgain(first, zone), comesAgain(second, zone)]).toEqual([false, true]);
    expect(timeOn('2025-10-26', first, zone)).toBe('02:30');
    expect(timeOn('2025-10-26', second, zone)).toBe('02:30 again');
    expect(timeOn('2025-10-25', second, zone)).toBe('Sun 02:30 again');
  });

  it('starts the week on Monday', () => {
    expect(mondayOf('2025-06-03')).toBe('2025-06-02');
    expect(mondayOf('2025-06-02')).toBe('2025-06-02');
    expect(mondayOf('1969-12-31')).toBe('1969-12-29');
    expect(weekOf('2025-06-08')).toEqual(['2025-06-02', '2025-06-03', '2025-06-04', '2025-06-05', '2025-06-06', '2025-06-07', '2025-06-08']);
  });
});
