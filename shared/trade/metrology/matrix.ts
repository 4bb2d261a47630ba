/** A square matrix, row after row. */
export type Matrix = readonly (readonly number[])[];

/** One eigenvalue with its unit eigenvector. */
export interface EigenPair {
  readonly value: number;
  readonly vector: readonly number[];
}

/** Entry of a matrix; NaN outside it, so a slip of an index cannot pass for a number. */
const entry = (m: Matrix, row: number, column: number): number => m[row]?.[column] ?? Number.NaN;

/** Eigenpairs of a small symmetric matrix, largest value first, by Jacobi's rotations. */
export function symmetricEigen(matrix: Matrix): readonly EigenPair[] {
  const n = matrix.length;
  const a = matrix.map((row) => [...row]);
  const v = matrix.map((_, i) => matrix.map((__, j) => (i === j ? 1 : 0)));
  const size = Math.hypot(...a.flat());
  for (let sweep = 0; sweep < 60; sweep++) {
    if (offDiagonal(a) <= 1e-17 * size) break;
    for (let p = 0; p < n; p++) for (let q = p + 1; q < n; q++) rotate(a, v, p, q);
  }
  return a
    .map((_, k): EigenPair => ({ value: entry(a, k, k), vector: v.map((row) => row[k] ?? Number.NaN) }))
    .sort((x, y) => y.value - x.value);
}

function offDiagonal(a: Matrix): number {
  let sum = 0;
  for (const [i, row] of a.entries()) for (const [j, value] of row.entries()) if (i !== j) sum += value ** 2;
  return Math.sqrt(sum);
}

/** Zeroes entry (p, q) of `a` and turns the vectors with it. */
function rotate(a: number[][], v: number[][], p: number, q: number): void {
  const apq = entry(a, p, q);
  if (apq === 0) return;
  const theta = (entry(a, q, q) - entry(a, p, p)) / (2 * apq);
  const t = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.hypot(theta, 1));
  const c = 1 / Math.hypot(t, 1);
  const s = t * c;
  for (const rows of [a, v]) for (const row of rows) turn(row, p, q, c, s);
  const [rowP, rowQ] = [a[p], a[q]];
  if (!rowP || !rowQ) return;
  for (const k of rowP.keys()) {
    const [x, y] = [rowP[k] ?? Number.NaN, rowQ[k] ?? Number.NaN];
    rowP[k] = c * x - s * y;
    rowQ[k] = s * x + c * y;
  }
}

function turn(row: number[], p: number, q: number, c: number, s: number): void {
  const [x, y] = [row[p] ?? Number.NaN, row[q] ?? Number.NaN];
  row[p] = c * x - s * y;
  row[q] = s * x + c * y;
}

/** Solution of a small linear system by elimination with row pivots; null when the matrix is singular to working precision. */
export function solveLinear(matrix: Matrix, right: readonly number[]): readonly number[] | null {
  const rows = matrix.map((row, i) => [...row, right[i] ?? Number.NaN]);
  const n = rows.length;
  const scale = Math.max(...matrix.flat().map(Math.abs));
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k; i < n; i++) if (Math.abs(entry(rows, i, k)) > Math.abs(entry(rows, pivot, k))) pivot = i;
    const [top, swap] = [rows[pivot], rows[k]];
    if (!top || !swap || !(Math.abs(entry(rows, pivot, k)) > 1e-14 * scale)) return null;
    [rows[k], rows[pivot]] = [top, swap];
    for (const [i, row] of rows.entries()) {
      if (i === k) continue;
      const factor = entry(rows, i, k) / entry(rows, k, k);
      for (let j = k; j <= n; j++) row[j] = entry(rows, i, j) - factor * (top[j] ?? Number.NaN);
    }
  }
  return rows.map((_, i) => entry(rows, i, n) / entry(rows, i, i));
}
