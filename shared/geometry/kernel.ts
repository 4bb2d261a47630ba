import type { Piece } from './piece.ts';
import { pointOnPiece, tangentOnPiece } from './piece.ts';
import type { Vec3 } from './vector.ts';
import { cross } from './vector.ts';

/**
 * A tube packed for millions of distance queries: the pieces as plain numbers, then the two flat ends. Metres.
 * The body is the union of all discs of the outer radius square to the centreline, so its ends are flat.
 */
export interface TubeKernel {
  /** STRIDE numbers a piece: kind, then line (start, direction, length) or arc (centre, u, v, u x v, radius, sin, cos of the angle). */
  readonly data: Float64Array<ArrayBuffer>;
  readonly count: number;
  readonly radius: number;
  /** Two flat ends, six numbers each: centre, unit direction away from the tube. */
  readonly ends: Float64Array<ArrayBuffer>;
}

const STRIDE = 16;
/** How far past its ends a piece still counts as beside a point, metres or radians: closes the rounding crack between two pieces. */
const CRACK = 1e-9;

/** Packs pieces that follow one another, in order. Undefined for an empty list. */
export function tubeKernel(pieces: readonly Piece[], radius: number): TubeKernel | undefined {
  const [first, last] = [pieces[0], pieces.at(-1)];
  if (!first || !last) return undefined;
  const data = new Float64Array(STRIDE * pieces.length);
  for (const [i, piece] of pieces.entries()) data.set(row(piece), STRIDE * i);
  const back = tangentOnPiece(first, 0).map((x) => -x);
  const ends = new Float64Array([
    ...pointOnPiece(first, 0),
    ...back,
    ...pointOnPiece(last, last.length),
    ...tangentOnPiece(last, last.length),
  ]);
  return { data, count: pieces.length, radius, ends };
}

function row(piece: Piece): readonly number[] {
  if (piece.kind === 'line') return [0, ...piece.start, ...piece.direction, piece.length];
  const axis: Vec3 = cross(piece.u, piece.v);
  return [
    1,
    ...piece.centre,
    ...piece.u,
    ...piece.v,
    ...axis,
    piece.radius,
    Math.sin(piece.angle),
    Math.cos(piece.angle),
  ];
}

/** Square of the distance from a point to the centreline itself, its ends included, m2. Less than or equal to any distance to the tube plus its radius. */
export function squaredToCentreline(kernel: TubeKernel, p: Vec3): number {
  const { data, count } = kernel;
  let best = Number.POSITIVE_INFINITY;
  for (let i = 0, o = 0; i < count; i++, o += STRIDE) {
    const squared = data[o] === 0 ? squaredToLine(data, o, p) : squaredToArc(data, o, p);
    if (squared < best) best = squared;
  }
  return best;
}

/**
 * Signed distance from a point to the tube's outer surface, metres: exact outside; inside it is minus the way out through the side.
 * A point beyond a flat end is measured to the end face or its rim.
 */
export function gapToTube(kernel: TubeKernel, p: Vec3): number {
  const { data, count, radius } = kernel;
  let side = Number.POSITIVE_INFINITY;
  for (let i = 0, o = 0; i < count; i++, o += STRIDE) {
    const squared = data[o] === 0 ? squaredBesideLine(data, o, p) : squaredBesideArc(data, o, p);
    if (squared < side) side = squared;
  }
  const gap = Math.sqrt(side) - radius;
  return Math.min(gap, gapToEnd(kernel, 0, p), gapToEnd(kernel, 6, p));
}

/** Distance to a flat end for a point beyond it; infinite for a point behind it, which some side is nearer to. */
function gapToEnd(kernel: TubeKernel, o: number, p: Vec3): number {
  const e = kernel.ends;
  const [dx, dy, dz] = [p[0] - (e[o] ?? 0), p[1] - (e[o + 1] ?? 0), p[2] - (e[o + 2] ?? 0)];
  const [nx, ny, nz] = [e[o + 3] ?? 0, e[o + 4] ?? 0, e[o + 5] ?? 0];
  const ahead = dx * nx + dy * ny + dz * nz;
  if (ahead < 0) return Number.POSITIVE_INFINITY;
  const [px, py, pz] = [dx - ahead * nx, dy - ahead * ny, dz - ahead * nz];
  const off = Math.max(0, Math.sqrt(px * px + py * py + pz * pz) - kernel.radius);
  return Math.sqrt(ahead * ahead + off * off);
}

