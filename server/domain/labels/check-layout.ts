import { labelWords } from './label.ts';
import type { LabelPack } from './label.ts';
import { checkGeometry } from './layouts.ts';
import type { SheetLayout } from './layouts.ts';
import { planLabel } from './plan.ts';
import type { Measure } from './wrap.ts';

/** A code of version 5, for an address of up to 84 characters at error correction M (ISO/IEC 18004). */
const ORDINARY_MODULES = 37;

/** Ordinary packs: what a usable label must be able to carry. */
const ORDINARY: LabelPack = {
  product: 'Hot-smoked mackerel', species: 'Atlantic mackerel', lot: 'K7M-4QX9', packNo: 128,
  smokeDay: '2026-11-21', dateKind: 'use-by', lastDay: '2026-11-27',
  storageWords: 'Keep refrigerated at 38 F (3.3 C) or below',
  extraWords: ['Contains: fish'], netGrams: 1250, madeBy: '', saleWords: '', url: '',
  hold: null, recalled: false, reprint: 1,
};
const ORDINARY_PACKS: LabelPack[] = [
  ORDINARY,
  { ...ORDINARY, dateKind: 'best-before', storageWords: 'Keep frozen; thaw in refrigerator; open pack before thawing' },
  { ...ORDINARY, hold: { reason: 'Core temperature was not recorded' } },
];

/** Widths without a font: a little above the average letter of Noto Sans. */
const roughMeasure: Measure = (font, word) => {
  const spaces = word.split(' ').length - 1;
  return (word.length - spaces) * (font === 'bold' ? 600 : 560) + spaces * 260;
};

/**
 * Refuses label stock that cannot be printed or is too small for an ordinary pack's words at a readable size and a code
 * that a phone can read. Millimetres. Throws DomainError that names the field, its value and the remedy.
 */
export function checkLayout(layout: SheetLayout): void {
  checkGeometry(layout);
  for (const pack of ORDINARY_PACKS) planLabel(labelWords(pack), layout, ORDINARY_MODULES, roughMeasure);
}
