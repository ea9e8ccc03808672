import { rounded } from '../bounds.ts';
import { DomainError } from '../working.ts';
import type { Working, WorkingInput } from '../working.ts';
import { compositionOfSpecies, fractionsOf } from './composition.ts';
import type { Composition } from './composition.ts';
import { slabMaterial } from './slab-material.ts';
import type { SlabSetup } from './slab-flow.ts';
import { FISH_TEMPERATURE, THICKNESS, within } from './within.ts';

/** A piece of fish as a slab. Give a species of the table, or a composition. */
export type SlabInput = {
  speciesCode?: string;
  composition?: Composition;
  thicknessMm: number;
  /** 'one': it lies on its skin or in a tray, which lets no heat through. */
  facesOpen: 'both' | 'one';
  startC: number;
  /** Salt as per cent of the water phase at the start; 0 when left out. */
  waterPhaseSaltPct?: number;
};

/** Heat-transfer coefficient with its band, radiation included, W/m2 K. */
export type HeatTransfer = { likelyWPerM2K: number; lowWPerM2K: number; highWPerM2K: number };

/** A smokehouse's h, from memory: natural draft 8 to 15, fan 20 to 45. */
export const SMOKER_H: Readonly<Record<'natural' | 'fan', HeatTransfer>> = {
  natural: { likelyWPerM2K: 11, lowWPerM2K: 8, highWPerM2K: 15 },
  fan: { likelyWPerM2K: 30, lowWPerM2K: 20, highWPerM2K: 45 },
};

/** Nodes less one: the core errs by under 0.05 C at 80 C of difference. */
export const INTERVALS = 32;
const MIN_H = 2;
const MAX_H = 1000;
/** A thickness is measured to a tenth of itself unless said (common practice, no source). */
const THICKNESS_SHARE = 0.1;

export type Case = 'slow' | 'likely' | 'fast';
export const CASES: readonly Case[] = ['slow', 'likely', 'fast'];

/**
 * Three slabs: as likely, and the slowest and fastest that h and thickness leave open.
 * Throws DomainError outside the range: 3 to 150 mm, fish -1 to 60 C at the start (heating), h 2 to 1,000.
 */
export function slabCases(slab: SlabInput, heat: HeatTransfer, wet: boolean, thicknessUncertaintyMm?: number, highStartC = 60): Record<Case, SlabSetup> {
  const fractions = fractionsOf(fleshOf(slab));
  const salt = within(slab.waterPhaseSaltPct ?? 0, 'waterPhaseSaltPct', { low: 0, high: 20, unit: '%', label: 'water-phase salt', remedy: 'enter 0 to 20 %' });
  const material = slabMaterial(fractions, salt);
  within(slab.thicknessMm, 'thicknessMm', THICKNESS);
  within(slab.startC, 'startC', { ...FISH_TEMPERATURE, high: highStartC });
  if (slab.facesOpen !== 'both' && slab.facesOpen !== 'one') {
    throw new DomainError({ code: 'slab.faces', field: 'facesOpen', label: 'open faces', value: slab.facesOpen, problem: 'is not known', remedy: "say 'both' or 'one'" });
  }
  const off = within(thicknessUncertaintyMm ?? slab.thicknessMm * THICKNESS_SHARE, 'thicknessUncertaintyMm', { low: 0, high: slab.thicknessMm / 2, unit: 'mm', label: 'thickness uncertainty', remedy: 'enter at most half the thickness' });
  const h = checkHeat(heat);
  const setup = (thicknessMm: number, hWPerM2K: number): SlabSetup => ({
    material, wet, hWPerM2K, startC: slab.startC, intervals: INTERVALS,
    lengthM: thicknessMm / 1000 / (slab.facesOpen === 'both' ? 2 : 1),
  });
  return {
    slow: setup(slab.thicknessMm + off, h.lowWPerM2K),
    likely: setup(slab.thicknessMm, h.likelyWPerM2K),
    fast: setup(slab.thicknessMm - off, h.highWPerM2K),
  };
}

function fleshOf({ speciesCode, composition }: SlabInput): Composition {
  if (composition) return composition;
  if (speciesCode) return compositionOfSpecies(speciesCode);
  throw new DomainError({ code: 'slab.flesh', field: 'speciesCode', label: 'species', value: undefined, problem: 'is missing', remedy: 'choose a species, or enter water, protein, fat and ash' });
}

function checkHeat(heat: HeatTransfer): HeatTransfer {
  const limits = { low: MIN_H, high: MAX_H, unit: 'W/m2 K', label: 'heat-transfer coefficient', remedy: 'enter 8 to 15 for natural draft, 20 to 45 with a fan' };
  for (const field of ['lowWPerM2K', 'likelyWPerM2K', 'highWPerM2K'] as const) within(heat[field], field, limits);
  if (heat.lowWPerM2K <= heat.likelyWPerM2K && heat.likelyWPerM2K <= heat.highWPerM2K) return heat;
  throw new DomainError({ code: 'slab.h-order', field: 'likelyWPerM2K', label: 'heat-transfer coefficient', value: heat.likelyWPerM2K, problem: 'is not between its low and high', remedy: 'enter low, likely and high in order' });
}

/** The inputs of a slab for its working. */
export function slabInputs(slab: SlabInput, heat: HeatTransfer): WorkingInput[] {
  return [
    { name: 'flesh', value: slab.composition ? 'as entered' : (slab.speciesCode ?? '') },
    { name: 'thickness', value: slab.thicknessMm, unit: 'mm' },
    { name: 'open faces', value: slab.facesOpen },
    { name: 'start', value: slab.startC, unit: 'C' },
    { name: 'water-phase salt', value: slab.waterPhaseSaltPct ?? 0, unit: '%' },
    { name: 'h, low to high', value: `${rounded(heat.lowWPerM2K, 2)} to ${rounded(heat.highWPerM2K, 2)}`, unit: 'W/m2 K' },
    { name: 'h, likely', value: rounded(heat.likelyWPerM2K, 2), unit: 'W/m2 K' },
  ];
}

/** The formula of the slab in words, its sources and its range, for every working that rests on it. */
export const SLAB_WORKING: Pick<Working, 'model' | 'formula' | 'source' | 'range' | 'uncertainty' | 'certainty'> = {
  model: 'smoking-heat', formula: 'Heat and water through a slab in finite volumes. At a wet face, heat in is h (air - face) and heat out is h/(0.000662 P) times '
    + '(water activity x saturation - vapour of the air); the vapour leaves as heat out over the latent heat. Water comes to the face by diffusion, '
    + 'and the face\'s water activity falls with it. Dew gives heat and runs off.',
  source: 'Choi and Okos 1986; Buck; USDA SR27; psychrometer constant, moisture diffusivity and isotherm from memory',
  range: '3 to 150 mm, unfrozen, fish up to 100 C, air -1 to 121 C. Shrinking, dripping and melting of fat are left out.',
  uncertainty: 'The band spans h and thickness. Drying rests on remembered figures: take it as half to twice beyond the first hour.',
  certainty: 'from memory',
};
