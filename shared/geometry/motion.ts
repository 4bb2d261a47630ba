import type { PointGrid } from './cloud.ts';
import { buildPointGrid, gridOfSorted } from './cloud.ts';
import type { Vec3 } from './vector.ts';
import { dot, subtract } from './vector.ts';

/** A rotation (rows of an orthonormal matrix) and then a shift, metres: y = R x + t. */
export interface Motion {
  readonly rotation: readonly [Vec3, Vec3, Vec3];
  readonly translation: Vec3;
}

/** Where a motion puts a point, metres. */
export function movedBy({ rotation, translation }: Motion, p: Vec3): Vec3 {
  return [
    dot(rotation[0], p) + translation[0],
    dot(rotation[1], p) + translation[1],
    dot(rotation[2], p) + translation[2],
  ];
}

/** The motion that undoes another. */
export function undoing({ rotation: [a, b, c], translation }: Motion): Motion {
  const rotation = [
    [a[0], b[0], c[0]],
    [a[1], b[1], c[1]],
    [a[2], b[2], c[2]],
  ] as const;
  return { rotation, translation: subtract([0, 0, 0], movedBy({ rotation, translation: [0, 0, 0] }, translation)) };
}

/** One motion after another, as one. */
export function after(second: Motion, first: Motion): Motion {
  const columns = undoing({ rotation: first.rotation, translation: [0, 0, 0] }).rotation;
  const row = (r: Vec3): Vec3 => [dot(r, columns[0]), dot(r, columns[1]), dot(r, columns[2])];
  const [a, b, c] = second.rotation;
  return { rotation: [row(a), row(b), row(c)], translation: movedBy(second, first.translation) };
}

/** The same scan where a motion puts it. Points keep the precision that single precision gives them about the grid's origin. */
export function movedGrid(grid: PointGrid, motion: Motion): PointGrid {
  const { positions, count } = grid;
  const [a, b, c] = motion.rotation;
  const points = new Float32Array(3 * count);
  for (let o = 0; o < 3 * count; o += 3) {
    const [x, y, z] = [positions[o] ?? 0, positions[o + 1] ?? 0, positions[o + 2] ?? 0];
    points[o] = a[0] * x + a[1] * y + a[2] * z;
    points[o + 1] = b[0] * x + b[1] * y + b[2] * z;
    points[o + 2] = c[0] * x + c[1] * y + c[2] * z;
  }
  return buildPointGrid(points, movedBy(motion, grid.origin), grid.cover);
}

/** The points of a scan that lie between two corners (metres, may be infinitely far), in the same order; on the border is inside. */
export function cutGrid(
  grid: PointGrid,
  { least, greatest }: { readonly least: Vec3; readonly greatest: Vec3 },
): PointGrid {
  const { positions, origin, count } = grid;
  const kept = new Float32Array(3 * count);
  let n = 0;
  for (let o = 0; o < 3 * count; o += 3) {
    let inside = true;
    for (const k of [0, 1, 2] as const) {
      const x = (positions[o + k] ?? 0) + origin[k];
      if (x < least[k] || x > greatest[k]) inside = false;
    }
    if (!inside) continue;
    kept.set(positions.subarray(o, o + 3), 3 * n);
    n++;
  }
  return gridOfSorted(kept.slice(0, 3 * n), origin, grid.cover);
}
