import { z } from 'zod';
import { id, name, version } from './common.ts';

const mm = z.number().min(0, 'Millimetres are 0 or more').max(2000, 'Millimetres are at most 2,000');
const size = z.number().min(5, 'At least 5 mm').max(2000, 'Millimetres are at most 2,000');
/** A sheet or roll as one measures it with a ruler. */
export const geometry = z.strictObject({
  kind: z.enum(['sheet', 'roll']),
  pageWidthMm: size,
  pageHeightMm: size,
  rows: z.int().min(1).max(60),
  columns: z.int().min(1).max(20),
  labelWidthMm: size,
  labelHeightMm: size,
  marginTopMm: mm,
  marginLeftMm: mm,
  pitchXMm: mm,
  pitchYMm: mm,
  cornerMm: mm.default(0),
});
/** version is null for a layout that comes with the service. */
export const labelLayout = geometry.extend({ id: z.string(), name: z.string(), version: version.nullable() });
/** codesLeadTo: where the codes on labels lead, as the service is set up; no label that is printed can be changed. */
export const labelLayoutList = z.object({ items: z.array(labelLayout), codesLeadTo: z.string() });
export const labelLayoutBody = z.strictObject({ name, geometry });
export const labelLayoutPatch = z.strictObject({ version, name: name.optional(), geometry: geometry.optional(), retired: z.boolean().optional() });

export const labelRunBody = z.strictObject({
  packIds: z.array(id).min(1, 'Choose at least one pack').max(500, 'At most 500 packs in one run'),
  layoutId: z.string().min(1).max(80),
  /** First free position of a used sheet, counted along the rows from 1. */
  startAt: z.int().min(1, 'Positions count from 1').default(1),
  copies: z.int().min(1, 'Print 1 to 99 copies').max(99, 'Print 1 to 99 copies').default(1),
  /** Without it a pack that may not be shared is refused; with it such a pack gets a mark: HOLD and why, and no date. */
  markHeld: z.boolean().default(false),
});
export const labelRun = z.object({
  id,
  pdfPath: z.string(),
  labels: z.int(),
  pages: z.int(),
  /** How many of the packs had a label before. */
  reprints: z.int(),
  /** How many say HOLD. */
  onHold: z.int(),
});

export type LabelLayoutView = z.infer<typeof labelLayout>;
export type LabelRunView = z.infer<typeof labelRun>;
