// Chooses the mask of a QR code. The encoder's own trial of all eight masks takes most of the time of a sheet of
// labels; this one counts penalties on whole rows of bits. Any mask decodes: the choice only keeps out patterns that are
// hard to find.
import { encode } from 'uqr';
import { penaltyOf } from './label-penalty.ts';

const MASKS = [0, 1, 2, 3, 4, 5, 6, 7];
const LEVEL = { ecc: 'M', boostEcc: false, border: 0 } as const;

/** What turns a code under the first mask into the same code under another: one row of bits after another, and the same by columns. */
interface Change {
  rows: Uint32Array;
  columns: Uint32Array;
}

/** By matrix size. Which modules hold data, and which name the mask, is the same for every code of a size. */
const changes = new Map<number, Change[]>();

/** A square of bits: row by row, the leftmost module the lowest bit, each row in `words` whole words of 32. */
export interface Bits {
  size: number;
  words: number;
  rows: Uint32Array;
}

/** A code at error correction M with the mask of least penalty. */
export function encodeWell(text: string): Bits {
  const first = encode(text, { ...LEVEL, maskPattern: 0 });
  const { size } = first;
  const words = Math.ceil(size / 32);
  const known = changes.get(size) ?? makeChanges(text, first);
  const { rows, columns } = pack(first.data, words);
  let best = known[0]!;
  let least = Infinity;
  for (const change of known) {
    const score = penaltyOf(size, words, xor(rows, change.rows), xor(columns, change.columns), least);
    if (score < least) [best, least] = [change, score];
  }
  return { size, words, rows: xor(rows, best.rows) };
}

/** The encoder names each mask in the code itself, so all eight are made once and compared. */
function makeChanges(text: string, first: ReturnType<typeof encode>): Change[] {
  const words = Math.ceil(first.size / 32);
  const before = pack(first.data, words);
  const made = MASKS.map((maskPattern) => {
    const { rows, columns } = pack(encode(text, { ...LEVEL, maskPattern }).data, words);
    return { rows: xor(before.rows, rows), columns: xor(before.columns, columns) };
  });
  changes.set(first.size, made);
  return made;
}

const xor = (a: Uint32Array, b: Uint32Array): Uint32Array => {
  const out = new Uint32Array(a.length);
  for (let at = 0; at < a.length; at++) out[at] = a[at]! ^ b[at]!;
  return out;
};

function pack(data: boolean[][], words: number): Change {
  const size = data.length;
  const [rows, columns] = [new Uint32Array(size * words), new Uint32Array(size * words)];
  for (let row = 0; row < size; row++) {
    const line = data[row]!;
    for (let column = 0; column < size; column++) {
      if (!line[column]) continue;
      rows[row * words + (column >>> 5)]! |= 1 << (column & 31);
      columns[column * words + (row >>> 5)]! |= 1 << (row & 31);
    }
  }
  return { rows, columns };
}
