import type { TriangleMesh } from '../../../../shared/geometry/mesh/triangleMesh.ts';
import { boxOf, boxSize } from '../../../../shared/geometry/mesh/triangleMesh.ts';
import { VertexJoiner } from '../../../../shared/geometry/mesh/weld.ts';
import { grouped, refuse } from '../problem.ts';
import { Extent, PLAUSIBLE_DIAGONAL } from '../sink.ts';

/** Most triangles taken from one file (own: 0.5 GB while reading; a header at a tenth of a layer's tolerance has a fifth of that). */
export const MAX_TRIANGLES = 5_000_000;

/** How to take a mesh in: metres per file unit, and how many triangles at most. */
export interface MeshSinkOptions {
  readonly unitFactor: number;
  readonly maxTriangles: number;
}

/**
 * Takes vertices and triangles in file units. Memory grows with what really comes, never with what a header promises. Vertices are kept as
 * they come (`vertex`) or equal ones are given one number (`corner`), for formats that repeat a vertex in every triangle.
 */
export class MeshSink {
  readonly options: MeshSinkOptions;
  private positions = new Float64Array(3 << 10);
  private indices = new Uint32Array(3 << 11);
  private joiner = new VertexJoiner();
  private vertices = 0;
  private sides = 0;
  private corners = 0;
  private broken = 0;
  private firstBroken = 0;

  constructor(options: MeshSinkOptions) {
    this.options = options;
  }

  /** Number of vertices kept as they came. */
  get vertexCount(): number {
    return this.vertices;
  }

  get triangleCount(): number {
    return this.sides / 3;
  }

  /** Keeps a vertex; `place` (line or record, counted from 1) is only for the message about what is not finite. */
  vertex(x: number, y: number, z: number, place: number): void {
    this.checkFinite(x, y, z, place);
    // A mesh of triangles has about half as many vertices; six times as many are points.
    if (this.vertices >= 3 * this.options.maxTriangles) this.refuseTooMany();
    const o = 3 * this.vertices++;
    if (o + 3 > this.positions.length) this.positions = doubled(this.positions);
    this.positions[o] = x;
    this.positions[o + 1] = y;
    this.positions[o + 2] = z;
  }

  /** The number of the vertex at this place, an earlier one when it is equal. */
  corner(x: number, y: number, z: number, place: number): number {
    // Three a triangle: points that no triangle uses would otherwise cost time without end.
    if (this.corners++ >= 3 * this.options.maxTriangles) this.refuseTooMany();
    // What is not finite refuses the file in the end; it would never be found equal to itself.
    return this.checkFinite(x, y, z, place) ? this.joiner.add(x, y, z) : 0;
  }

  triangle(a: number, b: number, c: number): void {
    const o = this.sides;
    if (o / 3 >= this.options.maxTriangles) this.refuseTooMany();
    if (o + 3 > this.indices.length) this.indices = doubledIndices(this.indices);
    this.indices[o] = a;
    this.indices[o + 1] = b;
    this.indices[o + 2] = c;
    this.sides = o + 3;
  }

  /** Takes many triangles at once; the list of their corners is the sink's from then on. */
  triangles(corners: Uint32Array<ArrayBuffer>): void {
    if (corners.length === 0) return;
    const all = this.sides + corners.length;
    if (all / 3 > this.options.maxTriangles) this.refuseTooMany();
    if (this.sides === 0) this.indices = corners;
    else {
      if (all > this.indices.length) {
        const room = new Uint32Array(Math.max(all, 2 * this.indices.length));
        room.set(this.indices.subarray(0, this.sides));
        this.indices = room;
      }
      this.indices.set(corners, this.sides);
    }
    this.sides = all;
  }

  /** Makes room to join so many corners, which the file has shown it holds, before the first of them. */
  expectCorners(count: number): void {
    if (this.corners === 0) this.joiner = new VertexJoiner(Math.min(count, 3 * this.options.maxTriangles) + 1);
  }

  /** Makes room for triangles that the size of the file has shown it may hold: growing by doubling copies all of them again. */
  reserve(triangles: number): void {
    if (this.sides === 0 && 3 * triangles > this.indices.length) this.indices = new Uint32Array(3 * triangles);
  }

