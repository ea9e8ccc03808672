import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkLayout } from '../../server/domain/labels/check-layout.ts';
import { READY_LAYOUTS, rollLayout } from '../../server/domain/labels/layouts.ts';
import type { SheetLayout } from '../../server/domain/labels/layouts.ts';
import { labelPositions } from '../../server/domain/labels/positions.ts';
import { DomainError } from '../../server/domain/working.ts';

const sheet = READY_LAYOUTS[0]!;

function refusal(changes: Partial<SheetLayout>, of: SheetLayout = sheet): DomainError {
  try {
    checkLayout({ ...of, ...changes });
  } catch (error) {
    if (error instanceof DomainError) return error;
    throw error;
  }
  throw new Error(`accepted ${JSON.stringify(changes)}`);
}

describe('label layouts', () => {
  it('that come ready are all usable and told apart', () => {
    for (const layout of READY_LAYOUTS) expect(() => checkLayout(layout), layout.name).not.toThrow();
    expect(new Set(READY_LAYOUTS.map((layout) => layout.id)).size).toBe(READY_LAYOUTS.length);
    expect(new Set(READY_LAYOUTS.map((layout) => layout.name)).size).toBe(READY_LAYOUTS.length);
    expect(READY_LAYOUTS.map((layout) => layout.name)).toContain('A4, 2 x 7, 99.1 x 38.1 mm');
  });

  it('are refused with field, value and remedy', () => {
    const cases: [Partial<SheetLayout>, string, RegExp][] = [
      [{ pitchXMm: 90 }, 'pitchXMm', /^Pitch across \(mm\) 90 makes the labels overlap; give at least the label's own 99\.1 mm\.$/],
      [{ pitchYMm: 38 }, 'pitchYMm', /overlap/],
      [{ columns: 3 }, 'columns', /off a page of 210 mm/],
      [{ rows: 8 }, 'rows', /off a page of 297 mm/],
      [{ labelWidthMm: 0 }, 'labelWidthMm', /above 0/],
      [{ labelHeightMm: -38.1 }, 'labelHeightMm', /-38\.1/],
      [{ pageWidthMm: NaN }, 'pageWidthMm', /above 0/],
      [{ pageHeightMm: 29_700 }, 'pageHeightMm', /up to 1200/],
      [{ marginLeftMm: -1 }, 'marginLeftMm', /0 or more/],
      [{ rows: 1.5 }, 'rows', /whole number/],
      [{ columns: 0 }, 'columns', /whole number/],
      [{ cornerMm: 30 }, 'cornerMm', /smaller radius/],
      [{ labelHeightMm: 12 }, 'labelHeightMm', /too small for a code that a phone can read; use at least 16 mm/],
      [{ labelWidthMm: 22, labelHeightMm: 18 }, 'labelWidthMm', /too small for the words/],
      [{ kind: 'roll' }, 'rows', /one label a page/],
    ];
    for (const [changes, field, message] of cases) {
      const error = refusal(changes);
      expect(error.field).toBe(field);
      expect(error.value).toBe({ ...sheet, ...changes }[error.field as keyof SheetLayout]);
      expect(error.message).toMatch(message);
      expect(error.remedy).not.toBe('');
    }
    expect(refusal({}, rollLayout(15, 10)).field).toBe('labelHeightMm');
  });
});

describe('label positions', () => {
  it('begin at the place asked for and go on at the top left of the next page', () => {
    const places = labelPositions(sheet, 13, 4);
    expect(places.map(({ page, row, column }) => [page, row, column])).toEqual([[0, 6, 0], [0, 6, 1], [1, 0, 0], [1, 0, 1]]);
    expect(places[0]!.yMm).toBeCloseTo(15.15 + 6 * 38.1, 9);
    expect(places[1]!.xMm).toBeCloseTo(4.65 + 101.6, 9);
  });

  it('never share a place and never leave the page', () => {
    fc.assert(fc.property(fc.constantFrom(...READY_LAYOUTS), fc.nat(), fc.integer({ min: 1, max: 90 }), (layout, start, count) => {
      const places = labelPositions(layout, 1 + start % (layout.rows * layout.columns), count);
      expect(new Set(places.map(({ page, xMm, yMm }) => `${page} ${xMm} ${yMm}`)).size).toBe(count);
      for (const { xMm, yMm } of places) {
        expect(xMm).toBeGreaterThanOrEqual(0);
        expect(xMm + layout.labelWidthMm).toBeLessThanOrEqual(layout.pageWidthMm + 0.1);
        expect(yMm + layout.labelHeightMm).toBeLessThanOrEqual(layout.pageHeightMm + 0.1);
      }
    }));
  });

  it('are refused off the sheet and for absurd counts', () => {
    expect(() => labelPositions(sheet, 0, 1)).toThrow(/Start position 0 is not on a sheet of 14; give a position from 1 to 14/);
    expect(() => labelPositions(sheet, 15, 1)).toThrow(/from 1 to 14/);
    expect(() => labelPositions(rollLayout(57, 32), 2, 1)).toThrow(/start at 1/);
    expect(() => labelPositions(sheet, 1.5, 1)).toThrow(DomainError);
    expect(() => labelPositions(sheet, 1, 0)).toThrow(/from 1 to 10000/);
    expect(() => labelPositions(sheet, 1, 10_001)).toThrow(DomainError);
  });
});
