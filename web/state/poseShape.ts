import { rotationOfTurns } from '../../shared/geometry/mesh/fixedTurns.ts';
import type { Mat3 } from '../../shared/geometry/mesh/rotation.ts';
import { turned } from '../../shared/geometry/mesh/rotation.ts';
import type { Vec3 } from '../../shared/geometry/vector.ts';
import type { PartMesh } from '../scene/partMesh.ts';

/** How a piece is looked at on its plate. */
export interface PoseLook {
  /** Turns about X, then Y, then Z, radians. */
  readonly turn: Vec3;
  /** Faces flatter than this need support, radians from the plate. */
  readonly overhang: number;
  /** Size of the picture, px. */
  readonly width: number;
  readonly height: number;
}

/** A piece on its plate, drawn: row by row from the top, one value a pixel. */
export interface PoseShape {
  /** 0 where nothing is, else how bright it is, 1 to 255. */
  readonly shade: Uint8Array;
  /** 1 where a face is seen that needs support. */
  readonly support: Uint8Array;
  /** Corners of the plate under the piece, px: x, y four times. */
  readonly plate: readonly number[];
}

/** Looked at from a little below the level, so that the faces that need support are seen. */
const ROUND = (-35 * Math.PI) / 180;
const BELOW = (-18 * Math.PI) / 180;
/** Part of the picture that is used; the plate reaches this much beyond the piece. */
const [USED, PLATE_ROOM] = [0.86, 0.06];

/** From the build to the picture: x to the right, y up, z towards the eye. */
const eye: Mat3 = eyeRows();

function eyeRows(): Mat3 {
  const [c, s, cb, sb] = [Math.cos(ROUND), Math.sin(ROUND), Math.cos(BELOW), Math.sin(BELOW)];
  return [c, s, 0, -s * sb, c * sb, cb, s * cb, -c * cb, sb];
}

/** Draws a piece in a pose, nearest face in front. Small enough to be made while a table is read: some 60 ns a triangle. */
export function poseShape(mesh: PartMesh, look: PoseLook): PoseShape {
  const rows = rotationOfTurns(look.turn);
  const stood = placed(mesh.positions, rows);
  const box = boxOf(stood);
  const plateCorners = cornersUnder(box);
  const seen = placed(stood, eye);
  const frame = frameOf(boxOf(seen, placed(plateCorners, eye)), look);
  const shape = { shade: new Uint8Array(look.width * look.height), support: new Uint8Array(look.width * look.height) };
  const depth = new Float32Array(look.width * look.height).fill(Number.NEGATIVE_INFINITY);
  toPixels(seen, frame);
  const limit = Math.cos(look.overhang);
  for (let o = 0; o < mesh.indices.length; o += 3) {
    const [a, b, c] = [3 * (mesh.indices[o] ?? 0), 3 * (mesh.indices[o + 1] ?? 0), 3 * (mesh.indices[o + 2] ?? 0)];
    const [x, y, z] = normalOf(stood, a, b, c);
    const toEye = Math.abs(eye[6] * x + eye[7] * y + eye[8] * z);
    const onPlate = (stood[a + 2] ?? 0) + (stood[b + 2] ?? 0) + (stood[c + 2] ?? 0) < 3 * (box.least[2] + 1e-6);
    const needs = -z > limit + 1e-9 && !onPlate;
    fill(
      { ...shape, depth, width: look.width, height: look.height },
      [corner(seen, a), corner(seen, b), corner(seen, c)],
      {
        shade: 70 + Math.round(180 * toEye),
        support: needs ? 1 : 0,
      },
    );
  }
  const plate = placed(plateCorners, eye);
  toPixels(plate, frame);
  return { ...shape, plate: [0, 1, 2, 3].flatMap((i) => [plate[3 * i] ?? 0, plate[3 * i + 1] ?? 0]) };
}

function placed(points: Float32Array, rows: Mat3): Float32Array {
  const out = new Float32Array(points.length);
  for (let i = 0; i < points.length; i += 3) out.set(turned(rows, corner(points, i)), i);
  return out;
}

const corner = (points: Float32Array, at: number): Vec3 => [points[at] ?? 0, points[at + 1] ?? 0, points[at + 2] ?? 0];

