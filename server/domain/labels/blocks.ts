// The parts of a label as blocks that know how high they are at a given size. Lengths in points from the
// block's own top left corner, y downwards.
import { lineWidth, wrap } from './wrap.ts';
import type { FontName, Measure } from './wrap.ts';

export interface PlacedText {
  /** Which words these are: 'product', 'date', 'lot'... */
  id: string;
  text: string;
  font: FontName;
  sizePt: number;
  xPt: number;
  baselinePt: number;
  /** The box that the letters stay inside. */
  topPt: number;
  widthPt: number;
  heightPt: number;
  ink: 'black' | 'white';
}

export interface PlacedBox {
  xPt: number;
  yPt: number;
  widthPt: number;
  heightPt: number;
}

export interface LaidBlock {
  id: string;
  heightPt: number;
  texts: PlacedText[];
  /** Filled black behind white words. */
  panels: PlacedBox[];
  cut: boolean;
}

interface SizedBlock {
  id: string;
  maxPt: number;
  /** Smallest size as long as there is any other way. */
  minPt: number;
  /** Smallest readable size, used only when nothing else helps. */
  floorPt: number;
}

export interface TextBlock extends SizedBlock {
  kind: 'text';
  text: string;
  font: FontName;
  mostLines: number;
  /** True when leaving words out counts as not fitting. */
  whole: boolean;
}

export interface PairBlock extends SizedBlock {
  kind: 'pair';
  date: { caption: string; value: string; };
  net: string;
}

export interface PanelBlock extends SizedBlock {
  kind: 'panel';
  heading: string;
  order: string;
  reason: string;
  mostReasonLines: number;
}

export type Block = TextBlock | PairBlock | PanelBlock;

/**
 * Smallest type on a label, in points. Its x-height is 0.94 mm; EU 1169/2011 article 13(3) asks for 0.9 mm on packs
 * whose largest face is under 80 cm2.
 */
export const SMALLEST_PT = 5;

/** How far letters reach above and below the baseline, in parts of the size (measured on Noto Sans). */
const PLAIN_REACH = { up: 0.8, down: 0.25, lead: 0.12 };
const MARKED_REACH = { up: 1.07, down: 0.3, lead: 0 };
/** Loose marks that the font stacks on a letter, and other scripts. */
const STACKED_REACH = { up: 1.4, down: 0.65, lead: 0 };
const COMPOSED = /^[\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{Script=Common}]*$/u;

function reach(text: string): { up: number; down: number; lead: number; } {
  if (/^[\x20-\x7e·…]*$/.test(text)) return PLAIN_REACH;
  return COMPOSED.test(text) ? MARKED_REACH : STACKED_REACH;
}

/** Height of one line of this text at this size. */
export function lineHeightPt(text: string, sizePt: number): number {
  const { up, down, lead } = reach(text);
  return (up + down + lead) * sizePt;
}

type Style = Pick<PlacedText, 'id' | 'font' | 'sizePt' | 'ink'>;

function placeLine(measure: Measure, style: Style, text: string, xPt: number, topPt: number): PlacedText {
  const { up, down } = reach(text);
  const { sizePt } = style;
  return {
    ...style, text, xPt, topPt,
    baselinePt: topPt + up * sizePt,
    widthPt: lineWidth(measure, style.font, text) * sizePt / 1000,
    heightPt: (up + down) * sizePt,
  };
}

/** Largest size from `sizePt` down to `minPt` at which the text takes no more than its lines. */
function fitLines(measure: Measure, font: FontName, text: string, widthPt: number, mostLines: number, sizePt: number, minPt: number) {
  let size = sizePt;
  for (;;) {
    const wrapped = wrap(measure, font, text, widthPt / size * 1000, mostLines);
    if (!wrapped.cut || size <= minPt) return { ...wrapped, sizePt: size };
    size = Math.max(minPt, size * 0.92);
  }
}

function stack(measure: Measure, style: Style, lines: string[], xPt: number, topPt: number): { texts: PlacedText[]; bottomPt: number; } {
  const texts: PlacedText[] = [];
  let top = topPt;
  for (const line of lines) {
    texts.push(placeLine(measure, style, line, xPt, top));
    top += lineHeightPt(line, style.sizePt);
  }
  return { texts, bottomPt: top };
}

