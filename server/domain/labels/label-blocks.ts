// A label's words as blocks, with the sizes they may take in their region.
import { SMALLEST_PT } from './blocks.ts';
import type { Block, PlacedBox, TextBlock } from './blocks.ts';
import type { LabelWords } from './label.ts';
import { regionScalePt } from './region.ts';
import { GLUE } from './wrap.ts';

interface SmallPrint {
  box: PlacedBox;
  small: string[];
  runOn: boolean;
}

function between(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, value));
}

function textBlock(id: string, text: string, bold: boolean, maxPt: number, minPt: number, mostLines: number, whole: boolean): TextBlock {
  const floorPt = Math.min(minPt, SMALLEST_PT);
  return { kind: 'text', id, text, font: bold ? 'bold' : 'regular', maxPt: Math.max(maxPt, minPt), minPt, floorPt, mostLines, whole };
}

/** Names, the date with the weight (or a warning and the weight), storage words. */
export function headBlocks(words: LabelWords, box: PlacedBox): Block[] {
  const unit = regionScalePt(box);
  const body = between(unit * 0.058, SMALLEST_PT, 14);
  const nameMax = between(unit * 0.11, 7, 32);
  const dateMax = between(unit * 0.19, 10, 46);
  const sizes = { maxPt: dateMax, minPt: between(dateMax * 0.5, 8, 16), floorPt: 7 };
  const main: Block[] = words.warning
    ? [
        {
          kind: 'panel', id: 'warning', heading: words.warning.heading, order: words.warning.order,
          reason: words.warning.reasons.join('. '), mostReasonLines: 3, ...sizes,
        },
        textBlock('net', `Net ${words.net}`, true, body * 1.25, SMALLEST_PT, 1, true),
      ]
    : [{ kind: 'pair', id: 'date', date: words.date!, net: words.net, ...sizes }];
  return [
    textBlock('product', words.product, true, nameMax, between(nameMax * 0.55, 6, 12), 2, false),
    textBlock('species', words.species, false, body * 1.1, SMALLEST_PT, 1, false),
    ...main,
    textBlock('storage', words.storage, false, body, SMALLEST_PT, 6, true),
  ];
}

/** Lot, pack number, reprint and smoke day, in one flowing row or in two. */
export function identityBlocks(words: LabelWords, box: PlacedBox, oneRow: boolean): Block[] {
  const body = between(regionScalePt(box) * 0.068, SMALLEST_PT, 14);
  const row = (parts: string[]) => parts.map((part) => part.replaceAll(' ', GLUE)).join(`${GLUE}· `);
  if (oneRow) return [textBlock('identity', row([...words.identity, words.smoked]), true, body, SMALLEST_PT, 6, true)];
  return [
    textBlock('identity', row(words.identity), true, body * 1.15, SMALLEST_PT, 4, true),
    textBlock('smoked', words.smoked, false, body, SMALLEST_PT, 2, true),
  ];
}

/** Small print: run on in one paragraph, or each piece with a line of its own. */
export function smallBlocks(part: SmallPrint): TextBlock[] {
  const max = between(regionScalePt(part.box) * 0.058, SMALLEST_PT, 11);
  const texts = part.runOn ? [part.small.join(' · ')] : part.small;
  return texts.map((text, index) => textBlock(`small-${index}`, text, false, max, SMALLEST_PT, 12, true));
}

/** All small print as one run of words, most important first, so that a cut takes the least important. */
export function mergedSmall(part: SmallPrint): TextBlock | null {
  if (part.small.length === 0) return null;
  return textBlock('small', part.small.join(' · '), false, SMALLEST_PT, SMALLEST_PT, 1, false);
}
