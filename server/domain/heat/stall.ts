import type { SlabTrace } from './slab-run.ts';
import { readTrace } from './slab-run.ts';

export type Stall = {
  fromMinutes: number;
  toMinutes: number;
  coreC: number;
  /** Rule smoke.stall speaks of cores from 45 to 65 C. */
  withinRule: boolean;
  text: string;
};

/** A core that rises by less than this is standing still; a quarter of an hour of it counts (common practice, no source). */
const STILL_C_PER_HOUR = 3;
const SHORTEST_MINUTES = 15;
/** The air must be this much hotter than the face, or the fish is simply done heating. */
const HOTTER_C = 5;
const STEP_MINUTES = 1;

/** The longest stretch in which hot air does not warm the core, or null. Source: rule smoke.stall. */
export function findStall(trace: SlabTrace): Stall | null {
  const end = trace.minutes.at(-1)!;
  let best: { from: number; to: number } | null = null;
  let from: number | null = null;
  const close = (to: number) => {
    if (from !== null && to - from >= SHORTEST_MINUTES && (best === null || to - from > best.to - best.from)) best = { from, to };
    from = null;
  };
  // A fish straight from the cold warms late: a core counts only once it has begun to rise.
  let started = false;
  let before = trace.coreC[0]!;
  for (let minute = STEP_MINUTES; minute <= end + 1e-9; minute += STEP_MINUTES) {
    const core = readTrace(trace.minutes, trace.coreC, minute);
    const rise = (core - before) * (60 / STEP_MINUTES);
    before = core;
    started ||= rise > 2 * STILL_C_PER_HOUR;
    const hotter = readTrace(trace.minutes, trace.airC, minute) - readTrace(trace.minutes, trace.surfaceC, minute) >= HOTTER_C;
    if (started && hotter && Math.abs(rise) < STILL_C_PER_HOUR) from ??= minute - STEP_MINUTES;
    else close(minute - STEP_MINUTES);
  }
  close(end);
  if (best === null) return null;
  const found: { from: number; to: number } = best;
  const coreC = readTrace(trace.minutes, trace.coreC, (found.from + found.to) / 2);
  return {
    fromMinutes: found.from, toMinutes: found.to, coreC: Math.round(coreC * 10) / 10,
    withinRule: coreC >= 45 && coreC <= 65,
    text: 'The core stands still while the face dries: the heat goes into the water that leaves. This is no fault.',
  };
}
