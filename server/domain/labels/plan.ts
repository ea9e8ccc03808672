// Places everything on one label. Lengths in points from the label's top left corner, y downwards.
import type { Block, PlacedBox, PlacedText } from './blocks.ts';
import { compositions } from './compose.ts';
import type { Composition, LabelSize, Part, PlacedCode } from './compose.ts';
import { mergedSmall, smallBlocks } from './label-blocks.ts';
import { labelError } from './label-error.ts';
import type { LabelWords } from './label.ts';
import { fitCut, fitWhole } from './region.ts';
import type { FittedRegion } from './region.ts';
import type { Measure } from './wrap.ts';

/** Storage words and lot codes are seldom longer than this: a longer one is what to change first. */
const USUAL_STORAGE = 90;
const USUAL_LOT = 24;

export interface LabelPlan {
  texts: PlacedText[];
  panels: PlacedBox[];
  code: PlacedCode;
  /** True when some of the small print was left out for want of room. */
  cut: boolean;
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

function tooSmall(words: LabelWords, size: LabelSize) {
  const lot = words.identity[0] ?? '';
  if (lot.length > USUAL_LOT) return labelError('lot', lot, 'does not fit the label', 'use a shorter lot code or a larger label');
  if (words.storage.length > USUAL_STORAGE) {
    return labelError('storageWords', words.storage, 'do not fit the label', 'use shorter storage words or a larger label');
  }
  const field = size.labelWidthMm < 2 * size.labelHeightMm ? 'labelWidthMm' : 'labelHeightMm';
  return labelError(field, size[field], 'is too small for the words a label must carry', 'use a larger label');
}
