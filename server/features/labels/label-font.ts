// The label's font: widths, coverage and the two weights that go into a PDF.
import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
import * as fontkit from 'fontkit';
import type { Font } from 'fontkit';
import type { FontName, Measure } from '../../domain/labels/wrap.ts';
import type { HasGlyph } from '../../domain/labels/characters.ts';

const require = createRequire(import.meta.url);
const FILES: Record<FontName, string> = {
  regular: '@expo-google-fonts/noto-sans/400Regular/NotoSans_400Regular.ttf',
  bold: '@expo-google-fonts/noto-sans/700Bold/NotoSans_700Bold.ttf',
};
/** Words remembered for each weight; a club's words are few, a flood of odd ones must not fill the memory. */
const MOST_REMEMBERED = 20_000;

const fonts: Partial<Record<FontName, Font>> = {};
const widths: Record<FontName, Map<string, number>> = { regular: new Map(), bold: new Map() };

/** The parsed font, read once in the life of the process. */
export function labelFont(name: FontName): Font {
  return (fonts[name] ??= fontkit.create(readFileSync(require.resolve(FILES[name]))) as Font);
}

/** Width of a word with kerning and placed accents, in thousandths of the font size: just as it is drawn. */
export const measureWord: Measure = (name, word) => {
  const known = widths[name].get(word);
  if (known !== undefined) return known;
  if (widths[name].size >= MOST_REMEMBERED) widths[name].clear();
  const font = labelFont(name);
  const width = font.layout(word).advanceWidth * 1000 / font.unitsPerEm;
  widths[name].set(word, width);
  return width;
};

/** True when both weights draw the code point. */
export const hasGlyph: HasGlyph = (codePoint) =>
  labelFont('regular').hasGlyphForCodePoint(codePoint) && labelFont('bold').hasGlyphForCodePoint(codePoint);
