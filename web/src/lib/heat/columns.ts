/** The columns of a pasted table: what each is, under which name it is kept, and what was read in it. */
import type { BatchDetail } from '$contract/batches.ts';
import type { ReadingPlace } from '$domain/reading-flags.ts';
import { columnLog, type ColumnLog, type ReadingTable, type TableColumn } from '$domain/reading-table.ts';
import type { Day } from '$domain/working.ts';
import { stageFor } from './log.ts';
import { readPasted, type Pasted } from './pasted.ts';

/** '' while nobody said what it is; 'of 3': the humidity of the air that column 3 read. */
export type ColumnPlace = ReadingPlace | 'out' | '' | `of ${number}`;
export type ReadColumn = {
  column: TableColumn; key: string; name: string; place: ColumnPlace; probe: string; stageId: string | null; read: Pasted | null;
  /** The column that its humidity stands in. */
  humidityNo: number | null;
  /** Of a humidity: how many lines have one, and those that have none that could be. */
  humidity: Pick<ColumnLog, 'humid' | 'dry'> | null;
};
/** Where readings are of air, which has a humidity. */
const isAir = (place: ColumnPlace): boolean => place === 'chamber' || place === 'storage';
const isPlace = (place: ColumnPlace): place is ReadingPlace => place !== '' && place !== 'out' && !place.startsWith('of ');
const ofNo = (place: ColumnPlace): number | null => (place.startsWith('of ') ? Number(place.slice(3)) : null);

/** A column by its place and heading, so that what was said of it does not pass to another text's. */
export const columnKey = ({ no, heading }: TableColumn): string => `${no} ${heading}`;
export const columnName = ({ no, heading }: TableColumn): string => (heading === '' ? `Column ${no}` : heading);

type Said = { column: TableColumn; place: ColumnPlace };
/** What its heading says it is: a humidity that of the smoker's air, or of the only air there is. Not said where there are several; left out without any. */
function suggested(column: TableColumn, others: readonly Said[]): ColumnPlace {
  if (column.names !== 'humidity') return column.names ?? '';
  const chambers = others.filter(({ place }) => place === 'chamber');
  const airs = chambers.length > 0 ? chambers : others.filter(({ place }) => isAir(place));
  return airs.length === 0 ? 'out' : airs.length === 1 ? `of ${airs[0]!.column.no}` : '';
}

/** Every column as it was said to be, or as its heading says. What was the humidity of a column that is no air any more has to be said anew. */
function saidOf({ columns }: ReadingTable, places: Record<string, ColumnPlace>): Said[] {
  const own = (column: TableColumn) => places[columnKey(column)];
  const warm = columns.filter((column) => column.names !== 'humidity' || (own(column) !== undefined && ofNo(own(column)!) === null)).map((column): Said => ({ column, place: own(column) ?? suggested(column, []) }));
  const air = (no: number | null) => warm.some(({ column, place }) => column.no === no && isAir(place));
  return columns.map((column) => {
    const place = own(column) ?? suggested(column, warm);
    return { column, place: ofNo(place) === null || air(ofNo(place)) ? place : suggested(column, warm) };
  });
}

/** The airs that a column may be the humidity of. */
export const airsFor = (of: ReadColumn, all: readonly ReadColumn[]): { value: ColumnPlace; label: string }[] =>
  all.filter((c) => c.key !== of.key && isAir(c.place)).map((c) => ({ value: `of ${c.column.no}` as const, label: `Humidity of ${c.name}` }));

/** Several probes of one place are told apart by their headings; a place that has one needs no name. */
export function probeName(column: TableColumn, place: ColumnPlace, all: readonly { column: TableColumn; place: ColumnPlace }[]): string {
  const others = all.filter((o) => o.place === place && o.column.no !== column.no);
  if (others.length === 0) return '';
  const name = columnName(column).slice(0, 36);
  return others.some((o) => columnName(o.column).slice(0, 36) === name) ? `${name} ${column.no}` : name;
}

type Asked = { text: string; table: ReadingTable; places: Record<string, ColumnPlace>; batch: Pick<BatchDetail, 'stages'>; unit: 'C' | 'F'; day: Day | ''; zone: string; now: Date };

export function readColumns({ text, table, places, batch, unit, day, zone, now }: Asked): ReadColumn[] {
  const said = saidOf(table, places);
  return said.map(({ column, place }) => {
    const shared = { column, key: columnKey(column), name: columnName(column), place, probe: probeName(column, place, said), humidityNo: null, humidity: null };
    const of = ofNo(place);
    if (of !== null) return { ...shared, probe: '', stageId: null, read: null, humidity: columnLog(text, table, of, column.no) };
    if (!isPlace(place)) return { ...shared, stageId: null, read: null };
    const stageId = stageFor(batch, place);
    const stage = batch.stages.find((s) => s.id === stageId);
    const humidityNo = said.find((other) => ofNo(other.place) === column.no)?.column.no ?? null;
    const log = columnLog(text, table, column.no, humidityNo);
    const read = readPasted({ text: log.text, refused: log.refused, place, unit, day, stageBegan: stage ? new Date(stage.startedAt) : null, zone, now });
    // The heading is the table's, and was read.
    return { ...shared, humidityNo, stageId, read: { ...read, leftOut: read.leftOut.filter(({ lineNo }) => lineNo !== table.headingLine) } };
  });
}

/** What has to be said before the columns are saved, by the column's number; the first one counts. Null when nothing. */
export function columnsWrong(columns: readonly ReadColumn[], unit: 'C' | 'F', isCelsius: Record<string, boolean>): { no: number; message: string } | null {
  const at = (found: ReadColumn | undefined, message: string) => (found ? { no: found.column.no, message } : null);
  const taken = columns.filter((c) => c.read !== null);
  const twice = columns.find((c, i) => c.humidity !== null && columns.slice(0, i).some((other) => other.place === c.place));
  return at(columns.find((c) => c.place === '' && c.column.names === 'humidity'), 'Say which air this humidity is of, or leave it out.')
    ?? at(columns.find((c) => c.place === ''), 'Say what this column is, or leave it out.')
    ?? at(twice, 'That column has a humidity already. Leave one out.')
    ?? at(columns.find((c) => c.humidity?.humid === 0), 'No humidity was found in this column. Leave it out.')
    ?? (taken.length === 0 ? at(columns[0], 'Say what at least one column is.') : null)
    ?? at(taken.find((c) => c.read!.count === 0), 'No reading was found in this column. Leave it out.')
    ?? at(taken.find((c) => c.read!.looksLikeF && unit === 'C'), 'Say first whether this is °F.')
    ?? at(taken.find((c) => c.read!.unitDoubtful && !isCelsius[c.key]), 'Say first that this is °C.');
}
