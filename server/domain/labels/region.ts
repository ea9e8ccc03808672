// Fits a column of blocks into a box: shrink first, then leave out the least important words.
import { SMALLEST_PT, layBlock, lineHeightPt, sizeAt } from './blocks.ts';
import type { Block, LaidBlock, PlacedBox, TextBlock } from './blocks.ts';
import type { Measure } from './wrap.ts';

export interface FittedRegion {
  blocks: (LaidBlock & { yPt: number; })[];
  /** True when some of the small print was left out. */
  cut: boolean;
}

const STEPS = 12;
/** Space between blocks, in parts of the body size. */
const GAP = 0.3;
const MOST_SMALL_LINES = 40;

/** Sizes of the label's blocks come from the size of their region: this is the side of a square of its area. */
export function regionScalePt(box: Pick<PlacedBox, 'widthPt' | 'heightPt'>): number {
  return Math.sqrt(box.widthPt * box.heightPt);
}

interface Trial {
  laid: LaidBlock[];
  gapPt: number;
  heightPt: number;
}

function tryScale(measure: Measure, blocks: Block[], box: PlacedBox, scale: number): Trial {
  const laid = blocks.map((block) => layBlock(measure, block, box.widthPt, scale)).filter((block) => block.texts.length > 0);
  const gapPt = bodyPt(box, scale) * GAP;
  const heightPt = laid.reduce((sum, block) => sum + block.heightPt, 0) + gapPt * Math.max(0, laid.length - 1);
  return { laid, gapPt, heightPt };
}

function bodyPt(box: PlacedBox, scale: number): number {
  return SMALLEST_PT + Math.max(0, scale) * Math.max(0, regionScalePt(box) * 0.05 - SMALLEST_PT);
}

function fits(trial: Trial, blocks: Block[], box: PlacedBox): boolean {
  if (trial.heightPt > box.heightPt) return false;
  return trial.laid.every((laid) => {
    const block = blocks.find((one) => one.id === laid.id)!;
    return !laid.cut || (block.kind === 'text' && !block.whole);
  });
}

/** All blocks whole, as large as the box allows; null when they do not fit at their smallest. */
export function fitWhole(measure: Measure, blocks: Block[], box: PlacedBox): FittedRegion | null {
  let low = 0;
  let best = tryScale(measure, blocks, box, 0);
  if (!fits(best, blocks, box)) return null;
  let high = STEPS + 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    const trial = tryScale(measure, blocks, box, middle / STEPS);
    if (fits(trial, blocks, box)) [low, best] = [middle, trial];
    else high = middle;
  }
  return settle(best, box, false);
}

/**
 * The needed blocks with as many lines of small print below them as there is room for, at least `leastLines`, at the
 * first of the scales that allows it; null when none does.
 */
export function fitCut(
  measure: Measure, needed: Block[], small: TextBlock | null, box: PlacedBox, scales: number[], leastLines: number,
): FittedRegion | null {
  for (const scale of scales) {
    const base = tryScale(measure, needed, box, scale);
    if (!fits(base, needed, box)) continue;
    if (!small) return settle(base, box, false);
    const sizePt = sizeAt(small, Math.min(0, scale));
    const room = box.heightPt - base.heightPt - base.gapPt;
    const lines = Math.min(MOST_SMALL_LINES, Math.floor(room / lineHeightPt(small.text, sizePt)));
    if (lines < leastLines) continue;
    const trial = tryScale(measure, needed, box, scale);
    const laid = layBlock(measure, { ...small, mostLines: Math.max(0, lines) }, box.widthPt, Math.min(0, scale));
    if (laid.texts.length > 0) {
      trial.laid.push(laid);
      trial.heightPt += trial.gapPt + laid.heightPt;
    }
    if (trial.heightPt <= box.heightPt + 1e-6) return settle(trial, box, laid.cut);
  }
  return null;
}

/** Spreads a little of the spare height between the blocks. */
function settle(trial: Trial, box: PlacedBox, cut: boolean): FittedRegion {
  const gaps = Math.max(1, trial.laid.length - 1);
  const spare = Math.max(0, box.heightPt - trial.heightPt);
  const extra = Math.min(spare / gaps, trial.gapPt * 2);
  let y = 0;
  const blocks = trial.laid.map((block) => {
    const placed = { ...block, yPt: y };
    y += block.heightPt + trial.gapPt + extra;
    return placed;
  });
  return { blocks, cut };
}
