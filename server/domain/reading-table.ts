import type { ReadingPlace } from './reading-flags.ts';
import { isDateAndTime, isTimed, isWordedDate } from './reading-list-line.ts';

/** One column of temperatures of a pasted table. */
export type TableColumn = {
  /** Counted from 1 over all columns of the table. */
  no: number;
  /** As the table heads it; empty without a heading. */
  heading: string;
  /** Where it was read, by the words of its heading; null where they do not say. 'humidity' is no temperature. */
  names: ReadingPlace | 'humidity' | null;
};
/** 'spaces': runs of two or more. */
type Separator = '\t' | ';' | ',' | 'spaces';
export type ReadingTable = { columns: TableColumn[]; separator: Separator; headingLine: number | null; width: number };

/** Longer tables are not looked through for what parts their columns. */
const LOOKED_AT = 400;
const SEPARATORS: readonly Separator[] = ['\t', ';', ',', 'spaces'];
/** A heading over dates and times. */
const TIME_WORDS = /date|time|day|clock|stamp/i;
const NUMBER = /^[-+−–]?\d+(?:[.,]\d+)?\s*(?:°|º|deg(?:rees)?)?\s*[cf%]?$/i;
/** In this order: "smoker air" is the chamber, "cold store air" is not. */
const WORDS: readonly (readonly [RegExp, TableColumn['names']])[] = [
  [/hum|\brh\b|%/, 'humidity'],
  [/brine/, 'brine'],
  [/surface|skin|outside of/, 'surface'],
  [/stor(?:e|age)|fridge|refrigerat|cold ?room|ice ?box|place|shelf/, 'storage'],
  [/chamber|smoker|oven|cabinet|kiln|ambient|\bair\b/, 'chamber'],
  [/core|internal|inside|centre|center|fish|meat|fillet|piece/, 'core'],
];

/**
 * The columns of a log that holds several temperatures beside each time: parted by tabs, semicolons, commas or runs of two or more spaces where
 * nothing else parts them, with a heading or without; null for any other text, which parseReadingList reads by itself. A comma parts columns only under a heading or where decimals have a point;
 * otherwise it may be a decimal comma, and nothing is guessed. One space parts
 * nothing: a date and its time stay together. Dates, times and running numbers are no columns.
 */
export function readingTable(text: string): ReadingTable | null {
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/);
  for (const separator of SEPARATORS) {
    const table = tableOf(lines, separator);
    if (table) return table;
  }
  return null;
}

function tableOf(lines: readonly string[], separator: Separator): ReadingTable | null {
  const spaced = separator === 'spaces';
  const rows = lines.map((line) => cellsOf(line, separator));
  const data = rows.flatMap((cells, i) => (isRow(cells) ? [{ cells, i }] : [])).slice(0, LOOKED_AT);
  if (data.length === 0 || (spaced && data.some(({ i }) => /[;\t]/.test(lines[i]!)))) return null;
  const above = lines.slice(0, data[0]!.i).findLastIndex((line) => line.trim() !== '');
  const headed = above >= 0 && rows[above]!.length > 2 && /\p{L}/u.test(lines[above]!) && !rows[above]!.some(isTimed);
  const widest = commonest(data.map(({ cells }) => cells.length));
  const heading = !headed ? [] : spaced ? overRows(rows[above]!, data.map(({ cells }) => cells).filter((cells) => cells.length === widest)) : rows[above]!;
  // A heading says how many columns there are, unless every line has more. Spaces leave no empty cell, so there the lines say it.
  const width = !spaced && data.some(({ cells }) => cells.length <= heading.length) ? heading.length : widest;
  const fitting = data.filter(({ cells }) => (spaced ? cells.length === width : cells.length <= width));
  if (separator === ',' && !headed && !fitting.some(({ cells }) => cells.some((cell) => /^[-+]?\d+\.\d/.test(cell)))) return null;
  const timed = (i: number): boolean => fitting.some(({ cells }) => isTimed(cells[i] ?? ''));
  const all = Array.from({ length: width }, (_, i) => i);
  const firstTimed = all.findIndex(timed);
  const columns = all
    .filter((i) => !timed(i) && !(i < firstTimed && countsUp(fitting.map(({ cells }) => cells[i] ?? ''))))
    .filter((i) => fitting.some(({ cells }) => NUMBER.test(cells[i] ?? '')))
    .map((i): TableColumn => ({ no: i + 1, heading: heading[i] ?? '', names: namesOf(heading[i] ?? '', fitting.map(({ cells }) => cells[i] ?? '')) }));
  return columns.filter(({ names }) => names !== 'humidity').length > 1 ? { columns, separator, headingLine: headed ? above + 1 : null, width } : null;
}

/**
 * A heading parted by spaces, cell by cell over the rows: the words for date and time as one where the rows have both in one cell. None where it has
 * another number of cells than they have, or a word for time over numbers: a heading that is a column off would call the chamber the core.
 */
