// Label stock as plain geometry in millimetres.
import { labelError } from './label-error.ts';

export interface SheetLayout {
  id: string;
  name: string;
  kind: 'sheet' | 'roll';
  pageWidthMm: number;
  pageHeightMm: number;
  rows: number;
  columns: number;
  labelWidthMm: number;
  labelHeightMm: number;
  /** From the page's top edge to the first label's top edge. */
  marginTopMm: number;
  /** From the page's left edge to the first label's left edge. */
  marginLeftMm: number;
  /** From one label's left edge to the next one's. */
  pitchXMm: number;
  /** From one label's top edge to the next one's. */
  pitchYMm: number;
  /** Radius of the label's corners. */
  cornerMm: number;
}

/** Rounding in printed stock tables: a tenth of a millimetre over the edge is no fault. */
const TOLERANCE_MM = 0.1;
const LONGEST_PAGE_MM = 1200;
const MOST_ROWS = 60;

export const A4 = { pageWidthMm: 210, pageHeightMm: 297 };
export const LETTER = { pageWidthMm: 215.9, pageHeightMm: 279.4 };

type SheetNumbers = [
  rows: number, columns: number, width: number, height: number,
  top: number, left: number, pitchX: number, pitchY: number, corner: number,
];

function sheet(paper: 'A4' | 'Letter', n: SheetNumbers): SheetLayout {
  const [rows, columns, labelWidthMm, labelHeightMm, marginTopMm, marginLeftMm, pitchXMm, pitchYMm, cornerMm] = n;
  return {
    id: `${paper.toLowerCase()}-${columns}x${rows}`,
    name: `${paper}, ${columns} x ${rows}, ${labelWidthMm} x ${labelHeightMm} mm`,
    kind: 'sheet',
    ...(paper === 'A4' ? A4 : LETTER),
    rows, columns, labelWidthMm, labelHeightMm, marginTopMm, marginLeftMm, pitchXMm, pitchYMm, cornerMm,
  };
}

/** One label a page, for a roll printer. Width is across the roll, height along it. */
export function rollLayout(widthMm: number, heightMm: number): SheetLayout {
  return {
    id: `roll-${widthMm}x${heightMm}`,
    name: `Roll, ${widthMm} x ${heightMm} mm`,
    kind: 'roll',
    pageWidthMm: widthMm, pageHeightMm: heightMm,
    rows: 1, columns: 1,
    labelWidthMm: widthMm, labelHeightMm: heightMm,
    marginTopMm: 0, marginLeftMm: 0, pitchXMm: widthMm, pitchYMm: heightMm, cornerMm: 0,
  };
}

/**
 * Common stock, ready to choose. The numbers are the usual geometry of die-cut sheets and rolls (common practice,
 * no source): a club measures its own stock and enters other numbers where they differ.
 */
export const READY_LAYOUTS: readonly SheetLayout[] = [
  sheet('A4', [7, 2, 99.1, 38.1, 15.15, 4.65, 101.6, 38.1, 2]),
  sheet('A4', [8, 2, 99.1, 33.9, 12.9, 4.65, 101.6, 33.9, 2]),
  sheet('A4', [4, 2, 99.1, 67.7, 13.1, 4.65, 101.6, 67.7, 2]),
  sheet('A4', [7, 3, 63.5, 38.1, 15.15, 7.25, 66, 38.1, 2]),
  sheet('A4', [8, 3, 70, 37.125, 0, 0, 70, 37.125, 0]),
  sheet('Letter', [5, 2, 101.6, 50.8, 12.7, 4, 106.3, 50.8, 2]),
  sheet('Letter', [7, 2, 101.6, 33.87, 21.15, 4, 106.3, 33.87, 2]),
  sheet('Letter', [3, 2, 101.6, 84.67, 12.7, 4, 106.3, 84.67, 2]),
  sheet('Letter', [10, 3, 66.7, 25.4, 12.7, 4.8, 69.85, 25.4, 2]),
  rollLayout(57, 32),
  rollLayout(62, 100),
  rollLayout(100, 50),
  rollLayout(102, 152),
];

type LengthField =
  | 'pageWidthMm' | 'pageHeightMm' | 'labelWidthMm' | 'labelHeightMm'
  | 'marginTopMm' | 'marginLeftMm' | 'pitchXMm' | 'pitchYMm' | 'cornerMm';

/**
 * Refuses a geometry that cannot be printed: lengths that are not positive, labels that overlap or leave the
 * page. Lengths in millimetres. Throws DomainError that names the first bad field, its value and the remedy.
 */
export function checkGeometry(layout: SheetLayout): void {
  checkNumbers(layout);
  checkAxis(layout, 'columns', 'pitchXMm', 'labelWidthMm', 'marginLeftMm', 'pageWidthMm');
  checkAxis(layout, 'rows', 'pitchYMm', 'labelHeightMm', 'marginTopMm', 'pageHeightMm');
  if (layout.cornerMm > Math.min(layout.labelWidthMm, layout.labelHeightMm) / 2) {
    throw labelError('cornerMm', layout.cornerMm, 'is more than half the label\'s shorter side', 'give a smaller radius');
  }
  if (layout.kind === 'roll' && layout.rows * layout.columns !== 1) {
    throw labelError('rows', layout.rows, 'does not suit a roll, which has one label a page', 'set rows and columns to 1');
  }
}

function checkNumbers(layout: SheetLayout): void {
  const positive: LengthField[] = ['pageWidthMm', 'pageHeightMm', 'labelWidthMm', 'labelHeightMm', 'pitchXMm', 'pitchYMm'];
  for (const field of positive) {
    if (!(layout[field] > 0 && layout[field] <= LONGEST_PAGE_MM)) {
      throw labelError(field, layout[field], 'is out of range', `give millimetres above 0 and up to ${LONGEST_PAGE_MM}`);
    }
  }
  const notNegative: LengthField[] = ['marginTopMm', 'marginLeftMm', 'cornerMm'];
  for (const field of notNegative) {
    if (!(layout[field] >= 0 && layout[field] <= LONGEST_PAGE_MM)) {
      throw labelError(field, layout[field], 'is out of range', `give millimetres, 0 or more and up to ${LONGEST_PAGE_MM}`);
    }
  }
  for (const field of ['rows', 'columns'] as const) {
    if (!Number.isInteger(layout[field]) || layout[field] < 1 || layout[field] > MOST_ROWS) {
      throw labelError(field, layout[field], 'is not a count', `give a whole number from 1 to ${MOST_ROWS}`);
    }
  }
}

function checkAxis(
  layout: SheetLayout, count: 'rows' | 'columns', pitch: LengthField, size: LengthField, margin: LengthField, page: LengthField,
): void {
  const steps = layout[count] - 1;
  if (steps > 0 && layout[pitch] < layout[size] - 1e-6) {
    throw labelError(pitch, layout[pitch],
      'makes the labels overlap', `give at least the label's own ${layout[size]} mm`);
  }
  const end = layout[margin] + steps * layout[pitch] + layout[size];
  if (end > layout[page] + TOLERANCE_MM) {
    throw labelError(count, layout[count],
      `puts the last label's end at ${end.toFixed(1)} mm, off a page of ${layout[page]} mm`,
      `lower the ${count}, the pitch, the label size or the margin`);
  }
}
