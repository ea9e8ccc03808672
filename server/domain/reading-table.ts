import type { ReadingPlace } from './reading-flags.ts';
import { isTimed } from './reading-list-line.ts';

/** One column of temperatures of a pasted table. */
export type TableColumn = {
  /** Counted from 1 over all columns of the table. */
  no: number;
  /** As the table heads it; empty without a heading. */
  heading: string;
  /** Where it was read, by the words of its heading; null where they do not say. 'humidity' is no temperature. */
  names: ReadingPlace | 'humidity' | null;
};
export type ReadingTable = { columns: TableColumn[]; separator: '\t' | ';' | ','; headingLine: number | null; width: number };

/** Longer tables are not looked through for what parts their columns. */
const LOOKED_AT = 400;
const SEPARATORS = ['\t', ';', ','] as const;
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
 * The columns of a log that holds several temperatures beside each time: parted by tabs, semicolons or commas, with a heading or without;
 * null for any other text, which parseReadingList reads by itself. A comma parts columns only under a heading or where decimals have a point;
 * otherwise it may be a decimal comma, and nothing is guessed. Dates, times and running numbers are no columns.
 */
export function readingTable(text: string): ReadingTable | null {
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/);
  for (const separator of SEPARATORS) {
    const table = tableOf(lines, separator);
    if (table) return table;
  }
  return null;
}

function tableOf(lines: readonly string[], separator: ReadingTable['separator']): ReadingTable | null {
  const rows = lines.map((line) => cellsOf(line, separator));
  const data = rows.flatMap((cells, i) => (isRow(cells) ? [{ cells, i }] : [])).slice(0, LOOKED_AT);
  if (data.length === 0) return null;
  const above = lines.slice(0, data[0]!.i).findLastIndex((line) => line.trim() !== '');
  const headed = above >= 0 && rows[above]!.length > 2 && /\p{L}/u.test(lines[above]!) && !rows[above]!.some(isTimed);
  const heading = headed ? rows[above]! : [];
  // A heading says how many columns there are, unless every line has more.
  const width = data.some(({ cells }) => cells.length <= heading.length) ? heading.length : commonest(data.map(({ cells }) => cells.length));
  const fitting = data.filter(({ cells }) => cells.length <= width);
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
function cellsOf(line: string, separator: string): string[] {
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

/**
 * The text of one column alone, with its times and its heading, line by line as the table has them, for parseReadingList. A line on which the
 * column is empty is left empty; one that has more cells than the table stays whole, so that it is left out there with its reason.
 */
export function columnText(text: string, table: ReadingTable, no: number): string {
  return text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/).map((line, i) => {
    const cells = cellsOf(line, table.separator);
    if (i + 1 === table.headingLine) return `Time\t${cells[no - 1] ?? ''}`;
    const times = cells.filter((cell, at) => at !== no - 1 && isTimed(cell));
    if (times.length === 0 || cells.length > table.width) return line;
    const cell = cells[no - 1] ?? '';
    return cell === '' ? '' : `${times.join(' ')}\t${cell}`;
  }).join('\n');
}
