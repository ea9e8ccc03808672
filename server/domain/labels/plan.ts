// Places everything on one label. Lengths in points from the label's top left corner, y downwards.
import type { Block, PlacedBox, PlacedText, TextBlock } from './blocks.ts';
import { SMALLEST_PT } from './blocks.ts';
import { labelError } from './label-error.ts';
import type { LabelWords } from './label.ts';
import type { SheetLayout } from './layouts.ts';
import { fitCut, fitWhole, regionScalePt } from './region.ts';
import type { FittedRegion } from './region.ts';
import type { Measure } from './wrap.ts';
import { GLUE } from './wrap.ts';

export const PT_PER_MM = 72 / 25.4;

/** White modules around a code (ISO/IEC 18004). */
export const QUIET_MODULES = 4;
/** Smallest module that a phone reads from a hand's breadth off. */
export const SMALLEST_MODULE_MM = 0.33;
const LARGEST_MODULE_MM = 1;
/** Most roll printers burn 8 dots a millimetre: whole dots make sharp edges. */
const ROLL_DOT_MM = 0.125;
/** Space between the code's white border and the label's edge. */
const CODE_INSET_MM = 0.5;

export interface PlacedCode extends PlacedBox {
  /** The box counts the white border of 4 modules; the first dark module lies this far inside. */
  quietPt: number;
  modulePt: number;
}

export interface LabelPlan {
  texts: PlacedText[];
  panels: PlacedBox[];
  code: PlacedCode;
  /** True when some of the small print was left out for want of room. */
  cut: boolean;
}

type LabelSize = Pick<SheetLayout, 'labelWidthMm' | 'labelHeightMm' | 'cornerMm' | 'kind'>;

interface Part {
  box: PlacedBox;
  needed: Block[];
  small: string[];
  /** Small print runs on in one paragraph, which saves height; else each piece has a line of its own. */
  runOn: boolean;
}

interface Composition {
  code: PlacedCode;
  parts: Part[];
}

/**
 * Places a label's words and its code of `codeModules` by `codeModules`, with no two boxes overlapping and all inside
 * the label. Words shrink down to a readable size; then the small print is cut from its end. Lot, pack number, date or
 * warning, storage words and net weight are always whole. `measure` gives widths of words (see wrap.ts); words must already be printable
 * (see characters.ts). Throws DomainError naming the field when they cannot fit;
 * when `strict`, also when the species or the reason of a warning would have to go.
 */
export function planLabel(words: LabelWords, size: LabelSize, codeModules: number, measure: Measure, strict = false): LabelPlan {
  const options = compositions(words, size, codeModules);
  for (const option of options) {
    const regions = option.parts.map((part) => fitWhole(measure, [...part.needed, ...smallBlocks(part)], part.box));
    if (regions.every((region) => region !== null)) return assemble(option, regions as FittedRegion[]);
  }
  for (const option of options.toReversed()) {
    const regions = option.parts.map((part) => fitPart(measure, part, oneLine));
    if (regions.every((region) => region !== null)) return assemble(option, regions as FittedRegion[]);
  }
  for (const option of strict ? [] : options.toReversed()) {
    const regions = option.parts.map((part) => fitPart(measure, part, productAlone));
    if (regions.every((region) => region !== null)) return assemble(option, regions as FittedRegion[]);
  }
  throw tooSmall(words, size);
}

function fitPart(measure: Measure, part: Part, lastResort: (block: Block) => Block): FittedRegion | null {
  const small = mergedSmall(part);
  return fitCut(measure, part.needed, small, part.box, [0.35, 0], 3)
    ?? fitCut(measure, part.needed, small, part.box, [0, -0.5, -1], 1)
    ?? fitCut(measure, part.needed.map(lastResort), small, part.box, [-1], 0);
}

/** As a last resort the names and the reason give way: one line each. */
function oneLine(block: Block): Block {
  if (block.kind === 'panel') return { ...block, mostReasonLines: 1 };
  return block.kind === 'text' && !block.whole ? { ...block, mostLines: 1 } : block;
}

