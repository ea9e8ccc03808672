// Breaks text into lines by measured width. Widths are in thousandths of the font size, so that one
// measurement serves every size.

export type FontName = 'regular' | 'bold';

/** Width of a word, with its trailing space if it has one, in thousandths of the font size. */
export type Measure = (font: FontName, word: string) => number;

export interface Wrapped {
  lines: string[];
  /** True when words were left out and an ellipsis stands for them. */
  cut: boolean;
}

/** Keeps two words on one line; printed as an ordinary space. */
export const GLUE = '\u00a0';
const ELLIPSIS = '…';
/** A longer word is measured piece by piece rather than whole. */
const LONG_WORD = 60;

/** Width of a whole line, measured word by word exactly as it is drawn. */
export function lineWidth(measure: Measure, font: FontName, line: string): number {
  let width = 0;
  let from = 0;
  for (let at = line.indexOf(' '); at !== -1; at = line.indexOf(' ', from)) {
    width += measure(font, line.slice(from, at + 1));
    from = at + 1;
  }
  return from < line.length ? width + measure(font, line.slice(from)) : width;
}

/**
 * Lines of at most `width` (thousandths of the font size), at most `mostLines` of them. Breaks at spaces, and inside a
 * word only when the word alone is too wide; what is left over ends in an ellipsis.
 */
export function wrap(measure: Measure, font: FontName, text: string, width: number, mostLines: number): Wrapped {
  if (text === '' || mostLines < 1) return { lines: [], cut: text !== '' };
  const words = text.split(' ');
  const lines: string[] = [];
  let line = '';
  let used = 0;
  while (words.length > 0) {
    const word = words[0]!.replaceAll(GLUE, ' ');
    const needed = word.length > LONG_WORD ? Infinity : lineWidth(measure, font, word);
    if (used + needed <= width) {
      line += `${word} `;
      used += lineWidth(measure, font, `${word} `);
      words.shift();
      continue;
    }
    if (line === '' && words[0]!.includes(GLUE)) {
      words.splice(0, 1, ...words[0]!.split(GLUE));
      continue;
    }
    if (line === '') words.splice(0, 1, ...breakWord(measure, font, words[0]!, width));
    lines.push(line === '' ? words.shift()! : endOfLine(line));
    line = '';
    used = 0;
    if (lines.length === mostLines && words.length > 0) {
      lines[mostLines - 1] = withEllipsis(measure, font, lines[mostLines - 1]!, width);
      return { lines, cut: true };
    }
  }
  if (line !== '') lines.push(line.slice(0, -1));
  return { lines, cut: false };
}

/** A word too wide for a line, as a first piece that fits and the rest. */
function breakWord(measure: Measure, font: FontName, word: string, width: number): string[] {
  const letters = word.match(/\P{M}\p{M}*/gu) ?? [word];
  let count = 0;
  let used = 0;
  while (count < letters.length && (count === 0 || used + measure(font, letters[count]!) <= width)) {
    used += measure(font, letters[count]!);
    count += 1;
  }
  // Kerning can widen a run of letters a little beyond their sum.
  while (count > 1 && measure(font, letters.slice(0, count).join('')) > width) count -= 1;
  return count === letters.length ? [word] : [letters.slice(0, count).join(''), letters.slice(count).join('')];
}

/** A separator has nothing to separate at a line's end. */
function endOfLine(line: string): string {
  return line.replace(/(.) ·? ?$/u, '$1');
}

function withEllipsis(measure: Measure, font: FontName, line: string, width: number): string {
  const letters = line.match(/\P{M}\p{M}*/gu) ?? [];
  while (letters.length > 0) {
    const tried = `${letters.join('').replace(/[\s,;.·]+$/u, '')}${ELLIPSIS}`;
    if (lineWidth(measure, font, tried) <= width) return tried;
    letters.pop();
  }
  return ELLIPSIS;
}