function overRows(heading: readonly string[], rows: readonly (readonly string[])[]): readonly string[] {
  const [first] = rows;
  if (!first) return [];
  const at = heading.findIndex((cell, i) => TIME_WORDS.test(cell) && TIME_WORDS.test(heading[i + 1] ?? ''));
  const joined = at >= 0 && heading.length === first.length + 1 && rows.every((cells) => isDateAndTime(cells[at]!)) ? [...heading.slice(0, at), `${heading[at]} ${heading[at + 1]}`, ...heading.slice(at + 2)] : heading;
  return joined.length === first.length && joined.every((cell, i) => !TIME_WORDS.test(cell) || rows.some((cells) => isTimed(cells[i]!))) ? joined : [];
}

/** A line with a time and at least two cells that are numbers. */
const isRow = (cells: readonly string[]): boolean => cells.some(isTimed) && cells.filter((cell) => !isTimed(cell) && NUMBER.test(cell)).length > 1;

function namesOf(heading: string, cells: readonly string[]): TableColumn['names'] {
  const words = heading.toLowerCase();
  return WORDS.find(([pattern]) => pattern.test(words))?.[1] ?? (cells.some((cell) => cell.endsWith('%')) ? 'humidity' : null);
}

/** Running numbers of lines: each one more than the last. Looked for before the time only: after it a core may rise by a degree a line. */
const countsUp = (cells: readonly string[]): boolean => cells.length > 2 && cells.every((cell, i) => /^#?\d+$/.test(cell) && (i === 0 || Number(cell.replace('#', '')) === Number(cells[i - 1]!.replace('#', '')) + 1));

function commonest(lengths: readonly number[]): number {
  const counts = Map.groupBy(lengths, (length) => length);
  return [...counts].sort((a, b) => b[1].length - a[1].length || b[0] - a[0])[0]![0];
}

/** The cells of a line, quotes taken off; empty ones at its end do not count. */
function cellsOf(line: string, separator: Separator): string[] {
  if (separator === 'spaces') return line.trim() === '' ? [] : line.trim().split(/\s{2,}/);
  const cells: string[] = [];
  let cell = '';
  let quoted = false;
  for (const sign of line) {
    if (sign === '"') quoted = !quoted;
    else if (sign === separator && !quoted) {
      cells.push(cell.trim());
      cell = '';
    } else cell += sign;
  }
  cells.push(cell.trim());
  while (cells.at(-1) === '') cells.pop();
  return cells;
}

/** As cellsOf; numbers that are wide enough to leave one space alone between them are parted where the line has as many cells then as the table. */
function rowOf(line: string, { separator, width }: ReadingTable): string[] {
  const cells = cellsOf(line, separator);
  if (separator !== 'spaces' || cells.length >= width) return cells;
  const parted = cells.flatMap((cell) => (cell.split(' ').every((part) => NUMBER.test(part)) ? cell.split(' ') : [cell]));
  return parted.length === width ? parted : cells;
}

export type ColumnLog = {
  /** One column alone with its times, line by line as the table has them, for parseReadingList. */
  text: string;
  /** Lines of the table that cannot be read, by number, with why. */
  refused: ReadonlyMap<number, string>;
  /** Lines whose temperature is read without their humidity, with why. */
  dry: { lineNo: number; text: string; why: string }[];
  /** How many lines have a humidity. */
  humid: number;
};

/**
 * One column of a table, and where `humidityNo` names another the relative humidity of its air, in per cent. A line on which the column is empty is left
 * empty; one with more cells than the table, or parted by spaces with fewer, is refused: nobody knows which number is whose. A humidity that is no
 * number from 0 to 100 is left out and told, and the temperature beside it kept.
 */
export function columnLog(text: string, table: ReadingTable, no: number, humidityNo: number | null = null): ColumnLog {
  const refused = new Map<number, string>();
  const dry: ColumnLog['dry'] = [];
  let humid = 0;
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/).map((line, i) => {
    const cells = rowOf(line, table);
    if (i + 1 === table.headingLine) return `Time\t${table.columns.find((c) => c.no === no)?.heading ?? ''}`;
    const times = cells.filter((cell, at) => at !== no - 1 && (isTimed(cell) || isWordedDate(cell)));
    if (!times.some(isTimed)) return line;
    if (cells.length > table.width || (table.separator === 'spaces' && cells.length < table.width)) {
      refused.set(i + 1, cells.length > table.width ? `it has ${cells.length} columns, and the table ${table.width}` : `it has ${cells.length} of the table’s ${table.width} columns, and with spaces nobody knows which is missing`);
      return line;
    }
    const cell = cells[no - 1] ?? '';
    if (cell === '') return '';
    const said = humidityNo === null ? '' : (cells[humidityNo - 1] ?? '');
    const percent = humidityOf(said);
    if (percent !== null) humid += 1;
    else if (said !== '') dry.push({ lineNo: i + 1, text: said.slice(0, LONGEST_SHOWN), why: 'its humidity is no number from 0 to 100: the temperature is kept without it' });
    return `${times.join(' ')}\t${cell}${percent === null ? '' : `\t${percent} %`}`;
  });
  return { text: lines.join('\n'), refused, dry, humid };
}
const LONGEST_SHOWN = 60;

/** Per cent, as it stands in a cell with or without its sign; null for anything else. */
function humidityOf(cell: string): number | null {
  const match = /^\+?(\d+(?:[.,]\d+)?)\s*%?(?:\s*rh)?$/i.exec(cell);
  const value = match ? Number(match[1]!.replace(',', '.')) : NaN;
  return value >= 0 && value <= 100 ? value : null;
}
