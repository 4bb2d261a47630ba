import type { TriangleMesh } from '../../../../shared/geometry/mesh/triangleMesh.ts';
import { meshFrom } from '../../../../shared/geometry/mesh/triangleMesh.ts';
import type { Vec3 } from '../../../../shared/geometry/vector.ts';

/* The bench makes its own sweep, in millimetres, so that its data do not change when the product's does. */

/** Sum, difference, multiple, inner and outer product. */
const plus = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
const minus = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const times = (a: Vec3, by: number): Vec3 => [a[0] * by, a[1] * by, a[2] * by];
const inner = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const outer = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const unit = (a: Vec3): Vec3 => times(a, 1 / Math.hypot(...a));

/** A place on a centreline and its direction. */
export interface Station {
  readonly at: Vec3;
  readonly along: Vec3;
}

/** A straight or an arc: its length, and the station so far along it. */
export interface Piece {
  readonly length: number;
  readonly station: (s: number) => Station;
}

function straight(from: Vec3, to: Vec3): Piece {
  const length = Math.hypot(...minus(to, from));
  const along = times(minus(to, from), 1 / length);
  return { length, station: (s) => ({ at: plus(from, times(along, s)), along }) };
}

function arc(from: Vec3, before: Vec3, after: Vec3, radius: number): Piece {
  const cos = inner(before, after);
  const inward = unit(minus(after, times(before, cos)));
  const centre = plus(from, times(inward, radius));
  return {
    length: radius * Math.acos(cos),
    station: (s) => {
      const [c, d] = [Math.cos(s / radius), Math.sin(s / radius)];
      const at = plus(centre, plus(times(inward, -radius * c), times(before, radius * d)));
      return { at, along: plus(times(inward, d), times(before, c)) };
    },
  };
}

const SHORTEST = 1e-9;

/** Straights and arcs through the corners of a polygon, with a bend radius at each corner. */
export function pieces(corners: readonly Vec3[], radii: readonly number[]): readonly Piece[] {
  const found: Piece[] = [];
  let from = corners[0] ?? [0, 0, 0];
  corners.slice(1, -1).forEach((corner, i) => {
    const radius = radii[i] ?? 0;
    const before = unit(minus(corner, corners[i] ?? corner));
    const after = unit(minus(corners[i + 2] ?? corner, corner));
    const angle = Math.acos(Math.max(-1, Math.min(1, inner(before, after))));
    if (angle < SHORTEST) return;
    const cut = radius * Math.tan(angle / 2);
    const begin = minus(corner, times(before, cut));
    if (inner(minus(begin, from), before) > SHORTEST) found.push(straight(from, begin));
    found.push(arc(begin, before, after, radius));
    from = plus(corner, times(after, cut));
  });
  const end = corners.at(-1) ?? from;
  if (Math.hypot(...minus(end, from)) > SHORTEST) found.push(straight(from, end));
  return found;
}

/** Stations a step apart or less, with one at each joint. */
export function stations(path: readonly Piece[], step: number): readonly Station[] {
  return path.flatMap(({ length, station }, k) => {
    const count = Math.max(1, Math.ceil(length / step - SHORTEST));
    return Array.from({ length: count + 1 }, (_, i) => station((length * i) / count)).slice(k === 0 ? 0 : 1);
  });
}

/** Two axes across each station that turn as little as can be (double reflection: Wang, Jüttler, Zheng, Liu 2008, memory). */
export function frames(line: readonly Station[]): readonly (readonly [Vec3, Vec3])[] {
  const first = line[0]?.along ?? [1, 0, 0];
  let across = unit(outer(first, leastAxis(first)));
  return line.map((station, i) => {
    const before = line[i - 1];
    if (before) {
      const chord = minus(station.at, before.at);
      const reflect = (a: Vec3, by: Vec3): Vec3 => minus(a, times(by, (2 / inner(by, by)) * inner(by, a)));
      const [left, along] = [reflect(across, chord), reflect(before.along, chord)];
      const rest = minus(station.along, along);
      across = inner(rest, rest) > 1e-24 ? reflect(left, rest) : left;
    }
    return [across, outer(station.along, across)];
  });
}

function leastAxis([x, y, z]: Vec3): Vec3 {
  if (Math.abs(x) < Math.abs(y)) return Math.abs(x) < Math.abs(z) ? [1, 0, 0] : [0, 0, 1];
  return Math.abs(y) < Math.abs(z) ? [0, 1, 0] : [0, 0, 1];
}

/** Triangles between rings of points, outer wall then inner wall, with annular ends. Rings are held one after the other. */
export function skin(positions: readonly number[], rings: number, facets: number): TriangleMesh {
  const indices: number[] = [];
  const quad = (a: number, b: number, c: number, d: number): void => void indices.push(a, b, c, a, c, d);
  const inside = rings * facets;
  const last = (rings - 1) * facets;
  for (let j = 0; j < facets; j++) {
    const k = (j + 1) % facets;
    for (let ring = 0; ring < last; ring += facets) {
      quad(ring + j, ring + k, ring + facets + k, ring + facets + j);
      const wall = inside + ring;
      quad(wall + j, wall + facets + j, wall + facets + k, wall + k);
    }
    quad(inside + j, inside + k, k, j);
    quad(last + j, last + k, inside + last + k, inside + last + j);
  }
  return meshFrom(positions, indices);
}

/** A tube with a wall. */
export function tube(
  line: readonly Station[],
  radii: readonly [outer: number, inner: number],
  facets: number,
): TriangleMesh {
  const axes = frames(line);
  const positions: number[] = [];
  for (const radius of radii)
    line.forEach(({ at }, i) => {
      const [u, v] = axes[i] ?? [at, at];
      for (let j = 0; j < facets; j++) {
        const angle = (2 * Math.PI * j) / facets;
        positions.push(...plus(at, plus(times(u, radius * Math.cos(angle)), times(v, radius * Math.sin(angle)))));
      }
    });
  return skin(positions, line.length, facets);
}
