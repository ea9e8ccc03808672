/** What the screen of temperatures shows of one place: a sentence, a plot with its limits, the numbers under it. Pure; PlaceView.svelte draws it. */
import type { Stage } from '$contract/batches.ts';
import type { Working } from '$contract/common.ts';
import { cToF } from '$domain/units.ts';
import type { TemperaturePlace } from '$domain/readings.ts';
import type { RuleRecord } from '$contract/rules.ts';
import type { PlotRule, PlotSeries } from '$lib/ui/plot.ts';
import type { UnitSystem } from '$lib/units.svelte.ts';
import { lineOf, type ListWithReadings, type ProbeLog } from '../log.ts';
import type { Show } from '../say.ts';

export interface ViewContext {
  lists: readonly ListWithReadings[];
  stages: readonly Stage[];
  /** Undefined until they are read: then the rules' own limits count. */
  rules: readonly RuleRecord[] | undefined;
  system: UnitSystem;
  show: Show & { /** Where a log may run for days. */ dayTime: (at: string) => string };
}

export interface ViewRow {
  label: string;
  value: string;
  state?: 'met' | 'not-met' | 'not-recorded';
  working?: Working | null;
  /** What the sheet of its working is called, where that is not the label. */
  about?: string;
  /** What to know beside the value, in the same line. */
  beside?: string;
}

export interface PlaceView {
  key: string;
  /** '' for the first, which the page's own title names. */
  title: string;
  says: string;
  series: PlotSeries[];
  levels: PlotRule[];
  moments: PlotRule[];
  rows: ViewRow[];
  notes: { level?: 'mind' | 'note'; text: string }[];
}

export const degreesIn = (system: UnitSystem) => (system === 'us' ? cToF : (celsius: number) => celsius);

const LONGEST_NAME = 16;
const short = (text: string): string => (text.length > LONGEST_NAME ? `${text.slice(0, LONGEST_NAME - 1)}…` : text);

/** The probe's name after the place's; the place alone where nobody named it. */
export const probeName = (place: string, probe: string): string => (probe === '' ? place : `${place}, ${probe}`);

type Drawn = { place: TemperaturePlace; name: string; tone: PlotSeries['tone']; fromMs?: number; toMs?: number; gapMinutes?: number };

/** A line for each probe that has a reading there, the first one unbroken; names that would be alike are numbered. */
export function linesOf(logs: readonly ProbeLog[], { place, name, tone, fromMs, toMs, gapMinutes }: Drawn, context: ViewContext): PlotSeries[] {
  const lines = logs.map((log) => ({ name: short(probeName(name, log.probe)), tone, points: lineOf(log, place, degreesIn(context.system), fromMs, toMs, gapMinutes) })).filter((line) => line.points.some((p) => p.y !== null));
  return lines.map((line, i) => ({
    ...line, name: lines.some((other, j) => j < i && other.name === line.name) ? `${line.name} ${i + 1}` : line.name, ...(i > 0 && { dash: i % 2 === 1 ? (1 as const) : (2 as const) }),
  }));
}

/** A plot of one reading would be a dot: its sentence says it all. */
export const isDrawn = (series: readonly PlotSeries[]): boolean => series.reduce((sum, s) => sum + s.points.filter((p) => p.y !== null).length, 0) > 1;
