/**
 * A slab in a stirred brine that is itself used up: Crank's solution for a limited
 * volume. `ratio` is the brine's weight over the fish's water phase (its water and the
 * salt in it). Source: Crank 1975, diffusion in a plane sheet from a stirred solution of
 * limited volume.
 */
export type LimitedVolume = {
  /** The part of the final uptake that has happened, 0 to 1. */
  taken: (fo: number) => number;
  /** How far one place has come toward the final strength; above 1 near the surface, which starts stronger. */
  reachedAt: (fo: number, x: number) => number;
};

/** Below this the short-time expansion is exact to six places for ratios of 0.05 and more. */
const SHORT_TIME = 1e-4;
const SMALLEST_EXPONENT = -32;

/** Range: ratio 0.05 and up. Roots are found as they are needed and kept. */
export function limitedVolume(ratio: number): LimitedVolume {
  const roots: number[] = [];
  const root = (index: number): number => (roots[index] ??= findRoot(ratio, index));
  return { taken: (fo) => taken(ratio, root, fo), reachedAt: (fo, x) => reachedAt(ratio, root, fo, x) };
}

function taken(ratio: number, root: (index: number) => number, fo: number): number {
  if (fo <= 0) return 0;
  if (fo < SHORT_TIME) return shortTime(ratio, fo);
  let left = 0;
  for (let index = 0; ; index++) {
    const q = root(index);
    if (-q * q * fo < SMALLEST_EXPONENT) break;
    left += ((2 * ratio * (1 + ratio)) / (1 + ratio + ratio * ratio * q * q)) * Math.exp(-q * q * fo);
  }
  return Math.min(1, Math.max(0, 1 - left));
}

function reachedAt(ratio: number, root: (index: number) => number, fo: number, x: number): number {
  const time = Math.max(fo, SHORT_TIME);
  let sum = 1;
  for (let index = 0; ; index++) {
    const q = root(index);
    if (-q * q * time < SMALLEST_EXPONENT) break;
    sum += ((2 * (1 + ratio) * Math.exp(-q * q * time)) / (1 + ratio + ratio * ratio * q * q)) * (Math.cos(q * x) / Math.cos(q));
  }
  return Math.max(0, sum);
}

/** (1 + ratio)(1 - exp(z^2) erfc(z)) with z = sqrt(Fo)/ratio, as its series for small z. */
function shortTime(ratio: number, fo: number): number {
  const z = Math.sqrt(fo) / ratio;
  const rootPi = Math.sqrt(Math.PI);
  return (1 + ratio) * ((2 * z) / rootPi - z ** 2 + (4 * z ** 3) / (3 * rootPi) - z ** 4 / 2 + (8 * z ** 5) / (15 * rootPi) - z ** 6 / 6);
}

/** The positive roots of tan q = -ratio q: one between each odd quarter turn and the next half turn. */
function findRoot(ratio: number, index: number): number {
  let low = (index + 0.5) * Math.PI;
  let high = (index + 1) * Math.PI;
  // sin q + ratio q cos q changes sign once in between.
  const sign = index % 2 === 0 ? 1 : -1;
  for (let step = 0; step < 52; step++) {
    const q = (low + high) / 2;
    if (sign * (Math.sin(q) + ratio * q * Math.cos(q)) > 0) low = q;
    else high = q;
  }
  return (low + high) / 2;
}
