import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { GLUE, lineWidth, wrap } from '../../server/domain/labels/wrap.ts';

/** Every letter 500 wide, spaces too. */
const measure = (_font: string, word: string) => word.length * 500;

describe('wrapped text', () => {
  it('breaks at spaces and keeps glued words together', () => {
    expect(wrap(measure, 'bold', 'one two three', 4000, 9)).toEqual({ lines: ['one two', 'three'], cut: false });
    expect(wrap(measure, 'bold', `aaa Pack${GLUE}12`, 4500, 9).lines).toEqual(['aaa', 'Pack 12']);
  });

  it('parts glued words, then letters, only when a line cannot hold them', () => {
    expect(wrap(measure, 'bold', `Lot${GLUE}K7M4XR9`, 4000, 9).lines).toEqual(['Lot', 'K7M4XR9']);
    expect(wrap(measure, 'bold', 'abcdefgh', 1500, 9).lines).toEqual(['abc', 'def', 'gh']);
  });

  it('ends in an ellipsis when lines run out', () => {
    expect(wrap(measure, 'bold', 'one two three four', 4000, 2)).toEqual({ lines: ['one two', 'three…'], cut: true });
  });

  it('never exceeds the width or loses a letter that it does not own up to', () => {
    const text = fc.string({ unit: fc.constantFrom('a', 'B', 'ä', ' ', GLUE, '·', 'W', 'e\u0323'), maxLength: 300 })
      .map((raw) => raw.replace(/ +/g, ' ').trim());
    fc.assert(fc.property(text, fc.integer({ min: 1500, max: 30_000 }), fc.integer({ min: 1, max: 30 }), (words, width, most) => {
      const { lines, cut } = wrap(measure, 'regular', words, width, most);
      expect(lines.length).toBeLessThanOrEqual(most);
      for (const line of lines) expect(lineWidth(measure, 'regular', line)).toBeLessThanOrEqual(width);
      const letters = (some: string) => some.replace(/[\s·…]/g, '');
      if (cut) expect(letters(words).startsWith(letters(lines.join('')))).toBe(true);
      else expect(letters(lines.join(''))).toBe(letters(words));
    }));
  });
});
