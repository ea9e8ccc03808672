// Shares a label's face between words and code.
import type { Block, PlacedBox } from './blocks.ts';
import { labelError } from './label-error.ts';
import { headBlocks, identityBlocks } from './label-blocks.ts';
import type { LabelWords } from './label.ts';
import type { SheetLayout } from './layouts.ts';

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

/** Codes of a public address are seldom larger than this (version 6, up to 106 characters). */
const USUAL_MODULES = 41;

export type LabelSize = Pick<SheetLayout, 'labelWidthMm' | 'labelHeightMm' | 'cornerMm' | 'kind'>;

export interface Part {
  box: PlacedBox;
  needed: Block[];
  small: string[];
  /** Small print runs on in one paragraph, which saves height; else each piece has a line of its own. */
  runOn: boolean;
}

export interface Composition {
  code: PlacedCode;
  parts: Part[];
}

/** Ways to share a label between its words and its code, the most handsome first. Millimetres in, points out. */
export function compositions(words: LabelWords, size: LabelSize, codeModules: number): Composition[] {
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

function codeTooLarge(size: LabelSize, leastMm: number, modules: number) {
  if (modules > USUAL_MODULES) {
    return labelError('url', `${modules} by ${modules} modules`, 'make too large a code for the label', 'use a shorter public address or a larger label');
  }
  const field = size.labelWidthMm < size.labelHeightMm ? 'labelWidthMm' : 'labelHeightMm';
  return labelError(field, size[field], 'is too small for a code that a phone can read',
    `use at least ${Math.ceil(leastMm + 2 * CODE_INSET_MM)} mm`);
}
