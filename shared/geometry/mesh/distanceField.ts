import type { VoxelGrid } from './voxelGrid.ts';

/** Stands for a cube farther from metal than any other in the grid. */
const FAR = 1 << 28;

/**
 * Square of the distance from the middle of each cube to the middle of the nearest blocked cube, in squared cube edges; 0 in one.
 * Exact. Source: Felzenszwalb and Huttenlocher 2012, lower envelopes of parabolas, one axis after the other (memory).
 */
export function squaredDistances({ columns, rows, layers, blocked }: VoxelGrid): Int32Array {
  const field = Int32Array.from(blocked, (is) => (is ? 0 : FAR));
  const work = makeWork(Math.max(columns, rows, layers));
  const plane = columns * rows;
  for (let k = 0; k < layers; k++) {
    for (let j = 0; j < rows; j++) along(field, { from: plane * k + columns * j, step: 1, count: columns }, work);
    for (let i = 0; i < columns; i++) along(field, { from: plane * k + i, step: columns, count: rows }, work);
  }
  for (let i = 0; i < plane; i++) along(field, { from: i, step: plane, count: layers }, work);
  return field;
}

interface Work {
  readonly values: Float64Array;
  /** Places of the parabolas in the envelope, and where each begins to be the lowest. */
  readonly places: Int32Array;
  readonly begins: Float64Array;
}

const makeWork = (length: number): Work => ({
  values: new Float64Array(length),
  places: new Int32Array(length),
  begins: new Float64Array(length + 1),
});

interface Row {
  readonly from: number;
  readonly step: number;
  readonly count: number;
}

function along(field: Int32Array, { from, step, count }: Row, { values, places, begins }: Work): void {
  let flat = true;
  for (let q = 0; q < count; q++) {
    const value = field[from + q * step] ?? 0;
    values[q] = value;
    flat &&= value === FAR;
  }
  if (flat) return;
  let top = 0;
  places[0] = 0;
  begins[0] = Number.NEGATIVE_INFINITY;
  for (let q = 1; q < count; q++) {
    let meet = 0;
    for (; ; top--) {
      const p = places[top] ?? 0;
      meet = ((values[q] ?? 0) + q * q - (values[p] ?? 0) - p * p) / (2 * (q - p));
      if (meet > (begins[top] ?? 0)) break;
    }
    places[++top] = q;
    begins[top] = meet;
  }
  begins[top + 1] = Number.POSITIVE_INFINITY;
  for (let q = 0, k = 0; q < count; q++) {
    while ((begins[k + 1] ?? 0) < q) k++;
    const p = places[k] ?? 0;
    field[from + q * step] = Math.min(FAR, (q - p) * (q - p) + (values[p] ?? 0));
  }
}
