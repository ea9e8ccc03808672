import { describe, expect, it } from 'vitest';
import { flagReadings } from '../../server/domain/reading-flags.ts';
import { parseReadingList } from '../../server/domain/reading-list.ts';
import type { ReadingListInput } from '../../server/domain/reading-list.ts';

const read = (text: string, more: Partial<ReadingListInput> = {}) =>
  parseReadingList({ text, place: 'core', unit: 'C', day: '2026-06-10', zone: 'Europe/London', now: new Date('2026-06-12T00:00:00Z'), ...more });
const taken = (text: string, more: Partial<ReadingListInput> = {}) => read(text, more).readings.map((r) => `${r.at.toISOString().slice(5, 16)} ${r.celsius}${r.humidityPct === null ? '' : ` ${r.humidityPct}%`}`);
const why = (text: string, more: Partial<ReadingListInput> = {}) => read(text, more).leftOut.map((l) => `${l.lineNo}: ${l.why}`);

describe('a list of temperatures', () => {
  it.each([
    ['14:20 62.8', '06-10T13:20 62.8'], ['62.8 at 14:20', '06-10T13:20 62.8'], ['14:20\t62,8', '06-10T13:20 62.8'], ['14:20;62,8', '06-10T13:20 62.8'],
    ['2:20 pm, 62.8', '06-10T13:20 62.8'], ['2026-06-10T13:20:00Z,62.8', '06-10T13:20 62.8'], ['2026-06-10 14:20:30,62.8', '06-10T13:20 62.8'],
    ['10.06.2026 14:20 62.8', '06-10T13:20 62.8'], ['6/10/2026 14:20 62.8', '06-10T13:20 62.8'], ['17,2026-06-10 14:20:00,62.8', '06-10T13:20 62.8'],
    ['14:20 145 F', '06-10T13:20 62.8'], ['14:20 145°F 40%', '06-10T13:20 62.8 40%'], ['14:20 -2.5 C', '06-10T13:20 -2.5'], ['"14:20","62.8"', '06-10T13:20 62.8'],
    ['2026-06-10T15:20+02:00 62.8', '06-10T13:20 62.8'],
  ])('reads "%s"', (line, wanted) => expect(taken(line)).toEqual([wanted]));

  it('takes the unit and the columns from a heading, and says that it left the heading out', () => {
    const log = 'Time,Temp (°F),Humidity\n14:20,145.0,41\n14:21,146,40\n';
    expect(taken(log)).toEqual(['06-10T13:20 62.8 41%', '06-10T13:21 63.3 40%']);
    expect(why(log)).toEqual(['1: a heading']);
  });

  it('runs on past midnight when lines carry no date', () => {
    expect(taken('23:50 20\n00:10 18')).toEqual(['06-10T22:50 20', '06-10T23:10 18']);
  });

  it('guesses nothing that can be read two ways, and says why by line', () => {
    expect(why('14:20,62,8')).toEqual([expect.stringContaining('1: the comma may part decimals or columns')]);
    expect(why('6/10/2026 14:20 62.8', { day: '2025-01-01' })).toEqual(['1: its date may be 2026-10-06 or 2026-06-10: write it as year-month-day']);
    expect(why('62.8\n14:20\n25:00 62\n14:20 62 63\n31.6.2026 14:20 5\n')).toEqual([
      '1: no time such as 14:20 on it', '2: no temperature on it', '3: 25:00 is no time of day', '4: more than one temperature on it: send one probe at a time', '5: its date is not a day of the calendar',
    ]);
    expect(why('2026-06-14 14:20 5\n1999-06-14 14:20 5')).toEqual(['1: its time has not come yet: check the date and the zone', '2: its year is before 2000: check the date']);
  });

  it('tells day and month apart by any line of the list that can be read one way alone', () => {
    expect(taken('05/06/2026 14:20 60\n13/05/2026 14:20 61', { day: '2020-01-01' })).toEqual(['06-05T13:20 60', '05-13T13:20 61']);
  });

  it('goes on through the hour that comes twice, and leaves out the hour that does not come', () => {
    const autumn = { day: '2025-10-26', now: new Date('2026-01-01T00:00:00Z') };
    expect(taken('00:50 60\n01:30 61\n01:10 62\n02:10 63', autumn)).toEqual(['10-25T23:50 60', '10-26T00:30 61', '10-26T01:10 62', '10-26T02:10 63']);
    expect(why('01:30 60', { day: '2026-03-29' })).toEqual([expect.stringContaining('clocks went forward')]);
  });

  it('refuses more than 5,000 readings', () => {
    const lines = (n: number) => Array.from({ length: n }, (_, i) => `${String(Math.floor(i / 3600) % 24).padStart(2, '0')}:${String(Math.floor(i / 60) % 60).padStart(2, '0')}:${String(i % 60).padStart(2, '0')} 20`).join('\n');
    expect(read(lines(5000)).readings).toHaveLength(5000);
    expect(() => read(lines(5001))).toThrow('more than 5000');
  });
});

describe('what is odd about a reading is flagged, and nothing is dropped', () => {
  const at = (minute: number) => new Date(Date.UTC(2026, 5, 10, 12, minute));
  const flags = (rows: [number, number][], place: 'core' | 'chamber' | 'storage' | 'surface' | 'brine' = 'core') => flagReadings(rows.map(([m, celsius]) => ({ at: at(m), celsius, humidityPct: null })), place).map((r) => r.flag);

  it('error values of probes, whatever the place (from memory)', () => {
    for (const place of ['core', 'chamber', 'storage', 'surface', 'brine'] as const) expect(flags([[0, -999], [1, 5], [2, -127], [3, 1999]], place)).toEqual(['probe-error', null, 'probe-error', 'probe-error']);
  });

  it('Fahrenheit entered as Celsius', () => {
    expect(flags([[0, 145]])).toEqual(['fahrenheit']);
    expect(flags([[0, 100]])).toEqual([null]);
    expect(flags([[0, 225]], 'chamber')).toEqual(['fahrenheit']);
    expect(flags([[0, 145]], 'chamber')).toEqual([null]);
    expect(flags([[0, 70]], 'storage')).toEqual(['fahrenheit']);
  });

  it('times that go back, the same twice, and two readings at one time', () => {
    expect(flags([[5, 60], [3, 58], [5, 60], [5, 61], [6, 62]])).toEqual([null, 'out-of-order', 'duplicate', 'conflict', null]);
  });

  it('is kept with the value as it came', () => {
    expect(read('14:20 62\n14:21 -999\n14:19 61').readings.map((r) => [r.lineNo, r.celsius, r.flag])).toEqual([[1, 62, null], [2, -999, 'probe-error'], [3, 61, 'out-of-order']]);
  });
});

it('a text of far more lines than readings may be is refused before it is taken apart', () => {
  const lines = (count: number) => `14:20 62.8\n${'x\n'.repeat(count - 1)}`;
  expect(why(lines(10_000))).toHaveLength(9_999);
  expect(() => read(lines(10_001))).toThrow(/of 10001 lines is more than 10000/);
  expect(taken(`14:20 62.8\n${'\n'.repeat(20_000)}`)).toHaveLength(1);
});
