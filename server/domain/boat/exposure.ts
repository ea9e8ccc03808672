import type { CheckState } from '../evidence.ts';
import { hoursAndMinutes } from '../heat/crossing.ts';
import { cleanSeries } from '../heat/series.ts';
import type { Gap, Reading, Series, SeriesFlag } from '../heat/series.ts';
import { within } from '../heat/within.ts';
import type { Working } from '../working.ts';
import { BANDS, ORGANISMS } from './exposure-table.ts';

export type ExposureInput = {
  /** The fish's own temperature from landing on, from every log there is. */
  readings: readonly Reading[];
  previouslyFrozen: boolean;
  /** Default 30: cold stores log seldom. */
  maxGapMinutes?: number;
};
/** Above `coldC` hours count, above `warmC` fewer of them are allowed. */
export type ExposureTemperatures = { coldC: number; warmC: number };
/** Hours allowed where none of it was above `warmC`, and where some was. */
export type ExposureHours = { cool: number; warm: number };

export type OrganismExposure = {
  organism: string;
  bands: { fromC: number; toC: number | null; hours: number; maxHours: number }[];
  /** Sum of hours/most hours over the bands: above 1 is too much. */
  shareUsed: number;
  state: CheckState;
};

export type Exposure = {
  /** Rule chill.exposure. */
  state: CheckState;
  hoursAbove4C4: number;
  hoursAbove21C1: number;
  /** Hours without a reading: they count as warm until somebody knows better. */
  gapHours: number;
  limitHours: number;
  found: string;
  whatToDo: string;
  organisms: OrganismExposure[];
  gaps: Gap[];
  flags: SeriesFlag[];
  working: Working;
};

/** Of rule chill.exposure. */
export const EXPOSURE_C: Readonly<ExposureTemperatures> = { coldC: 4.4, warmC: 21.1 };
const LIMITS = { fresh: { warm: 4, cool: 8 }, frozen: { warm: 12, cool: 24 } } as const;

/**
 * Hours above 4.4 C added up over the logs, against chill.exposure, and by organism against
 * the table of cumulative exposure. Time between readings is cut where the straight line
 * crosses a limit; gaps count as warm, so they can only fail it or leave it open. Range:
 * readings -30 to 100 C. Throws DomainError on times that are none. Sources: rule chill.exposure; tables/cumulative-exposure.csv.
 */
export function cumulativeExposure(input: ExposureInput): Exposure {
  const { hoursAboveCold, hoursAboveWarm, ...exposure } = exposureAbove(input, EXPOSURE_C);
  return { ...exposure, hoursAbove4C4: hoursAboveCold, hoursAbove21C1: hoursAboveWarm };
}

