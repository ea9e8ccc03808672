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
/** `places`: of columns parted by spaces, a position on the line that each one's cells stand over. */
export type ReadingTable = { columns: TableColumn[]; separator: Separator; headingLine: number | null; width: number; places: readonly number[] | null };
/** `from` up to, not with, `to` on its line. */
type Spaced = { text: string; from: number; to: number };

/** Longer tables are not looked through for what parts their columns. */
const LOOKED_AT = 400;
const SEPARATORS: readonly Separator[] = ['\t', ';', ',', 'spaces'];
/** Of lines parted by spaces, how many have to stand in the same columns for them to be columns. */
const IN_COLUMNS = 0.75;
/** A heading over dates and times. */
const TIME_WORDS = /date|time|day|clock|stamp/i;
/** Half of the day, in a cell of its own after the time. */
const MERIDIEM = /^[ap]\.?m?\.?$/i;
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
 * nothing: a date and its time stay together; and spaces part columns only where the cells of most lines stand one over the other. Dates, times
 * and running numbers are no columns.
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
  const full = data.filter(({ cells }) => cells.length === widest).map(({ i }) => spacedCells(lines[i]!));
  const places = spaced ? placesOf(full, widest) : null;
  const over = places && full.filter((cells) => standsOver(cells, places));
  if (over && over.length < IN_COLUMNS * full.length) return null;
  const said = !headed ? [] : over ? overRows(spacedCells(lines[above]!), over) : rows[above]!;
  // Under a heading of as many words that stand elsewhere, most lines may lack a number and have a note behind the others.
  if (over && headed && said.length === 0 && rows[above]!.length === widest) return null;
  // A heading says how many columns there are, unless every line has more: then it names none, since nobody knows which. Spaces leave no empty
  // cell, so there the lines say it.
  const width = !spaced && data.some(({ cells }) => cells.length <= said.length) ? said.length : widest;
  const heading = said.length < width ? [] : said;
  const fitting = over?.map((cells) => ({ cells: cells.map(({ text }) => text) })) ?? data.filter(({ cells }) => cells.length <= width);
  if (separator === ',' && !headed && !fitting.some(({ cells }) => cells.some((cell) => /^[-+]?\d+\.\d/.test(cell)))) return null;
  const timed = (i: number): boolean => fitting.some(({ cells }) => isTimed(cells[i] ?? ''));
  const all = Array.from({ length: width }, (_, i) => i);
  const firstTimed = all.findIndex(timed);
  const columns = all
    .filter((i) => !timed(i) && !(i < firstTimed && countsUp(fitting.map(({ cells }) => cells[i] ?? ''))))
    .filter((i) => fitting.some(({ cells }) => NUMBER.test(cells[i] ?? '')))
    .map((i): TableColumn => ({ no: i + 1, heading: heading[i] ?? '', names: namesOf(heading[i] ?? '', fitting.map(({ cells }) => cells[i] ?? '')) }));
  return columns.filter(({ names }) => names !== 'humidity').length > 1 ? { columns, separator, headingLine: headed ? above + 1 : null, width, places } : null;
}

/** For each column the position that the cells of most lines stand over: where numbers are set left or right that is their edge. */
function placesOf(rows: readonly (readonly Spaced[])[], width: number): number[] {
  return Array.from({ length: width }, (_, i) => {
    const cells = rows.map((row) => row[i]!);
    const counted = [...new Set(cells.map(({ from }) => from))].map((at) => ({ at, count: cells.filter((cell) => cell.from <= at && at < cell.to).length }));
    return counted.reduce((most, next) => (next.count > most.count ? next : most)).at;
  });
}
const standsOver = (cells: readonly Spaced[], places: readonly number[]): boolean => cells.every(({ from, to }, i) => from <= places[i]! && places[i]! < to);

/**
 * A heading parted by spaces, cell by cell over the rows: the words for date and time as one where the rows have both in one cell. None where it has
 * another number of cells than they have, a word for time over numbers, or a word beside its column: a heading that is a column off would call the
 * chamber the core.
 */
