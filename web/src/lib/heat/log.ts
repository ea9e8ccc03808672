/** The temperatures of a batch as the rules read them: what counts, probe by probe, and what a plot shows of it. */
import type { Stage } from '$contract/batches.ts';
import type { ReadingsOfBatch } from '$contract/evidence.ts';
import { coolingToBothEnds, heldTo, type CoolingChecks } from '$domain/heat/cooling-checks.ts';
import { smokeBeganMs, smokeEndedMs, tellsOfCoolingOnly, tellsOfRawOnly } from '$domain/heat/cooling-probe.ts';
import { longestHold, type Hold } from '$domain/heat/hold.ts';
import { cleanSeries, MAX_GAP_MINUTES } from '$domain/heat/series.ts';
import type { TemperaturePlace } from '$domain/readings.ts';
import { formatLocal, startOfLocalDay, localDay } from '$domain/time.ts';
import type { StageKind } from '$domain/working.ts';
import type { HeatLimits } from '$lib/rules/limits.ts';
import type { PlotAxis, PlotPoint, PlotSeries } from '$lib/ui/plot.ts';

export type ListWithReadings = ReadingsOfBatch['items'][number];
export type Place = ListWithReadings['place'];
export interface ProbeLog {
  probe: string;
  readings: { at: Date; celsius: number }[];
  unitConfirmed: boolean;
}
export interface HoldLimits {
  limitC: number;
  neededMinutes: number;
}

/** Core readings of these stages, or of no stage, tell of the smoke and of the cooling after it. */
const CORE_STAGES: readonly StageKind[] = ['smoke', 'cool'];
/** The cooling rules count from here. */
const COOLING_FROM_C = 57;

/** One log for each probe at a place, of the smoke and the cooling; what was withdrawn, or read of the raw fish, is left out. */
export function logsOf(lists: readonly ListWithReadings[], place: Place, stages: readonly Pick<Stage, 'id' | 'kind' | 'startedAt'>[]): ProbeLog[] {
  const beganMs = smokeBeganMs(stages);
  const ids = new Set(stages.filter((s) => CORE_STAGES.includes(s.kind)).map((s) => s.id));
  return logsWhere(lists, place, (l) => (l.stageId === null ? place !== 'core' || !tellsOfRawOnly(timed(l), beganMs) : ids.has(l.stageId)));
}

/** The same of those lists that are wanted. */
export function logsWhere(lists: readonly ListWithReadings[], place: Place, wanted: (list: ListWithReadings) => boolean): ProbeLog[] {
  const counting = lists.filter((l) => l.place === place && !l.withdrawn && wanted(l));
  return [...Map.groupBy(counting, (l) => l.probe.trim().toLowerCase()).values()].map((group) => ({
    probe: group[0]!.probe.trim(),
    readings: group.flatMap(timed).sort((a, b) => a.at.getTime() - b.at.getTime()),
    unitConfirmed: group.every((l) => l.unitConfirmed),
  }));
}

/** Of core logs those whose probe was in the fish while it smoked: one put in for the cooling says nothing of the hold. */
export function smokedLogs(logs: readonly ProbeLog[], stages: readonly Pick<Stage, 'kind' | 'finishedAt'>[]): ProbeLog[] {
  const endedMs = smokeEndedMs(stages);
  return logs.filter((log) => !tellsOfCoolingOnly(log.readings, endedMs));
}

const timed = (list: ListWithReadings) => list.readings.filter((r) => !r.withdrawn).map(({ at, celsius }) => ({ at: new Date(at), celsius }));

export interface CoreTold {
  log: ProbeLog;
  hold: Hold;
  probes: number;
}

/** The probe that was hot for the shortest time: it is the one that counts. Null without core readings. */
export function coreTold(logs: readonly ProbeLog[], limits: HoldLimits): CoreTold | null {
  const told = logs.map((log) => ({ log, probes: logs.length, hold: longestHold({ readings: log.readings, unitConfirmed: log.unitConfirmed, ...limits }) }));
  const rank = ({ hold }: CoreTold) => (hold.state === 'not-recorded' ? -1 : (hold.state === 'met' ? 1e9 : 0) + hold.longestMinutes);
  return told.sort((a, b) => rank(a) - rank(b))[0] ?? null;
}

/** The slowest probe's cooling held against the club's limits; null until a core fell below 57 C after it was hot. */
export function coolingTold(logs: readonly ProbeLog[], limits: HeatLimits['cooling']): { log: ProbeLog; told: CoolingChecks } | null {
  const order = { 'not-met': 0, 'not-recorded': 1, met: 2 };
  const cooled = logs.filter((log) => coolingFrom(log) !== null).map((log) => ({ log, told: tightened(coolingToBothEnds({ readings: log.readings, kind: 'smoked', clubEndsC: limits.endsC }), limits) }));
  const longest = ({ checks }: CoolingChecks) => checks.reduce((most, check) => Math.max(most, check.minutes ?? Infinity), 0);
  return cooled.sort((a, b) => order[a.told.state] - order[b.told.state] || longest(b.told) - longest(a.told) || 0)[0] ?? null;
}

/**
 * A club's own, shorter limit is held as the checks hold it, down to the rules' own ends as well where the club asks for colder ones. The first step of the
 * second rule, which is nearly the first rule's, is told where it alone is too slow.
 */
