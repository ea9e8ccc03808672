/**
 * Salt spreading into a slab whose surface is kept at one strength: how much of the way
 * is still to go. 1 is the start, 0 is even with the surface. Fourier number Fo = D t / L^2,
 * L half the thickness with both faces open, all of it with skin on one. Position x is 0
 * at the closed face or the centre and 1 at the open face. Source: Crank 1975; Newman 1931.
 */

/** Below this the short-time form is exact to nine places. */
const SHORT_TIME = 0.05;
/** Terms smaller than exp of this are nothing. */
const SMALLEST_EXPONENT = -32;
/** Shorter than this nothing has moved that anybody could see. */
const LEAST_FO = 1e-6;

/** The mean still to go. Range: Fo from 0 up. */
export function meanLeft(fo: number): number {
  if (fo <= 0) return 1;
  if (fo < SHORT_TIME) return shortTimeMeanLeft(fo);
  let sum = 0;
  for (let odd = 1; ; odd += 2) {
    const exponent = (-odd * odd * Math.PI ** 2 * fo) / 4;
    if (exponent < SMALLEST_EXPONENT) break;
    sum += Math.exp(exponent) / (odd * odd);
  }
  return (8 / Math.PI ** 2) * sum;
}

/** The short-time form, published for Fo below 0.2. */
export function shortTimeMeanLeft(fo: number): number {
  return 1 - 2 * Math.sqrt(fo / Math.PI);
}

/** What is still to go at one place in the slab. Range: Fo from 0 up, x from 0 to 1. */
export function leftAt(fo: number, x: number): number {
  if (x >= 1) return 0;
  if (fo < LEAST_FO) return 1;
  let sum = 0;
  for (let odd = 1, sign = 1; ; odd += 2, sign = -sign) {
    const exponent = (-odd * odd * Math.PI ** 2 * fo) / 4;
    if (exponent < SMALLEST_EXPONENT) break;
    sum += ((sign * Math.exp(exponent)) / odd) * Math.cos((odd * Math.PI * x) / 2);
  }
  return Math.min(1, Math.max(0, (4 / Math.PI) * sum));
}

/** The Fourier number at which so much is still to go. Range: left above 0, up to 1. */
export function foForMeanLeft(left: number): number {
  if (left >= 1) return 0;
  return bisect((fo) => meanLeft(fo) - left);
}

/** The root of a falling function of a Fourier number, to a part in 10^12. */
export function bisect(falling: (fo: number) => number): number {
  let low = 0;
  let high = 1;
  while (falling(high) > 0 && high < 1e4) high *= 2;
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (falling(middle) > 0) low = middle;
    else high = middle;
  }
  return high;
}
