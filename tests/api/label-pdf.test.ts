// The labels as a printer and a phone see them: drawn by pdf.js, read by ZXing.
import { describe, expect, it } from 'vitest';
import type { LabelPack } from '../../server/domain/labels/label.ts';
import { READY_LAYOUTS, rollLayout } from '../../server/domain/labels/layouts.ts';
import type { SheetLayout } from '../../server/domain/labels/layouts.ts';
import { labelPositions } from '../../server/domain/labels/positions.ts';
import { renderLabels } from '../../server/features/labels/label-pdf.ts';
import { labelPack, manyPacks } from '../support/label-packs.ts';
import { readPdf } from '../support/pdf-reading.ts';
import type { ReadCode } from '../support/pdf-reading.ts';

const createdAt = new Date('2026-11-21T15:00:00Z');
const layoutOf = (id: string): SheetLayout => READY_LAYOUTS.find((layout) => layout.id === id)!;

function print(packs: LabelPack[], layout: SheetLayout, startAt = 1, copies = 1) {
  return renderLabels({ packs, layout, startAt, copies, createdAt });
}

/** The code that was read inside a label's own rectangle. */
function codeIn(codes: ReadCode[], layout: SheetLayout, xMm: number, yMm: number): ReadCode | undefined {
  return codes.find((code) =>
    code.xMm > xMm && code.xMm < xMm + layout.labelWidthMm && code.yMm > yMm && code.yMm < yMm + layout.labelHeightMm);
}

describe('label sheets', () => {
  it.each(READY_LAYOUTS.filter((layout) => layout.kind === 'sheet'))('$name: each place carries its own pack\'s code', async (layout) => {
    const perPage = layout.rows * layout.columns;
    const packs = manyPacks(perPage);
    const startAt = 3;
    const pages = await readPdf(await print(packs, layout, startAt));
    expect(pages).toHaveLength(2);
    expect(pages[0]!.widthMm).toBeCloseTo(layout.pageWidthMm, 1);
    expect(pages[0]!.heightMm).toBeCloseTo(layout.pageHeightMm, 1);
    expect(pages[0]!.codes).toHaveLength(perPage - 2);
    expect(pages[1]!.codes).toHaveLength(2);
    labelPositions(layout, startAt, perPage).forEach(({ page, xMm, yMm }, index) => {
      expect(codeIn(pages[page]!.codes, layout, xMm, yMm)).toMatchObject({ text: packs[index]!.url, level: 'M' });
    });
  });

  it('leave the used part of a sheet blank', async () => {
    const layout = layoutOf('a4-2x7');
    const [page] = await readPdf(await print(manyPacks(1), layout, 8));
    expect(page!.codes).toHaveLength(1);
    for (let y = 1; y < 15.15 + 3 * 38.1; y += 0.5) {
      for (let x = 1; x < 209; x += 0.5) expect(page!.darkness(x, y)).toBe(0);
    }
  });

  it('print copies of each pack one after another', async () => {
    const layout = layoutOf('letter-2x5');
    const packs = manyPacks(3);
    const pages = await readPdf(await print(packs, layout, 10, 4));
    const read = labelPositions(layout, 10, 12).map(({ page, xMm, yMm }) => codeIn(pages[page]!.codes, layout, xMm, yMm)?.text);
    expect(read).toEqual(packs.flatMap((pack) => [pack.url, pack.url, pack.url, pack.url]));
  });
});

describe('label rolls', () => {
  it.each(READY_LAYOUTS.filter((layout) => layout.kind === 'roll'))('$name: one label a page, the size of the label', async (layout) => {
    const packs = manyPacks(2);
    const pages = await readPdf(await print(packs, layout, 1, 2), 203);
    expect(pages).toHaveLength(4);
    expect(pages.map((page) => page.codes.map((code) => code.text))).toEqual([0, 0, 1, 1].map((index) => [packs[index]!.url]));
    for (const page of pages) {
      expect(page.widthMm).toBeCloseTo(layout.labelWidthMm, 1);
      expect(page.heightMm).toBeCloseTo(layout.labelHeightMm, 1);
    }
  });

  it('can be read at the dots of a coarse printer, on the smallest roll, with a long address', async () => {
    const url = `https://smoke.skerrywick.example/p/${'7KQ2M9XWTB4HCF8N'.repeat(3)}`;
    const [page] = await readPdf(await print([labelPack({ url })], rollLayout(57, 32)), 203);
    expect(page!.codes.map((code) => code.text)).toEqual([url]);
  });
});