/** For letters piled so high that even that is too much: the species and the reason give way. */
function productAlone(block: Block): Block {
  if (block.kind === 'panel') return { ...block, mostReasonLines: 0 };
  return block.kind === 'text' && !block.whole ? { ...block, mostLines: block.id === 'product' ? 1 : 0 } : block;
}

function assemble(option: Composition, regions: FittedRegion[]): LabelPlan {
  const plan: LabelPlan = { texts: [], panels: [], code: option.code, cut: regions.some((region) => region.cut) };
  regions.forEach((region, index) => {
    const { xPt, yPt } = option.parts[index]!.box;
    for (const block of region.blocks) {
      const down = yPt + block.yPt;
      for (const text of block.texts) {
        plan.texts.push({ ...text, xPt: text.xPt + xPt, topPt: text.topPt + down, baselinePt: text.baselinePt + down });
      }
      for (const panel of block.panels) plan.panels.push({ ...panel, xPt: panel.xPt + xPt, yPt: panel.yPt + down });
    }
  });
  return plan;
}

function compositions(words: LabelWords, size: LabelSize, codeModules: number): Composition[] {
  const width = size.labelWidthMm;
  const height = size.labelHeightMm;
  const across = codeModules + 2 * QUIET_MODULES;
  const least = across * SMALLEST_MODULE_MM;
  if (least > Math.min(width, height) - 2 * CODE_INSET_MM) throw codeTooLarge(size, least, codeModules);
  const module = (sideMm: number) => moduleMm(sideMm / across, size.kind);
  const roomMm = Math.min(width, height) - 2 * CODE_INSET_MM;
  if (width >= 1.15 * height) {
    return [0.34, 0.27, 0].map((share) => besideCode(words, size, across, module(Math.min(roomMm, width * share))));
  }
  return [
    aboveCode(words, size, across, module(Math.min(roomMm, width * 0.44, height * 0.34)), true),
    aboveCode(words, size, across, SMALLEST_MODULE_MM, false),
    besideCode(words, size, across, SMALLEST_MODULE_MM),
  ];
}

function moduleMm(wantedMm: number, kind: SheetLayout['kind']): number {
  const module = Math.max(SMALLEST_MODULE_MM, Math.min(LARGEST_MODULE_MM, wantedMm));
  const dots = Math.floor(module / ROLL_DOT_MM + 1e-9) * ROLL_DOT_MM;
  return kind === 'roll' && dots >= SMALLEST_MODULE_MM ? dots : module;
}

function padMm(size: LabelSize): number {
  const pad = Math.min(3, Math.max(1.2, Math.min(size.labelWidthMm, size.labelHeightMm) * 0.05));
  return Math.max(pad, size.cornerMm * 0.3);
}

function boxMm(x: number, y: number, width: number, height: number): PlacedBox {
  return {
    xPt: x * PT_PER_MM, yPt: y * PT_PER_MM,
    widthPt: Math.max(0.001, width) * PT_PER_MM, heightPt: Math.max(0.001, height) * PT_PER_MM,
  };
}

function codeMm(x: number, y: number, across: number, module: number): PlacedCode {
  const modulePt = module * PT_PER_MM;
  return { ...boxMm(x, y, across * module, across * module), modulePt, quietPt: QUIET_MODULES * modulePt };
}

/** Wide labels: all words on the left, the code on the right. */
function besideCode(words: LabelWords, size: LabelSize, across: number, module: number): Composition {
  const pad = padMm(size);
  const side = across * module;
  const x = size.labelWidthMm - CODE_INSET_MM - side;
  const box = boxMm(pad, pad, x - pad, size.labelHeightMm - 2 * pad);
  return {
    code: codeMm(x, (size.labelHeightMm - side) / 2, across, module),
    parts: [{ box, needed: [...headBlocks(words, box), ...identityBlocks(words, box, true)], small: words.small, runOn: true }],
  };
}

