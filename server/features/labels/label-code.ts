// The code on a label: the pack's public address as a QR code, drawn as sharp rectangles.
import { labelError } from '../../domain/labels/label-error.ts';
import { encodeWell } from './label-mask.ts';
import type { Bits } from './label-mask.ts';

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
  const code = encodeWell(url);
  return { modules: code.size, path: darkPath(code) };
}

/** Each dark module once, as runs along the rows; equal runs on neighbouring rows become one rectangle. */
function darkPath({ size, words, rows }: Bits): string {
  /** By a run's first module: its width and first row while it goes on, 0 where none does. */
  const [width, since] = [new Uint16Array(size), new Uint16Array(size)];
  const path: string[] = [];
  const now = new Uint16Array(size);
  for (let row = 0; row <= size; row++) {
    now.fill(0);
    if (row < size) markRuns(now, rows, row * words, size);
    for (let column = 0; column < size; column++) {
      if (width[column] === now[column]) continue;
      if (width[column] !== 0) path.push(`${column} ${size - row} ${width[column]} ${row - since[column]!} re`);
      width[column] = now[column]!;
      since[column] = row;
    }
  }
  return `${path.join('\n')}\nf`;
}

/** The width of each run of dark modules in a row, at its first module. */
function markRuns(now: Uint16Array, rows: Uint32Array, at: number, size: number): void {
  let first = -1;
  for (let column = 0; column < size; column++) {
    const dark = (rows[at + (column >>> 5)]! >>> (column & 31) & 1) === 1;
    if (!dark) first = -1;
    else if (first === -1) {
      first = column;
      now[first] = 1;
    } else now[first]! += 1;
  }
}
