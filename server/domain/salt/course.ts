import { rounded, within } from '../bounds.ts';
import type { Working } from '../working.ts';
import { diffusivity } from './diffusivity.ts';
import { checkCure, LONGEST_CURE_MINUTES, saltUptake, slabOf } from './uptake.ts';
import type { CureConditions } from './uptake.ts';
import type { Predicted } from './water-phase.ts';

export type CoursePoint = { minutes: number; meanPercent: number; lowPercent: number; highPercent: number; centrePercent: number };
export type SaltCourse = Predicted & { equilibriumPercent: number; points: CoursePoint[]; working: Working };

const STEPS = 48;

/**
 * Water-phase salt against time for a plot: mean with its band, and centre, at even steps
 * from the start. Range as saltUptake, 1 minute to 14 days. Throws DomainError outside.
 * Source: as saltUptake.
 */
export function saltCourse(input: CureConditions & { untilMinutes: number }): SaltCourse {
  checkCure(input);
  const until = within(input.untilMinutes, { field: 'untilMinutes', label: 'time', min: 1, max: LONGEST_CURE_MINUTES, unit: 'minutes' });
  const spread = diffusivity(input);
  const slab = slabOf(input);
  const points = Array.from({ length: STEPS + 1 }, (_, step): CoursePoint => {
    const minutes = (until * step) / STEPS;
    const mean = (m2PerS: number) => slab.meanAt(slab.fourier(m2PerS, minutes));
    const [low, high] = [mean(spread.lowM2PerS), mean(spread.highM2PerS)].sort((a, b) => a - b) as [number, number];
    return {
      minutes: rounded(minutes, 1), meanPercent: rounded(mean(spread.m2PerS), 3), lowPercent: rounded(low, 3), highPercent: rounded(high, 3),
      centrePercent: rounded(slab.percentAt(slab.fourier(spread.m2PerS, minutes), 0), 3),
    };
  });
  return { measured: false, equilibriumPercent: rounded(slab.endPercent, 3), points, working: saltUptake({ ...input, minutes: until }).working };
}