/** Tall labels: the code at the lower right, with the lot and the small print beside it when `split`. */
function aboveCode(words: LabelWords, size: LabelSize, across: number, module: number, split: boolean): Composition {
  const pad = padMm(size);
  const side = across * module;
  const x = size.labelWidthMm - CODE_INSET_MM - side;
  const y = size.labelHeightMm - CODE_INSET_MM - side;
  const code = codeMm(x, y, across, module);
  const top = boxMm(pad, pad, size.labelWidthMm - 2 * pad, y - pad);
  if (!split) {
    const needed = [...headBlocks(words, top), ...identityBlocks(words, top, true)];
    return { code, parts: [{ box: top, needed, small: words.small, runOn: true }] };
  }
  const low = boxMm(pad, y + QUIET_MODULES * module, x - pad, size.labelHeightMm - pad - y - QUIET_MODULES * module);
  return {
    code,
    parts: [
      { box: top, needed: headBlocks(words, top), small: [], runOn: false },
      { box: low, needed: identityBlocks(words, low, false), small: words.small, runOn: false },
    ],
  };
}

function between(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, value));
}

function textBlock(id: string, text: string, bold: boolean, maxPt: number, minPt: number, mostLines: number, whole: boolean): TextBlock {
  const floorPt = Math.min(minPt, SMALLEST_PT);
  return { kind: 'text', id, text, font: bold ? 'bold' : 'regular', maxPt: Math.max(maxPt, minPt), minPt, floorPt, mostLines, whole };
}

function headBlocks(words: LabelWords, box: PlacedBox): Block[] {
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

function identityBlocks(words: LabelWords, box: PlacedBox, oneRow: boolean): Block[] {
  const body = between(regionScalePt(box) * 0.068, SMALLEST_PT, 14);
  const row = (parts: string[]) => parts.map((part) => part.replaceAll(' ', GLUE)).join(`${GLUE}· `);
  if (oneRow) return [textBlock('identity', row([...words.identity, words.smoked]), true, body, SMALLEST_PT, 6, true)];
  return [
    textBlock('identity', row(words.identity), true, body * 1.15, SMALLEST_PT, 4, true),
    textBlock('smoked', words.smoked, false, body, SMALLEST_PT, 2, true),
  ];
}

function smallBlocks(part: Part): TextBlock[] {
  const max = between(regionScalePt(part.box) * 0.058, SMALLEST_PT, 11);
  const texts = part.runOn ? [part.small.join(' · ')] : part.small;
  return texts.map((text, index) => textBlock(`small-${index}`, text, false, max, SMALLEST_PT, 12, true));
}

/** All small print as one run of words, most important first, so that a cut takes the least important. */
function mergedSmall(part: Part): TextBlock | null {
  if (part.small.length === 0) return null;
  return textBlock('small', part.small.join(' · '), false, SMALLEST_PT, SMALLEST_PT, 1, false);
}

/** Codes of a public address are seldom larger than this (version 6, up to 106 characters). */
const USUAL_MODULES = 41;
const USUAL_STORAGE = 90;
const USUAL_LOT = 24;

function codeTooLarge(size: LabelSize, leastMm: number, modules: number) {
  if (modules > USUAL_MODULES) {
    return labelError('url', `${modules} by ${modules} modules`, 'make too large a code for the label', 'use a shorter public address or a larger label');
  }
  const field = size.labelWidthMm < size.labelHeightMm ? 'labelWidthMm' : 'labelHeightMm';
  return labelError(field, size[field], 'is too small for a code that a phone can read',
    `use at least ${Math.ceil(leastMm + 2 * CODE_INSET_MM)} mm`);
}

function tooSmall(words: LabelWords, size: LabelSize) {
  const lot = words.identity[0] ?? '';
  if (lot.length > USUAL_LOT) return labelError('lot', lot, 'does not fit the label', 'use a shorter lot code or a larger label');
  if (words.storage.length > USUAL_STORAGE) {
    return labelError('storageWords', words.storage, 'do not fit the label', 'use shorter storage words or a larger label');
  }
  const field = size.labelWidthMm < 2 * size.labelHeightMm ? 'labelWidthMm' : 'labelHeightMm';
  return labelError(field, size[field], 'is too small for the words a label must carry', 'use a larger label');
}