function squaredToLine(data: Float64Array, o: number, p: Vec3): number {
  const dx = p[0] - (data[o + 1] ?? 0);
  const dy = p[1] - (data[o + 2] ?? 0);
  const dz = p[2] - (data[o + 3] ?? 0);
  const ux = data[o + 4] ?? 0;
  const uy = data[o + 5] ?? 0;
  const uz = data[o + 6] ?? 0;
  const t = Math.min(Math.max(dx * ux + dy * uy + dz * uz, 0), data[o + 7] ?? 0);
  const rx = dx - t * ux;
  const ry = dy - t * uy;
  const rz = dz - t * uz;
  return rx * rx + ry * ry + rz * rz;
}

/** As squaredToLine, but infinite when the foot is past an end. */
function squaredBesideLine(data: Float64Array, o: number, p: Vec3): number {
  const dx = p[0] - (data[o + 1] ?? 0);
  const dy = p[1] - (data[o + 2] ?? 0);
  const dz = p[2] - (data[o + 3] ?? 0);
  const ux = data[o + 4] ?? 0;
  const uy = data[o + 5] ?? 0;
  const uz = data[o + 6] ?? 0;
  const t = dx * ux + dy * uy + dz * uz;
  if (t < -CRACK || t > (data[o + 7] ?? 0) + CRACK) return Number.POSITIVE_INFINITY;
  const rx = dx - t * ux;
  const ry = dy - t * uy;
  const rz = dz - t * uz;
  return rx * rx + ry * ry + rz * rz;
}

function squaredToArc(data: Float64Array, o: number, p: Vec3): number {
  const beside = squaredBesideArc(data, o, p);
  if (beside !== Number.POSITIVE_INFINITY) return beside;
  const dx = p[0] - (data[o + 1] ?? 0);
  const dy = p[1] - (data[o + 2] ?? 0);
  const dz = p[2] - (data[o + 3] ?? 0);
  const a = dx * (data[o + 4] ?? 0) + dy * (data[o + 5] ?? 0) + dz * (data[o + 6] ?? 0);
  const b = dx * (data[o + 7] ?? 0) + dy * (data[o + 8] ?? 0) + dz * (data[o + 9] ?? 0);
  const h = dx * (data[o + 10] ?? 0) + dy * (data[o + 11] ?? 0) + dz * (data[o + 12] ?? 0);
  const radius = data[o + 13] ?? 0;
  const a1 = a - radius * (data[o + 15] ?? 0);
  const b1 = b - radius * (data[o + 14] ?? 0);
  const a0 = a - radius;
  return h * h + Math.min(a0 * a0 + b * b, a1 * a1 + b1 * b1);
}

/** Distance to the circle when the foot lies on the arc, else infinite. */
function squaredBesideArc(data: Float64Array, o: number, p: Vec3): number {
  const dx = p[0] - (data[o + 1] ?? 0);
  const dy = p[1] - (data[o + 2] ?? 0);
  const dz = p[2] - (data[o + 3] ?? 0);
  const a = dx * (data[o + 4] ?? 0) + dy * (data[o + 5] ?? 0) + dz * (data[o + 6] ?? 0);
  const b = dx * (data[o + 7] ?? 0) + dy * (data[o + 8] ?? 0) + dz * (data[o + 9] ?? 0);
  const far = Math.sqrt(a * a + b * b);
  // sin(place) >= 0 and sin(angle - place) >= 0 say 0 <= place <= angle for any angle below a half turn, without an arctangent.
  if (b < -CRACK * far || (data[o + 14] ?? 0) * a - (data[o + 15] ?? 0) * b < -CRACK * far)
    return Number.POSITIVE_INFINITY;
  const h = dx * (data[o + 10] ?? 0) + dy * (data[o + 11] ?? 0) + dz * (data[o + 12] ?? 0);
  const off = far - (data[o + 13] ?? 0);
  return off * off + h * h;
}
