import { meshFault, type TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import type { KernelFault } from './clearance.ts';
import { builtKernel, type KernelSource } from './clearance-kernel.ts';
import { helpersHere } from './crew.ts';
import { fullFault, KernelMemory } from './kernel-memory.ts';
import type { BallTouches, RayHits, Rays } from './rays.ts';
import { residentPoints } from './resident-points.ts';
import { SimdSurface } from './simd-surface.ts';

/** What is nearer to the start of a ray is the surface it starts on, mm (own: ten units in the last place at a metre). */
const RAY_FROM = 1e-3;
/** Beyond any distance there is, mm. */
const ANY = 1e15;

/** Rays, or balls, that a thread takes at once: some milliseconds' worth. */
const PART = 8192;

/** A mesh ready for rays, and for balls that touch it where rays start. */
export interface RayKernel {
  /** What rays meet first; what is farther than a limit (metres) is not met. */
  cast(rays: Rays, limit: number): RayHits;
  /**
   * Shrinks balls that touch the mesh where rays start and whose middles lie on the rays, until nothing stands in them, from radii in metres (one
   * that is not above zero is left). Nothing counts as in a ball by less than a ten-thousandth of its radius and `accuracy` together.
   */
  shrink(rays: Rays, radii: Float32Array): BallTouches;
  /**
   * Names the triangle nearest to each of so many places (xyz, metres, finite) by its number, -1 without triangles. Of triangles that are as near
   * as one another by `accuracy` it is any. Asked again for places that have moved a little it is faster.
   */
  nearest(count: number): (places: Float64Array) => Int32Array;
  /** Metres: coordinates are single precision about the middle of the mesh. */
  readonly accuracy: number;
}

/** Takes in a mesh to cast rays at by vector instructions, four neighbours in one walk; undefined where the machine has none. */
export function openRays(
  mesh: TriangleMesh,
  source: KernelSource = builtKernel,
  helpers = helpersHere(),
): RayKernel | KernelFault | undefined {
  const module = source();
  if (!module) return undefined;
  const fault = meshFault(mesh);
  if (fault) return fault;
  try {
    const memory = new KernelMemory(module, helpers);
    // A surface stands against points; there are none here, and the zero is the middle of the mesh.
    const resident = residentPoints(memory, middleOf(mesh), Uint32Array.of(0));
    const surface = new SimdSurface({ memory, points: new Float64Array(3), resident }, mesh);
    const target: Target = { memory, surface, zero: resident.origin };
    return {
      accuracy: surface.accuracy,
      cast: (rays, limit) => castIn(target, rays, limit),
      shrink: (rays, radii) => shrinkIn(target, rays, radii),
      nearest: (count) => nearestIn(target, count),
    };
  } catch (error) {
    return fullFault(error);
  }
}

interface Target {
  readonly memory: KernelMemory;
  readonly surface: SimdSurface;
  /** Metres: what the kernel has its zero at. */
  readonly zero: Vec3;
}

function castIn(target: Target, rays: Rays, limit: number): RayHits {
  const count = rays.own.length;
  const distances = new Float32Array(count).fill(Number.POSITIVE_INFINITY);
  const triangles = new Int32Array(count).fill(-1);
  if (target.surface.triangles === 0 || count === 0 || !(limit > 0)) return { distances, triangles };
  const { memory, surface } = target;
  const mark = memory.mark();
  const { from, into, padded } = written(target, rays);
  memory.whole(from + 24 * padded, padded).set(rays.own);
  const { nodes, triangles: leaves } = surface.places;
  const far = Math.min(limit * 1000, ANY);
  memory.share({
    each: ['castRays', nodes, leaves, from, padded, 'from', 'to', RAY_FROM, far, into],
    total: padded,
    part: PART,
  });
  triangles.set(memory.whole(into + 4 * padded, count));
  const away = memory.singles(into, count);
  for (let i = 0; i < count; i++) if ((triangles[i] ?? -1) >= 0) distances[i] = (away[i] ?? 0) / 1000;
  memory.release(mark);
  return { distances, triangles };
}

function shrinkIn(target: Target, rays: Rays, radii: Float32Array): BallTouches {
  const count = rays.own.length;
  const before = new Float32Array(count).fill(Number.NaN);
  const triangles = new Int32Array(count).fill(-1);
  if (target.surface.triangles === 0 || count === 0) return { before, triangles };
  const { memory, surface } = target;
  const mark = memory.mark();
  const { from, into, padded } = written(target, rays);
  // What pads the list is left alone.
  const first = memory.singles(from + 24 * padded, padded).fill(0);
  for (let i = 0; i < count; i++) first[i] = Math.min((radii[i] ?? 0) * 1000, ANY);
  const { nodes, triangles: leaves } = surface.places;
  const margin = surface.accuracy * 1000;
  memory.share({
    each: ['shrinkBalls', nodes, leaves, from, padded, 'from', 'to', margin, into],
    total: padded,
    part: PART,
  });
  triangles.set(memory.whole(into + 4 * padded, count));
  const last = memory.singles(into, count);
  for (let i = 0; i < count; i++) if ((triangles[i] ?? -1) >= 0) before[i] = (last[i] ?? 0) / 1000;
  memory.release(mark);
  return { before, triangles };
}

function nearestIn({ memory, surface, zero }: Target, count: number): (places: Float64Array) => Int32Array {
  const padded = 4 * Math.ceil(count / 4);
  const [from, into] = [memory.allocate(12 * padded), memory.allocate(8 * padded)];
  // Where each was found before: nowhere yet.
  memory.whole(into, padded).fill(0);
  return (places) => {
    if (surface.triangles === 0 || count === 0) return new Int32Array(count).fill(-1);
    for (let k = 0; k < 3; k++)
      write(memory.singles(from + 4 * k * padded, padded), places, { k, zero: zero[k] ?? 0, by: 1000 });
    const { nodes, triangles } = surface.places;
    memory.share({
      before: ['takeNearest', nodes, triangles],
      each: ['nearestTriangles', from, padded, 'from', 'to', ANY, into],
      total: padded,
      part: PART,
    });
    return Int32Array.from(memory.whole(into + 4 * padded, count));
  };
}

/** Places and directions of rays in the memory, list after list with room for a seventh, and room for two lists of answers. */
function written(
  { memory, zero }: Target,
  rays: Rays,
): { readonly from: number; readonly into: number; readonly padded: number } {
  const padded = 4 * Math.ceil(rays.own.length / 4);
  const [from, into] = [memory.allocate(28 * padded), memory.allocate(8 * padded)];
  for (let k = 0; k < 3; k++) {
    write(memory.singles(from + 4 * k * padded, padded), rays.places, { k, zero: zero[k] ?? 0, by: 1000 });
    write(memory.singles(from + 4 * (k + 3) * padded, padded), rays.directions, { k, zero: 0, by: 1 });
  }
  return { from, into, padded };
}

/** One of three parts of each; the padding repeats the last. */
function write(
  to: Float32Array,
  from: Float64Array,
  { k, zero, by }: { readonly k: number; readonly zero: number; readonly by: number },
): void {
  const count = from.length / 3;
  for (let i = 0, o = k; i < count; i++, o += 3) to[i] = ((from[o] ?? 0) - zero) * by;
  to.fill(to[count - 1] ?? 0, count);
}

/** The middle of the vertices: coordinates from there keep most digits. */
function middleOf(mesh: TriangleMesh): Float64Array {
  const middle = new Float64Array(3);
  const count = Math.max(1, mesh.positions.length / 3);
  for (let i = 0; i < mesh.positions.length; i++)
    middle[i % 3] = (middle[i % 3] ?? 0) + (mesh.positions[i] ?? 0) / count;
  return middle;
}
