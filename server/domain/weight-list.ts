import { readWeight, tokens, wholeGrams } from './measure.ts';
import type { Token, WeightUnit } from './measure.ts';
import { readRepeat } from './weight-list-repeat.ts';
import { DomainError } from './working.ts';
import type { Grams } from './working.ts';

export type ListedWeight = { lineNo: number; grams: Grams };
export type ListProblem = { lineNo: number; text: string; remedy: string };
export type WeightList = { weights: ListedWeight[]; problems: ListProblem[] };

/** Beyond this a pack's weight is a slip of the unit (common practice). */
const MOST_PACK_GRAMS = 50_000;
const MOST_WEIGHTS = 2000;
const LONGEST_LIST = 50_000;
const LONGEST_SHOWN = 40;

/**
 * Reads a list of weights, typed or pasted from a scale: one a line, or several on a
 * line with spaces, semicolons, or commas followed by a space between them. Decimal
 * comma or point; a unit or the default one; line numbers ("1) 250", "2. 0.310 kg", or
 * a column 1, 2, 3 down every line); repeats ("250 x3", "3 x 250"). Range: 1 g to
 * 50 kg each, 2,000 weights. Nothing is guessed: what can be read two ways, or not at
 * all, is a problem with its line (from 1), its text and what to do.
 */
export function parseWeightList(text: string, defaultUnit: WeightUnit): WeightList {
  const list: WeightList = { weights: [], problems: [] };
  if (text.length > LONGEST_LIST) return { weights: [], problems: [{ lineNo: 1, text: `${text.slice(0, LONGEST_SHOWN)}...`, remedy: 'paste fewer weights at a time' }] };
  const lines = text.split(/\r\n|\r|\n/);
  const numbered = hasNumberColumn(lines);
  lines.forEach((line, i) => readLine(numbered ? line.replace(/^\s*\d+\s+/, '') : withoutLineNumber(line), i + 1, defaultUnit, list));
  if (list.weights.length > MOST_WEIGHTS) {
    list.problems.push({ lineNo: list.weights[MOST_WEIGHTS]!.lineNo, text: `${list.weights.length} weights`, remedy: `enter at most ${MOST_WEIGHTS} at a time` });
    list.weights.length = MOST_WEIGHTS;
  }
  return list;
}

/** "1)", "2.", "#3", "4:" at the start of a line, with something after it. "1.250" is a weight: no space follows the point. */
function withoutLineNumber(line: string): string {
  return line.replace(/^\s*(?:#\s*\d{1,4}[).:]?|\d{1,4}[):]|\d{1,4}\.(?=\s))\s*(?=\S)/, '');
}

/** Two or more lines, each a count that goes up by one from 1 and then one weight. */
function hasNumberColumn(lines: readonly string[]): boolean {
  const filled = lines.filter((line) => line.trim() !== '');
  return filled.length > 1 && filled.every((line, i) => {
    const match = /^\s*(\d+)\s+\d+(?:[.,]\d+)?\s*(?:[a-z]+)?\s*$/i.exec(line);
    return match !== null && Number(match[1]) === i + 1;
  });
}

function readLine(line: string, lineNo: number, defaultUnit: WeightUnit, list: WeightList): void {
  const found = tokens(line);
  let at = 0;
  while (at < found.length) {
    const entry = readEntry(line, found, at, defaultUnit);
    if ('weights' in entry) {
      for (const grams of entry.weights) list.weights.push({ lineNo, grams });
    } else if (entry.remedy !== '') {
      // The unit of a weight that could not be read belongs to the same problem.
      if (found[at]!.kind === 'number' && found[at + entry.used]?.kind === 'word') entry.used += 1;
      const shown = line.slice(found[at]!.at, found[Math.min(at + entry.used, found.length) - 1]!.end);
      list.problems.push({ lineNo, text: shown.length > LONGEST_SHOWN ? `${shown.slice(0, LONGEST_SHOWN)}...` : shown, remedy: entry.remedy });
    }
    at += entry.used;
  }
}

type Entry = { weights: Grams[]; used: number } | { remedy: string; used: number };

/** One weight with its unit and repeat, a separator (no remedy), or a problem. */
function readEntry(line: string, found: readonly Token[], at: number, defaultUnit: WeightUnit): Entry {
  const token = found[at]!;
  if (token.text === ';' || (token.text === ',' && at > 0 && /^(\s|$)/.test(line.slice(token.end)))) return { remedy: '', used: 1 };
  if (/^[-−–]$/.test(token.text) && found[at + 1]?.kind === 'number') return { remedy: 'write the weight without a minus sign', used: 2 };
  if (token.kind !== 'number') return { remedy: 'write weights only, such as 250 g', used: 1 };
  const repeat = readRepeat(line, found, at, defaultUnit);
  if (repeat) return 'remedy' in repeat ? repeat : weigh(repeat.grams, repeat.count, repeat.used, line, found, at);
  const commas = token.text.split(',').length - 1;
  if (commas > 1 && !token.text.includes('.')) return { remedy: 'put spaces between the weights', used: 1 };
  if (mayBeOneNumber(line, found, at)) return { remedy: 'is this one number or two? write them on two lines, or without the space', used: 2 };
  const read = readWeight(found, at, defaultUnit);
  if ('problem' in read) return { remedy: read.remedy, used: read.used };
  return weigh(read.grams, 1, read.used, line, found, at);
}

/** "1 250" may be 1,250, or a line's number and 250, or two weights. */
function mayBeOneNumber(line: string, found: readonly Token[], at: number): boolean {
  const next = found[at + 1];
  if (next?.kind !== 'number' || !/^\s+$/.test(line.slice(found[at]!.end, next.at))) return false;
  return /^\d{1,2}$/.test(found[at]!.text) && /^\d{3}(?:[.,]\d+)?$/.test(next.text);
}

function weigh(grams: number, count: number, used: number, line: string, found: readonly Token[], at: number): Entry {
  try {
    const whole = wholeGrams(grams, MOST_PACK_GRAMS, 'weights', line.slice(found[at]!.at, found[at + used - 1]!.end));
    return whole === 0 ? { remedy: 'leave out a weight of nothing', used } : { weights: Array.from({ length: count }, () => whole), used };
  } catch (error) {
    if (error instanceof DomainError) return { remedy: error.remedy, used };
    throw error;
  }
}