/** Size of a block at a scale: 1 is its largest, 0 its smallest, below 0 (down to -1) towards its floor. */
export function sizeAt(block: SizedBlock, scale: number): number {
  if (scale < 0) return block.minPt + (block.minPt - block.floorPt) * scale;
  return block.minPt + (block.maxPt - block.minPt) * scale;
}

/** How one block was laid, by width and scale. */
type Laid = Map<string, LaidBlock>;
const memories = new WeakMap<Measure, { byWords: Map<string, Laid>; byBlock: WeakMap<Block, Laid> }>();
/** A sheet's labels have most of their blocks in common; a run of very many different ones must not fill the memory. */
const MOST_REMEMBERED = 2000;

/** The same measure, which also remembers how blocks were laid by it: for the labels of one run. */
export function remembering(measure: Measure): Measure {
  const own: Measure = (font, word) => measure(font, word);
  memories.set(own, { byWords: new Map(), byBlock: new WeakMap() });
  return own;
}

/** Lays a block into a width at a scale (see sizeAt). What is laid is shared: it must not be changed. */
export function layBlock(measure: Measure, block: Block, widthPt: number, scale: number): Readonly<LaidBlock> {
  const before = laidBefore(measure, block);
  if (!before) return lay(measure, block, widthPt, scale);
  const place = `${widthPt} ${scale}`;
  const known = before.get(place);
  if (known) return known;
  const laid = lay(measure, block, widthPt, scale);
  before.set(place, laid);
  return laid;
}

function laidBefore(measure: Measure, block: Block): Laid | undefined {
  const memory = memories.get(measure);
  const known = memory?.byBlock.get(block);
  if (!memory || known) return known;
  const words = JSON.stringify(block);
  if (memory.byWords.size >= MOST_REMEMBERED) memory.byWords.clear();
  const laid = memory.byWords.get(words) ?? new Map<string, LaidBlock>();
  memory.byWords.set(words, laid);
  memory.byBlock.set(block, laid);
  return laid;
}

function lay(measure: Measure, block: Block, widthPt: number, scale: number): LaidBlock {
  const sizePt = sizeAt(block, scale);
  const leastPt = scale < 0 ? block.floorPt : Math.min(block.minPt, sizePt);
  if (block.kind === 'pair') return layPair(measure, block, widthPt, sizePt);
  if (block.kind === 'panel') return layPanel(measure, block, widthPt, sizePt);
  const fit = fitLines(measure, block.font, block.text, widthPt, block.mostLines, sizePt, leastPt);
  const style: Style = { id: block.id, font: block.font, sizePt: fit.sizePt, ink: 'black' };
  const { texts, bottomPt } = stack(measure, style, fit.lines, 0, 0);
  return { id: block.id, heightPt: bottomPt, texts, panels: [], cut: fit.cut };
}

/** The date, large, with the net weight beside it, or below it where the label is narrow. */
function layPair(measure: Measure, block: PairBlock, widthPt: number, sizePt: number): LaidBlock {
  const least = Math.max(SMALLEST_PT, sizePt * 0.75);
  for (let size = sizePt; size >= least; size *= 0.95) {
    const texts = pairTexts(measure, block, size);
    if (texts.every((text) => text.xPt + text.widthPt <= widthPt)) return pairOf(block, texts);
  }
  const dateCaption = fitLines(measure, 'bold', block.date.caption, widthPt, 1, captionPt(sizePt), SMALLEST_PT);
  const date = fitLines(measure, 'bold', block.date.value, widthPt, 1, sizePt, SMALLEST_PT);
  const net = fitLines(measure, 'bold', `Net ${block.net}`, widthPt, 1, Math.max(SMALLEST_PT, sizePt * 0.55), SMALLEST_PT);
  const texts: PlacedText[] = [];
  let top = 0;
  for (const [id, part] of [['date-caption', dateCaption], ['date', date], ['net', net]] as const) {
    const laid = stack(measure, { id, font: 'bold', sizePt: part.sizePt, ink: 'black' }, part.lines, 0, top);
    texts.push(...laid.texts);
    top = laid.bottomPt;
  }
  return { ...pairOf(block, texts), cut: dateCaption.cut || date.cut || net.cut };
}