function overRows(heading: readonly Spaced[], rows: readonly (readonly Spaced[])[]): string[] {
  const width = rows[0]!.length;
  const at = heading.findIndex(({ text }, i) => TIME_WORDS.test(text) && TIME_WORDS.test(heading[i + 1]?.text ?? ''));
  const [one, two] = [heading[at], heading[at + 1]];
  const together = one && two && heading.length === width + 1 && rows.every((cells) => isDateAndTime(cells[at]!.text));
  const joined = together ? [...heading.slice(0, at), { text: `${one.text} ${two.text}`, from: one.from, to: two.to }, ...heading.slice(at + 2)] : heading;
  const fits = ({ text, from, to }: Spaced, i: number): boolean =>
    (!TIME_WORDS.test(text) || rows.some((cells) => isTimed(cells[i]!.text))) && rows.some((cells) => cells[i]!.from < to && from < cells[i]!.to);
  return joined.length === width && joined.every(fits) ? joined.map(({ text }) => text) : [];
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
  if (separator === 'spaces') return spacedCells(line).map(({ text }) => text);
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

/** The cells of a line that runs of two or more spaces part. */
const spacedCells = (line: string): Spaced[] => [...line.matchAll(/\S+(?:\s\S+)*/g)].map(({ 0: text, index }) => ({ text, from: index, to: index + text.length }));

/** As spacedCells; numbers that are wide enough to leave one space alone between them are parted where the line has as many cells then as the table. */
function spacedRow(line: string, width: number): Spaced[] {
  const cells = spacedCells(line);
  if (cells.length >= width) return cells;
  const parted = cells.flatMap((cell) => {
    const parts = [...cell.text.matchAll(/\S+/g)].map(({ 0: text, index }) => ({ text, from: cell.from + index, to: cell.from + index + text.length }));
    return parts.every(({ text }) => NUMBER.test(text)) ? parts : [cell];
  });
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
 * empty; one with more cells than the table, or parted by spaces with fewer or with cells that are not under their columns, is refused: nobody knows which number is whose. A humidity that is no
 * number from 0 to 100 is left out and told, and the temperature beside it kept.
 */
export function columnLog(text: string, table: ReadingTable, no: number, humidityNo: number | null = null): ColumnLog {
  const refused = new Map<number, string>();
  const dry: ColumnLog['dry'] = [];
  let humid = 0;
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/).map((line, i) => {
    const row = table.places ? spacedRow(line, table.width) : null;
    const cells = row?.map(({ text }) => text) ?? cellsOf(line, table.separator);
    if (i + 1 === table.headingLine) return `Time\t${table.columns.find((c) => c.no === no)?.heading ?? ''}`;
    const times = cells.filter((cell, at) => at !== no - 1 && (isTimed(cell) || isWordedDate(cell) || (MERIDIEM.test(cell) && isTimed(cells[at - 1] ?? ''))));
    if (!times.some(isTimed)) return line;
    const why = oddWidth(cells.length, row, table);
    if (why !== null) {
      refused.set(i + 1, why);
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

/** Why nobody knows which number of a line is whose; null where that is known. */
function oddWidth(count: number, row: readonly Spaced[] | null, { width, places }: ReadingTable): string | null {
  if (count > width) return `it has ${count} columns, and the table ${width}`;
  if (row && count < width) return `it has ${count} of the table’s ${width} columns, and with spaces nobody knows which is missing`;
  return row && places && !standsOver(row, places) ? 'what stands on it is not under the columns of the table, and with spaces nobody knows which is missing' : null;
}

/** Per cent, as it stands in a cell with or without its sign; null for anything else. */
function humidityOf(cell: string): number | null {
  const match = /^\+?(\d+(?:[.,]\d+)?)\s*%?(?:\s*rh)?$/i.exec(cell);
  const value = match ? Number(match[1]!.replace(',', '.')) : NaN;
  return value >= 0 && value <= 100 ? value : null;
}
