import type { Manifold, ManifoldToplevel } from 'manifold-3d';
import type { Centreline } from '../../../shared/geometry/centreline.ts';
import { repaired } from '../../../shared/geometry/mesh/repair.ts';
import { meshFrom, type TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { weldVertices } from '../../../shared/geometry/mesh/weld.ts';
import { sweepTube } from '../../../shared/geometry/sweep.ts';
import type { Attempt } from '../jobs.ts';

/** A tube as a solid: outside less inside. Metres. */
export interface HollowTube {
  readonly centreline: Centreline;
  readonly outerRadius: number;
  readonly innerRadius: number;
}

/** A part that becomes one with others, with the name that a complaint uses. */
export interface NamedMesh {
  readonly name: string;
  readonly mesh: TriangleMesh;
}

const FACETS = 96;
const CHORD = 2e-5;
/** A ring of facets with the area of the circle, so that mass does not depend on their number. */
const SAME_AREA = Math.sqrt((2 * Math.PI) / FACETS / Math.sin((2 * Math.PI) / FACETS));

let library: Promise<ManifoldToplevel> | undefined;

/** The library in its memory of its own, made once a thread. */
function solids(): Promise<ManifoldToplevel> {
  // Loaded when it is needed: a worker's own module is required where the sources run, and this library cannot be.
  library ??= import('manifold-3d')
    .then(({ default: create }) => create())
    .then((made) => {
      made.setup();
      return made;
    });
  return library;
}

/** Closed parts as one solid: where they overlap or touch they are one. A part that is not closed is a problem that names it. */
export async function unitedParts(parts: readonly NamedMesh[]): Promise<Attempt<TriangleMesh>> {
  const all = await unionOf(parts);
  if (!all.ok) return all;
  const mesh = meshOf(all.result);
  all.result.delete();
  return { ok: true, result: mesh };
}

/** The library's solid, to be deleted after use. */
async function unionOf(parts: readonly NamedMesh[]): Promise<Attempt<Manifold>> {
  const { Manifold: solid } = await solids();
  const made: Manifold[] = [];
  try {
    for (const { name, mesh } of parts) {
      const one = await solidOf(mesh);
      if (typeof one === 'string') return notClosed(name, one);
      made.push(one);
    }
    return { ok: true, result: solid.union(made) };
  } finally {
    for (const one of made) one.delete();
  }
}

/** Tubes as one solid: the outsides together less the insides together, so that a tube that enters another opens into it. */
export async function unitedTubes(tubes: readonly HollowTube[]): Promise<Attempt<TriangleMesh>> {
  const outside = await unionOf(tubes.map((tube, i) => swept(tube, i, tube.outerRadius)));
  if (!outside.ok) return outside;
  const inside = await unionOf(tubes.map((tube, i) => swept(tube, i, tube.innerRadius)));
  if (!inside.ok) {
    outside.result.delete();
    return inside;
  }
  // Solids all the way: by way of meshes their corners would be rounded to singles once more.
  const left = outside.result.subtract(inside.result);
  const mesh = meshOf(left);
  for (const one of [outside.result, inside.result, left]) one.delete();
  return { ok: true, result: mesh };
}

function swept({ centreline }: HollowTube, i: number, radius: number): NamedMesh {
  const { positions, indices } = sweepTube(centreline, {
    radius: radius * SAME_AREA,
    maxChordError: CHORD,
    facets: FACETS,
    caps: true,
  });
  return { name: `tube ${i + 1}`, mesh: weldVertices(meshFrom(positions, indices)).mesh };
}

const notClosed = (name: string, status: string): Attempt<never> => ({
  ok: false,
  problem: {
    code: 'not-closed',
    message: `"${name}" is no closed surface (${status}), so it cannot be made one with the others: its report says where.`,
  },
});

/** The library's solid, to be deleted after use, or its word for what is wrong. */
async function solidOf({ positions, indices }: TriangleMesh): Promise<Manifold | string> {
  const { Manifold: Solid, Mesh } = await solids();
  const mesh = new Mesh({ numProp: 3, vertProperties: Float32Array.from(positions, toMillimetres), triVerts: indices });
  mesh.merge();
  try {
    const made = new Solid(mesh);
    const status = made.status();
    if (status === 'NoError') return made;
    made.delete();
    return status;
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}

/** Millimetres, for which the library's tolerances are made. */
const toMillimetres = (metres: number): number => metres * 1000;

function meshOf(solid: Manifold): TriangleMesh {
  const { vertProperties, triVerts, numProp } = solid.getMesh();
  const positions = new Float64Array((3 * vertProperties.length) / numProp);
  for (let i = 0; i < positions.length; i++)
    positions[i] = (vertProperties[numProp * Math.floor(i / 3) + (i % 3)] ?? 0) / 1000;
  // The library gives singles: corners nearer than those tell apart fall together, and their triangles with them.
  return repaired({ positions, indices: Uint32Array.from(triVerts) }, { weld: 0, dropCollapsed: true }).mesh;
}
