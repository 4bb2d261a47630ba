import type { Vec3 } from '../vector.ts';

/**
 * Triangles in space: xyz of every vertex in metres, and three vertex numbers a triangle, anticlockwise seen from outside.
 * Positions are doubles: the exact tests below are exact about the numbers they are given, STEP and text files state more digits than a
 * single holds, and half a micrometre must survive a part that lies a metre from its zero. Costs 12 bytes a vertex more than singles.
 */
export interface TriangleMesh {
  readonly positions: Float64Array;
  readonly indices: Uint32Array;
}

/** Why numbers are no mesh: what is wrong, and at which triangle or vertex (counted from 0). */
export interface MeshFault {
  readonly kind: 'ragged' | 'index' | 'not-finite';
  /** Triangle number for `index`, vertex number for `not-finite`, length of the list for `ragged`. */
  readonly at: number;
  readonly message: string;
}

/** Least and greatest corner of a box, metres. */
export interface Box {
  readonly least: Vec3;
  readonly greatest: Vec3;
}

/** Number of triangles. */
export const triangleCount = (mesh: TriangleMesh): number => mesh.indices.length / 3;

/** Number of vertices, used or not. */
export const vertexCount = (mesh: TriangleMesh): number => mesh.positions.length / 3;

/** A vertex by its number; zeros when there is no such vertex. */
export function vertexAt({ positions }: TriangleMesh, vertex: number): Vec3 {
  const o = 3 * vertex;
  return [positions[o] ?? 0, positions[o + 1] ?? 0, positions[o + 2] ?? 0];
}

/** A corner (0, 1, 2) of a triangle. */
export const cornerAt = (mesh: TriangleMesh, triangle: number, corner: number): Vec3 =>
  vertexAt(mesh, mesh.indices[3 * triangle + corner] ?? 0);

/**
 * Looks for what no measure below can bear: lists that are not whole triples, a vertex number that is not there, NaN or Inf.
 * Every other function here relies on this having given undefined.
 */
export function meshFault({ positions, indices }: TriangleMesh): MeshFault | undefined {
  if (positions.length % 3 !== 0) return ragged('coordinates', positions.length);
  if (indices.length % 3 !== 0) return ragged('vertex numbers', indices.length);
  for (let i = 0; i < positions.length; i++) {
    const x = positions[i] ?? 0;
    if (x - x !== 0) {
      const at = Math.floor(i / 3);
      return { kind: 'not-finite', at, message: `Expected finite coordinates, vertex ${at} has ${x}.` };
    }
  }
  const count = positions.length / 3;
  for (let i = 0; i < indices.length; i++) {
    const vertex = indices[i] ?? 0;
    if (vertex >= count) {
      const at = Math.floor(i / 3);
      return { kind: 'index', at, message: `Expected vertex numbers below ${count}, triangle ${at} names ${vertex}.` };
    }
  }
  return undefined;
}

const ragged = (what: string, length: number): MeshFault => ({
  kind: 'ragged',
  at: length,
  message: `Expected ${what} in threes, got ${length}.`,
});

/** The box around all vertices, used or not; undefined for a mesh without vertices. */
export function boxOf({ positions }: TriangleMesh): Box | undefined {
  if (positions.length < 3) return undefined;
  // Plain variables: destructured ones make this loop five times slower.
  let x0 = Number.POSITIVE_INFINITY;
  let y0 = x0;
  let z0 = x0;
  let x1 = Number.NEGATIVE_INFINITY;
  let y1 = x1;
  let z1 = x1;
  for (let i = 0; i < positions.length; i += 3) {
    const x = positions[i] ?? 0;
    const y = positions[i + 1] ?? 0;
    const z = positions[i + 2] ?? 0;
    if (x < x0) x0 = x;
    if (x > x1) x1 = x;
    if (y < y0) y0 = y;
    if (y > y1) y1 = y;
    if (z < z0) z0 = z;
    if (z > z1) z1 = z;
  }
  return { least: [x0, y0, z0], greatest: [x1, y1, z1] };
}

/** Side lengths of a box, metres. */
export const boxSize = ({ least, greatest }: Box): Vec3 => [
  greatest[0] - least[0],
  greatest[1] - least[1],
  greatest[2] - least[2],
];

/** A mesh from plain lists, as the sweep and the readers of the browser give them. Metres in, metres out. */
export const meshFrom = (positions: ArrayLike<number>, indices: ArrayLike<number>): TriangleMesh => ({
  positions: Float64Array.from(positions),
  indices: Uint32Array.from(indices),
});

/** Several meshes as one, vertices kept apart. */
export function joinMeshes(meshes: readonly TriangleMesh[]): TriangleMesh {
  const positions = new Float64Array(meshes.reduce((sum, mesh) => sum + mesh.positions.length, 0));
  const indices = new Uint32Array(meshes.reduce((sum, mesh) => sum + mesh.indices.length, 0));
  let [p, i] = [0, 0];
  for (const mesh of meshes) {
    const base = p / 3;
    positions.set(mesh.positions, p);
    p += mesh.positions.length;
    for (const vertex of mesh.indices) indices[i++] = vertex + base;
  }
  return { positions, indices };
}
