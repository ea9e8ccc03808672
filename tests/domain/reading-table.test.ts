import { describe, expect, it } from 'vitest';
import { parseReadingList } from '../../server/domain/reading-list.ts';
import { columnLog, readingTable } from '../../server/domain/reading-table.ts';

const columns = (text: string) => readingTable(text)?.columns.map((c) => [c.no, c.heading, c.names]) ?? null;
const parsed = (text: string, no: number, humidityNo: number | null = null) => parseReadingList({ ...columnLog(text, readingTable(text)!, no, humidityNo), place: 'core', unit: 'C', day: '2026-06-10', zone: 'Europe/London', now: new Date('2026-06-12T00:00:00Z') });
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
    expect(parsed(text, 2).leftOut.map((l) => [l.lineNo, l.why])).toEqual([[1, 'a heading'], [4, 'no temperature on it'], [6, 'it has 5 columns, and the table 3']]);
    expect(taken(text, 3)).toEqual(['13:20 110', '13:25 112', '13:30 113']);
  });

  it('is no table where a comma may be the decimal one, where there is one temperature, or one with its humidity', () => {
    for (const text of ['14:20 62.8\n14:25 63', '14:20  62.8', '14:20  62.8  40 %', '2026-06-10 14:20 62.8 110', '14:20,62,8\n14:25,63,1', '14:20,62,8,110,5', '14:20 62.8 110', '14:20;62,8', 'Time,Temp,Humidity\n14:20,62.8,40', '14:20;62,8;40 %\n14:25;63;41 %', '14:20 62.8\n14:25 63', '']) expect(columns(text), text).toBeNull();
    expect(columns('14:20,62.8,110.5\n14:25,63,112')).toEqual([[2, '', null], [3, '', null]]);
  });

  it('keeps a number of a line that has too many cells out of every column, even where it is the only one', () => {
    const text = 'Time;Core;Chamber\n14:20;62,8;110\n14:25;;112;lid open;x';
    expect([taken(text, 2), taken(text, 3)]).toEqual([['13:20 62.8'], ['13:20 110']]);
    expect(parsed(text, 2).leftOut.map((l) => l.lineNo)).toEqual([1, 3]);
  });

  it('does not read a date with its month in words as the day given: such lines are refused, and say how to write it', () => {
    const text = 'Date;Time;Core;Chamber\n10 Jun 2026;14:20;62,8;110\n2026-06-10;14:25;63;112';
    expect([taken(text, 3), parsed(text, 3).leftOut.at(-1)]).toEqual([['13:25 63'], expect.objectContaining({ lineNo: 2, why: 'its date has the month in words: write it as year-month-day' })]);
    expect(parseReadingList({ text: 'Jun 10 14:20 62.8\n14:25 63 marked 2', place: 'core', unit: 'C', day: '2026-06-10', zone: 'Europe/London', now: new Date('2026-06-12T00:00:00Z') }).leftOut.map((l) => l.why)).toEqual([expect.stringContaining('month in words'), expect.stringContaining('more than one temperature')]);
  });
});

