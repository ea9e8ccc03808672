// Turns any text into characters that the label's font can draw.

/** What stands for something the font has no picture of. */
export const REPLACEMENT = '?';
/** Longer than any label can show; keeps a 10,000-character name cheap. */
const MOST_CHARACTERS = 2000;
/** More marks than this on one letter would climb into the line above. */
const MOST_MARKS = 2;
const PICTURE = /[\p{Extended_Pictographic}\p{Regional_Indicator}]/u;
const PLAIN = /^[\x20-\x7e]*$/;

/** True when the font draws this code point. */
export type HasGlyph = (codePoint: number) => boolean;

const clusters = new Intl.Segmenter('en', { granularity: 'grapheme' });

/**
 * Text in composed form (NFC) that the font can draw, on one line: control and invisible characters go, runs of
 * white space become one space, an emoji goes, another cluster without a glyph (a Chinese character) becomes one "?". Anything past 2,000
 * characters is cut with an ellipsis. Never throws.
 */
export function printable(text: string, hasGlyph: HasGlyph): string {
  const cut = text.length > MOST_CHARACTERS ? `${text.slice(0, MOST_CHARACTERS)}…` : text;
  const line = cut.toWellFormed().normalize('NFC').replace(/\s+/gu, ' ').trim();
  if (PLAIN.test(line)) return line;
  let out = '';
  for (const { segment } of clusters.segment(line)) out += printableCluster(segment, hasGlyph);
  const words = out.replace(/ {2,}/g, ' ').trim();
  // A name of emoji alone still leaves a mark.
  return words === '' && PICTURE.test(line) ? REPLACEMENT : words;
}

function printableCluster(cluster: string, hasGlyph: HasGlyph): string {
  const bare = cluster.replace(/[\p{Cc}\p{Cf}\p{Variation_Selector}\p{Default_Ignorable_Code_Point}]/gu, '');
  if (bare === '') return '';
  for (const form of [bare, bare.normalize('NFKC')]) {
    const drawn = drawable(form, hasGlyph);
    if (drawn !== null) return drawn;
  }
  return PICTURE.test(bare) ? '' : REPLACEMENT;
}

function drawable(cluster: string, hasGlyph: HasGlyph): string | null {
  let out = '';
  let marks = 0;
  for (const character of cluster) {
    if (/\p{M}/u.test(character)) {
      // A mark the font has not is left off: the letter under it still reads.
      if (out === '' || !hasGlyph(character.codePointAt(0)!) || ++marks > MOST_MARKS) continue;
    } else if (!isPrinting(character) || !hasGlyph(character.codePointAt(0)!)) {
      return null;
    }
    out += character;
  }
  return out === '' ? null : out;
}

/** Private-use and unassigned code points and the replacement character mean nothing to a reader. */
function isPrinting(character: string): boolean {
  return character !== '\ufffd' && !/[\p{Co}\p{Cn}\p{Cs}]/u.test(character);
}
