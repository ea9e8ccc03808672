import type { Grams } from '../working.ts';

export type FatClass = 'lean' | 'medium' | 'fatty';
export type LengthKind = 'fork' | 'total';
export type Advice = 'best' | 'good' | 'avoid';

export type Proximate = { waterG: number; proteinG: number; fatG: number; ashG: number; source: string };
export type EdibleYield = { percentOfWhole: number; source: string };
export type Conversion = {
  gutted: number | null;
  guttedHeaded: number | null;
  filletSkinOn: number | null;
  filletSkinless: number | null;
  source: string;
};
export type Hazard = { scombrotoxin: boolean; ciguatera: boolean; note: string };
export type Mercury = { meanPpm: number; advice: Advice; source: string };
export type LengthWeight = {
  form: 'exp' | 'power' | 'log10';
  a: number;
  b: number;
  lengthKind: LengthKind;
  lengthUnit: 'cm' | 'mm';
  weightUnit: 'kg' | 'g';
  source: string;
};

export type Species = {
  /** Stable and unique, such as 'atlantic-mackerel'. */
  code: string;
  name: string;
  /** Other names people look for. */
  alsoCalled: readonly string[];
  /** From memory; empty where the name covers several species or is not sure. */
  scientificName: string;
  group: string;
  scombrotoxin: boolean;
  /** In warm waters. */
  ciguatera: boolean;
  hazardNote: string;
  hazardSource: string;
  sharing: 'ok' | 'refuse';
  sharingReason?: string;
  fat: FatClass;
  fatSource: string;
  proximate?: Proximate;
  lengthWeight?: LengthWeight;
  edibleYield?: EdibleYield;
  conversion?: Conversion;
  mercury?: Mercury;
  /** The heaviest single fish that is believed. From memory and generous: it catches slips, it judges no catch. */
  maxFishGrams: Grams;
  allergen: 'fish';
};
