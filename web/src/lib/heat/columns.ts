/** The columns of a pasted table: what each is, under which name it is kept, and what was read in it. */
import type { BatchDetail } from '$contract/batches.ts';
import type { ReadingPlace } from '$domain/reading-flags.ts';
import { columnText, type ReadingTable, type TableColumn } from '$domain/reading-table.ts';
import type { Day } from '$domain/working.ts';
import { stageFor } from './log.ts';
import { readPasted, type Pasted } from './pasted.ts';

/** '' while nobody said what it is. */
export type ColumnPlace = ReadingPlace | 'out' | '';
export type ReadColumn = { column: TableColumn; key: string; name: string; place: ColumnPlace; probe: string; stageId: string | null; read: Pasted | null };

/** A column by its place and heading, so that what was said of it does not pass to another text's. */
export const columnKey = ({ no, heading }: TableColumn): string => `${no} ${heading}`;
export const columnName = ({ no, heading }: TableColumn): string => (heading === '' ? `Column ${no}` : heading);

/** What its heading says it is; left out where that is no temperature. */
const suggested = ({ names }: TableColumn): ColumnPlace => (names === 'humidity' ? 'out' : (names ?? ''));

/** Several probes of one place are told apart by their headings; a place that has one needs no name. */
export function probeName(column: TableColumn, place: ColumnPlace, all: readonly { column: TableColumn; place: ColumnPlace }[]): string {
  const others = all.filter((o) => o.place === place && o.column.no !== column.no);
  if (others.length === 0) return '';
  const name = columnName(column).slice(0, 36);
  return others.some((o) => columnName(o.column).slice(0, 36) === name) ? `${name} ${column.no}` : name;
}

type Asked = { text: string; table: ReadingTable; places: Record<string, ColumnPlace>; batch: Pick<BatchDetail, 'stages'>; unit: 'C' | 'F'; day: Day | ''; zone: string; now: Date };

export function readColumns({ text, table, places, batch, unit, day, zone, now }: Asked): ReadColumn[] {
  const said = table.columns.map((column) => ({ column, place: places[columnKey(column)] ?? suggested(column) }));
  return said.map(({ column, place }) => {
    const shared = { column, key: columnKey(column), name: columnName(column), place, probe: probeName(column, place, said) };
    if (place === 'out' || place === '') return { ...shared, stageId: null, read: null };
    const stageId = stageFor(batch, place);
    const stage = batch.stages.find((s) => s.id === stageId);
    const read = readPasted({ text: columnText(text, table, column.no), place, unit, day, stageBegan: stage ? new Date(stage.startedAt) : null, zone, now });
    // The heading is the table's, and was read.
    return { ...shared, stageId, read: { ...read, leftOut: read.leftOut.filter(({ lineNo }) => lineNo !== table.headingLine) } };
  });
}

/** What has to be said before the columns are saved, by the column's number; the first one counts. Null when nothing. */
export function columnsWrong(columns: readonly ReadColumn[], unit: 'C' | 'F', isCelsius: Record<string, boolean>): { no: number; message: string } | null {
  const at = (found: ReadColumn | undefined, message: string) => (found ? { no: found.column.no, message } : null);
  const taken = columns.filter((c) => c.read !== null);
  return at(columns.find((c) => c.place === ''), 'Say what this column is, or leave it out.')
    ?? (taken.length === 0 ? at(columns[0], 'Say what at least one column is.') : null)
    ?? at(taken.find((c) => c.read!.count === 0), 'No reading was found in this column. Leave it out.')
    ?? at(taken.find((c) => c.read!.looksLikeF && unit === 'C'), 'Say first whether this is °F.')
    ?? at(taken.find((c) => c.read!.unitDoubtful && !isCelsius[c.key]), 'Say first that this is °C.');
}
