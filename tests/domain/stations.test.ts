import { describe, expect, test } from 'vitest';
import { formatCapacity, insideHours, STATION_SERVES, servesStage } from '../../server/domain/stations.ts';
import { STAGE_ORDER } from '../../server/domain/working.ts';

const at = (text: string) => new Date(text);
const slot = (from: string, to: string) => ({ startsAt: at(from), endsAt: at(to) });
const inside = (from: string, to: string, opensAt: string | null, closesAt: string | null, zone = 'Europe/London') =>
  insideHours(slot(from, to), { opensAt, closesAt }, zone).ok;

describe('what a station serves (common practice)', () => {
  test('every stage of a batch has a station', () => {
    const served = new Set(Object.values(STATION_SERVES).flat());
    expect([...STAGE_ORDER].filter((stage) => !served.has(stage))).toEqual([]);
  });
  test('fish is smoked in a smoker and nowhere else', () => {
    expect(Object.keys(STATION_SERVES).filter((kind) => servesStage(kind as 'smoker', 'smoke'))).toEqual(['smoker']);
  });
});

describe('hours on the wall clock of the club', () => {
  test('without hours a station is always open', () => {
    expect(inside('2026-06-10T22:00:00Z', '2026-06-11T22:00:00Z', null, null)).toBe(true);
    expect(inside('2026-06-10T22:00:00Z', '2026-06-11T22:00:00Z', '08:00', '08:00')).toBe(true);
  });
  test('the edges belong to the hours (summer time: 08:00 is 07:00 UTC)', () => {
    expect(inside('2026-06-10T07:00:00Z', '2026-06-10T19:00:00Z', '08:00', '20:00')).toBe(true);
    expect(inside('2026-06-10T06:59:00Z', '2026-06-10T19:00:00Z', '08:00', '20:00')).toBe(false);
    expect(inside('2026-06-10T07:00:00Z', '2026-06-10T19:01:00Z', '08:00', '20:00')).toBe(false);
  });
  test('hours past midnight', () => {
    expect(inside('2026-06-10T19:30:00Z', '2026-06-11T00:30:00Z', '20:00', '02:00')).toBe(true);
    expect(inside('2026-06-10T23:30:00Z', '2026-06-11T00:30:00Z', '20:00', '02:00')).toBe(true);
    expect(inside('2026-06-10T23:30:00Z', '2026-06-11T01:30:00Z', '20:00', '02:00')).toBe(false);
  });
  test('a slot over two days does not fit day hours', () => {
    expect(inside('2026-06-10T17:00:00Z', '2026-06-11T09:00:00Z', '08:00', '20:00')).toBe(false);
  });
  test('clocks go forward, London 29 March 2026 01:00 to 02:00: night hours are an hour shorter', () => {
    // 22:00 GMT to 06:00 BST is 22:00Z to 05:00Z.
    expect(inside('2026-03-28T22:00:00Z', '2026-03-29T05:00:00Z', '22:00', '06:00')).toBe(true);
    expect(inside('2026-03-28T22:00:00Z', '2026-03-29T05:30:00Z', '22:00', '06:00')).toBe(false);
  });
  test('opening at a time that clocks skip means the first time after it', () => {
    expect(inside('2026-03-29T01:00:00Z', '2026-03-29T05:00:00Z', '01:30', '08:00')).toBe(true);
    expect(inside('2026-03-29T00:59:00Z', '2026-03-29T05:00:00Z', '01:30', '08:00')).toBe(false);
  });
  test('clocks go back, London 25 October 2026: hours that close at 01:30 close at the second one', () => {
    // The second 01:30 is 01:30Z.
    expect(inside('2026-10-24T21:00:00Z', '2026-10-25T01:30:00Z', '22:00', '01:30')).toBe(true);
    expect(inside('2026-10-24T21:00:00Z', '2026-10-25T01:31:00Z', '22:00', '01:30')).toBe(false);
  });
  test('a refusal names the open time around the start, or the next one', () => {
    const around = insideHours(slot('2026-06-10T17:00:00Z', '2026-06-10T21:00:00Z'), { opensAt: '08:00', closesAt: '20:00' }, 'Europe/London');
    expect(around).toEqual({ ok: false, nearest: { opens: at('2026-06-10T07:00:00Z'), closes: at('2026-06-10T19:00:00Z') } });
    const next = insideHours(slot('2026-06-10T20:00:00Z', '2026-06-10T21:00:00Z'), { opensAt: '08:00', closesAt: '20:00' }, 'Europe/London');
    expect(next).toEqual({ ok: false, nearest: { opens: at('2026-06-11T07:00:00Z'), closes: at('2026-06-11T19:00:00Z') } });
  });
});

test('capacity in words', () => {
  expect([formatCapacity(12500, 'grams'), formatCapacity(800, 'grams'), formatCapacity(1, 'racks'), formatCapacity(3, 'racks'), formatCapacity(20000, 'millilitres')])
    .toEqual(['12.5 kg', '800 g', '1 rack', '3 racks', '20 litres']);
});
