import { oneOf, rounded, within } from '../bounds.ts';
import type { Working } from '../working.ts';
import { leftAt, meanLeft } from './crank.ts';
import { bandInWords, diffusivity } from './diffusivity.ts';
import type { Diffusivity, FishConditions } from './diffusivity.ts';
import { limitedVolume } from './limited-volume.ts';
import { SATURATED_WPS } from './water-phase.ts';
import type { Predicted } from './water-phase.ts';

export type CureConditions = FishConditions & {
  thicknessMm: number;
  /** 2 without skin, 1 with skin on one face: skin is close to impermeable. */
  openFaces: 1 | 2;
  /** Percent salt by weight of what the fish lies in; 26.395 for a dry cure that has not run out. */
  brinePercent: number;
  /** Water-phase salt at the start. */
  startPercent?: number;
  /** Brine over the water in the fish, by weight; left out: so much brine that it stays as strong. */
  brinePerFishWater?: number | null;
};

export type ProfilePoint = {
  /** From the open face inward. */
  depthMm: number;
  percent: number;
};
export type SaltUptake = Predicted & {
  meanPercent: number;
  /** With the diffusivity at the ends of its band. */
  meanLowPercent: number;
  meanHighPercent: number;
  /** At the centre, or against the skin. */
  centrePercent: number;
  centreLowPercent: number;
  centreHighPercent: number;
  /** Where it all ends when it is left for days. */
  equilibriumPercent: number;
  /** How much of the way to the end the mean has come, in percent. */
  accomplishedPercent: number;
  fourier: number;
  profile: ProfilePoint[];
  diffusivity: Diffusivity;
  working: Working;
};

export const THICKNESS_MM = { min: 1, max: 150 };
/** Two weeks. */
export const LONGEST_CURE_MINUTES = 20_160;
const PROFILE_STEPS = 20;

/**
 * Water-phase salt in a piece after a time in brine or dry cure: mean, centre and
 * profile, each with its band. Range: 1 to 150 mm, 0 to 26.395 % brine, up to 14 days,
 * -2 to 25 C. Throws DomainError outside. Never a measurement. Source: Fick's law in a
 * slab (Crank 1975, Newman 1931); diffusivity from memory or the club's own.
 */
export function saltUptake(input: CureConditions & { minutes: number }): SaltUptake {
  checkCure(input);
  const minutes = within(input.minutes, { field: 'minutes', label: 'time', min: 0, max: LONGEST_CURE_MINUTES, unit: 'minutes' });
  const spread = diffusivity(input);
  const slab = slabOf(input);
  const fo = (m2PerS: number) => slab.fourier(m2PerS, minutes);
  const [middle, low, high] = [spread.m2PerS, spread.lowM2PerS, spread.highM2PerS].map(fo) as [number, number, number];
  const means = [slab.meanAt(low), slab.meanAt(high)].sort((a, b) => a - b);
  const centres = [slab.percentAt(low, 0), slab.percentAt(high, 0)].sort((a, b) => a - b);
  return {
    measured: false,
    meanPercent: rounded(slab.meanAt(middle), 3), meanLowPercent: rounded(means[0]!, 3), meanHighPercent: rounded(means[1]!, 3),
    centrePercent: rounded(slab.percentAt(middle, 0), 3), centreLowPercent: rounded(centres[0]!, 3), centreHighPercent: rounded(centres[1]!, 3),
    equilibriumPercent: rounded(slab.endPercent, 3), accomplishedPercent: rounded(100 * slab.takenAt(middle), 2), fourier: rounded(middle, 6),
    profile: profileOf(slab, middle), diffusivity: spread, working: uptakeWorking(input, minutes, spread),
  };
}

/** A piece with its brine, ready to be asked at any Fourier number. */
export type Slab = {
  lengthMm: number;
  startPercent: number;
  endPercent: number;
  fourier: (m2PerS: number, minutes: number) => number;
  takenAt: (fo: number) => number;
  meanAt: (fo: number) => number;
  /** x is 0 at the centre or the skin, 1 at the open face. */
  percentAt: (fo: number, x: number) => number;
};

