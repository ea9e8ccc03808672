import { rounded, within } from './bounds.ts';
import { cleanSeries } from './heat/series.ts';
import type { Reading, Series, SeriesFlag } from './heat/series.ts';
import { rateWorking, relativeRate, SPOILAGE_TO_C } from './spoilage-rate.ts';
import type { Working } from './working.ts';

export { keepingTime, listeriaGrowthAt, warmSpellCost } from './spoilage-rate.ts';
export type { IcedLife, ListeriaGrowth, WarmSpell } from './spoilage-rate.ts';

export type StorageGap = {
  fromAt: string;
  toAt: string;
  hours: number;
  /** What it would add if it stayed as warm as the warmer reading beside it. Not in usedDays. */
  mayAddDays: number;
};

export type SpoilageUsed = {
  /** Days on ice used up in the time that was logged. */
  usedDays: number;
  /** Warmer than 15 C at times, where the relation ends: it used up more than this. */
  isAtLeast: boolean;
  /** With the gaps reckoned as warm as the warmer reading beside each. */
  usedWithGapsDays: number;
  loggedHours: number;
  /** Of them frozen, where the count stands still. */
  frozenHours: number;
  /** Nothing missing and nothing in doubt. */
  isComplete: boolean;
  /** Left of a life in ice, the gaps counted; null when that was not given or the unit is in doubt. Never below zero. */
  leftDays: number | null;
  gaps: StorageGap[];
  /** The spells that cost most beyond ice, dearest first. */
  warmest: { fromAt: string; toAt: string; highestC: number; extraDays: number }[];
  flags: SeriesFlag[];
  /** What was found, in sentences. */
  notes: string[];
  working: Working;
};

/** Colder than this the flesh is frozen for the most part: from memory. */
const FROZEN_BELOW_C = -3;
/** A storage log by the hour is usual: common practice. */
const USUAL_GAP_MINUTES = 120;
const WARM_ABOVE_C = 5;
const MOST_SPELLS = 5;

/**
 * Days on ice used up, from a storage temperature log with readings at any times. Gaps,
 * impossible readings and a doubtful unit are flagged and never filled in. Range: 0 to
 * 15 C; colder counts as 0, warmer is counted as 15 and said to be more. Gaps of 5 to
 * 720 minutes. Throws DomainError on a time that is none. Quality, not safety: it moves
 * no use-by day. Source: FAO FTP 348, by trapezoid.
 */
export function spoilageUsed(input: { readings: readonly Reading[]; icedLifeDays?: number; longestGapMinutes?: number }): SpoilageUsed {
  const longestGap = within(input.longestGapMinutes ?? USUAL_GAP_MINUTES, { field: 'longestGapMinutes', label: 'longest gap', min: 5, max: 720, unit: 'minutes' });
  const life = input.icedLifeDays === undefined ? null : within(input.icedLifeDays, { field: 'icedLifeDays', label: 'life in ice', min: 1, max: 40, unit: 'days' });
  // Gaps are judged here: storage is logged more seldom than a smoke.
  const series = cleanSeries(input.readings, { place: 'fish', strict: 'higher' });
  const flags = series.flags.filter((flag) => flag.kind !== 'gap');
  const parts = partsOf(series, longestGap);
  const logged = parts.filter((part) => !part.isGap);
  const gaps = parts.filter((part) => part.isGap).map((part): StorageGap => ({ fromAt: part.fromAt, toAt: part.toAt, hours: rounded(part.minutes / 60, 2), mayAddDays: rounded(part.worstDays, 3) }));
  const usedDays = sum(logged.map((part) => part.days));
  const usedWithGapsDays = usedDays + sum(parts.filter((part) => part.isGap).map((part) => part.worstDays));
  const isAtLeast = series.celsius.some((celsius) => celsius > SPOILAGE_TO_C);
  const isComplete = gaps.length === 0 && series.minutes.length >= 2 && !series.unitInDoubt && !flags.some((flag) => flag.kind === 'probe-error');
  return {
    usedDays: rounded(usedDays, 3), isAtLeast, usedWithGapsDays: rounded(usedWithGapsDays, 3), loggedHours: rounded(sum(logged.map((part) => part.minutes)) / 60, 2),
    frozenHours: rounded(sum(logged.filter((part) => part.isFrozen).map((part) => part.minutes)) / 60, 2), isComplete,
    leftDays: life === null || series.unitInDoubt || series.minutes.length < 2 ? null : rounded(Math.max(0, life - usedWithGapsDays), 2),
    gaps, warmest: warmestOf(logged), flags, notes: notesOn(series, gaps, isAtLeast),
    working: rateWorking(
      [{ name: 'readings', value: series.minutes.length }, { name: 'longest gap', value: longestGap, unit: 'min' }, ...(life === null ? [] : [{ name: 'life in ice', value: life, unit: 'days' }])],
      'integral of (1 + 0.1 T)^2 by trapezoid between readings; gaps are not counted',
    ),
  };
}

