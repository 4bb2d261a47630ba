import { type Matrix, solveLinear } from './matrix.ts';

/** One observation: its residual and the derivative of the residual by each parameter. */
export interface Observation {
  readonly residual: number;
  readonly gradient: readonly number[];
}
/** A problem whose state carries its parameters; steps are small changes of them. */
export interface Problem<S> {
  observe(state: S): readonly Observation[];
  step(state: S, change: readonly number[]): S;
}
/** Where the search ended. */
export interface Minimum<S> {
  readonly state: S;
  /** Sum of squared residuals. */
  readonly squares: number;
  /** Matrix J'J at the end, for the covariance. */
  readonly normal: Matrix;
  /** False when it was stopped before it stood still. */
  readonly converged: boolean;
}

const mostSteps = 200;

/** Least squares by Levenberg and Marquardt from a start; deterministic, never throws. */
export function leastSquares<S>(problem: Problem<S>, start: S): Minimum<S> {
  let state = start;
  let seen = problem.observe(state);
  let squares = sumOfSquares(seen);
  let damping = 1e-3;
  let converged = false;
  for (let i = 0; i < mostSteps && !converged; i++) {
    const { normal, slope } = normalEquations(seen);
    const damped = normal.map((row, k) => row.map((value, j) => (j === k ? value * (1 + damping) : value)));
    const change = solveLinear(damped, slope);
    const next = change && problem.step(state, change);
    const there = next ? problem.observe(next) : [];
    const squaresThere = next ? sumOfSquares(there) : Number.NaN;
    if (next && squaresThere <= squares) {
      converged = squares - squaresThere <= 1e-15 * squares;
      [state, seen, squares, damping] = [next, there, squaresThere, Math.max(damping / 10, 1e-12)];
    } else {
      damping *= 10;
      // No direction goes down any more: at the bottom to working precision, unless the problem itself is degenerate.
      if (damping > 1e12) converged = change !== null;
      if (damping > 1e12) break;
    }
  }
  return { state, squares, normal: normalEquations(seen).normal, converged };
}

function sumOfSquares(observations: readonly Observation[]): number {
  return observations.reduce((sum, { residual }) => sum + residual ** 2, 0);
}

function normalEquations(observations: readonly Observation[]): { normal: number[][]; slope: number[] } {
  const n = observations[0]?.gradient.length ?? 0;
  const normal = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  const slope = new Array<number>(n).fill(0);
  for (const { residual, gradient } of observations) {
    for (const [i, gi] of gradient.entries()) {
      slope[i] = (slope[i] ?? 0) - gi * residual;
      const row = normal[i];
      if (row) for (const [j, gj] of gradient.entries()) row[j] = (row[j] ?? 0) + gi * gj;
    }
  }
  return { normal, slope };
}

/** Standard deviation of one parameter from the covariance (J'J)^-1 s^2; null when J'J is singular or nothing is left over to judge by. */
export function parameterDeviation<S>(minimum: Minimum<S>, index: number, observations: number): number | null {
  const n = minimum.normal.length;
  if (observations <= n) return null;
  const picked = minimum.normal.map((_, i) => (i === index ? 1 : 0));
  const column = solveLinear(minimum.normal, picked);
  const variance = column?.[index];
  if (variance === undefined || !(variance >= 0)) return null;
  return Math.sqrt((variance * minimum.squares) / (observations - n));
}
