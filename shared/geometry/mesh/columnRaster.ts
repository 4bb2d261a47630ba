import type { TriangleMesh } from './triangleMesh.ts';

/** Support counted in upright columns, m3, and the width of the columns, metres. */
export interface ColumnSupport {
  readonly toPart: number;
  /** The part of it that stands on the part itself. */
  readonly onPart: number;
  readonly raster: number;
}

/** Most columns and most places where a column goes through a face (own: 150 MB). Wider columns are used where more would come. */
const MOST = { columns: 4_000_000, hits: 12_000_000 } as const;

/** Narrowest columns, metres (own: far below any use, and above nothing). */
const NARROWEST = 1e-6;

/** What a column meets: the solid's top, or its underside with or without need of support. */
const TOP = 0;
const UNDERSIDE = 1;
const NEEDS_SUPPORT = 2;

/**
 * Counts the support under the marked faces down to the next surface of the part below them or the plate. Faces inside another solid of an
 * overlapping mesh need none. Against halved columns the volume of a header agrees within 1 % at 1 mm (own measurement).
 * @param mesh turned into the build's frame, z upright; the plate is at `plate`
 * @param marked 1 for each triangle that needs support
 */
export function columnSupport(
  mesh: TriangleMesh,
  marked: Uint8Array,
  { raster, plate }: { readonly raster: number; readonly plate: number },
): ColumnSupport {
  const frame = frameFor(mesh, raster);
  const offsets = new Uint32Array(frame.columns * frame.rows + 1);
  eachColumnHit(mesh, frame, (column) => {
    offsets[column + 1] = (offsets[column + 1] ?? 0) + 1;
  });
  for (let i = 1; i < offsets.length; i++) offsets[i] = (offsets[i] ?? 0) + (offsets[i - 1] ?? 0);
  const hits = { heights: new Float64Array(offsets.at(-1) ?? 0), kinds: new Uint8Array(offsets.at(-1) ?? 0) };
  const next = offsets.slice();
  eachColumnHit(mesh, frame, (column, height, triangle, down) => {
    const at = next[column] ?? 0;
    next[column] = at + 1;
    hits.heights[at] = height;
    hits.kinds[at] = !down ? TOP : marked[triangle] ? NEEDS_SUPPORT : UNDERSIDE;
  });
  const sums = { toPart: 0, onPart: 0 };
  for (let i = 0; i + 1 < offsets.length; i++) {
    const [from, to] = [offsets[i] ?? 0, offsets[i + 1] ?? 0];
    if (to > from) addColumn(hits, from, to, { plate, sums });
  }
  const area = frame.raster ** 2;
  return { toPart: sums.toPart * area, onPart: sums.onPart * area, raster: frame.raster };
}

/** Upright lines through the middles of squares `raster` wide, metres; the first square begins at x0, y0. */
export interface ColumnFrame {
  readonly x0: number;
  readonly y0: number;
  readonly columns: number;
  readonly rows: number;
  readonly raster: number;
}

/** The raster, widened until neither columns nor hits can be more than allowed: both are known beforehand from areas. */
function frameFor({ positions, indices }: TriangleMesh, asked: number): ColumnFrame {
  let [x0, y0, x1, y1] = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  let [shadow, heights] = [0, 0];
  for (let o = 0; o < indices.length; o += 3) {
    const [a, b, c] = [3 * (indices[o] ?? 0), 3 * (indices[o + 1] ?? 0), 3 * (indices[o + 2] ?? 0)];
    const [ax, ay, bx, by] = [positions[a] ?? 0, positions[a + 1] ?? 0, positions[b] ?? 0, positions[b + 1] ?? 0];
    const [cx, cy] = [positions[c] ?? 0, positions[c + 1] ?? 0];
    const [low, high] = [Math.min(ay, by, cy), Math.max(ay, by, cy)];
    [x0, x1] = [Math.min(x0, ax, bx, cx), Math.max(x1, ax, bx, cx)];
    [y0, y1] = [Math.min(y0, low), Math.max(y1, high)];
    shadow += Math.abs((bx - ax) * (cy - ay) - (cx - ax) * (by - ay)) / 2;
    heights += high - low;
  }
  if (indices.length === 0) return { x0: 0, y0: 0, columns: 0, rows: 0, raster: asked };
  const raster = Math.max(
    Number.isNaN(asked) ? NARROWEST : Math.max(asked, NARROWEST),
    Math.sqrt(((x1 - x0) * (y1 - y0)) / MOST.columns),
    (x1 - x0 + y1 - y0) / MOST.columns,
    Math.sqrt(shadow / MOST.hits),
    heights / (4 * MOST.hits),
  );
  return { x0, y0, columns: Math.ceil((x1 - x0) / raster) + 1, rows: Math.ceil((y1 - y0) / raster) + 1, raster };
}

