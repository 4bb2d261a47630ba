import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';

/** xyz of each point, metres. */
export type Coordinates = Float32Array | Float64Array;

/** Why a mesh or a scan is not taken in, and at which vertex, triangle or coordinate. */
export interface KernelFault {
  readonly kind: 'ragged' | 'index' | 'not-finite' | 'too-large';
  readonly message: string;
}

/** The nearest pair of a scan point and a surface. Distance and place are computed in double precision from what was handed in. */
export interface Nearest {
  /** Metres. */
  readonly distance: number;
  /** Number of the scan point. */
  readonly point: number;
  /** Number of the triangle. */
  readonly triangle: number;
  /** The nearest place on the triangle, metres. */
  readonly place: Vec3;
}

/** Scan points nearer than a limit, in no order. */
export interface PointsUnder {
  readonly points: Uint32Array;
  /** Metres, of each of those points; single precision. */
  readonly distances: Float32Array;
}

/** A surface held against a resident scan. */
export interface ScanSurface {
  readonly triangles: number;
  /**
   * How far a distance of `under` and `field` may be off, metres: single-precision coordinates about the middle of the scan. `smallest`
   * and which points are under a limit do not depend on it.
   */
  readonly accuracy: number;
  /** The nearest scan point nearer than a limit (metres); undefined when there is none. */
  smallest(within?: number): Nearest | undefined;
  /** Every scan point nearer than a limit, metres. */
  under(limit: number): PointsUnder;
  /** Distance of each scan point, metres, in the order they were handed in: not below the cap (metres) where it is more, NaN for a point that is not finite. */
  field(cap: number): Float32Array;
  /** Moves the vertices and keeps the triangles: much cheaper than a new tree, and as right; slower to walk when they moved far. */
  move(positions: Float64Array): KernelFault | undefined;
  /** Other triangles in the place of these, with a new tree. Where they need more room, the old room is given back by `clear` only. */
  replace(mesh: TriangleMesh): KernelFault | undefined;
}

/** A scan kept resident, so that each question costs only its answer. */
export interface ScanKernel {
  /** What does the work: vector instructions, or plain TypeScript where they are missing. Both give the same answers. */
  readonly kind: 'simd' | 'plain';
  readonly count: number;
  /** Points with a coordinate that is not a finite number; they are nobody's neighbour. */
  readonly notFinite: number;
  /** Takes in a surface. The mesh must not be written to while it is held. */
  surface(mesh: TriangleMesh): ScanSurface | KernelFault;
  /** Forgets all surfaces and gives their memory back; they must not be used after. */
  clear(): void;
}

/** Whether an answer is a fault. */
export const isFault = (answer: object | undefined): answer is KernelFault =>
  answer !== undefined && 'message' in answer && 'kind' in answer;

const one = new Float32Array(1);
const bits = new Uint32Array(one.buffer);

/** The least single-precision number not below a positive one: what stands for "at least the cap" must not read as below it. */
export function singleNotBelow(value: number): number {
  one[0] = value;
  if ((one[0] ?? 0) < value) bits[0] = (bits[0] ?? 0) + 1;
  return one[0] ?? value;
}

/** A fault of the list of points itself; undefined when it is triples. */
export const raggedPoints = (points: Coordinates): KernelFault | undefined =>
  points.length % 3 === 0
    ? undefined
    : { kind: 'ragged', message: `Expected coordinates in threes, got ${points.length}.` };

/** Numbers of the points whose coordinates are all finite. */
export function finitePoints(points: Coordinates): Uint32Array {
  const numbers = new Uint32Array(points.length / 3);
  let count = 0;
  for (let i = 0; i < numbers.length; i++) {
    const sum = (points[3 * i] ?? 0) + (points[3 * i + 1] ?? 0) + (points[3 * i + 2] ?? 0);
    // Infinite parts make a sum that is infinite or no number; so may finite ones that nothing is measured with.
    if (sum - sum === 0) numbers[count++] = i;
  }
  return numbers.subarray(0, count);
}
