import type { LabelLayoutView } from '$contract/labels.ts';
import { A4, LETTER, rollLayout, type SheetLayout } from '$domain/labels/layouts.ts';
import type { FieldWords } from '../stale.ts';

/** Label stock in millimetres, without its name. */
export type Geometry = Omit<SheetLayout, 'id' | 'name'>;
type Length = Exclude<keyof Geometry, 'kind'>;
export type LayoutValues = { name: string; kind: Geometry['kind']; paper: 'a4' | 'letter' | 'own' } & Record<Length, number | null>;

const none: Record<Length, number | null> = {
  pageWidthMm: null, pageHeightMm: null, rows: null, columns: null, labelWidthMm: null, labelHeightMm: null,
  marginTopMm: null, marginLeftMm: null, pitchXMm: null, pitchYMm: null, cornerMm: 0,
};
export const emptyLayout = (paper: 'a4' | 'letter'): LayoutValues => ({ ...none, name: '', kind: 'sheet', paper });

const isPaper = (g: Geometry, paper: { pageWidthMm: number; pageHeightMm: number }): boolean => g.pageWidthMm === paper.pageWidthMm && g.pageHeightMm === paper.pageHeightMm;
const paperOf = (g: Geometry): LayoutValues['paper'] => (isPaper(g, A4) ? 'a4' : isPaper(g, LETTER) ? 'letter' : 'own');

/** The form of a layout that is there: to change it, or, with another name, to start from it. */
export function layoutValues(layout: LabelLayoutView, name = layout.name): LayoutValues {
  const { id: _id, name: _name, version: _version, ...numbers } = layout;
  return { ...numbers, name, paper: paperOf(numbers) };
}

/** A roll is given by its label alone. What a form leaves open stays null, so that the contract names it. */
export function toGeometry(v: LayoutValues): Record<keyof Geometry, unknown> {
  if (v.kind === 'roll') {
    // The page's lengths follow the label's; a bad label is named once, at the label.
    const { id: _id, name: _name, ...roll } = rollLayout(usable(v.labelWidthMm), usable(v.labelHeightMm));
    return { ...roll, labelWidthMm: v.labelWidthMm, labelHeightMm: v.labelHeightMm, cornerMm: v.cornerMm ?? 0 };
  }
  const { name: _name, paper, ...numbers } = v;
  return {
    ...numbers,
    ...(paper === 'a4' ? A4 : paper === 'letter' ? LETTER : {}),
    // Nothing follows a single row or column: its pitch is the label itself.
    pitchXMm: v.pitchXMm ?? (v.columns === 1 ? v.labelWidthMm : null),
    pitchYMm: v.pitchYMm ?? (v.rows === 1 ? v.labelHeightMm : null),
    cornerMm: v.cornerMm ?? 0,
  };
}
const LEAST_MM = 5;
const MOST_MM = 2000;
const usable = (mm: number | null): number => (mm !== null && mm >= LEAST_MM && mm <= MOST_MM ? mm : LEAST_MM);

/** The numbers when all are there, for drawing; null before. */
export function whole(numbers: Record<keyof Geometry, unknown>): Geometry | null {
  return Object.values(numbers).some((n) => n === null || n === undefined) ? null : (numbers as Geometry);
}

/** 'A4, 2 x 7 of 99.1 x 38.1 mm' */
export function layoutDetail(g: Geometry): string {
  const label = `${g.labelWidthMm} x ${g.labelHeightMm} mm`;
  if (g.kind === 'roll') return `Roll, ${label}`;
  const paper = { a4: 'A4', letter: 'Letter', own: `${g.pageWidthMm} x ${g.pageHeightMm} mm` }[paperOf(g)];
  return `${paper}, ${g.columns} x ${g.rows} of ${label}`;
}

export const layoutFieldWords: FieldWords = {
  name: { label: 'Name' },
  geometry: {
    label: 'Sheet',
    show: (value) => {
      const g = value as Geometry;
      return `${layoutDetail(g)}, margins ${g.marginLeftMm} and ${g.marginTopMm}, pitch ${g.pitchXMm} and ${g.pitchYMm}, corner ${g.cornerMm}`;
    },
  },
};
