// Whatever is printed: nothing overlaps, nothing leaves the label, the needed words are whole.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { SMALLEST_PT } from '../../server/domain/labels/blocks.ts';
import { dayInWords, weightInWords } from '../../server/domain/labels/label.ts';
import type { LabelPack } from '../../server/domain/labels/label.ts';
import { checkLayout } from '../../server/domain/labels/check-layout.ts';
import { READY_LAYOUTS, rollLayout } from '../../server/domain/labels/layouts.ts';
import type { SheetLayout } from '../../server/domain/labels/layouts.ts';
import { PT_PER_MM, SMALLEST_MODULE_MM } from '../../server/domain/labels/compose.ts';
import type { LabelPlan } from '../../server/domain/labels/plan.ts';
import { labelFont } from '../../server/features/labels/label-font.ts';
import { prepareLabel } from '../../server/features/labels/label-pdf.ts';
import { labelPack } from '../support/label-packs.ts';

interface Box { name: string; left: number; top: number; right: number; bottom: number }

const NEAR_PT = 0.01;

function boxesOf({ texts, code }: LabelPlan): Box[] {
  return [
    ...texts.map((text) => ({
      name: `${text.id} "${text.text}"`,
      left: text.xPt, top: text.topPt, right: text.xPt + text.widthPt, bottom: text.topPt + text.heightPt,
    })),
    { name: 'code', left: code.xPt, top: code.yPt, right: code.xPt + code.widthPt, bottom: code.yPt + code.heightPt },
  ];
}

function checkPlan(plan: LabelPlan, layout: SheetLayout): void {
  const boxes = boxesOf(plan);
  const width = layout.labelWidthMm * PT_PER_MM + NEAR_PT;
  const height = layout.labelHeightMm * PT_PER_MM + NEAR_PT;
  boxes.forEach((box, index) => {
    const inside = box.left >= 0 && box.top >= 0 && box.right <= width && box.bottom <= height;
    if (!inside) throw new Error(`${box.name} leaves the label`);
    for (const other of boxes.slice(index + 1)) {
      const apart = box.right <= other.left + NEAR_PT || other.right <= box.left + NEAR_PT
        || box.bottom <= other.top + NEAR_PT || other.bottom <= box.top + NEAR_PT;
      if (!apart) throw new Error(`${box.name} overlaps ${other.name}`);
    }
  });
  for (const text of plan.texts) expect(text.sizePt).toBeGreaterThanOrEqual(SMALLEST_PT - 1e-9);
  expect(plan.code.modulePt).toBeGreaterThanOrEqual(SMALLEST_MODULE_MM * PT_PER_MM - 1e-9);
  expect(plan.code.quietPt).toBeCloseTo(4 * plan.code.modulePt, 9);
  for (const panel of plan.panels) {
    const words = boxes.filter((box) => box.name.startsWith('warning'));
    expect(words.every((box) => box.left >= panel.xPt && box.right <= panel.xPt + panel.widthPt + NEAR_PT
      && box.top >= panel.yPt && box.bottom <= panel.yPt + panel.heightPt + NEAR_PT)).toBe(true);
    expect(panel.xPt + panel.widthPt).toBeLessThanOrEqual(Math.max(plan.code.xPt, width));
  }
}

/** Letters of all printed words, without the spaces that line breaks took. */
function letters(plan: LabelPlan, ...ids: string[]): string {
  return plan.texts.filter((text) => ids.length === 0 || ids.includes(text.id)).map((text) => text.text).join('').replace(/\s/g, '');
}

function checkNeeded(plan: LabelPlan, pack: LabelPack): void {
  const all = letters(plan);
  const needed = [`Lot${pack.lot}`, `Pack${pack.packNo}`, weightInWords(pack.netGrams), pack.storageWords];
  if (pack.reprint > 0) needed.push(`Reprint${pack.reprint}`);
  if (pack.smokeDay) needed.push(dayInWords(pack.smokeDay)!);
  if (pack.recalled) needed.push('RECALLED', pack.hold ? 'HOLD: do not eat or share' : 'Do not eat or share');
  else if (pack.hold) needed.push('HOLD', 'Donotshare');
  else needed.push(pack.dateKind === 'use-by' ? 'USEBY' : 'BESTBEFORE', dayInWords(pack.lastDay!)!);
  for (const words of needed) expect(all).toContain(words.replace(/\s/g, ''));
}

