// The code on a label: the pack's public address as a QR code, drawn as sharp rectangles.
import { labelError } from '../../domain/labels/label-error.ts';
import { encodeWell } from './label-mask.ts';

export interface LabelCode {
  modules: number;
  /** PDF path of the dark modules: one unit a module, y upwards from the bottom edge of the matrix. */
  path: string;
}

/** Longer addresses make a code no label can hold at a readable module size. */
const LONGEST_URL = 400;

/** A QR code (ISO/IEC 18004) at error correction M. Throws DomainError for an empty or very long address. */
export function labelCode(url: string): LabelCode {
  if (url === '' || Buffer.byteLength(url) > LONGEST_URL) {
    throw labelError('url', url, 'does not go into a code', `give an address of 1 to ${LONGEST_URL} characters`);
  }
  const { data, size } = encodeWell(url);
  return { modules: size, path: darkPath(data, size) };
}

/** Each dark module once, as runs along the rows; equal runs on neighbouring rows become one rectangle. */
function darkPath(data: boolean[][], size: number): string {
  const open = new Map<number, { from: number; width: number }>();
  const path: string[] = [];
  const close = (key: number, row: number) => {
    const run = open.get(key)!;
    path.push(`${key >> 8} ${size - row} ${run.width} ${row - run.from} re`);
    open.delete(key);
  };
  for (let row = 0; row <= size; row++) {
    const runs = row < size ? runsOf(data[row]!, size) : new Map<number, number>();
    for (const key of [...open.keys()]) if (!runs.has(key)) close(key, row);
    for (const [key, width] of runs) if (!open.has(key)) open.set(key, { from: row, width });
  }
  return `${path.join('\n')}\nf`;
}

/** Runs of dark modules in a row, keyed by start and width together. */
function runsOf(row: boolean[], size: number): Map<number, number> {
  const runs = new Map<number, number>();
  for (let column = 0; column < size; column++) {
    const start = column;
    while (column < size && row[column]) column += 1;
    if (column > start) runs.set(start << 8 | (column - start), column - start);
  }
  return runs;
}
