import { rounded, within } from '../bounds.ts';
import type { Working } from '../working.ts';
import { bisect, foForMeanLeft } from './crank.ts';
import { diffusivity } from './diffusivity.ts';
import { checkCure, LONGEST_CURE_MINUTES, saltUptake, slabOf } from './uptake.ts';
import type { CureConditions } from './uptake.ts';
import { SATURATED_WPS } from './water-phase.ts';
import type { Predicted } from './water-phase.ts';

export type TimeToSalt = Predicted & {
  reachable: boolean;
  /** Why not; empty when it is reachable. */
  reason: string;
  minutes: number | null;
  /** With the fastest diffusivity of the band. */
  earliestMinutes: number | null;
  /** With the slowest. */
  latestMinutes: number | null;
  /** What half an hour less or more makes of the mean, in percent water-phase salt. */
  halfHourLessPercent: number | null;
  halfHourMorePercent: number | null;
  working: Working;
};

/**
 * The time until the mean water-phase salt of a piece reaches a target, with its band.
 * Range as saltUptake; a target the cure never reaches, or only after 14 days, is answered
 * with the reason. Throws DomainError outside the range. Source: Crank 1975 turned round.
 */
export function timeToSalt(input: CureConditions & { targetPercent: number }): TimeToSalt {
  checkCure(input);
  const target = within(input.targetPercent, { field: 'targetPercent', label: 'target', min: 0, max: SATURATED_WPS, unit: '% water-phase salt' });
  const slab = slabOf(input);
  const { working } = saltUptake({ ...input, minutes: 0 });
  const answer = { measured: false as const, working: { ...working, inputs: [...working.inputs.filter(({ name }) => name !== 'time'), { name: 'target', value: target, unit: '%' }], formula: `time at which this is the target: ${working.formula}` } };
  const never = (reason: string): TimeToSalt => ({ ...answer, reachable: false, reason, minutes: null, earliestMinutes: null, latestMinutes: null, halfHourLessPercent: null, halfHourMorePercent: null });
  const span = slab.endPercent - slab.startPercent;
  const wanted = target - slab.startPercent;
  if (wanted !== 0 && (span === 0 || wanted / span < 0)) return never(`It starts at ${rounded(slab.startPercent, 2)} % and moves the other way.`);
  if (wanted !== 0 && wanted / span >= 0.999) return never(`It ends at ${rounded(slab.endPercent, 2)} % however long it stays: use stronger or more of it.`);
  const part = wanted === 0 ? 0 : wanted / span;
  const fo = part === 0 ? 0 : input.brinePerFishWater == null ? foForMeanLeft(1 - part) : bisect((value) => part - slab.takenAt(value));
  const spread = diffusivity(input);
  const minutesAt = (m2PerS: number) => (fo * (slab.lengthMm / 1000) ** 2) / m2PerS / 60;
  const minutes = minutesAt(spread.m2PerS);
  if (minutes > LONGEST_CURE_MINUTES) return never('It would take more than 14 days: use thinner pieces or a stronger cure.');
  const meanAfter = (time: number) => rounded(slab.meanAt(slab.fourier(spread.m2PerS, Math.max(0, time))), 3);
  return {
    ...answer, reachable: true, reason: '', minutes: Math.round(minutes), earliestMinutes: Math.round(minutesAt(spread.highM2PerS)), latestMinutes: Math.round(minutesAt(spread.lowM2PerS)),
    halfHourLessPercent: meanAfter(minutes - 30), halfHourMorePercent: meanAfter(minutes + 30),
  };
}