const name = fc.oneof(
  fc.constantFrom('Mackerel', 'Hot-smoked sea trout with juniper', 'Łódź Đặng Ærø Ψάρι Рыба', 'N'.repeat(10_000), 'ab '.repeat(3334), '🐟'.repeat(5000), 'Ǻ'.repeat(10_000)),
  fc.string({ unit: 'grapheme', maxLength: 120 }),
  fc.string({ unit: fc.constantFrom('Ặ', 'ỹ', 'j', 'W', ' ', 'i', 'q\u0303\u0323'), maxLength: 200 }),
);
const day = fc.constantFrom('2026-09-30', '2026-11-27', '2027-02-08');
const anyPack: fc.Arbitrary<LabelPack> = fc.record({
  product: name,
  species: name,
  lot: fc.constantFrom('K7M-4XR9', 'WWW-WMWM'),
  packNo: fc.integer({ min: 1, max: 9999 }),
  smokeDay: fc.option(day),
  dateKind: fc.constantFrom('use-by', 'best-before'),
  lastDay: day,
  storageWords: fc.constantFrom('Keep refrigerated at 38 F (3.3 C) or below', 'Keep frozen; thaw in refrigerator; open pack before thawing'),
  extraWords: fc.array(fc.oneof(name, fc.constant('Contains: fish, milk')), { maxLength: 4 }),
  ingredients: fc.oneof(name, fc.constant('')),
  netGrams: fc.integer({ min: 1, max: 12_000 }),
  madeBy: name,
  saleWords: fc.oneof(name, fc.constant('Sport caught, not for resale')),
  url: fc.integer({ min: 0, max: 40 }).map((extra) => `https://smoke.skerrywick.example/p/${'7'.repeat(extra)}`),
  hold: fc.option(fc.record({ reason: name }), { freq: 2 }),
  recalled: fc.boolean(),
  reprint: fc.nat({ max: 12 }),
});
const anyLayout = fc.oneof(
  fc.constantFrom(...READY_LAYOUTS),
  fc.tuple(fc.integer({ min: 40, max: 200 }), fc.integer({ min: 24, max: 200 })).map(([width, height]) => rollLayout(width, height)),
).filter((layout) => {
  try {
    checkLayout(layout);
    return true;
  } catch {
    return false;
  }
});

// Random input: what it finds once is a fault, and is not tried again.
describe('label fitting', { retry: 0 }, () => {
  it('never overlaps, never leaves the label and keeps the needed words whole', () => {
    fc.assert(fc.property(anyPack, anyLayout, (pack, layout) => {
      const { plan } = prepareLabel(pack, layout);
      checkPlan(plan, layout);
      checkNeeded(plan, pack);
    }), { numRuns: 200 });
  }, 120_000);

  it('keeps the ink of every line inside the line\'s own box', () => {
    fc.assert(fc.property(anyPack, fc.constantFrom(...READY_LAYOUTS), (pack, layout) => {
      for (const text of prepareLabel(pack, layout).plan.texts) {
        const { bbox } = labelFont(text.font).layout(text.text);
        const scale = text.sizePt / 1000;
        if (!Number.isFinite(bbox.maxY)) continue;
        expect(bbox.maxY * scale, text.text).toBeLessThanOrEqual(text.baselinePt - text.topPt + NEAR_PT);
        expect(-bbox.minY * scale, text.text).toBeLessThanOrEqual(text.topPt + text.heightPt - text.baselinePt + NEAR_PT);
      }
    }), { numRuns: 60 });
  }, 120_000);

  it('cuts small print from its end, and says so with an ellipsis', () => {
    const pack = labelPack({ extraWords: ['Contains: fish', 'brown sugar, '.repeat(500)] });
    const { plan } = prepareLabel(pack, READY_LAYOUTS[0]!);
    expect(plan.cut).toBe(true);
    expect(letters(plan, 'small')).toMatch(/^Contains:fish·brownsugar,.*…$/);
    checkNeeded(plan, pack);
  });

  it('names all the ingredients or none: where they do not fit they are behind the code, and no other word is lost for them', () => {
    const extraWords = ['Contains: fish, wheat, soy', 'Pregnant, over 65 or weak immunity: cook to 74 C (165 F) first.'];
    const others = [...extraWords, 'Sport caught, not for resale', 'Made by Skerrywick Boat Club'];
    const list = 'Atlantic mackerel (fish), salt, brown sugar, Soy sauce, Black pepper';
    const named = (ingredients: string) => READY_LAYOUTS.map((layout) => {
      const { plan } = prepareLabel(labelPack({ extraWords, ingredients }), layout);
      const words = letters(plan);
      expect(plan.cut, layout.name).toBe(false);
      for (const whole of others) expect(words, layout.name).toContain(whole.replace(/\s/g, ''));
      const whole = words.includes(`Ingredients:${ingredients.replace(/\s/g, '')}`);
      expect(words.includes('Ingredients'), layout.name).toBe(whole || words.includes('Ingredients:scanthecode'));
      return [layout.labelHeightMm, whole] as const;
    });
    expect(named(list).filter(([heightMm, whole]) => !whole && heightMm >= 32)).toEqual([]);
    expect(named(`${list}, ${'dill, '.repeat(150)}`).filter(([heightMm, whole]) => whole && heightMm < 32)).toEqual([]);
  });

  it('shows an ordinary pack whole on every ready layout of 38 mm and more', () => {
    for (const layout of READY_LAYOUTS.filter((one) => one.labelHeightMm >= 38)) {
      expect(prepareLabel(labelPack(), layout).plan.cut, layout.name).toBe(false);
    }
  });

  it('sets the last day in the largest type of the facts, at least 10 points from 30 mm of height on', () => {
    for (const layout of READY_LAYOUTS) {
      const { texts } = prepareLabel(labelPack(), layout).plan;
      const date = texts.find((text) => text.id === 'date')!;
      expect(date.sizePt, layout.name).toBeGreaterThanOrEqual(layout.labelHeightMm >= 30 ? 10 : 8);
      for (const text of texts) if (text.id !== 'product') expect(text.sizePt).toBeLessThanOrEqual(date.sizePt);
    }
  });
});