  /** Refuses a file that says beforehand that it has more triangles than are taken. */
  expect(triangles: number): void {
    if (triangles > this.options.maxTriangles) this.refuseTooMany(triangles);
  }

  /**
   * Checks that all is finite, whole and of a plausible size and gives the mesh in metres.
   * @param place what places count: line, triangle, vertex
   * @param unitFactor metres per file unit where the file states it; then only a part larger than any bay is refused
   */
  finish(place: string, unitFactor?: number): TriangleMesh {
    if (this.broken > 0) {
      const came = `${grouped(this.broken)} are NaN or Inf, the first at ${place} ${grouped(this.firstBroken)}`;
      refuse('not-finite', `Expected finite coordinates; ${came}.`);
    }
    if (this.sides === 0) {
      const points = this.vertices > 0 ? ` and ${grouped(this.vertices)} points; upload points as a scan` : '';
      refuse('empty', `Expected a mesh of triangles, the file has 0 triangles${points}.`);
    }
    const raw = this.joiner.size > 0 ? this.joiner.joined() : this.positions.slice(0, 3 * this.vertices);
    const indices = this.sides === this.indices.length ? this.indices : this.indices.slice(0, this.sides);
    checkNumbers(indices, raw.length / 3);
    const factor = unitFactor ?? this.options.unitFactor;
    if (unitFactor === undefined) checkSize(raw, factor);
    // In place: nobody else has these numbers.
    for (let i = 0; i < raw.length; i++) raw[i] = (raw[i] ?? 0) * factor;
    const mesh = { positions: raw, indices };
    if (unitFactor !== undefined) checkReach(mesh);
    return mesh;
  }

  private checkFinite(x: number, y: number, z: number, place: number): boolean {
    // One sum finds both NaN and Inf: x - x is 0 for every finite x only.
    if (x - x + (y - y) + (z - z) === 0) return true;
    if (this.broken++ === 0) this.firstBroken = place;
    return false;
  }

  private refuseTooMany(found?: number): never {
    const came = found === undefined ? 'the file has more' : `the file has ${grouped(found)}`;
    const max = grouped(this.options.maxTriangles);
    return refuse('too-large', `Expected at most ${max} triangles, ${came}. Export it coarser, or piece by piece.`);
  }
}

function doubled(full: Float64Array<ArrayBuffer>): Float64Array<ArrayBuffer> {
  const room = new Float64Array(2 * full.length);
  room.set(full);
  return room;
}

function doubledIndices(full: Uint32Array<ArrayBuffer>): Uint32Array<ArrayBuffer> {
  const room = new Uint32Array(2 * full.length);
  room.set(full);
  return room;
}

function checkNumbers(indices: Uint32Array, vertices: number): void {
  let wrong = 0;
  while (wrong < indices.length && (indices[wrong] ?? 0) < vertices) wrong++;
  if (wrong === indices.length) return;
  const triangle = grouped(Math.floor(wrong / 3) + 1);
  refuse(
    'malformed',
    `Expected vertex numbers below ${grouped(vertices)}, counted from 0; triangle ${triangle} names ${grouped(indices[wrong] ?? 0)}.`,
  );
}

/** A wrong unit shows in the size; the scan readers' limits serve for meshes too. */
function checkSize(positions: Float64Array, unitFactor: number): void {
  const extent = new Extent();
  for (let i = 0; i < positions.length; i += 3) {
    extent.add(positions[i] ?? 0, positions[i + 1] ?? 0, positions[i + 2] ?? 0, i / 3 + 1);
  }
  extent.checkWhole('vertex');
  extent.bounds(unitFactor);
}

/** A unit that the file states is right, but its numbers may still be no part: what is measured of them would take for ever. */
function checkReach(mesh: TriangleMesh): void {
  const box = boxOf(mesh);
  const diagonal = box ? Math.hypot(...boxSize(box)) : 0;
  if (diagonal <= PLAUSIBLE_DIAGONAL.greatest) return;
  refuse(
    'implausible-extents',
    `Expected a part at most ${PLAUSIBLE_DIAGONAL.greatest} m across; in the unit the file states it is ${diagonal.toPrecision(3)} m.`,
  );
}
