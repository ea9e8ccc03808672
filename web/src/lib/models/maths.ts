/**
 * Equations as MathML, written as short text. Parts stand side by side; text is split at spaces, and each piece
 * becomes a number, an operator, words, or a symbol with its index and power:
 *
 *   maths('E =', frac('8', 'π^2'), sum('n'), exp('− ζ_n^2 Fo'))
 *
 * `T_ref` is T with the index ref, `L^2` a square, `ζ_n^2` both. A piece in quotes, as in "'water left'", stays together as words.
 */
export type MathNode = { tag: string; text?: string; children?: readonly MathNode[] };
export type Part = string | MathNode;

const OPERATORS = new Set(['=', '+', '−', '×', '·', '/', '(', ')', '[', ']', '{', '}', ',', '≤', '≥', '<', '>', '≈', '∑', '∫', '±', '⌊', '⌋', '|', '→', ';']);
export const FUNCTIONS: ReadonlySet<string> = new Set(['ln', 'cos', 'tan', 'exp', 'min', 'max']);
const NUMBER = /^[0-9][0-9.,]*$/;

/** A whole equation. */
export function maths(...parts: Part[]): MathNode {
  return { tag: 'math', children: parts.flatMap(nodesOf) };
}

/** Several pieces as one, for a place that takes one. */
export function row(...parts: Part[]): MathNode {
  const nodes = parts.flatMap(nodesOf);
  return nodes.length === 1 ? nodes[0]! : { tag: 'mrow', children: nodes };
}

export const frac = (above: Part, below: Part): MathNode => ({ tag: 'mfrac', children: [row(above), row(below)] });
export const sqrt = (...parts: Part[]): MathNode => ({ tag: 'msqrt', children: parts.flatMap(nodesOf) });
export const power = (base: Part, exponent: Part): MathNode => ({ tag: 'msup', children: [row(base), row(exponent)] });
/** What follows in round brackets. */
export const group = (...parts: Part[]): MathNode => row('(', ...parts, ')');
/** As a function and not as a power: fractions up there could not be read. */
export const exp = (...parts: Part[]): MathNode => row('exp (', ...parts, ')');
/** A sum over an index, from and to where they are given. */
export const sum = (from: Part, to?: Part): MathNode => bounded('∑', from, to);
export const integral = (from: Part, to: Part): MathNode => ({ tag: 'msubsup', children: [operator('∫'), row(from), row(to)] });

function bounded(sign: string, from: Part, to: Part | undefined): MathNode {
  return to === undefined ? { tag: 'munder', children: [operator(sign), row(from)] } : { tag: 'munderover', children: [operator(sign), row(from), row(to)] };
}

function nodesOf(part: Part): MathNode[] {
  if (typeof part !== 'string') return [part];
  const pieces = part.match(/'[^']*'|\S+/g) ?? [];
  // A function's name keeps off the letter that follows it; a bracket does that by itself.
  return pieces.flatMap((piece, index) => (FUNCTIONS.has(piece) && pieces[index + 1] !== '(' ? [pieceOf(piece), { tag: 'mtext', text: '\u2009' }] : [pieceOf(piece)]));
}

function pieceOf(piece: string): MathNode {
  if (piece.startsWith("'")) return { tag: 'mtext', text: piece.slice(1, -1) };
  if (OPERATORS.has(piece)) return operator(piece);
  const [, base, index, exponent] = /^([^_^]+)(?:_([^^]+))?(?:\^(.+))?$/.exec(piece) ?? [];
  if (base === undefined) throw new Error(`"${piece}" cannot be read as mathematics.`);
  if (index !== undefined && exponent !== undefined) return { tag: 'msubsup', children: [leaf(base), leaf(index), leaf(exponent)] };
  if (index !== undefined) return { tag: 'msub', children: [leaf(base), leaf(index)] };
  return exponent === undefined ? leaf(base) : { tag: 'msup', children: [leaf(base), leaf(exponent)] };
}

/** One letter is a quantity and leans; a word stands upright. */
function leaf(text: string): MathNode {
  if (NUMBER.test(text)) return { tag: 'mn', text };
  return { tag: 'mi', text };
}

function operator(text: string): MathNode {
  return { tag: 'mo', text };
}