interface Span {
  readonly least: Vec3;
  readonly greatest: Vec3;
}

function boxOf(...lists: readonly Float32Array[]): Span {
  const low = new Float32Array(3).fill(Number.POSITIVE_INFINITY);
  const high = new Float32Array(3).fill(Number.NEGATIVE_INFINITY);
  for (const points of lists)
    for (let i = 0; i < points.length; i++) {
      const value = points[i] ?? 0;
      if (value < (low[i % 3] ?? 0)) low[i % 3] = value;
      if (value > (high[i % 3] ?? 0)) high[i % 3] = value;
    }
  return { least: corner(low, 0), greatest: corner(high, 0) };
}

function cornersUnder({ least, greatest }: Span): Float32Array {
  const room = PLATE_ROOM * Math.max(greatest[0] - least[0], greatest[1] - least[1]);
  const [x0, y0, x1, y1] = [least[0] - room, least[1] - room, greatest[0] + room, greatest[1] + room];
  const z = least[2];
  return Float32Array.of(x0, y0, z, x1, y0, z, x1, y1, z, x0, y1, z);
}

interface Frame {
  readonly scale: number;
  readonly x: number;
  readonly y: number;
}

function frameOf({ least, greatest }: Span, { width, height }: PoseLook): Frame {
  const [wide, high] = [greatest[0] - least[0], greatest[1] - least[1]];
  const scale = USED * Math.min(width / Math.max(wide, 1e-9), height / Math.max(high, 1e-9));
  return {
    scale,
    x: width / 2 - (scale * (least[0] + greatest[0])) / 2,
    y: height / 2 + (scale * (least[1] + greatest[1])) / 2,
  };
}

/** In place: y down, as pictures are. */
function toPixels(points: Float32Array, { scale, x, y }: Frame): void {
  for (let i = 0; i < points.length; i += 3) {
    points[i] = x + scale * (points[i] ?? 0);
    points[i + 1] = y - scale * (points[i + 1] ?? 0);
  }
}

function normalOf(points: Float32Array, a: number, b: number, c: number): Vec3 {
  const [p, q, r] = [corner(points, a), corner(points, b), corner(points, c)];
  const [ux, uy, uz, vx, vy, vz] = [q[0] - p[0], q[1] - p[1], q[2] - p[2], r[0] - p[0], r[1] - p[1], r[2] - p[2]];
  const [x, y, z] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  const length = Math.sqrt(x * x + y * y + z * z) || 1;
  return [x / length, y / length, z / length];
}

interface Picture {
  readonly shade: Uint8Array;
  readonly support: Uint8Array;
  readonly depth: Float32Array;
  readonly width: number;
  readonly height: number;
}

/** Fills a triangle where it is nearer than what is there. */
function fill(
  { shade, support, depth, width, height }: Picture,
  [a, b, c]: readonly [Vec3, Vec3, Vec3],
  paint: { readonly shade: number; readonly support: number },
): void {
  const area = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
  if (area === 0) return;
  const x0 = Math.max(0, Math.ceil(Math.min(a[0], b[0], c[0]) - 0.5));
  const x1 = Math.min(width - 1, Math.floor(Math.max(a[0], b[0], c[0]) - 0.5));
  const y0 = Math.max(0, Math.ceil(Math.min(a[1], b[1], c[1]) - 0.5));
  const y1 = Math.min(height - 1, Math.floor(Math.max(a[1], b[1], c[1]) - 0.5));
  for (let py = y0; py <= y1; py++)
    for (let px = x0; px <= x1; px++) {
      const [x, y] = [px + 0.5, py + 0.5];
      const u = ((b[0] - x) * (c[1] - y) - (c[0] - x) * (b[1] - y)) / area;
      const v = ((c[0] - x) * (a[1] - y) - (a[0] - x) * (c[1] - y)) / area;
      if (u < 0 || v < 0 || u + v > 1) continue;
      const near = u * a[2] + v * b[2] + (1 - u - v) * c[2];
      const at = py * width + px;
      if (near <= (depth[at] ?? 0)) continue;
      depth[at] = near;
      shade[at] = paint.shade;
      support[at] = paint.support;
    }
}
