export type LeastSquares = {
  start: readonly number[];
  priorMean: readonly number[];
  /** Standard deviations of what was believed before. */
  priorSpread: readonly number[];
  /** The least a residual is believed to scatter. */
  leastNoise: number;
  residuals: (parameters: readonly number[]) => number[];
};

export type LeastSquaresFit = { value: number[]; spread: number[]; noise: number; converged: boolean };

const MOST_ROUNDS = 25;
const PROBE = 0.02;

/**
 * Gauss-Newton for two parameters with a Gaussian prior, halving steps that do not help.
 * The scatter is the residuals' own, but never less than said; the spread is the posterior's
 * standard deviation. For smooth residuals and parameters of order one.
 */
export function gaussNewton(problem: LeastSquares): LeastSquaresFit {
  const { priorMean, priorSpread, leastNoise } = problem;
  let value = [...problem.start];
  let residuals = problem.residuals(value);
  let noise = scatter(residuals, leastNoise);
  let converged = false;
  const objective = (at: readonly number[], found: readonly number[]) =>
    found.reduce((sum, r) => sum + (r / noise) ** 2, 0) + at.reduce((sum, x, i) => sum + ((x - priorMean[i]!) / priorSpread[i]!) ** 2, 0);
  for (let round = 0; round < MOST_ROUNDS && !converged; round += 1) {
    noise = scatter(residuals, leastNoise);
    const { matrix, gradient } = normal(problem, value, residuals, noise);
    const step = solve(matrix, gradient).map((x) => Math.max(-1, Math.min(1, x)));
    const before = objective(value, residuals);
    converged = true;
    for (let scale = 1; scale > 0.01; scale /= 2) {
      const next = value.map((x, i) => x - scale * step[i]!);
      const found = problem.residuals(next);
      if (objective(next, found) >= before) continue;
      converged = Math.max(...step.map((x) => Math.abs(x * scale))) < 1e-3;
      [value, residuals] = [next, found];
      break;
    }
  }
  noise = scatter(residuals, leastNoise);
  const [a, b, , d] = normal(problem, value, residuals, noise).matrix;
  const determinant = a * d - b * b;
  return { value, spread: [Math.sqrt(d / determinant), Math.sqrt(a / determinant)], noise, converged };
}

function scatter(residuals: readonly number[], least: number): number {
  const freedom = Math.max(1, residuals.length - 2);
  return Math.max(least, Math.sqrt(residuals.reduce((sum, r) => sum + r * r, 0) / freedom));
}

type Matrix = readonly [number, number, number, number];

/** J'J/noise^2 with the prior's precision on its diagonal, and the gradient with the prior's pull. */
function normal({ residuals: of, priorMean, priorSpread }: LeastSquares, value: readonly number[], residuals: readonly number[], noise: number): { matrix: Matrix; gradient: [number, number] } {
  const slopes = value.map((_, i) => {
    const moved = value.map((x, k) => (k === i ? x + PROBE : x));
    return of(moved).map((r, k) => (r - residuals[k]!) / PROBE);
  });
  const dot = (x: readonly number[], y: readonly number[]) => x.reduce((sum, each, k) => sum + each * y[k]!, 0) / noise ** 2;
  const precision = priorSpread.map((spread) => 1 / spread ** 2);
  const cross = dot(slopes[0]!, slopes[1]!);
  return {
    matrix: [dot(slopes[0]!, slopes[0]!) + precision[0]!, cross, cross, dot(slopes[1]!, slopes[1]!) + precision[1]!],
    gradient: [0, 1].map((i) => dot(slopes[i]!, residuals) + (value[i]! - priorMean[i]!) * precision[i]!) as [number, number],
  };
}

function solve([a, b, c, d]: Matrix, [x, y]: readonly [number, number]): number[] {
  const determinant = a * d - b * c;
  return [(d * x - b * y) / determinant, (a * y - c * x) / determinant];
}
