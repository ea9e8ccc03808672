import type { SeriesFlag, Timed } from './series.ts';

/** A core moves by no more than this from one reading to the next and back (common practice, no source). */
const LEAP_C = 10;
const FASTEST_C_PER_MINUTE = 5;
/** Neighbours this near to each other say that the leap between them was none of the fish's. */
const BACK_C = 5;

/**
 * Leaves out and flags single readings that leap away from both neighbours and would help the
 * fish: hot ones where the lower counts, cold ones where the higher does. Leaps against it stay. At an end there is one
 * neighbour, and the leap must also be too fast for flesh.
 */
export function dropSpikes(readings: readonly Timed[], strict: 'lower' | 'higher', flags: SeriesFlag[]): Timed[] {
  const sign = strict === 'lower' ? 1 : -1;
  return readings.filter((reading, i) => {
    const before = readings[i - 1];
    const after = readings[i + 1];
    const leaps = (other: Timed) => sign * (reading.celsius - other.celsius) > LEAP_C;
    const tooFast = (other: Timed) => Math.abs(reading.celsius - other.celsius) > (FASTEST_C_PER_MINUTE * Math.abs(reading.ms - other.ms)) / 60_000;
    const only = before ?? after;
    const spike = before && after
      ? leaps(before) && leaps(after) && Math.abs(before.celsius - after.celsius) < BACK_C
      : only !== undefined && leaps(only) && tooFast(only);
    if (spike) flags.push({ kind: 'spike', at: new Date(reading.ms).toISOString(), celsius: reading.celsius, text: `${reading.celsius} C for one reading alone is no core: left out. Check the probe.` });
    return !spike;
  });
}
