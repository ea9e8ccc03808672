import type { Working } from '../working.ts';
import { within } from './within.ts';

/** Terms after which exp(-zeta^2 Fo) is nothing for Fo of 0.001 and more. */
const TERMS = 60;
const BIOT = { low: 1e-4, high: 1e5, unit: '', label: 'Biot number', remedy: 'check h, thickness and conductivity' };

/**
 * The roots of zeta tan zeta = Bi, smallest first: the n-th lies between n pi and
 * n pi + pi/2. Newton's step, halved into the bracket whenever it would leave it.
 * Range: Bi 0.0001 to 100,000, 1 to 200 roots. Source: Carslaw and Jaeger 1959.
 */
export function slabRoots(biot: number, count: number): number[] {
  within(biot, 'biot', BIOT);
  within(count, 'count', { low: 1, high: 200, unit: '', label: 'number of roots', remedy: 'ask for fewer' });
  return Array.from({ length: count }, (_, n) => root(biot, n));
}

function root(biot: number, n: number): number {
  let low = n * Math.PI;
  let high = low + Math.PI / 2;
  let zeta = n === 0 ? Math.min(Math.sqrt(biot), 1.4) : low + Math.atan(biot / (low + 0.5));
  for (let i = 0; i < 100; i += 1) {
    // f = zeta sin zeta - Bi cos zeta has no poles, and the sign of tan's form within the bracket.
    const sine = Math.sin(zeta);
    const cosine = Math.cos(zeta);
    const f = zeta * sine - biot * cosine;
    if ((f > 0) === (n % 2 === 0)) high = zeta;
    else low = zeta;
    const newton = zeta - f / (sine + zeta * cosine + biot * sine);
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    if (Math.abs(next - zeta) < 1e-14 * (1 + zeta)) return next;
    zeta = next;
  }
  return zeta;
}

/** C_n = 4 sin zeta/(2 zeta + sin 2 zeta). */
export function slabCoefficient(zeta: number): number {
  return (4 * Math.sin(zeta)) / (2 * zeta + Math.sin(2 * zeta));
}

/**
 * Share of the first temperature difference that is left in a slab heated by convection
 * on its faces: `depth` 0 is the middle (or the insulated side), 1 the face.
 * Range: Bi 0.0001 to 100,000, Fo from 0.001, depth 0 to 1; constant properties, dry surface.
 * Throws DomainError outside it. Source: exact series, Incropera section 5.5.
 */
export function slabTheta(input: { biot: number; fourier: number; depth: number }): { theta: number; working: Working } {
  const { biot, depth } = input;
  const fourier = within(input.fourier, 'fourier', { low: 0.001, high: 1e6, unit: '', label: 'Fourier number', remedy: 'ask for a later time' });
  within(depth, 'depth', { low: 0, high: 1, unit: '', label: 'depth', remedy: 'enter 0 for the middle and 1 for the face' });
  const theta = slabThetaAt(slabRoots(biot, TERMS), fourier, depth);
  return {
    theta,
    working: {
      inputs: [{ name: 'Biot number h L/k', value: biot }, { name: 'Fourier number a t/L^2', value: fourier }, { name: 'depth, 0 middle to 1 face', value: depth }],
      model: 'smoking-heat', formula: 'theta = sum of C_n exp(-zeta_n^2 Fo) cos(zeta_n x), with zeta tan zeta = Bi and C_n = 4 sin zeta/(2 zeta + sin 2 zeta).',
      source: 'Exact series: Carslaw and Jaeger 1959; Incropera, table 5.1',
      range: 'Dry surface, constant properties, air of one temperature; Fo from 0.001.',
      uncertainty: 'None of its own: h and thickness decide.',
      certainty: 'published',
    },
  };
}

/** The same from roots already found, for many times. No checks. */
export function slabThetaAt(roots: readonly number[], fourier: number, depth: number): number {
  let sum = 0;
  for (const zeta of roots) sum += slabCoefficient(zeta) * Math.exp(-zeta * zeta * fourier) * Math.cos(zeta * depth);
  return sum;
}
