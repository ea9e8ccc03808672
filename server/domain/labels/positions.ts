// Where each label lies on its page.
import { labelError } from './label-error.ts';
import type { SheetLayout } from './layouts.ts';

export interface LabelPosition {
  /** From 0. */
  page: number;
  /** From 0, downwards. */
  row: number;
  /** From 0, rightwards. */
  column: number;
  /** From the page's left edge to the label's. */
  xMm: number;
  /** From the page's top edge to the label's. */
  yMm: number;
}

/** One request prints at most this many labels, so that a slip of the finger does not fill the disk. */
export const MOST_LABELS = 10_000;

/**
 * Places for `count` labels, row by row, beginning at `startAt` on the first page (1 is the top left; a used
 * sheet begins further on) and at the top left of each later page. Millimetres.
 * Throws DomainError for a start position that the sheet has not, or a count out of 1 to 10,000.
 */
export function labelPositions(layout: SheetLayout, startAt: number, count: number): LabelPosition[] {
  const perPage = layout.rows * layout.columns;
  if (!Number.isInteger(startAt) || startAt < 1 || startAt > perPage) {
    throw labelError('startAt', startAt,
      `is not on a sheet of ${perPage}`, perPage === 1 ? 'start at 1' : `give a position from 1 to ${perPage}`);
  }
  if (!Number.isInteger(count) || count < 1 || count > MOST_LABELS) {
    throw labelError('count', count, 'is out of range', `print from 1 to ${MOST_LABELS} labels at a time`);
  }
  return Array.from({ length: count }, (_, index) => {
    const slot = startAt - 1 + index;
    const row = Math.floor((slot % perPage) / layout.columns);
    const column = slot % layout.columns;
    return {
      page: Math.floor(slot / perPage),
      row,
      column,
      xMm: layout.marginLeftMm + column * layout.pitchXMm,
      yMm: layout.marginTopMm + row * layout.pitchYMm,
    };
  });
}