/** The slab that a cure's conditions make. Takes checked conditions. */
export function slabOf(input: CureConditions): Slab {
  const lengthMm = input.thicknessMm / input.openFaces;
  const start = input.startPercent ?? 0;
  const ratio = input.brinePerFishWater == null ? null : input.brinePerFishWater * (1 - start / 100);
  const limited = ratio === null ? null : limitedVolume(ratio);
  const end = ratio === null ? input.brinePercent : (ratio * input.brinePercent + start) / (1 + ratio);
  const takenAt = limited ? limited.taken : (fo: number) => 1 - meanLeft(fo);
  const reachedAt = limited ? limited.reachedAt : (fo: number, x: number) => 1 - leftAt(fo, x);
  return {
    lengthMm, startPercent: start, endPercent: end, takenAt,
    fourier: (m2PerS, minutes) => (m2PerS * minutes * 60) / (lengthMm / 1000) ** 2,
    meanAt: (fo) => start + (end - start) * takenAt(fo),
    percentAt: (fo, x) => (fo <= 0 ? (x >= 1 ? input.brinePercent : start) : start + (end - start) * reachedAt(fo, x)),
  };
}

/** Refuses conditions outside the model's range. */
export function checkCure(input: CureConditions): void {
  within(input.thicknessMm, { field: 'thicknessMm', label: 'thickness', ...THICKNESS_MM, unit: 'mm', remedy: 'measure the thickest part of the piece' });
  oneOf(String(input.openFaces), ['1', '2'], 'openFaces');
  const salt = { min: 0, max: SATURATED_WPS, unit: '% salt', remedy: 'enter percent by weight; brine is saturated at 26.395 %' };
  within(input.brinePercent, { field: 'brinePercent', label: 'brine', ...salt });
  within(input.startPercent ?? 0, { field: 'startPercent', label: 'salt at the start', ...salt });
  if (input.brinePerFishWater != null) within(input.brinePerFishWater, { field: 'brinePerFishWater', label: 'brine for the water in the fish', min: 0.06, max: 1e4, unit: 'times', remedy: 'enter the weight of brine over the weight of water in the fish' });
}

function profileOf(slab: Slab, fo: number): ProfilePoint[] {
  return Array.from({ length: PROFILE_STEPS + 1 }, (_, step) => ({
    depthMm: rounded((slab.lengthMm * step) / PROFILE_STEPS, 2),
    percent: rounded(slab.percentAt(fo, 1 - step / PROFILE_STEPS), 3),
  }));
}

function uptakeWorking(input: CureConditions, minutes: number, spread: Diffusivity): Working {
  return {
    inputs: [
      { name: 'thickness', value: input.thicknessMm, unit: 'mm' }, { name: 'open faces', value: input.openFaces }, { name: 'brine', value: input.brinePercent, unit: '%' },
      { name: 'start', value: input.startPercent ?? 0, unit: '%' }, { name: 'time', value: minutes, unit: 'min' }, { name: 'D', value: spread.m2PerS, unit: 'm2/s' },
      ...(input.brinePerFishWater == null ? [] : [{ name: 'brine over water in the fish', value: input.brinePerFishWater }]),
    ],
    model: 'salt-uptake', formula: input.brinePerFishWater == null
      ? 'mean = brine - (brine - start) E; E = (8/pi^2) sum exp(-(2n+1)^2 pi^2 Fo/4)/(2n+1)^2, below Fo 0.05 1 - 2 sqrt(Fo/pi); Fo = D t/L^2'
      : 'mean = start + (end - start) x (1 - sum 2a(1+a) exp(-q^2 Fo)/(1+a+a^2 q^2)), tan q = -a q, a = brine over the fish\'s water phase; end by balance of salt',
    source: 'Crank 1975; Newman 1931', range: '1 to 150 mm, 0 to 26.395 % brine, -2 to 25 C, up to 14 days; a flat piece much wider than thick',
    uncertainty: `diffusivity ${bandInWords(spread.bandFactor)}: never a laboratory figure`, certainty: 'from memory',
  };
}
