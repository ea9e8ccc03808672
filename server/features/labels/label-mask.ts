// Chooses the mask of a QR code. The encoder's own trial of all eight masks takes most of the time of a sheet of
// labels; this one reads flat arrays. Any mask decodes: the choice only keeps out patterns that are hard to find.
import { encode } from 'uqr';

/** The eight conditions under which a mask inverts a module (ISO/IEC 18004, table of data mask patterns). */
const INVERTS: ((row: number, column: number) => boolean)[] = [
  (r, c) => (r + c) % 2 === 0,
  (r) => r % 2 === 0,
  (_, c) => c % 3 === 0,
  (r, c) => (r + c) % 3 === 0,
  (r, c) => (Math.floor(r / 2) + Math.floor(c / 3)) % 2 === 0,
  (r, c) => (r * c) % 2 + (r * c) % 3 === 0,
  (r, c) => ((r * c) % 2 + (r * c) % 3) % 2 === 0,
  (r, c) => ((r + c) % 2 + (r * c) % 3) % 2 === 0,
];

/** A finder's pattern with four light modules on one side, as eleven bits. */
const LIGHT_AFTER = 0b10111010000;
const LIGHT_BEFORE = 0b00001011101;
const ELEVEN_BITS = 0b11111111111;
const LEVEL = { ecc: 'M', boostEcc: false, border: 0 } as const;

/** By matrix size: 1 where a mask inverts a data module. The other modules of a size are always in the same places. */
const tables = new Map<number, Uint8Array[]>();

/**
 * A code at error correction M with the mask of least penalty. The few modules that name the mask are scored as they are
 * under the first one.
 */
export function encodeWell(text: string): { data: boolean[][]; size: number } {
  const first = encode(text, { ...LEVEL, maskPattern: 0 });
  const { size } = first;
  const masks = tables.get(size) ?? makeTables(first.types, size);
  const bare = new Uint8Array(size * size);
  for (let at = 0; at < bare.length; at++) {
    bare[at] = Number(first.data[Math.floor(at / size)]![at % size]) ^ masks[0]![at]!;
  }
  let best = 0;
  let least = Infinity;
  masks.forEach((mask, index) => {
    const score = penalty(bare.map((bit, at) => bit ^ mask[at]!), size, least);
    if (score < least) [best, least] = [index, score];
  });
  return best === 0 ? first : encode(text, { ...LEVEL, maskPattern: best });
}

function makeTables(types: number[][], size: number): Uint8Array[] {
  const made = INVERTS.map((inverts) => {
    const table = new Uint8Array(size * size);
    for (let row = 0; row < size; row++) {
      for (let column = 0; column < size; column++) {
        table[row * size + column] = Number(types[row]![column] === 0 && inverts(row, column));
      }
    }
    return table;
  });
  tables.set(size, made);
  return made;
}

/**
 * Penalty points of ISO/IEC 18004: long runs, blocks of four, false finders, too many dark or light modules.
 * Stops counting when there are enough to lose.
 */
function penalty(bits: Uint8Array, size: number, enough: number): number {
  let score = 0;
  for (let line = 0; line < size && score < enough; line++) {
    score += linePenalty(bits, size, line * size, 1) + linePenalty(bits, size, line, size);
  }
  let dark = 0;
  for (let at = 0; at < bits.length; at++) {
    dark += bits[at]!;
    if (at % size === size - 1 || at + size >= bits.length) continue;
    const sum = bits[at]! + bits[at + 1]! + bits[at + size]! + bits[at + size + 1]!;
    if (sum === 0 || sum === 4) score += 3;
  }
  return score + 10 * Math.floor(Math.abs(dark / bits.length - 0.5) * 20);
}

/** The border around the matrix counts as light. */
function linePenalty(bits: Uint8Array, size: number, from: number, step: number): number {
  let score = 0;
  let run = 0;
  let before = 2;
  let last = 0;
  for (let index = 0, at = from; index < size + 4; index++, at += step) {
    const bit = index < size ? bits[at]! : 0;
    last = (last << 1 | bit) & ELEVEN_BITS;
    if (index >= 6 && (last === LIGHT_AFTER || last === LIGHT_BEFORE)) score += 40;
    if (index >= size) continue;
    run = bit === before ? run + 1 : 1;
    if (run === 5) score += 3;
    else if (run > 5) score += 1;
    before = bit;
  }
  return score;
}
