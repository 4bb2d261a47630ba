/** Unit eigenvectors of a symmetric 3 x 3 matrix (rows of nine numbers), the one with the largest value first. Jacobi's rotations. */
export function principalAxes(matrix: readonly number[]): readonly (readonly number[])[] {
  const a = Float64Array.from(matrix);
  const v = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1);
  const pairs = [
    [0, 1],
    [0, 2],
    [1, 2],
  ] as const;
  for (let sweep = 0; sweep < 30; sweep++) for (const [p, q] of pairs) rotateAway(a, v, p, q);
  const value = (k: number): number => a[4 * k] ?? 0;
  return [0, 1, 2].sort((i, j) => value(j) - value(i)).map((k) => [v[k] ?? 0, v[3 + k] ?? 0, v[6 + k] ?? 0]);
}

/** Makes entry (p, q) zero and turns the vectors with it. */
function rotateAway(a: Float64Array, v: Float64Array, p: number, q: number): void {
  const apq = a[3 * p + q] ?? 0;
  if (apq === 0) return;
  const theta = ((a[4 * q] ?? 0) - (a[4 * p] ?? 0)) / (2 * apq);
  const t = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.hypot(theta, 1));
  const c = 1 / Math.hypot(t, 1);
  const s = t * c;
  const turn = (m: Float64Array, i: number, j: number): void => {
    const [x, y] = [m[i] ?? 0, m[j] ?? 0];
    m[i] = c * x - s * y;
    m[j] = s * x + c * y;
  };
  for (let k = 0; k < 3; k++) turn(a, 3 * k + p, 3 * k + q);
  for (let k = 0; k < 3; k++) turn(a, 3 * p + k, 3 * q + k);
  for (let k = 0; k < 3; k++) turn(v, 3 * k + p, 3 * k + q);
}

/**
 * Solution of a symmetric system that is nowhere negative, by Cholesky's factors. Directions that nothing holds stay where they are.
 * @param a n x n, row after row; changed
 * @param b right side; becomes the solution
 * @param hold what is added to the diagonal, as a share of its mean: keeps free directions still
 */
export function solveHeld(a: Float64Array, b: Float64Array, hold: number): void {
  const n = b.length;
  let trace = 0;
  for (let i = 0; i < n; i++) trace += a[i * n + i] ?? 0;
  const more = (hold * trace) / n || 1;
  for (let i = 0; i < n; i++) a[i * n + i] = (a[i * n + i] ?? 0) + more;
  for (let j = 0; j < n; j++)
    for (let i = j; i < n; i++) {
      let sum = a[i * n + j] ?? 0;
      for (let k = 0; k < j; k++) sum -= (a[i * n + k] ?? 0) * (a[j * n + k] ?? 0);
      a[i * n + j] = i === j ? Math.sqrt(Math.max(sum, 0.5 * more)) : sum / (a[j * n + j] ?? 1);
    }
  for (let i = 0; i < n; i++) {
    let sum = b[i] ?? 0;
    for (let k = 0; k < i; k++) sum -= (a[i * n + k] ?? 0) * (b[k] ?? 0);
    b[i] = sum / (a[i * n + i] ?? 1);
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = b[i] ?? 0;
    for (let k = i + 1; k < n; k++) sum -= (a[k * n + i] ?? 0) * (b[k] ?? 0);
    b[i] = sum / (a[i * n + i] ?? 1);
  }
}
