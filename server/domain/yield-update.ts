/**
 * A club's own yields against a published range, on the logarithm of the yield. The
 * published range is held as two standard deviations either way, half of its variance for
 * where this club lies and half for one batch against the next, so that with no batches
 * the answer is the published range itself. Normal with a conjugate prior (from memory:
 * standard Bayesian shrinkage).
 */

export type LogRange = { low: number; likely: number; high: number };
export type LogUpdate = LogRange & {
  /** How much of the answer is the club's own, 0 to 1. */
  weight: number;
  used: number;
  /** Which of the values were left out as unbelievable, by their place. */
  leftOut: number[];
};

/** So many batches' worth of published spread are mixed into the club's own: a few batches alone tell little of it. */
const SPREAD_BATCHES = 4;
/** A published range without width still allows for the scale and the cut: 1 %. */
const LEAST_SD = 0.01;
/** From this many batches on, one that is far from the rest is left out. */
const ROBUST_FROM = 3;
const FAR = 4;

/** Takes logarithms of yields (1 = nothing lost). */
export function updated(published: LogRange, values: readonly number[]): LogUpdate {
  const down = Math.max(LEAST_SD, (published.likely - published.low) / 2);
  const up = Math.max(LEAST_SD, (published.high - published.likely) / 2);
  const sd = (down + up) / 2;
  const leftOut = farFrom(values, sd);
  const kept = values.filter((_, index) => !leftOut.includes(index));
  const mean = kept.length === 0 ? published.likely : average(kept);
  const variance = (sd * sd) / 2;
  const within = (SPREAD_BATCHES * variance + kept.reduce((sum, value) => sum + (value - mean) ** 2, 0)) / (SPREAD_BATCHES + Math.max(0, kept.length - 1));
  const precision = 1 / variance + kept.length / within;
  const weight = kept.length / within / precision;
  const likely = (1 - weight) * published.likely + weight * mean;
  // The next batch: where the club lies is known this well, and batches differ so much.
  const scale = Math.sqrt(1 / precision + within) / sd;
  const side = (own: number) => 2 * scale * ((1 - weight) * own + weight * sd);
  return { low: likely - side(down), likely, high: likely + side(up), weight, used: kept.length, leftOut };
}

/** The same with nothing published: from at least three batches, their spread mixed with a usual one of 5 %. */
export function fromOwnAlone(values: readonly number[]): LogUpdate | null {
  const usual = 0.05;
  const leftOut = farFrom(values, usual);
  const kept = values.filter((_, index) => !leftOut.includes(index));
  if (kept.length < ROBUST_FROM) return null;
  const likely = average(kept);
  const within = (SPREAD_BATCHES * usual ** 2 + kept.reduce((sum, value) => sum + (value - likely) ** 2, 0)) / (SPREAD_BATCHES + kept.length - 1);
  const side = 2 * Math.sqrt(within * (1 + 1 / kept.length));
  return { low: likely - side, likely, high: likely + side, weight: 1, used: kept.length, leftOut };
}

function farFrom(values: readonly number[], sd: number): number[] {
  if (values.length < ROBUST_FROM) return [];
  const sorted = [...values].sort((a, b) => a - b);
  const median = (sorted[Math.floor((sorted.length - 1) / 2)]! + sorted[Math.ceil((sorted.length - 1) / 2)]!) / 2;
  const spread = [...values].map((value) => Math.abs(value - median)).sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
  return values.flatMap((value, index) => (Math.abs(value - median) > FAR * Math.max(sd, 1.5 * spread) ? [index] : []));
}

function average(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