/** Square, height in metres, triangle, and whether it faces down. */
export type SeeHit = (column: number, height: number, triangle: number, down: boolean) => void;

/** Calls `see` where the middle lines of the columns go through triangles. Lines on an edge between two belong to one of them. */
export function eachColumnHit({ positions, indices }: TriangleMesh, frame: ColumnFrame, see: SeeHit): void {
  const { x0, y0, raster } = frame;
  const t = new Float64Array(9);
  for (let o = 0; o < indices.length; o += 3) {
    for (let k = 0; k < 3; k++) {
      const v = 3 * (indices[o + k] ?? 0);
      t[3 * k] = ((positions[v] ?? 0) - x0) / raster;
      t[3 * k + 1] = ((positions[v + 1] ?? 0) - y0) / raster;
      t[3 * k + 2] = positions[v + 2] ?? 0;
    }
    crossTriangle(t, o / 3, frame, see);
  }
}

function crossTriangle(t: Float64Array, triangle: number, { columns, rows }: ColumnFrame, see: SeeHit): void {
  const [ax, ay, az] = [t[0] ?? 0, t[1] ?? 0, t[2] ?? 0];
  const [ux, uy, uz] = [(t[3] ?? 0) - ax, (t[4] ?? 0) - ay, (t[5] ?? 0) - az];
  const [vx, vy, vz] = [(t[6] ?? 0) - ax, (t[7] ?? 0) - ay, (t[8] ?? 0) - az];
  const turn = ux * vy - vx * uy;
  if (turn === 0) return;
  const slopeX = (uz * vy - vz * uy) / turn;
  const slopeY = (vz * ux - uz * vx) / turn;
  const low = Math.min(ay, t[4] ?? 0, t[7] ?? 0);
  const high = Math.max(ay, t[4] ?? 0, t[7] ?? 0);
  const last = Math.min(rows - 1, Math.floor(high - 0.5));
  for (let j = Math.max(0, Math.ceil(low - 0.5)); j <= last; j++) {
    const y = j + 0.5;
    let from = Number.POSITIVE_INFINITY;
    let to = Number.NEGATIVE_INFINITY;
    for (let k = 0; k < 9; k += 3) {
      const x = crossEdge(t, k, k === 6 ? 0 : k + 3, y);
      if (x < from) from = x;
      if (x > to) to = x;
    }
    const end = Math.min(columns, Math.ceil(to - 0.5));
    for (let i = Math.max(0, Math.ceil(from - 0.5)); i < end; i++) {
      see(i + j * columns, az + (i + 0.5 - ax) * slopeX + (y - ay) * slopeY, triangle, turn < 0);
    }
  }
}

/** Where an edge crosses a row, NaN when it does not; always reckoned from its lower end, so that both its triangles get the same. */
function crossEdge(t: Float64Array, a: number, b: number, y: number): number {
  const [ya, yb] = [t[a + 1] ?? 0, t[b + 1] ?? 0];
  if (ya <= y === yb <= y) return Number.NaN;
  const [low, high] = ya < yb ? [a, b] : [b, a];
  const [xl, yl] = [t[low] ?? 0, t[low + 1] ?? 0];
  return xl + ((y - yl) * ((t[high] ?? 0) - xl)) / ((t[high + 1] ?? 0) - yl);
}

interface Hits {
  readonly heights: Float64Array;
  readonly kinds: Uint8Array;
}

/** Sorts a column from below and adds its support, metres of height. */
function addColumn(
  { heights, kinds }: Hits,
  from: number,
  to: number,
  { plate, sums }: { readonly plate: number; readonly sums: { toPart: number; onPart: number } },
): void {
  for (let q = from + 1; q < to; q++) {
    const [height, kind] = [heights[q] ?? 0, kinds[q] ?? 0];
    let r = q;
    for (; r > from && (heights[r - 1] ?? 0) > height; r--) {
      heights[r] = heights[r - 1] ?? 0;
      kinds[r] = kinds[r - 1] ?? 0;
    }
    heights[r] = height;
    kinds[r] = kind;
  }
  let inside = 0;
  for (let q = from; q < to; q++) {
    const kind = kinds[q] ?? TOP;
    if (kind === NEEDS_SUPPORT && inside <= 0) {
      const height = (heights[q] ?? 0) - (q > from ? (heights[q - 1] ?? 0) : plate);
      sums.toPart += height;
      if (q > from) sums.onPart += height;
    }
    inside += kind === TOP ? -1 : 1;
  }
}
