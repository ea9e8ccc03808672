import { longestHold } from './hold.ts';
import type { Reading } from './series.ts';

/** Readings of one list without what was withdrawn; instants in milliseconds since 1970, UTC. */
export type ProbeList = { place: string; probe: string; stageId: string | null; unitConfirmed: boolean; atMs: readonly number[]; celsius: readonly number[] };
export type SmokeTimes = { id: string; startedAt: Date; finishedAt: Date | null };
export type ProbeReadings = { probe: string; readings: Reading[]; unitConfirmed: boolean };
/** What one smoke says of its smoker: the probe that counts at each place; null where nothing was read. */
export type SmokeLog = { core: ProbeReadings | null; chamber: ProbeReadings | null };

/** Fewer readings of a core show no course. */
const FEW = 5;

/**
 * The core's and the chamber's readings of one smoke, from its start to its end, or to the last reading while it runs.
 * Lists of the smoke stage and of no stage count. Of several core probes the one that was hot for the shortest time counts, as in
 * rule smoke.core; of several in the chamber the one that was read most often.
 */
export function logOfSmoke(smoke: SmokeTimes, lists: readonly ProbeList[]): SmokeLog {
  const [from, to] = [smoke.startedAt.getTime(), smoke.finishedAt?.getTime() ?? Infinity];
  const at = (place: string) => probes(lists.filter((list) => list.place === place && (list.stageId === null || list.stageId === smoke.id)), from, to);
  const cores = at('core');
  const courses = cores.filter(({ readings }) => readings.length >= FEW);
  return { core: coldest(courses.length > 0 ? courses : cores), chamber: at('chamber').sort((a, b) => b.readings.length - a.readings.length)[0] ?? null };
}

function probes(lists: readonly ProbeList[], fromMs: number, toMs: number): ProbeReadings[] {
  return [...Map.groupBy(lists, ({ probe }) => probe.trim().toLowerCase()).values()].map((group) => ({
    probe: group[0]!.probe.trim(),
    readings: group.flatMap(({ atMs, celsius }) => atMs.flatMap((ms, i) => (ms >= fromMs && ms <= toMs ? [{ at: new Date(ms), celsius: celsius[i]! }] : []))).sort((a, b) => a.at.getTime() - b.at.getTime()),
    unitConfirmed: group.every(({ unitConfirmed }) => unitConfirmed),
  })).filter(({ readings }) => readings.length > 0);
}

function coldest(cores: readonly ProbeReadings[]): ProbeReadings | null {
  const ranked = cores.map((core) => ({ core, hold: longestHold({ readings: core.readings, unitConfirmed: core.unitConfirmed }) }));
  ranked.sort((a, b) => a.hold.longestMinutes - b.hold.longestMinutes || (a.hold.maxCoreC ?? -Infinity) - (b.hold.maxCoreC ?? -Infinity));
  return ranked[0]?.core ?? null;
}
