import type { TriangleTree } from '../mesh/triangleTree.ts';
import type { Motion } from '../motion.ts';
import { movedBy } from '../motion.ts';
import type { Vec3 } from '../vector.ts';
import { cross, dot, scale, subtract } from '../vector.ts';
import type { NearestLeaves } from './footFinder.ts';
import { principalAxes } from './smallSystems.ts';
import { fitToSurface } from './surfaceFit.ts';

/** Points that a start is tried with, and how (own: enough to tell a right start from a wrong one on a header's piece). */
const TRIED = 400;
const EFFORT = { keep: 0.9, rounds: 15 };

/** No motion at all. */
export const STAY: Motion = {
  rotation: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  translation: [0, 0, 0],
};

/**
 * A start for the fine fit of points that may lie anywhere: where they lie, and the 24 ways to lay their principal axes on those of the
 * surface, each let run a little on a few of the points; the one that comes nearest.
 * @param points xyz, metres, evenly spread over what was scanned
 */
export function roughFit(tree: TriangleTree, points: Float64Array, nearest?: NearestLeaves): Motion {
  const few = evenly(points, TRIED);
  let best = { motion: STAY, rms: Number.POSITIVE_INFINITY };
  for (const start of [STAY, ...axisStarts(axesOfPoints(points), axesOfSurface(tree))]) {
    const tried = fitToSurface(tree, few, start, { ...EFFORT, nearest });
    if (tried.rms < best.rms) best = tried;
  }
  return best.motion;
}

/** At most so many of the points, every so many-th. */
export function evenly(points: Float64Array, most: number): Float64Array {
  const count = Math.floor(points.length / 3);
  const picked = Math.min(count, most);
  const out = new Float64Array(3 * picked);
  for (let i = 0; i < picked; i++) {
    const from = 3 * Math.floor((i * count) / picked);
    out.set(points.subarray(from, from + 3), 3 * i);
  }
  return out;
}

interface Axes {
  readonly middle: Vec3;
  readonly axes: readonly Vec3[];
}

/** Sums of a body of points or of surface: weight, first and second moments. */
class Moments {
  private weight = 0;
  private readonly first = new Float64Array(3);
  private readonly second = new Float64Array(9);

  add(p: Vec3, weight: number): void {
    this.weight += weight;
    for (const i of [0, 1, 2] as const) {
      this.first[i] = (this.first[i] ?? 0) + weight * p[i];
      for (const j of [0, 1, 2] as const) this.second[3 * i + j] = (this.second[3 * i + j] ?? 0) + weight * p[i] * p[j];
    }
  }

  axes(about: Vec3): Axes {
    const w = this.weight || 1;
    const mean = (i: number): number => (this.first[i] ?? 0) / w;
    const spread = Array.from(this.second, (sum, k) => sum / w - mean(Math.floor(k / 3)) * mean(k % 3));
    const axes = principalAxes(spread).map(([x = 0, y = 0, z = 0]): Vec3 => [x, y, z]);
    return { middle: [about[0] + mean(0), about[1] + mean(1), about[2] + mean(2)], axes };
  }
}

/** Moments are taken about a point of the body: far from zero their differences would be rounding. */
function axesOfPoints(points: Float64Array): Axes {
  const about: Vec3 = [points[0] ?? 0, points[1] ?? 0, points[2] ?? 0];
  const moments = new Moments();
  for (let o = 0; o < points.length; o += 3)
    moments.add(subtract([points[o] ?? 0, points[o + 1] ?? 0, points[o + 2] ?? 0], about), 1);
  return moments.axes(about);
}

/** Each triangle counts at the middles of its sides, which gives its second moments exactly. */
function axesOfSurface({ corners, count }: TriangleTree): Axes {
  const at = (o: number): Vec3 => [corners[o] ?? 0, corners[o + 1] ?? 0, corners[o + 2] ?? 0];
  const about = at(0);
  const moments = new Moments();
  for (let t = 0; t < count; t++) {
    const [a, b, c] = [subtract(at(9 * t), about), subtract(at(9 * t + 3), about), subtract(at(9 * t + 6), about)];
    const normal = cross(subtract(b, a), subtract(c, a));
    const third = Math.sqrt(dot(normal, normal)) / 6;
    for (const [p, q] of [
      [a, b],
      [b, c],
      [c, a],
    ] as const)
      moments.add(scale([p[0] + q[0], p[1] + q[1], p[2] + q[2]], 0.5), third);
  }
  return moments.axes(about);
}

function axisStarts(from: Axes, onto: Axes): Motion[] {
  const starts: Motion[] = [];
  for (const order of [
    [0, 1, 2],
    [1, 2, 0],
    [2, 0, 1],
    [0, 2, 1],
    [2, 1, 0],
    [1, 0, 2],
  ] as const)
    for (const [s, t] of [
      [1, 1],
      [1, -1],
      [-1, 1],
      [-1, -1],
    ] as const) {
      const [p, q] = [onto.axes[order[0]], onto.axes[order[1]]];
      const [u, v] = [from.axes[0], from.axes[1]];
      if (!p || !q || !u || !v) continue;
      starts.push(laid([u, v, cross(u, v)], [scale(p, s), scale(q, t), cross(scale(p, s), scale(q, t))], from, onto));
    }
  return starts;
}

type Frame = readonly [Vec3, Vec3, Vec3];

/** The motion that lays one right-handed frame on another, middles on one another. */
function laid(from: Frame, onto: Frame, { middle }: Axes, { middle: target }: Axes): Motion {
  const row = (k: 0 | 1 | 2): Vec3 => {
    const on = (j: 0 | 1 | 2): number => onto[0][k] * from[0][j] + onto[1][k] * from[1][j] + onto[2][k] * from[2][j];
    return [on(0), on(1), on(2)];
  };
  const rotation = [row(0), row(1), row(2)] as const;
  return { rotation, translation: subtract(target, movedBy({ rotation, translation: [0, 0, 0] }, middle)) };
}
