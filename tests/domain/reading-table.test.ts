import { describe, expect, it } from 'vitest';
import { parseReadingList } from '../../server/domain/reading-list.ts';
import { columnText, readingTable } from '../../server/domain/reading-table.ts';

const columns = (text: string) => readingTable(text)?.columns.map((c) => [c.no, c.heading, c.names]) ?? null;
const parsed = (text: string, no: number) => parseReadingList({ text: columnText(text, readingTable(text)!, no), place: 'core', unit: 'C', day: '2026-06-10', zone: 'Europe/London', now: new Date('2026-06-12T00:00:00Z') });
const taken = (text: string, no: number) => parsed(text, no).readings.map((r) => `${r.at.toISOString().slice(11, 16)} ${r.celsius}`);

describe('a log of several columns (RFC 4180 for quotes; a semicolon or tab leaves the comma to decimals)', () => {
  it.each([
    ['a comma and a point', 'Time,Core,Chamber\n14:20,62.8,110\n14:25,63,112.5'],
    ['a semicolon and a decimal comma', 'Time;Core;Chamber\n14:20;62,8;110\n14:25;63;112,5'],
    ['a tab and a decimal comma', 'Time\tCore\tChamber\n14:20\t62,8\t110\n14:25\t63\t112,5'],
    ['quotes around every cell', '"Time","Core","Chamber"\n"14:20","62,8","110"\n"14:25","63","112,5"'],
  ])('parted by %s', (_how, text) => {
    expect(columns(text)).toEqual([[2, 'Core', 'core'], [3, 'Chamber', 'chamber']]);
    expect([taken(text, 2), taken(text, 3)]).toEqual([['13:20 62.8', '13:25 63'], ['13:20 110', '13:25 112.5']]);
  });

  it('without a heading, each column unnamed; a date of its own and a running number are no columns', () => {
    expect(columns('14:20;62,8;110\n14:25;63;112')).toEqual([[2, '', null], [3, '', null]]);
    const text = '1;10.06.2026;14:20;62,8;110\n2;10.06.2026;14:25;63;112\n3;10.06.2026;14:30;63,5;111';
    expect(columns(text)).toEqual([[4, '', null], [5, '', null]]);
    expect(taken(text, 4)).toEqual(['13:20 62.8', '13:25 63', '13:30 63.5']);
  });

  it('a temperature that rises by a degree a line is no running number', () => {
    expect(columns('Time,Core,Air\n10:00,60,80\n10:05,61,85\n10:10,62,90')).toEqual([[2, 'Core', 'core'], [3, 'Air', expect.anything()]]);
    expect(columns('No;Time;Core;Air\n1;10:00;60;80\n2;10:05;61;81\n3;10:10;62;82')!.map((c) => c[1])).toEqual(['Core', 'Air']);
  });

  it('below what a logger says of itself, each column in the unit of its own heading (145 F is 62.8 C, MI569.7)', () => {
    const text = 'Logger 7\nSerial;12\n\nDate;Core (°F);Smoker air (°C);Humidity %\n2026-06-10 14:20;145;110;40\n2026-06-10 14:25;147;112;41';
    expect(columns(text)).toEqual([[2, 'Core (°F)', 'core'], [3, 'Smoker air (°C)', 'chamber'], [4, 'Humidity %', 'humidity']]);
    expect(taken(text, 2)[0]).toBe('13:20 62.8');
    expect(taken(text, 3)[0]).toBe('13:20 110');
  });

  it('tells columns by their words, the cold store’s air from the smoker’s', () => {
    const head = 'Time;Fish inside;Smoker air;Surface;Cold room air;Brine;T6';
    expect(columns(`${head}\n14:20;1;2;3;4;5;6`)!.map((c) => c[2])).toEqual(['core', 'chamber', 'surface', 'storage', 'brine', null]);
  });

  it('leaves a missing value as a gap, tells an unreadable one by its line, and drops no line without a word', () => {
    const text = 'Time;Core;Chamber\n14:20;62,8;110\n14:25;;112\n14:30;Err;113\n14:35;63\n14:40;63;111;7;8';
    expect(taken(text, 2)).toEqual(['13:20 62.8', '13:35 63']);
    expect(parsed(text, 2).leftOut.map((l) => [l.lineNo, l.why])).toEqual([[1, 'a heading'], [4, 'no temperature on it'], [6, expect.stringContaining('more than one temperature')]]);
    expect(taken(text, 3)).toEqual(['13:20 110', '13:25 112', '13:30 113']);
  });

  it('is no table where a comma may be the decimal one, where there is one temperature, or one with its humidity', () => {
    for (const text of ['14:20,62,8\n14:25,63,1', '14:20,62,8,110,5', '14:20 62.8 110', '14:20;62,8', 'Time,Temp,Humidity\n14:20,62.8,40', '14:20;62,8;40 %\n14:25;63;41 %', '14:20 62.8\n14:25 63', '']) expect(columns(text), text).toBeNull();
    expect(columns('14:20,62.8,110.5\n14:25,63,112')).toEqual([[2, '', null], [3, '', null]]);
  });
});