type Part = { fromAt: string; toAt: string; minutes: number; isGap: boolean; isFrozen: boolean; highestC: number; days: number; worstDays: number };

/** The time between each two readings. */
function partsOf(series: Series, longestGap: number): Part[] {
  const at = (index: number) => new Date(Date.parse(series.startAt!) + series.minutes[index]! * 60_000).toISOString();
  return series.minutes.slice(1).map((end, index): Part => {
    const minutes = end - series.minutes[index]!;
    const pair = [series.celsius[index]!, series.celsius[index + 1]!] as const;
    const rates = pair.map((celsius) => relativeRate(Math.min(celsius, SPOILAGE_TO_C))) as [number, number];
    const isFrozen = Math.max(...pair) <= FROZEN_BELOW_C;
    const days = isFrozen ? 0 : (minutes / 1440) * ((rates[0] + rates[1]) / 2);
    return { fromAt: at(index), toAt: at(index + 1), minutes, isGap: minutes > longestGap + 1e-9, isFrozen, highestC: Math.max(...pair), days, worstDays: isFrozen ? 0 : (minutes / 1440) * Math.max(...rates) };
  });
}

/** Neighbouring parts above 5 C as one spell each. */
function warmestOf(parts: readonly Part[]): SpoilageUsed['warmest'] {
  const spells: SpoilageUsed['warmest'] = [];
  for (const part of parts) {
    if (part.highestC <= WARM_ABOVE_C) continue;
    const extraDays = part.days - part.minutes / 1440;
    const before = spells.at(-1);
    if (before?.toAt === part.fromAt) Object.assign(before, { toAt: part.toAt, highestC: Math.max(before.highestC, part.highestC), extraDays: before.extraDays + extraDays });
    else spells.push({ fromAt: part.fromAt, toAt: part.toAt, highestC: part.highestC, extraDays });
  }
  return spells.sort((a, b) => b.extraDays - a.extraDays).slice(0, MOST_SPELLS).map((spell) => ({ ...spell, extraDays: rounded(spell.extraDays, 3) }));
}

function notesOn(series: Series, gaps: readonly StorageGap[], isAtLeast: boolean): string[] {
  const notes: string[] = [];
  if (series.minutes.length < 2) notes.push('There are not two usable readings: nothing can be reckoned.');
  if (series.unitInDoubt) notes.push('Some readings look like Fahrenheit: put the unit right first.');
  if (gaps.length > 0) notes.push(`Nothing was logged for ${rounded(sum(gaps.map((gap) => gap.hours)), 1)} hours: they are not in the days used up.`);
  if (isAtLeast) notes.push('It was warmer than 15 C, where the relation ends: more was used up than this.');
  if (series.celsius.some((celsius) => celsius < 0)) notes.push('Colder than 0 C counts as ice; frozen time is not counted.');
  notes.push('This tells of quality. It moves no use-by day.');
  return notes;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
