import { CORE_LIMIT_C, HOLD_LIMIT_MINUTES } from '../evidence.ts';
import type { CheckState } from '../evidence.ts';
import type { Working } from '../working.ts';
import { MAX_GAP_MINUTES, cleanSeries, instantAt, round1 } from './series.ts';
import type { Gap, Reading, Series, SeriesFlag } from './series.ts';
import { within } from './within.ts';

export type HoldInput = {
  readings: readonly Reading[];
  /** A club may ask for more than 62.8 C and 30 minutes, never less. */
  limitC?: number;
  neededMinutes?: number;
  maxGapMinutes?: number;
  unitConfirmed?: boolean;
};

export type Hold = {
  state: CheckState;
  longestMinutes: number;
  fromAt: string | null;
  toAt: string | null;
  maxCoreC: number | null;
  limitC: number;
  neededMinutes: number;
  /** The hold was still running when the log ended. */
  endsInHold: boolean;
  found: string;
  whatToDo: string;
  gaps: Gap[];
  flags: SeriesFlag[];
  working: Working;
};

/**
 * The longest unbroken time with the core at or above the limit. Crossings are found on
 * straight lines between readings that join; a gap ends a stretch. A log that ends before the
 * hold is complete is not met. 'not-recorded' without two usable readings or when the unit is
 * in doubt. Throws DomainError on a limit below 62.8 C (to 95) or 30 min (to 600). Source: rule smoke.core.
 */
export function longestHold(input: HoldInput): Hold {
  const limitC = within(input.limitC ?? CORE_LIMIT_C, 'limitC', { low: CORE_LIMIT_C, high: 95, unit: 'C', label: 'core limit', remedy: 'a club may ask for more, not less' });
  const neededMinutes = within(input.neededMinutes ?? HOLD_LIMIT_MINUTES, 'neededMinutes', { low: HOLD_LIMIT_MINUTES, high: 600, unit: 'min', label: 'minutes to hold', remedy: 'a club may ask for more, not less' });
  const maxGap = input.maxGapMinutes ?? MAX_GAP_MINUTES;
  const series = cleanSeries(input.readings, { place: 'core', strict: 'lower', maxGapMinutes: maxGap, unitConfirmed: input.unitConfirmed });
  const best = longestStretch(series, limitC, maxGap);
  const state: CheckState = series.minutes.length < 2 || series.unitInDoubt ? 'not-recorded' : best.minutes >= neededMinutes - 1e-9 ? 'met' : 'not-met';
  return {
    state,
    longestMinutes: best.minutes,
    fromAt: best.minutes > 0 ? instantAt(series, best.from) : null,
    toAt: best.minutes > 0 ? instantAt(series, best.from + best.minutes) : null,
    maxCoreC: series.celsius.length > 0 ? series.celsius.reduce((a, b) => Math.max(a, b)) : null,
    limitC, neededMinutes,
    endsInHold: best.toEnd,
    ...words(state, series, best, neededMinutes, limitC),
    gaps: series.gaps,
    flags: series.flags,
    working: {
      inputs: [
        { name: 'readings used', value: series.minutes.length }, { name: 'limit', value: limitC, unit: 'C' },
        { name: 'needed', value: neededMinutes, unit: 'min' }, { name: 'longest gap allowed', value: maxGap, unit: 'min' },
      ],
      model: 'hold', formula: 'Longest unbroken time at or above the limit, with straight lines between readings; a gap ends it.',
      source: 'MI569.7; HG ch. 13; AFDO (smoke.core)',
      range: 'Cores up to 100 C in the thickest part of the largest piece.',
      uncertainty: 'Between readings the core is taken to change evenly; a probe is apt to be 0.5 C off.',
      certainty: 'published',
    },
  };
}

/**
 * Whether the core held for so long where gaps in its log are bridged with straight lines: if so, nothing but gaps leaves it open.
 * For words alone, never a pass. Range, errors and source as for longestHold.
 */
export function mayHaveHeld(input: HoldInput): boolean {
  const { limitC, neededMinutes } = longestHold(input);
  const series = cleanSeries(input.readings, { place: 'core', strict: 'lower', unitConfirmed: input.unitConfirmed });
  return !series.unitInDoubt && longestStretch(series, limitC, Infinity).minutes >= neededMinutes - 1e-9;
}

type Stretch = { from: number; minutes: number; toEnd: boolean };

function longestStretch({ minutes, celsius }: Series, limitC: number, maxGap: number): Stretch {
  let best: Stretch = { from: 0, minutes: 0, toEnd: false };
  let from: number | null = null;
  const close = (to: number, toEnd: boolean) => {
    if (from !== null && to - from > best.minutes) best = { from, minutes: to - from, toEnd };
    from = null;
  };
  const last = minutes.length - 1;
  for (let i = 0; i <= last; i += 1) {
    const joins = i > 0 && minutes[i]! - minutes[i - 1]! <= maxGap + 1e-9;
    if (i > 0 && !joins) close(minutes[i - 1]!, false);
    const crossing = joins ? minutes[i - 1]! + ((limitC - celsius[i - 1]!) / (celsius[i]! - celsius[i - 1]!)) * (minutes[i]! - minutes[i - 1]!) : minutes[i]!;
    if (celsius[i]! >= limitC) from ??= joins && celsius[i - 1]! < limitC ? crossing : minutes[i]!;
    else if (from !== null) close(crossing, false);
  }
  if (last >= 0) close(minutes[last]!, true);
  return best;
}

function words(state: CheckState, series: Series, best: Stretch, needed: number, limitC: number): { found: string; whatToDo: string } {
  if (series.unitInDoubt) return { found: 'The unit of the log is in doubt.', whatToDo: 'Put the unit of the log right, or say that it is Celsius.' };
  if (state === 'not-recorded') return { found: 'Fewer than two usable readings.', whatToDo: `Log the core from before ${limitC} C to the end.` };
  const shown = Math.floor(best.minutes * 10 + 1e-6) / 10;
  const found = `${shown} minutes at ${limitC} C or more${best.toEnd ? ', when the log ends' : ''}`;
  if (state === 'met') return { found, whatToDo: '' };
  const gap = series.gaps.length > 0 ? ` The log has ${series.gaps.length} gap${series.gaps.length > 1 ? 's' : ''}, which count as nothing.` : '';
  return { found, whatToDo: `Hold it. It needs ${round1(needed)} unbroken minutes.${gap}` };
}
