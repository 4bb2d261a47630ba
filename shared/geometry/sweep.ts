import type { Centreline, Station } from './centreline.ts';
import { chordSteps, sample } from './centreline.ts';
import type { Vec3 } from './vector.ts';
import { along, cross, dot, perpendicular, scale, subtract, unit } from './vector.ts';

/** A triangle mesh: xyz metres, unit normals, three indices a triangle, wound anticlockwise seen from outside. */
export interface SweptMesh {
  readonly positions: Float32Array<ArrayBuffer>;
  readonly normals: Float32Array<ArrayBuffer>;
  readonly indices: Uint32Array<ArrayBuffer>;
  /** Vertices around a ring and number of rings, end caps not counted. */
  readonly facets: number;
  readonly rings: number;
}

/** How finely to sweep. Lengths in metres. */
export interface SweepOptions {
  /** Tube radius, > 0. */
  readonly radius: number;
  /** Largest distance between the mesh and the true surface along and around the tube, > 0. */
  readonly maxChordError: number;
  /** Vertices around, instead of the number the chord error asks for. */
  readonly facets?: number;
  /** Close both ends, so that the mesh encloses a volume. */
  readonly caps?: boolean;
}

/** A cross-section plane carried along a centreline: two unit vectors across the tube, right-handed with the tangent. */
export interface Frame {
  readonly station: Station;
  readonly normal: Vec3;
  readonly binormal: Vec3;
}

const FEWEST_FACETS = 8;

/**
 * Carries a frame along stations without twist about the tangent. The first normal is a fixed choice for the first tangent.
 * Source: double reflection, Wang, Juttler, Zheng, Liu, "Computation of rotation minimizing frames", ACM Trans. Graph. 27(1), 2008
 * (memory). Exact on straights and circular arcs, so the spacing of the stations does not matter here.
 */
export function minimalTwistFrames(stations: readonly Station[]): readonly Frame[] {
  const frames: Frame[] = [];
  for (const station of stations) {
    const last = frames.at(-1);
    const normal = last ? carry(last, station) : perpendicular(station.tangent);
    frames.push({ station, normal, binormal: cross(station.tangent, normal) });
  }
  return frames;
}

function carry(from: Frame, to: Station): Vec3 {
  const way = subtract(to.point, from.station.point);
  const squared = dot(way, way);
  if (squared === 0) return from.normal;
  const normal = along(from.normal, way, (-2 / squared) * dot(way, from.normal));
  const tangent = along(from.station.tangent, way, (-2 / squared) * dot(way, from.station.tangent));
  const turn = subtract(to.tangent, tangent);
  const turnSquared = dot(turn, turn);
  const reflected = turnSquared === 0 ? normal : along(normal, turn, (-2 / turnSquared) * dot(turn, normal));
  // Removing the rounding along the tangent keeps hundreds of steps square to it.
  return unit(along(reflected, to.tangent, -dot(reflected, to.tangent)));
}

/**
 * Meshes the tube of a given radius around a centreline. Rings are inscribed polygons, so a straight mesh has less volume than the tube
 * by the fraction (2 pi / facets)^2 / 6; take length, volume and area from tube.ts and the mesh for showing and cross-checks.
 */
export function sweepTube(line: Centreline, options: SweepOptions): SweptMesh {
  const { radius, maxChordError } = options;
  const facets = options.facets ?? Math.max(FEWEST_FACETS, chordSteps(2 * Math.PI, radius, maxChordError));
  const frames = minimalTwistFrames(sample(line, maxChordError, radius));
  const capCount = options.caps ? 2 : 0;
  const vertexCount = frames.length * facets + capCount * (facets + 1);
  const triangleCount = 2 * facets * (frames.length - 1) + capCount * facets;
  const mesh: SweptMesh = {
    positions: new Float32Array(3 * vertexCount),
    normals: new Float32Array(3 * vertexCount),
    indices: new Uint32Array(3 * triangleCount),
    facets,
    rings: frames.length,
  };
  fillWall(mesh, frames, radius);
  const [first, last] = [frames[0], frames.at(-1)];
  if (options.caps && first && last) {
    fillCap(mesh, first, { radius, atStart: true });
    fillCap(mesh, last, { radius, atStart: false });
  }
  return mesh;
}

function fillWall(mesh: SweptMesh, frames: readonly Frame[], radius: number): void {
  const { facets, indices } = mesh;
  let next = 0;
  for (const [ring, frame] of frames.entries()) {
    for (let k = 0; k < facets; k++) {
      const out = outward(frame, (2 * Math.PI * k) / facets);
      putVertex(mesh, ring * facets + k, along(frame.station.point, out, radius), out);
      if (ring === 0) continue;
      const right = (k + 1) % facets;
      const [a, b] = [(ring - 1) * facets + k, (ring - 1) * facets + right];
      const [c, d] = [ring * facets + k, ring * facets + right];
      indices.set([a, b, d, a, d, c], next);
      next += 6;
    }
  }
}

/** A cap has its own ring of vertices, so that its flat normal does not soften the wall's. */
function fillCap(mesh: SweptMesh, frame: Frame, cap: { readonly radius: number; readonly atStart: boolean }): void {
  const { facets, rings, indices } = mesh;
  const base = rings * facets + (cap.atStart ? 0 : facets + 1);
  const normal = scale(frame.station.tangent, cap.atStart ? -1 : 1);
  putVertex(mesh, base, frame.station.point, normal);
  let next = 6 * facets * (rings - 1) + (cap.atStart ? 0 : 3 * facets);
  for (let k = 0; k < facets; k++) {
    const out = outward(frame, (2 * Math.PI * k) / facets);
    putVertex(mesh, base + 1 + k, along(frame.station.point, out, cap.radius), normal);
    const [here, right] = [base + 1 + k, base + 1 + ((k + 1) % facets)];
    indices.set(cap.atStart ? [base, right, here] : [base, here, right], next);
    next += 3;
  }
}

const outward = (frame: Frame, angle: number): Vec3 =>
  along(scale(frame.normal, Math.cos(angle)), frame.binormal, Math.sin(angle));

function putVertex(mesh: SweptMesh, index: number, point: Vec3, normal: Vec3): void {
  mesh.positions.set(point, 3 * index);
  mesh.normals.set(normal, 3 * index);
}

/**
 * Volume enclosed by a closed mesh, m3, positive when triangles are wound anticlockwise seen from outside.
 * Signed tetrahedra from the first vertex, which keeps the sum accurate for a part far from the origin. An open mesh gives no volume.
 */
export function meshVolume(mesh: Pick<SweptMesh, 'positions' | 'indices'>): number {
  const { positions, indices } = mesh;
  const base: Vec3 = [positions[0] ?? 0, positions[1] ?? 0, positions[2] ?? 0];
  const corner = (i: number): Vec3 => {
    const at = 3 * (indices[i] ?? 0);
    return subtract([positions[at] ?? 0, positions[at + 1] ?? 0, positions[at + 2] ?? 0], base);
  };
  let sum = 0;
  for (let i = 0; i < indices.length; i += 3) sum += dot(corner(i), cross(corner(i + 1), corner(i + 2)));
  return sum / 6;
}
