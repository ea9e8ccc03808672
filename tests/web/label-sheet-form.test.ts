import { describe, expect, it } from 'vitest';
import { labelLayoutBody } from '../../server/contract/labels.ts';
import { checkLayout } from '../../server/domain/labels/check-layout.ts';
import { READY_LAYOUTS } from '../../server/domain/labels/layouts.ts';
import { emptyLayout, layoutDetail, layoutValues, toGeometry, whole } from '../../web/src/lib/labels/layout-form.ts';

describe('the form of a label sheet', () => {
  it('gives back every ready layout as it is, so that one can start from it', () => {
    for (const ready of READY_LAYOUTS) {
      const { id: _id, name: _name, ...numbers } = ready;
      expect(toGeometry(layoutValues({ ...ready, version: null }, 'Ours'))).toEqual(numbers);
      expect(labelLayoutBody.safeParse({ name: 'Ours', geometry: numbers }).success).toBe(true);
    }
  });

  it('names each number that is missing, and draws nothing before', () => {
    const values = { ...emptyLayout('a4'), name: 'Ours', rows: 7, columns: 1, labelWidthMm: 99.1 };
    const { error } = labelLayoutBody.safeParse({ name: 'Ours', geometry: toGeometry(values) });
    expect(error!.issues.map((issue) => issue.path.join('.'))).toEqual(['geometry.labelHeightMm', 'geometry.marginTopMm', 'geometry.marginLeftMm', 'geometry.pitchYMm']);
    expect(whole(toGeometry(values))).toBeNull();
  });

  it('takes a roll by its label alone, and names a bad label once', () => {
    const roll = { ...emptyLayout('letter'), name: 'Roll', kind: 'roll' as const, labelWidthMm: 60, labelHeightMm: 40 };
    const body = labelLayoutBody.parse({ name: 'Roll', geometry: toGeometry(roll) });
    expect(body.geometry).toMatchObject({ kind: 'roll', pageWidthMm: 60, pageHeightMm: 40, rows: 1, columns: 1, pitchXMm: 60, pitchYMm: 40 });
    expect(() => checkLayout({ ...body.geometry, id: 'new', name: 'Roll' })).not.toThrow();
    for (const labelWidthMm of [null, 2, 5000]) {
      const { error } = labelLayoutBody.safeParse({ name: 'Roll', geometry: toGeometry({ ...roll, labelWidthMm }) });
      expect(error!.issues.map((issue) => issue.path.join('.'))).toEqual(['geometry.labelWidthMm']);
    }
  });

  it('says the sheet in one line', () => {
    expect(layoutDetail(READY_LAYOUTS.find((l) => l.id === 'a4-2x7')!)).toBe('A4, 2 x 7 of 99.1 x 38.1 mm');
    expect(layoutDetail(READY_LAYOUTS.find((l) => l.id === 'roll-57x32')!)).toBe('Roll, 57 x 32 mm');
    expect(layoutDetail({ ...READY_LAYOUTS[0]!, pageWidthMm: 200 })).toBe('200 x 297 mm, 2 x 7 of 99.1 x 38.1 mm');
  });
});
