import { describe, expect, it } from 'vitest';
import { printable } from '../../server/domain/labels/characters.ts';
import { dayInWords, labelWords, weightInWords } from '../../server/domain/labels/label.ts';
import { labelPack } from '../support/label-packs.ts';

/** A font of letters, marks, digits, punctuation and the ellipsis. */
const hasGlyph = (codePoint: number) => /[\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{M}\p{Nd}\p{P}\p{Zs}]/u.test(String.fromCodePoint(codePoint));

describe('label words', () => {
  it('write days with the month in letters', () => {
    expect(dayInWords('2026-11-27')).toBe('27 Nov 2026');
    expect(dayInWords('2027-02-03')).toBe('3 Feb 2027');
    expect(dayInWords('2027-02-30')).toBeNull();
    expect(dayInWords('27/11/2026')).toBeNull();
  });

  it('give the net weight in g and oz (rules.md label.content; 1 oz = 28.349523125 g, NIST SP 811)', () => {
    expect(weightInWords(250)).toBe('250 g (8.8 oz)');
    expect(weightInWords(250, 'us')).toBe('8.8 oz (250 g)');
    expect(weightInWords(454)).toBe('454 g (16.0 oz)');
    expect(weightInWords(1)).toBe('1 g (0.0 oz)');
  });

  it('carry all that rules.md label.content asks for', () => {
    const words = labelWords(labelPack());
    expect(words).toEqual({
      product: 'Hot-smoked mackerel',
      species: 'Atlantic mackerel',
      warning: null,
      date: { caption: 'USE BY', value: '27 Nov 2026' },
      net: '250 g (8.8 oz)',
      identity: ['Lot K7M-4XR9', 'Pack 12'],
      smoked: 'Smoked 21 Nov 2026',
      storage: 'Keep refrigerated at 38 F (3.3 C) or below',
      small: [
        'Contains: fish', 'Sport caught, not for resale', 'Made by Skerrywick Boat Club',
        'Ingredients: mackerel, salt, brown sugar, alder smoke',
      ],
    });
    expect(labelWords(labelPack({ dateKind: 'best-before' })).date?.caption).toBe('BEST BEFORE');
    expect(labelWords(labelPack({ ingredients: '' })).small.join()).not.toContain('Ingredients');
    expect(labelWords(labelPack({ reprint: 2 })).identity).toContain('Reprint 2');
    expect(labelWords(labelPack({ species: 'HOT-SMOKED MACKEREL' })).species).toBe('');
    expect(labelWords(labelPack({ smokeDay: null })).smoked).toBe('Smoke date not recorded');
  });

  it('show no date on a pack on hold, recalled, or without a last day', () => {
    const held = labelWords(labelPack({ hold: { reason: 'Minutes at 62.8 C were not recorded' } }));
    expect(held.date).toBeNull();
    expect(held.warning).toEqual({ heading: 'HOLD', order: 'Do not share', reasons: ['Minutes at 62.8 C were not recorded'] });
    const undated = labelWords(labelPack({ lastDay: null }));
    expect(undated.date).toBeNull();
    expect(undated.warning).toMatchObject({ heading: 'HOLD', reasons: ['No use-by date is recorded'] });
    const recalled = labelWords(labelPack({ recalled: true, hold: { reason: 'Cooled too slowly' } }));
    expect(recalled.date).toBeNull();
    expect(recalled.warning).toEqual({ heading: 'RECALLED', order: 'HOLD: do not eat or share', reasons: ['Cooled too slowly'] });
  });
});

describe('printable text', () => {
  it('is composed, on one line, with single spaces', () => {
    expect(printable('Đa\u0306\u0323ng', hasGlyph)).toBe('Đặng');
    expect(printable('A\u030angstro\u0308m\n\t smoked\u00a0 ', hasGlyph)).toBe('Ångström smoked');
  });

  it('keeps Latin, Greek and Cyrillic letters as they are', () => {
    for (const word of ['Łódź', 'Đặng', 'Ærø', 'Ψάρι', 'Рыба', 'İğdır', 'Ħobż', 'Ǿ', 'Ўзбек']) expect(printable(word, hasGlyph)).toBe(word);
  });

  it('puts one question mark for each cluster without a glyph', () => {
    expect(printable('Trout 🐟!', hasGlyph)).toBe('Trout !');
    expect(printable('Christmas mackerel 🎄', hasGlyph)).toBe('Christmas mackerel');
    expect(printable('🇳🇴 👩‍👩‍👧 鮭', hasGlyph)).toBe('?');
    expect(printable('🐟🎄', hasGlyph)).toBe('?');
    expect(printable('\ud800lone\ufffd', hasGlyph)).toBe('?lone?');
    expect(printable('\ue000', hasGlyph)).toBe('?');
  });

  it('drops what is invisible or turns the reading direction', () => {
    expect(printable('mac\u200bke\u00adrel\u202e\u0007\ufeff', hasGlyph)).toBe('mackerel');
  });

  it('spells out compatibility forms and thins piles of accents', () => {
    expect(printable('Ａ１ ﬁsh', (c) => c < 0x250)).toBe('A1 fish');
    expect(printable(`q${'\u0303'.repeat(50)}`, hasGlyph)).toBe('q\u0303\u0303');
  });

  it('cuts endless text short', () => {
    const text = printable('n'.repeat(10_000), hasGlyph);
    expect(text.length).toBeLessThanOrEqual(2001);
    expect(text.endsWith('…')).toBe(true);
  });
});