describe('columns parted by spaces alone', () => {
  const LOG = ['Date Time          Core   Smoker air   RH %', '2026-06-10 14:20   62.8   110          40', '2026-06-10 14:25   63     112.5        41'].join('\n');
  it('are parted by two or more; a date and its time, a heading of two words and a unit stay together', () => {
    expect(columns(LOG)).toEqual([[2, 'Core', 'core'], [3, 'Smoker air', 'chamber'], [4, 'RH %', 'humidity']]);
    expect([taken(LOG, 2), taken(LOG, 3)]).toEqual([['13:20 62.8', '13:25 63'], ['13:20 110', '13:25 112.5']]);
    const apart = '2026-06-10  2:20 PM  62.8 C  230 F\n2026-06-10  2:25 PM  63 C  230 F';
    expect([columns(apart), taken(apart, 3), taken(apart, 4)[0]]).toEqual([[[3, '', null], [4, '', null]], ['13:20 62.8', '13:25 63'], '13:20 110']);
    expect(taken('1  10.06.2026 14:20  62,8  110\n2  10.06.2026 14:25  63  111\n3  10.06.2026 14:30  63  112', 3)).toEqual(['13:20 62.8', '13:25 63', '13:30 63']);
  });

  it('a line with fewer numbers is refused by its line and reads into no column: nobody knows which is missing', () => {
    const text = `${LOG}\n2026-06-10 14:30          113          42\nlid  open\n2026-06-10 14:35   63.5   113          42`;
    expect([taken(text, 2), taken(text, 3)]).toEqual([['13:20 62.8', '13:25 63', '13:35 63.5'], ['13:20 110', '13:25 112.5', '13:35 113']]);
    expect(parsed(text, 2).leftOut.map((l) => [l.lineNo, l.why])).toEqual([[1, 'a heading'], [4, 'it has 3 of the table’s 4 columns, and with spaces nobody knows which is missing'], [5, 'no time such as 14:20 on it']]);
  });

  it('numbers set right, with one space left between wide ones, are parted where none is missing', () => {
    const text = ' 14:20   62.8   99.5   40.0\n 14:25   63.0  110.5   41.0\n 14:30  -12.5 -112.5  100.0\n 14:35   63.0  110.5';
    expect(taken(text, 3)).toEqual(['13:20 99.5', '13:25 110.5', '13:30 -112.5']);
    expect(parsed(text, 3).leftOut.map((l) => l.lineNo)).toEqual([4]);
  });

  it('a heading that does not stand over the numbers names no column: a column off, the chamber would be called the core', () => {
    const rows = '2026-06-10 14:20  62.8  110\n2026-06-10 14:25  63.0  112';
    expect(columns(`Date        Time   Core  Chamber\n${rows}`)).toEqual([[2, 'Core', 'core'], [3, 'Chamber', 'chamber']]);
    expect(columns(`Logged  at  Core  Chamber\n${rows}`)).toEqual([[2, '', null], [3, '', null]]);
    expect(columns(`Date  Time  Core  Chamber\n${rows.replace('110', '110  40').replace('112', '112  41')}`)).toBeNull();
  });

  it('a line whose numbers stand elsewhere is refused: with a flag or a note behind them the air would be read as the core', () => {
    const whole = ['Time    Core   Air    RH', '10:00     54     75   40', '10:10     55     75   41', '10:20     55     76   40'];
    for (const odd of ['10:05            75   41   !', '10:05            75   ERR   x', '10:05            75   41   1']) {
      const text = [...whole, odd].join('\n');
      expect([taken(text, 2), parsed(text, 2).leftOut.at(-1)], odd).toEqual([['09:00 54', '09:10 55', '09:20 55'], { lineNo: 5, text: odd.trim(), why: 'what stands on it is not under the columns of the table, and with spaces nobody knows which is missing' }]);
    }
    // Where most lines are of that kind, or none stands under another, or they stand beside their heading, spaces part nothing.
    expect(columns([...whole.slice(0, 3), ...Array.from({ length: 10 }, (_, i) => `10:${String(20 + i)}            75   41   1`)].join('\n'))).toBeNull();
    expect(columns('14:20  62.8  110  40\n14:25  63  9  7')).toBeNull();
    expect(columns('Time  Core  Air\n14:20               62.8      110\n14:25               63.0      112')).toBeNull();
  });

  it('are not looked for where something else parts them', () => {
    for (const text of ['14:20;  62,8', '14:20\t62.8  C', '14:20, 62.8', '14:20  62.8; fish  in 2']) expect(columns(text), text).toBeNull();
  });
});

describe('lines with more cells than their heading', () => {
  it('are named by none of its words, since nobody knows which', () => {
    expect(columns('Time;Core;Air\n10.06.2026;14:20;62,8;110\n10.06.2026;14:25;63;112')).toEqual([[3, '', null], [4, '', null]]);
  });

  it.each(['\t', ';', '  '])('half of the day in a cell of its own belongs to the time before it (parted by %j)', (by) => {
    const text = [['03:00', 'PM', '60.0', '80'], ['03:05', 'p.m.', '61.5', '81'], ['12:05', 'AM', '62.0', '82']].map((cells) => cells.map((c) => (by === '  ' ? c.padEnd(4) : c)).join(by)).join('\n');
    expect(taken(text, 3).map((said) => said.slice(0, 5)).sort()).toEqual(['14:00', '14:05', '23:05']);
  });
});

describe('the humidity of a column of air', () => {
  const LOG = 'Time;Core;Smoker;Humidity %\n14:20;62,8;110;40\n14:25;63;112;41,5 %\n14:30;63;112;\n14:35;63;113;--\n14:40;63;113;140\n14:45;63;;42';
  it('is kept beside its temperature; one that cannot be is told by its line, and the temperature kept', () => {
    const log = columnLog(LOG, readingTable(LOG)!, 3, 4);
    expect(parsed(LOG, 3, 4).readings.map((r) => [r.celsius, r.humidityPct])).toEqual([[110, 40], [112, 41.5], [112, null], [113, null], [113, null]]);
    expect([log.humid, log.dry.map((l) => [l.lineNo, l.text]), parsed(LOG, 3, 4).leftOut.map((l) => l.lineNo)]).toEqual([2, [[5, '--'], [6, '140']], [1]]);
    expect(log.dry[0]!.why).toContain('the temperature is kept');
    expect(parsed(LOG, 3).readings.every((r) => r.humidityPct === null)).toBe(true);
  });
});
