import { rounded, within } from '../bounds.ts';
import { freshenSalt } from '../salt/equalise.ts';
import { LONGEST_CURE_MINUTES, saltUptake } from '../salt/uptake.ts';
import type { CureConditions } from '../salt/uptake.ts';
import { SATURATED_WPS } from '../salt/water-phase.ts';
import type { Predicted } from '../salt/water-phase.ts';
import type { Working } from '../working.ts';

export type PutRight = Predicted & {
  isTooSalty: boolean;
  nowPercent: number;
  /** Minutes in fresh water; 0 when it is not too salty, null when even a day does not do it. */
  waterMinutes: number | null;
  afterPercent: number | null;
  afterLowPercent: number | null;
  afterHighPercent: number | null;
  /** For a plot: mean water-phase salt by minutes in water. */
  course: { minutes: number; meanPercent: number }[];
  /** What to do, in order. */
  steps: string[];
  working: Working;
};

const LONGEST_WATER_MINUTES = 1440;
const COURSE_STEPS = 12;

/**
 * Fish that came out of the cure too salty, put right: the time in plentiful fresh water,
 * what it does, a test piece first, and drying again. A laboratory's or a taster's figure
 * moves the prediction in proportion. Range: as saltUptake; water 0 to 10 C. Throws
 * DomainError outside. Source: slab in fresh water (Crank 1975); the steps are common practice.
 */
export function putTooSaltyRight(input: CureConditions & { minutes: number; targetPercent: number; waterTemperatureC: number; nowPercent?: number }): PutRight {
  const target = within(input.targetPercent, { field: 'targetPercent', label: 'target', min: 0.1, max: 15, unit: '% water-phase salt' });
  within(input.minutes, { field: 'minutes', label: 'time in the cure', min: 0, max: LONGEST_CURE_MINUTES, unit: 'minutes' });
  within(input.waterTemperatureC, { field: 'waterTemperatureC', label: 'water', min: 0, max: 10, unit: 'C', remedy: 'use cold water' });
  const predicted = saltUptake(input).meanPercent;
  const now = input.nowPercent === undefined ? predicted : within(input.nowPercent, { field: 'nowPercent', label: 'salt now', min: 0, max: SATURATED_WPS, unit: '%' });
  // Fick's law is linear: the whole profile is moved in proportion to what was found.
  const scale = predicted > 0 ? now / predicted : 1;
  const after = (waterMinutes: number) => freshenSalt({ ...input, waterMinutes });
  const mean = (waterMinutes: number) => after(waterMinutes).meanPercent * scale;
  const waterMinutes = now <= target ? 0 : mean(LONGEST_WATER_MINUTES) > target ? null : minutesUntil(mean, target);
  const end = waterMinutes === null ? null : after(waterMinutes);
  return {
    measured: false, isTooSalty: now > target, nowPercent: rounded(now, 3), waterMinutes,
    afterPercent: end && rounded(end.meanPercent * scale, 3), afterLowPercent: end && rounded(end.meanLowPercent * scale, 3), afterHighPercent: end && rounded(end.meanHighPercent * scale, 3),
    course: courseOf(mean, waterMinutes ?? LONGEST_WATER_MINUTES), steps: stepsFor(waterMinutes, now > target), working: rightWorking(input, now, end?.working),
  };
}

function minutesUntil(mean: (minutes: number) => number, target: number): number {
  let [low, high] = [0, LONGEST_WATER_MINUTES];
  while (high - low > 0.5) {
    const middle = (low + high) / 2;
    if (mean(middle) > target) low = middle;
    else high = middle;
  }
  return Math.ceil(high);
}

function courseOf(mean: (minutes: number) => number, until: number): PutRight['course'] {
  if (until === 0) return [];
  return Array.from({ length: COURSE_STEPS + 1 }, (_, step) => {
    const minutes = Math.round((until * step) / COURSE_STEPS);
    return { minutes, meanPercent: rounded(mean(minutes), 3) };
  });
}

function stepsFor(waterMinutes: number | null, tooSalty: boolean): string[] {
  if (!tooSalty) return ['It is not too salty: leave it as it is.'];
  if (waterMinutes === null) return ['A day in fresh water would not be enough. Use it in a dip with unsalted ingredients, or cure thinner pieces next time.'];
  return [
    'Cook a thin test piece first, then taste it: raw fish is not for tasting.',
    `If it is too salty, lay the fish in plenty of cold fresh water, at 3.3 C (38 F) or colder, for about ${waterMinutes} minutes; change the water halfway.`,
    'Cook a test piece from the thickest part and taste it before the rest goes on.',
    'Pat dry and let it dry again in cool moving air, about an hour, until the surface is tacky.',
    'A vacuum pack or tight jar still needs the laboratory\'s salt figure: this loses some of it.',
  ];
}

function rightWorking(input: CureConditions & { minutes: number; targetPercent: number; waterTemperatureC: number }, now: number, inner: Working | undefined): Working {
  return {
    inputs: [{ name: 'cure', value: input.minutes, unit: 'min' }, { name: 'salt now', value: rounded(now, 3), unit: '%' }, { name: 'target', value: input.targetPercent, unit: '%' }, { name: 'water', value: input.waterTemperatureC, unit: 'C' }],
    model: 'salt-uptake', formula: `time at which the mean is the target: ${inner?.formula ?? 'slab with its surface at 0 %'}; times salt now over predicted`, source: 'Crank 1975, slab in fresh water; steps are common practice, drying is rule dry.pellicle',
    range: 'plentiful still water, 0 to 10 C, up to a day', uncertainty: 'diffusivity anywhere in its band; taste decides', certainty: 'from memory',
  };
}