function captionPt(valuePt: number): number {
  return Math.max(SMALLEST_PT, valuePt * 0.34);
}

function pairTexts(measure: Measure, block: PairBlock, sizePt: number): PlacedText[] {
  const style = (id: string, size: number): Style => ({ id, font: 'bold', sizePt: size, ink: 'black' });
  const netPt = Math.max(SMALLEST_PT, sizePt * 0.55);
  const dateCaption = placeLine(measure, style('date-caption', captionPt(sizePt)), block.date.caption, 0, 0);
  const top = lineHeightPt(block.date.caption, captionPt(sizePt));
  const date = placeLine(measure, style('date', sizePt), block.date.value, 0, top);
  const x = Math.max(date.widthPt, dateCaption.widthPt) + sizePt * 0.6;
  const netCaption = placeLine(measure, style('net-caption', captionPt(sizePt)), 'NET WEIGHT', x, 0);
  // Both values stand on one baseline.
  const net = placeLine(measure, style('net', netPt), block.net, x, date.baselinePt - reach(block.net).up * netPt);
  return [dateCaption, date, netCaption, net];
}

function pairOf(block: PairBlock, texts: PlacedText[]): LaidBlock {
  const heightPt = Math.max(...texts.map((text) => text.topPt + text.heightPt));
  return { id: block.id, heightPt, texts, panels: [], cut: false };
}

/**
 * White words on black: HOLD or RECALLED, what not to do, and why. The order and the reason stand beside the heading or
 * below it, whichever is lower.
 */
function layPanel(measure: Measure, block: PanelBlock, widthPt: number, sizePt: number): LaidBlock {
  const pad = Math.max(1.5, sizePt * 0.2);
  const inner = widthPt - 2 * pad;
  const heading = fitLines(measure, 'bold', block.heading, inner, 1, sizePt, SMALLEST_PT);
  const text = placeLine(measure, { id: 'warning', font: 'bold', sizePt: heading.sizePt, ink: 'white' }, heading.lines[0]!, pad, pad);
  const beside = text.widthPt + sizePt * 0.5;
  const columns = [{ xPt: pad, widthPt: inner, topPt: pad + lineHeightPt(block.heading, heading.sizePt) }];
  if (inner - beside >= inner * 0.4) columns.unshift({ xPt: pad + beside, widthPt: inner - beside, topPt: pad });
  const options = columns.map((column) => panelWords(measure, block, column, sizePt));
  const words = options.reduce((best, option) => (option.bottomPt < best.bottomPt - 0.01 ? option : best));
  const heightPt = Math.max(text.topPt + text.heightPt, words.bottomPt) + pad;
  return {
    id: block.id, heightPt,
    texts: [text, ...words.texts],
    panels: [{ xPt: 0, yPt: 0, widthPt, heightPt }],
    cut: heading.cut || words.cut,
  };
}

interface Column {
  xPt: number;
  topPt: number;
  widthPt: number;
}

function panelWords(measure: Measure, block: PanelBlock, { xPt, topPt, widthPt }: Column, sizePt: number) {
  const largest = (share: number) => Math.max(SMALLEST_PT, sizePt * share);
  const order = fitLines(measure, 'bold', block.order, widthPt, 2, largest(0.5), SMALLEST_PT);
  const orderLaid = stack(measure, { id: 'warning-order', font: 'bold', sizePt: order.sizePt, ink: 'white' }, order.lines, xPt, topPt);
  const reason = fitLines(measure, 'regular', block.reason, widthPt, block.mostReasonLines, largest(0.4), SMALLEST_PT);
  const style: Style = { id: 'warning-reason', font: 'regular', sizePt: reason.sizePt, ink: 'white' };
  const reasonLaid = stack(measure, style, reason.lines, xPt, orderLaid.bottomPt);
  return { texts: [...orderLaid.texts, ...reasonLaid.texts], bottomPt: reasonLaid.bottomPt, cut: order.cut };
}
