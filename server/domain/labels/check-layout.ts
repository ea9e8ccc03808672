import { labelWords } from './label.ts';
import type { LabelPack } from './label.ts';
import { checkGeometry } from './layouts.ts';
import type { SheetLayout } from './layouts.ts';
import { planLabel } from './plan.ts';
import type { Measure } from './wrap.ts';

/** A code of version 5, for an address of up to 84 characters at error correction M (ISO/IEC 18004). */
const ORDINARY_MODULES = 37;

/** The longest words a pack may well have: what fits these fits all. */
const FULL: LabelPack = {
  product: 'Ặ'.repeat(200), species: 'Ặ'.repeat(200), lot: 'K7M-4QX9-WM', packNo: 9999,
  smokeDay: null, dateKind: 'best-before', lastDay: '2026-11-27',
  storageWords: 'Keep frozen; thaw in refrigerator; open pack before thawing',
  extraWords: [], ingredients: '', netGrams: 12_500, madeBy: '', saleWords: '', url: '',
  hold: null, recalled: false, reprint: 12,
};
const FULL_PACKS: LabelPack[] = [
  FULL,
  { ...FULL, hold: { reason: 'Ặ'.repeat(200) } },
  { ...FULL, hold: { reason: 'Ặ'.repeat(200) }, recalled: true },
];

/** Widths without a font: above the average letter of Noto Sans. */
const roughMeasure: Measure = (font, word) => {
  const spaces = word.split(' ').length - 1;
  return (word.length - spaces) * (font === 'bold' ? 640 : 600) + spaces * 260;
};

/**
 * Refuses label stock that cannot be printed or is too small for a pack's words at a readable size and a code
 * that a phone can read. Millimetres. Throws DomainError that names the field, its value and the remedy.
 */
export function checkLayout(layout: SheetLayout): void {
  checkGeometry(layout);
  for (const pack of FULL_PACKS) planLabel(labelWords(pack), layout, ORDINARY_MODULES, roughMeasure, true);
}
