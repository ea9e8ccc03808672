/** What several parts share: how answers are written, species to choose from, pasted readings. */
import { SPECIES } from '$domain/species/index.ts';
import type { Species } from '$domain/species/index.ts';
import { lineExample, parseReadingList } from '$domain/reading-list.ts';
import type { ReadingList } from '$domain/reading-list.ts';
import { columnLog, readingTable } from '$domain/reading-table.ts';
import type { ReadingPlace } from '$domain/reading-flags.ts';
import { addDays, localDay } from '$domain/time.ts';
import { cToF } from '$domain/units.ts';
import { DomainError } from '$domain/working.ts';
import { showNumber, showSpan, showTemperature } from '../../show.ts';
import type { PlotAxis } from '../../ui/plot.ts';
import { choice, lines, type OwnCaution, type OwnContext } from './part.ts';

export const percent = (value: number, digits = 2): string => `${showNumber(value, digits)} %`;
export const percentBand = (low: number, high: number, digits = 2): string => `${showNumber(low, digits)} to ${percent(high, digits)}`;
export const minutes = (value: number): string => showSpan(value * 60_000);
export const temperature = (celsius: number, digits = 1): string => showTemperature(Number(celsius.toFixed(digits)));
const RAISED: Readonly<Record<string, string>> = { '-': '⁻', '0': '⁰', '1': '¹', '2': '²', '3': '³', '4': '⁴', '5': '⁵', '6': '⁶', '7': '⁷', '8': '⁸', '9': '⁹' };
/** "2.35 × 10⁻¹⁰ m²/s" */
export function diffusivity(m2PerS: number): string {
  const [digits, power] = m2PerS.toExponential(2).split('e');
  return `${digits} × 10${[...power!.replace('+', '')].map((sign) => RAISED[sign]).join('')} m²/s`;
}
export const yesNo = { yes: 'Yes', no: 'No' } as const;
export const faces = { '1': 'Skin on one face', '2': 'Both faces open' } as const;
export const fatWords = { lean: 'Lean', medium: 'Medium', fatty: 'Fatty' } as const;

/** Species that a table has, by name. */
export function speciesWith(has: (species: Species) => boolean): Record<string, string> {
  return Object.fromEntries(SPECIES.filter(has).map(({ code, name }) => [code, name] as const).sort((a, b) => a[1].localeCompare(b[1])));
}
export const withFlesh = (): Record<string, string> => speciesWith((s) => s.proximate !== undefined);

export const axis = (name: string, unit: string, digits = 1): PlotAxis => ({ name, unit, show: (value) => showNumber(value, digits) });
/** A temperature axis in the person's degrees, with what puts Celsius on it. */
export function degreesFor({ system }: OwnContext): { y: PlotAxis; at: (celsius: number) => number } {
  return { y: axis('Temperature', system === 'us' ? '°F' : '°C'), at: system === 'us' ? cToF : (c) => c };
}

const NTH = ['First', 'Second', 'Third', 'Fourth', 'Fifth', 'Sixth', 'Seventh', 'Eighth'] as const;
const columnWords: Readonly<Record<string, string>> = { named: 'The one its heading names', ...Object.fromEntries(NTH.map((word, i) => [String(i + 1), `${word} temperature`])) };

/** Of a log of several columns the one that was chosen, as a log of its own; a log of one column as it is. */
function chosenColumn(log: string, column: string, place: ReadingPlace): { text: string; refused?: ReadonlyMap<number, string>; cautions: OwnCaution[] } {
  const table = readingTable(log);
  if (!table) return { text: log, cautions: [] };
  const warm = table.columns.filter(({ names }) => names !== 'humidity');
  const named = warm.filter(({ names }) => names === place);
  const found = column === 'named' ? (named.length === 1 ? named[0] : undefined) : warm[Number(column) - 1];
  if (!found) {
    const problem = column === 'named' ? `is in none of the ${warm.length} columns by its heading, or in several` : `is not there: the log has ${warm.length} columns of temperatures`;
    throw new DomainError({ code: 'log.column', field: 'column', label: 'temperature', value: column, shown: '', problem, remedy: 'choose the column' });
  }
  const { text, refused } = columnLog(log, table, found.no);
  return { text, refused, cautions: [{ level: 'note', text: `Read from ${found.heading === '' ? `column ${found.no}` : `the column “${found.heading}”`}.` }] };
}

/** A log to paste, with the column and the unit of its bare numbers. `start` has a time and degrees on each line, "14:00 58 C". */
export const logFields = (start: string) => ({
  log: lines('The log', ({ system }) => (system === 'us' ? start.replace(/([-\d.]+) C$/gm, (_, c: string) => `${Number(cToF(Number(c)).toFixed(1))} F`) : start), { hint: 'A time and a temperature on each line, as a logger writes it', lines: 8 }),
  column: choice('Which column', columnWords, 'named', { hint: 'This log has several columns of temperatures', when: ({ log }) => readingTable(String(log ?? '')) !== null }),
  unit: choice('Numbers without a unit are', { C: '°C', F: '°F' }, ({ system }) => (system === 'us' ? 'F' : 'C')),
});

export type Log = { readings: { at: Date; celsius: number }[]; cautions: OwnCaution[] };

/**
 * A log without days is taken as of yesterday, or of a month ago where it would run into the future: only how long things
 * took counts here. Throws DomainError on a text without a reading.
 */
export function readLog({ log, column, unit }: { log: string; column: string; unit: 'C' | 'F' }, place: ReadingPlace, { now, zone }: OwnContext): Log {
  const chosen = chosenColumn(log, column, place);
  const read = (daysBack: number): ReadingList => parseReadingList({ text: chosen.text, ...(chosen.refused && { refused: chosen.refused }), place, unit, day: addDays(localDay(now, zone), -daysBack), zone, now });
  const [near, far] = [read(1), read(31)];
  const list = far.readings.length > near.readings.length ? far : near;
  if (list.readings.length === 0) throw new DomainError({ code: 'log.empty', field: 'log', label: 'log', value: log, problem: 'has no reading that could be read', remedy: `write a time and a temperature on each line, such as ${lineExample(unit)}` });
  const left = list.leftOut.filter(({ why }) => why !== 'a heading');
  return {
    readings: list.readings.map(({ at, celsius }) => ({ at, celsius })),
    cautions: [...chosen.cautions, ...left.slice(0, 3).map(({ lineNo, text, why }): OwnCaution => ({ level: 'mind', text: `Line ${lineNo} was left out, “${text}”: ${why}.` }))],
  };
}

/** Numbers on lines, so many on each; a line that has others is refused by its number. */
export function rowsOf(text: string, field: string, what: string, columns: number): number[][] {
  return text.split(/\r?\n/).map((line, i) => ({ line: line.trim(), no: i + 1 })).filter(({ line }) => line !== '').map(({ line, no }) => {
    const found = line.split(/[\s;]+|,\s+/).map((word) => Number(word.replace(',', '.')));
    if (found.length === columns && found.every(Number.isFinite)) return found;
    throw new DomainError({ code: 'own.line', field, label: `line ${no}`, value: line, problem: `is not ${what}`, remedy: 'write one on each line, with spaces between' });
  });
}

/** The domain names the figure of a line by its place: 'measurements.2.minutes' is line 3. */
export const isOfLine = (field: string): boolean => /^\w+\.\d+/.test(field);
