import type { Random } from '../random.ts';
import type { Vec3 } from '../vector.ts';
import type { TriangleMesh } from './triangleMesh.ts';

/* Shapes with known measures, for tests and benches. Metres; closed and turned outward unless said. */

/** A box from a corner, twelve triangles. */
export function boxMesh(size: Vec3, at: Vec3 = [0, 0, 0]): TriangleMesh {
  const positions = new Float64Array(24);
  for (let i = 0; i < 8; i++) {
    for (let k = 0; k < 3; k++) positions[3 * i + k] = (at[k] ?? 0) + ((i >> k) & 1 ? (size[k] ?? 0) : 0);
  }
  const quads = [0, 2, 3, 1, 4, 5, 7, 6, 0, 1, 5, 4, 2, 6, 7, 3, 0, 4, 6, 2, 1, 3, 7, 5];
  const indices: number[] = [];
  for (let q = 0; q < quads.length; q += 4) {
    const [a = 0, b = 0, c = 0, d = 0] = quads.slice(q, q + 4);
    indices.push(a, b, c, a, c, d);
  }
  return { positions, indices: Uint32Array.from(indices) };
}

/** A surface of two round ways: rows by columns of points, both closing on themselves. */
function closedGrid(rows: number, columns: number, point: (row: number, column: number) => Vec3): TriangleMesh {
  const positions = new Float64Array(3 * rows * columns);
  const indices = new Uint32Array(6 * rows * columns);
  let next = 0;
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < columns; j++) {
      positions.set(point(i, j), 3 * (i * columns + j));
      const [i1, j1] = [(i + 1) % rows, (j + 1) % columns];
      const [a, b, c, d] = [i * columns + j, i1 * columns + j, i1 * columns + j1, i * columns + j1];
      indices.set([a, b, c, a, c, d], next);
      next += 6;
    }
  }
  return { positions, indices };
}

/** A torus about z: `ring` from its axis to the middle of its section, `tube` the section's radius. */
export function torusMesh(
  ring: number,
  tube: number,
  steps: { readonly around: number; readonly section: number },
): TriangleMesh {
  return closedGrid(steps.around, steps.section, (i, j) => {
    const [u, v] = [(2 * Math.PI * i) / steps.around, (2 * Math.PI * j) / steps.section];
    const r = ring + tube * Math.cos(v);
    return [r * Math.cos(u), r * Math.sin(u), tube * Math.sin(v)];
  });
}

/** A straight pipe along z from the origin. */
export function pipeMesh(
  radii: { readonly outer: number; readonly inner: number },
  length: number,
  facets: number,
): TriangleMesh {
  const { outer, inner } = radii;
  const corners: readonly (readonly [number, number])[] = [
    [outer, 0],
    [outer, length],
    [inner, length],
    [inner, 0],
  ];
  return closedGrid(facets, 4, (i, j) => {
    const [r, z] = corners[j] ?? [0, 0];
    const u = (2 * Math.PI * i) / facets;
    return [r * Math.cos(u), r * Math.sin(u), z];
  });
}

/** A bent pipe: part of a torus about z with a bore, flat ends. `sweep` radians. */
export function bendMesh(
  radii: { readonly bend: number; readonly outer: number; readonly inner: number },
  sweep: number,
  steps: { readonly along: number; readonly facets: number },
): TriangleMesh {
  const { along, facets } = steps;
  const rows = 2 * (along + 1);
  const mesh = closedGrid(rows, facets, (i, j) => {
    const onOuter = i <= along;
    const u = (sweep * (onOuter ? i : rows - 1 - i)) / along;
    const v = (2 * Math.PI * j) / facets;
    const r = onOuter ? radii.outer : radii.inner;
    const x = radii.bend + r * Math.cos(v);
    return [x * Math.cos(u), x * Math.sin(u), r * Math.sin(v)];
  });
  return mesh;
}

/** A ball about the origin: an octahedron halved `times` times. */
export function ballMesh(radius: number, times: number): TriangleMesh {
  let points: Vec3[] = [
    [1, 0, 0],
    [-1, 0, 0],
    [0, 1, 0],
    [0, -1, 0],
    [0, 0, 1],
    [0, 0, -1],
  ];
  let faces = [0, 2, 4, 2, 1, 4, 1, 3, 4, 3, 0, 4, 2, 0, 5, 1, 2, 5, 3, 1, 5, 0, 3, 5];
  for (let n = 0; n < times; n++) {
    const halves = new Map<string, number>();
    const half = (a: number, b: number): number => {
      const key = a < b ? `${a} ${b}` : `${b} ${a}`;
      const known = halves.get(key);
      if (known !== undefined) return known;
      const [p, q] = [points[a] ?? [0, 0, 0], points[b] ?? [0, 0, 0]];
      const m: Vec3 = [p[0] + q[0], p[1] + q[1], p[2] + q[2]];
      const length = Math.hypot(...m);
      halves.set(key, points.length);
      return points.push([m[0] / length, m[1] / length, m[2] / length]) - 1;
    };
    const next: number[] = [];
    points = [...points];
    for (let f = 0; f < faces.length; f += 3) {
      const [a = 0, b = 0, c = 0] = faces.slice(f, f + 3);
      const [ab, bc, ca] = [half(a, b), half(b, c), half(c, a)];
      next.push(a, ab, ca, ab, b, bc, ca, bc, c, ab, bc, ca);
    }
    faces = next;
  }
  return { positions: Float64Array.from(points.flat(), (x) => x * radius), indices: Uint32Array.from(faces) };
}

/** The mesh with every triangle on its own three vertices. */
export function unwelded(mesh: TriangleMesh): TriangleMesh {
  const positions = new Float64Array(3 * mesh.indices.length);
  mesh.indices.forEach((v, i) => {
    positions.set(mesh.positions.subarray(3 * v, 3 * v + 3), 3 * i);
  });
  return { positions, indices: Uint32Array.from(mesh.indices, (_, i) => i) };
}

/** The mesh with triangles turned the other way where asked. */
export function flipped(mesh: TriangleMesh, where: (triangle: number) => boolean): TriangleMesh {
  const indices = mesh.indices.slice();
  for (let t = 0; t < indices.length / 3; t++) {
    if (!where(t)) continue;
    indices[3 * t + 1] = mesh.indices[3 * t + 2] ?? 0;
    indices[3 * t + 2] = mesh.indices[3 * t + 1] ?? 0;
  }
  return { positions: mesh.positions, indices };
}

/** The mesh moved. */
export const moved = (mesh: TriangleMesh, by: Vec3): TriangleMesh => ({
  positions: mesh.positions.map((x, i) => x + (by[i % 3] ?? 0)),
  indices: mesh.indices,
});

/** Every vertex shaken by up to an amount along each axis. */
export const shaken = (mesh: TriangleMesh, amount: number, random: Random): TriangleMesh => ({
  positions: mesh.positions.map((x) => x + amount * (2 * random() - 1)),
  indices: mesh.indices,
});
