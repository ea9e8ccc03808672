// Penalty points of ISO/IEC 18004 for one mask of a QR code: long runs, blocks of four, false finders, and too many dark or light
// modules. A line is `words` words of 32 modules, the first module the lowest bit, and all its modules are looked at together.

/** A line through a finder: false when light modules follow it or go before it. */
const FINDER = [1, 0, 1, 1, 1, 0, 1];
/** That many light modules. The border around the matrix counts as light. */
const MARGIN = 4;

/** Points of a square given by rows and by columns. Stops counting when there are `enough` to lose. */
export function penaltyOf(size: number, words: number, rows: Uint32Array, columns: Uint32Array, enough: number): number {
  let score = balance(size, rows);
  for (let line = 0; line < size && score < enough; line++) {
    const at = line * words;
    score += linePoints(size, words, rows, at) + linePoints(size, words, columns, at);
    if (line + 1 < size) score += blockPoints(size, words, rows, at);
  }
  return score;
}

function balance(size: number, rows: Uint32Array): number {
  let dark = 0;
  for (let at = 0; at < rows.length; at++) dark += count(rows[at]!);
  return 10 * Math.floor(Math.abs(dark / (size * size) - 0.5) * 20);
}

/** A line's word, counted from any module; light outside the line. */
function from(words: number, lines: Uint32Array, at: number, module: number): number {
  const shift = module & 31;
  const word = module >> 5;
  const low = word >= 0 && word < words ? lines[at + word]! : 0;
  if (shift === 0) return low;
  const high = word + 1 >= 0 && word + 1 < words ? lines[at + word + 1]! : 0;
  return low >>> shift | high << (32 - shift);
}

/** A word `step` modules on, from two that follow each other. */
const later = (near: number, far: number, step: number) => (step === 0 ? near : near >>> step | far << (32 - step));

/** The bits of a word that stand for places from `module` on and below `end`. */
function inside(module: number, end: number): number {
  const left = end - module;
  return left >= 32 ? -1 : left <= 0 ? 0 : (1 << left) - 1;
}

function linePoints(size: number, words: number, lines: Uint32Array, at: number): number {
  return runPoints(size, words, lines, at) + finderPoints(size, words, lines, at);
}

/**
 * A run of n modules from five on is worth n - 2: one for each place where five alike begin, two more for each run. A run's first
 * place is one where five alike begin and none began just before.
 */
function runPoints(size: number, words: number, lines: Uint32Array, at: number): number {
  let points = 0;
  let began = 0;
  for (let module = 0; module + 4 < size; module += 32) {
    const here = from(words, lines, at, module);
    const next = from(words, lines, at, module + 32);
    let alike = inside(module, size - 4);
    for (let step = 1; step < 5; step++) alike &= ~(here ^ later(here, next, step));
    points += count(alike) + 2 * count(alike & ~(alike << 1 | began));
    began = alike >>> 31;
  }
  return points;
}

function blockPoints(size: number, words: number, rows: Uint32Array, at: number): number {
  let blocks = 0;
  for (let module = 0; module + 1 < size; module += 32) {
    const [a, b] = [from(words, rows, at, module), from(words, rows, at, module + 1)];
    const [c, d] = [from(words, rows, at + words, module), from(words, rows, at + words, module + 1)];
    blocks += count(~((a ^ b) | (a ^ c) | (a ^ d)) & inside(module, size - 1));
  }
  return 3 * blocks;
}

/** A pattern may reach into the light border on one side. */
function finderPoints(size: number, words: number, lines: Uint32Array, at: number): number {
  let found = 0;
  for (let module = -MARGIN; module < size - FINDER.length; module += 32) {
    const near = from(words, lines, at, module);
    const far = from(words, lines, at, module + 32);
    // Bit n of `core` stands for a finder whose first module is MARGIN after place n.
    let core = inside(module, size - FINDER.length - MARGIN + 1);
    for (let step = 0; step < FINDER.length && core !== 0; step++) {
      const bits = later(near, far, step + MARGIN);
      core &= FINDER[step] === 1 ? bits : ~bits;
    }
    if (core === 0) continue;
    let [before, after] = [core, core];
    for (let step = 0; step < MARGIN; step++) {
      before &= ~later(near, far, step);
      after &= ~later(near, far, MARGIN + FINDER.length + step);
    }
    found += count(before) + count(after);
  }
  return 40 * found;
}

/** Bits set in a word. */
function count(word: number): number {
  let bits = word - (word >>> 1 & 0x55555555);
  bits = (bits & 0x33333333) + (bits >>> 2 & 0x33333333);
  return Math.imul(bits + (bits >>> 4) & 0x0f0f0f0f, 0x01010101) >>> 24;
}