describe('label text', () => {
  const roll = rollLayout(100, 50);

  it('comes out as the right Unicode in Latin, Greek and Cyrillic', async () => {
    const [page] = await readPdf(await print([labelPack({ product: 'Łódź Đặng Ærø', species: 'Ψάρι Рыба ğİı ẅ' })], roll));
    expect(page!.text).toContain('Łódź Đặng Ærø');
    expect(page!.text).toContain('Ψάρι Рыба ğİı ẅ');
  });

  it('comes out composed when it was given decomposed', async () => {
    const [page] = await readPdf(await print([labelPack({ product: 'Łódź Đặng'.normalize('NFD'), species: 'Ψάρι'.normalize('NFD') })], roll));
    expect(page!.text).toContain('Łódź Đặng');
    expect(page!.text).toContain('Ψάρι');
  });

  it('has a question mark where the font has nothing, and never fails', async () => {
    const [page] = await readPdf(await print([labelPack({ product: '🐟 Sea trout 鱒', species: '\ud800\u0000\u202e' })], roll));
    expect(page!.text).toContain('Sea trout ?');
  });

  it('names lot, pack, dates, storage, weight, sale words and maker (rules.md label.content)', async () => {
    const [page] = await readPdf(await print([labelPack()], roll));
    const text = page!.text.replace(/\s+/g, ' ');
    for (const words of [
      'Hot-smoked mackerel', 'Atlantic mackerel', 'USE BY', '27 Nov 2026', 'NET WEIGHT', '250 g (8.8 oz)', 'Lot K7M-4XR9', 'Pack 12',
      'Smoked 21 Nov 2026', 'Keep refrigerated at 38 F (3.3 C) or below', 'Contains: fish', 'Sport caught, not for resale',
      'Made by Skerrywick Boat Club',
    ]) expect(text).toContain(words);
    expect(text).not.toContain('Reprint');
    expect(text).not.toContain('HOLD');
  });

  it('says which reprint it is', async () => {
    const [page] = await readPdf(await print([labelPack({ reprint: 2 })], roll));
    expect(page!.text).toContain('Reprint 2');
  });

  it('says HOLD, white on black, with the reason and without a last day', async () => {
    const hold = { reason: 'Minutes at 62.8 C were not recorded' };
    const [page] = await readPdf(await print([labelPack({ hold })], roll));
    const text = page!.text.replace(/\s+/g, ' ');
    expect(text).toContain('HOLD');
    expect(text).toContain('Do not share');
    expect(text).toContain(hold.reason);
    expect(text).not.toMatch(/USE BY|27 Nov 2026/);
    let black = 0;
    for (let y = 0.5; y < 49; y += 0.5) for (let x = 0.5; x < 60; x += 0.5) if (page!.darkness(x, y) > 200) black += 1;
    // At least a fifth of the words' half of the label, counted on a half-millimetre grid.
    expect(black).toBeGreaterThan(0.2 * 98 * 119);
  });

  it('says RECALLED', async () => {
    const [page] = await readPdf(await print([labelPack({ recalled: true })], roll));
    expect(page!.text).toContain('RECALLED');
    expect(page!.text).not.toContain('27 Nov 2026');
  });
});

describe('the label document', () => {
  it('is the same bytes for the same run, and embeds parts of both fonts', async () => {
    const layout = layoutOf('a4-3x7');
    const [first, second] = await Promise.all([print(manyPacks(30), layout, 2), print(manyPacks(30), layout, 2)]);
    expect(first.equals(second)).toBe(true);
    const raw = first.toString('latin1');
    expect(raw.match(/\/FontFile2/g)).toHaveLength(2);
    expect(raw).toMatch(/\/BaseFont \/[A-Z]{6}\+NotoSans-Bold/);
    expect(raw).toContain('/PrintScaling /None');
    // Whole, the two fonts would be over a megabyte.
    expect(first.length).toBeLessThan(80_000);
  });

  it('is refused whole, with field and remedy, when something cannot be printed', async () => {
    const layout = layoutOf('a4-2x7');
    await expect(print([], layout)).rejects.toThrow(/Number of labels 0 is out of range/);
    await expect(print(manyPacks(1), layout, 15)).rejects.toThrow(/Start position 15/);
    await expect(print(manyPacks(1), layout, 1, 0)).rejects.toThrow(/Copies 0 is not a count/);
    await expect(print(manyPacks(1), layout, 1, 20_000)).rejects.toThrow(/from 1 to 10000/);
    await expect(print(manyPacks(1), { ...layout, pitchXMm: 50 })).rejects.toThrow(/overlap/);
    await expect(print([labelPack({ url: '' })], layout)).rejects.toThrow(/Public address/);
    await expect(print([labelPack({ url: `https://x.example/${'a'.repeat(10_000)}` })], layout)).rejects.toThrow(/Public address/);
    await expect(print([labelPack({ url: `https://x.example/${'a'.repeat(350)}` })], rollLayout(57, 20))).rejects.toThrow(/shorter public address/);
    await expect(print([labelPack({ netGrams: 0 })], layout)).rejects.toThrow(/Net weight \(g\) 0/);
    await expect(print([labelPack({ netGrams: -250 })], layout)).rejects.toThrow(/Net weight/);
    await expect(print([labelPack({ storageWords: 'Keep cold. '.repeat(900) })], layout)).rejects.toThrow(/Storage words .* do not fit/);
    await expect(print([labelPack({ lot: 'K7M'.repeat(3000) })], layout)).rejects.toThrow(/Lot .*shorter lot code/);
  });
});
