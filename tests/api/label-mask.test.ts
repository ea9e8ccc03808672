import { encode } from 'uqr';
import { describe, expect, it } from 'vitest';
import { encodeWell } from '../../server/features/labels/label-mask.ts';
import type { Bits } from '../../server/features/labels/label-mask.ts';

const addresses = [11, 40, 61, 90, 150, 260, 400].flatMap((length) =>
  [1, 2, 3].map((seed) => `https://smoke.skerrywick.example/${(seed * 7919 ** 3).toString(36).repeat(60)}`.slice(0, length)));
const LEVEL = { ecc: 'M', boostEcc: false, border: 0 } as const;

const squareOf = ({ size, words, rows }: Bits) =>
  Array.from({ length: size }, (_, y) => Array.from({ length: size }, (_x, x) => (rows[y * words + (x >>> 5)]! >>> (x & 31) & 1) === 1));

/** ISO/IEC 18004, "Evaluation of data masking results", read letter by letter from text; the border counts as light. */
function penaltyOf(square: boolean[][]): number {
  const rows = square.map((row) => row.map((dark) => (dark ? '#' : '.')).join(''));
  const columns = rows.map((_, x) => rows.map((row) => row[x]).join(''));
  let points = 0;
  for (const line of [...rows, ...columns]) {
    for (const [run] of line.matchAll(/#{5,}|\.{5,}/g)) points += run.length - 2;
    const bordered = `....${line}....`;
    for (let at = 0; at < bordered.length; at += 1) {
      if (/^#\.###\.#\.{4}/.test(bordered.slice(at))) points += 40;
      if (/^\.{4}#\.###\.#/.test(bordered.slice(at))) points += 40;
    }
  }
  for (let y = 1; y < rows.length; y += 1) {
    for (let x = 1; x < rows.length; x += 1) {
      if (new Set([rows[y]![x], rows[y]![x - 1], rows[y - 1]![x], rows[y - 1]![x - 1]]).size === 1) points += 3;
    }
  }
  const dark = rows.join('').replaceAll('.', '').length / rows.length ** 2;
  return points + 10 * Math.floor(Math.abs(dark - 0.5) * 20);
}

describe('the mask of a code', () => {
  it.each(addresses)('is the one of least penalty by ISO/IEC 18004 and changes nothing else: %s', (address) => {
    const chosen = squareOf(encodeWell(address));
    const all = [0, 1, 2, 3, 4, 5, 6, 7].map((maskPattern) => encode(address, { ...LEVEL, maskPattern }).data);
    expect(all).toContainEqual(chosen);
    expect(penaltyOf(chosen)).toBe(Math.min(...all.map(penaltyOf)));
  });
});