function tightened({ byRule, ...told }: ReturnType<typeof coolingToBothEnds>, minutes: HeatLimits['cooling']): CoolingChecks {
  const own = (check: CoolingChecks['checks'][number]) => {
    const limitMinutes = check.ruleId === 'cool.hg' ? (check.part === 'to-21' ? minutes.hgTo21 : minutes.to4) : check.part === 'to-21' ? minutes.to21 : minutes.to5;
    return { ...check, limitMinutes, state: heldTo(check, limitMinutes) };
  };
  const same = (a: Pick<CoolingChecks['checks'][number], 'ruleId' | 'part'>) => (b: typeof a) => a.ruleId === b.ruleId && a.part === b.part;
  const slow = byRule.map(own).filter((check) => check.state === 'not-met');
  const held = told.checks.map(own).map((check) => (check.state === 'not-met' ? check : (slow.find(same(check)) ?? check)));
  const firstSlow = held.some((check) => check.ruleId === 'cool.fc' && check.part === 'to-21' && check.state === 'not-met');
  const checks = held.filter((check) => check.ruleId !== 'cool.hg' || check.part !== 'to-21' || (check.state === 'not-met' && !firstSlow));
  const states = checks.map((check) => check.state);
  return { ...told, checks, state: states.includes('not-met') ? 'not-met' : states.includes('not-recorded') ? 'not-recorded' : 'met' };
}

/** When the core was hottest, and when it first fell to 57 C after that; null when it was never so hot, or has not cooled. */
export function coolingFrom(log: ProbeLog): { peakMs: number; belowMs: number } | null {
  const series = cleanSeries(log.readings, { place: 'core', strict: 'higher', unitConfirmed: true });
  if (series.startAt === null) return null;
  const startMs = Date.parse(series.startAt);
  const peak = series.celsius.indexOf(Math.max(...series.celsius));
  if (series.celsius[peak]! < COOLING_FROM_C) return null;
  const below = series.celsius.findIndex((c, i) => i > peak && c <= COOLING_FROM_C);
  return below < 0 ? null : { peakMs: startMs + series.minutes[peak]! * 60_000, belowMs: startMs + series.minutes[below]! * 60_000 };
}

/** A log's line for a plot between two instants, in the unit of the person; where nothing was read it breaks. */
export function lineOf(log: Pick<ProbeLog, 'readings'>, place: TemperaturePlace, inUnit: (celsius: number) => number, fromMs = -Infinity, toMs = Infinity, gapMinutes = MAX_GAP_MINUTES): PlotPoint[] {
  const series = cleanSeries(log.readings, { place, strict: 'lower', unitConfirmed: true });
  const startMs = series.startAt === null ? 0 : Date.parse(series.startAt);
  const points: PlotPoint[] = [];
  let before: number | null = null;
  series.minutes.forEach((minute, i) => {
    const x = startMs + minute * 60_000;
    if (x < fromMs || x > toMs) return;
    if (before !== null && minute - before > gapMinutes + 1e-9) points.push({ x: startMs + ((before + minute) / 2) * 60_000, y: null });
    points.push({ x, y: inUnit(series.celsius[i]!) });
    before = minute;
  });
  return points;
}

const MINUTE_MS = 60_000;
const STEPS_MINUTES = [5, 10, 15, 30, 60, 120, 180, 360, 720, 1440];

/** Round times of the club's clock between two instants, few enough for a phone. */
export function timeTicks(fromMs: number, toMs: number, zone: string, most = 5): number[] {
  const step = (STEPS_MINUTES.find((minutes) => (toMs - fromMs) / (minutes * MINUTE_MS) <= most) ?? 1440 * Math.ceil((toMs - fromMs) / (1440 * MINUTE_MS * most))) * MINUTE_MS;
  const midnight = startOfLocalDay(localDay(new Date(fromMs), zone), zone).getTime();
  const first = midnight + Math.ceil((fromMs - midnight) / step) * step;
  return Array.from({ length: Math.max(0, Math.floor((toMs - first) / step) + 1) }, (_, i) => first + i * step);
}

/** "3 Jun 14:20": without the weekday and the year. */
export const dayAndTime = (at: Date, zone: string): string => formatLocal(at, zone, 'day-time').replace(/^\S+\s(.+)\s\d{4},\s/, '$1 ');

const DAY_MS = 24 * 60 * MINUTE_MS;

/** The clock under a plot; with the day where it runs for more than one. */
export function timeAxis(series: readonly Pick<PlotSeries, 'points'>[], zone: string): PlotAxis {
  const xs = series.flatMap((s) => s.points.map((p) => p.x));
  const [from, to] = [xs.reduce((a, b) => Math.min(a, b), Infinity), xs.reduce((a, b) => Math.max(a, b), -Infinity)];
  const long = to - from > DAY_MS;
  const show = (ms: number) => (long ? dayAndTime(new Date(ms), zone) : formatLocal(new Date(ms), zone, 'time'));
  return { name: 'Time', show, ticks: Number.isFinite(from) ? timeTicks(from, to, zone, long ? 3 : 5) : [] };
}

/** The stage that a reading of a place belongs to: for the smoker's places the smoke or the cooling after it; else the one that runs. */
export function stageFor(batch: { stages: readonly Pick<Stage, 'id' | 'kind' | 'finishedAt'>[] }, place: Place): string | null {
  const running = batch.stages.find((s) => s.finishedAt === null && s.kind !== 'pack');
  if (place === 'storage' || place === 'brine') return running?.id ?? null;
  if (running && CORE_STAGES.includes(running.kind)) return running.id;
  return batch.stages.findLast((s) => s.kind === 'smoke')?.id ?? null;
}