/** As cumulativeExposure, above temperatures that a club may have set lower than the rule's, and against its hours where it has fewer. */
export function exposureAbove(input: ExposureInput, { coldC, warmC }: ExposureTemperatures, club?: ExposureHours): Omit<Exposure, 'hoursAbove4C4' | 'hoursAbove21C1'> & { hoursAboveCold: number; hoursAboveWarm: number } {
  const maxGapMinutes = within(input.maxGapMinutes ?? 30, 'maxGapMinutes', { low: 0.5, high: 60, unit: 'min', label: 'longest gap', remedy: 'enter 0.5 to 60 minutes' });
  const series = cleanSeries(input.readings, { place: 'core', strict: 'higher', maxGapMinutes, highestGapMinutes: 60, unitConfirmed: true });
  const hours = (fromC: number, toC: number) => hoursBetween(series, maxGapMinutes, fromC, toC);
  const above = hours(coldC, Infinity);
  const warm = hours(warmC, Infinity);
  const gapHours = series.gaps.reduce((sum, gap) => sum + gap.minutes, 0) / 60;
  const recorded = series.minutes.length >= 2 && !series.unitInDoubt;
  const limits = club ?? (input.previouslyFrozen ? LIMITS.frozen : LIMITS.fresh);
  const limitHours = hoursAllowed(warm > 0, limits);
  // A gap may have been warm, so passing needs the shorter limit with the gap counted.
  const passes = above + gapHours <= (gapHours > 0 ? hoursAllowed(true, limits) : limitHours) + 1e-9;
  const state: CheckState = !recorded ? 'not-recorded' : above > limitHours + 1e-9 ? 'not-met' : passes ? 'met' : 'not-recorded';
  return {
    state, hoursAboveCold: above, hoursAboveWarm: warm, gapHours, limitHours,
    found: recorded ? `${hoursAndMinutes(above * 60)} above ${coldC} C${gapHours > 0 ? `, and ${hoursAndMinutes(gapHours * 60)} without a reading` : ''}` : series.unitInDoubt ? 'The unit of the log is in doubt.' : 'Fewer than two usable readings.',
    whatToDo: state === 'met' ? '' : state === 'not-met' ? 'Do not share it. It was warm for too long, and nothing later mends that.' : 'Log the fish without gaps from landing on.',
    organisms: ORGANISMS.map((organism) => organismExposure(organism, hours, gapHours, recorded)),
    gaps: series.gaps,
    flags: series.flags,
    working: {
      inputs: [
        { name: 'readings used', value: series.minutes.length }, { name: 'frozen before', value: input.previouslyFrozen ? 'yes' : 'no' },
        { name: 'longest gap allowed', value: maxGapMinutes, unit: 'min' }, { name: 'hours without a reading', value: Math.round(gapHours * 100) / 100, unit: 'h' },
      ],
      model: 'exposure', formula: `Hours above ${coldC} C, on straight lines between readings, added up: at most ${hoursAllowed(true, limits)} when any of it was above ${warmC} C, else ${limits.cool}${club ? '' : ` (${input.previouslyFrozen ? '4 and 8 when never frozen' : '12 and 24 when frozen before'})`}. By organism: hours in each band over the most allowed there, added up.`,
      source: 'chill.exposure: HG ch. 7, from memory; tables/cumulative-exposure.csv',
      range: 'The fish\'s own temperature, -30 to 100 C. Temperatures between two printed bands count in the warmer one.',
      uncertainty: 'Adding the bands up is stricter than the table, which gives each alone.',
      certainty: 'from memory',
    },
  };
}

/** What was warm has no more hours than what was not: a club may have fewer of those. */
export const hoursAllowed = (isWarm: boolean, { cool, warm }: ExposureHours): number => (isWarm ? Math.min(cool, warm) : cool);

function organismExposure(organism: string, hours: (fromC: number, toC: number) => number, gapHours: number, recorded: boolean): OrganismExposure {
  const rows = BANDS.filter((band) => band.organism === organism);
  const bands = rows.map(({ fromC, toC, maxHours }, i) => ({ fromC, toC, maxHours, hours: hours(i === 0 ? fromC : rows[i - 1]!.toC!, toC ?? Infinity) }));
  const shareUsed = bands.reduce((sum, band) => sum + band.hours / band.maxHours, 0);
  const strictest = Math.min(...rows.map(({ maxHours }) => maxHours));
  const withGaps = shareUsed + gapHours / strictest;
  return { organism, bands, shareUsed, state: !recorded ? 'not-recorded' : shareUsed > 1 + 1e-9 ? 'not-met' : withGaps <= 1 + 1e-9 ? 'met' : 'not-recorded' };
}

/** Hours above one temperature and at or below another, between readings that join. */
function hoursBetween({ minutes, celsius }: Series, maxGap: number, fromC: number, toC: number): number {
  let sum = 0;
  for (let i = 1; i < minutes.length; i += 1) {
    const length = minutes[i]! - minutes[i - 1]!;
    if (length <= maxGap + 1e-9) sum += length * (shareAbove(celsius[i - 1]!, celsius[i]!, fromC) - shareAbove(celsius[i - 1]!, celsius[i]!, toC));
  }
  return sum / 60;
}

/** Share of a straight line between two temperatures that lies above a third. */
function shareAbove(from: number, to: number, limit: number): number {
  if (from > limit && to > limit) return 1;
  if (from <= limit && to <= limit) return 0;
  return (Math.max(from, to) - limit) / Math.abs(to - from);
}
