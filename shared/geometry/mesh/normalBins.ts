import type { Vec3 } from '../vector.ts';
import type { FaceTable } from './faces.ts';

/** Faces sorted by which way they face, with the sums from which downskin area and support of a whole bin follow at once. */
export interface NormalBins {
  readonly bins: number;
  /** Where the faces of a bin look: mean direction (3), cosine and sine of the widest angle from it. */
  readonly aims: Float64Array;
  /** Sums a bin: area, area normal (3), area normal times middle (9). */
  readonly sums: Float64Array;
  /** First face of each bin in `faces`, and the end of the last. */
  readonly first: Uint32Array;
  /** Area, normal and middle, seven numbers a face, bin by bin. */
  readonly faces: Float64Array;
}

/** Downskin area (m2) and volume down to the plate (m3). */
export interface PlateSupport {
  readonly area: number;
  readonly volume: number;
}

const SIDE = 64;
const AIM = 5;
const STRIDE = 13;
/** Rounding that a bin's angle may have, radians: it only makes more bins go face by face. */
const SLACK = 1e-7;
/** A face counts as flatter than the limit only beyond this in the cosine: one modelled at the limit must not need support by rounding. */
export const LIMIT_SLACK = 1e-9;

/** Sorts faces into 64 x 64 bins of the octahedral map. Faces without area are left out. */
export function normalBins(table: FaceTable): NormalBins {
  const { count, area, normal, middle } = table;
  const keys = new Int32Array(count);
  const fill = new Uint32Array(SIDE * SIDE + 1);
  for (let t = 0; t < count; t++) {
    const key = area[t] ? binOf(normal[3 * t] ?? 0, normal[3 * t + 1] ?? 0, normal[3 * t + 2] ?? 0) : -1;
    keys[t] = key;
    fill[key + 1] = (fill[key + 1] ?? 0) + (key < 0 ? 0 : 1);
  }
  const starts: number[] = [];
  const next = new Uint32Array(SIDE * SIDE);
  let total = 0;
  for (let key = 0; key < SIDE * SIDE; key++) {
    next[key] = total;
    if (fill[key + 1]) starts.push(total);
    total += fill[key + 1] ?? 0;
  }
  const faces = new Float64Array(7 * total);
  for (let t = 0; t < count; t++) {
    const key = keys[t] ?? -1;
    if (key < 0) continue;
    const at = next[key] ?? 0;
    next[key] = at + 1;
    faces[7 * at] = area[t] ?? 0;
    faces.set(normal.subarray(3 * t, 3 * t + 3), 7 * at + 1);
    faces.set(middle.subarray(3 * t, 3 * t + 3), 7 * at + 4);
  }
  const first = Uint32Array.from([...starts, total]);
  const aims = new Float64Array(AIM * starts.length);
  const sums = new Float64Array(STRIDE * starts.length);
  for (let b = 0; b < starts.length; b++)
    sumBin(faces, first[b] ?? 0, first[b + 1] ?? 0, aims.subarray(AIM * b), sums.subarray(STRIDE * b));
  return { bins: starts.length, aims, sums, first, faces };
}

function binOf(nx: number, ny: number, nz: number): number {
  const s = Math.abs(nx) + Math.abs(ny) + Math.abs(nz);
  const [x, y] = [nx / s, ny / s];
  const u = nz < 0 ? (1 - Math.abs(y)) * (x >= 0 ? 1 : -1) : x;
  const v = nz < 0 ? (1 - Math.abs(x)) * (y >= 0 ? 1 : -1) : y;
  return cell(u) + SIDE * cell(v);
}

const cell = (w: number): number => Math.min(SIDE - 1, Math.floor((w / 2 + 0.5) * SIDE));

function sumBin(faces: Float64Array, from: number, to: number, aim: Float64Array, out: Float64Array): void {
  for (let q = 7 * from; q < 7 * to; q += 7) {
    const area = faces[q] ?? 0;
    out[0] = (out[0] ?? 0) + area;
    for (let k = 0; k < 3; k++) {
      const n = faces[q + 1 + k] ?? 0;
      aim[k] = (aim[k] ?? 0) + n;
      out[1 + k] = (out[1 + k] ?? 0) + area * n;
      for (let l = 0; l < 3; l++) out[4 + 3 * k + l] = (out[4 + 3 * k + l] ?? 0) + area * n * (faces[q + 4 + l] ?? 0);
    }
  }
  const length = Math.hypot(aim[0] ?? 0, aim[1] ?? 0, aim[2] ?? 0) || 1;
  for (let k = 0; k < 3; k++) aim[k] = (aim[k] ?? 0) / length;
  let cosine = 1;
  for (let q = 7 * from; q < 7 * to; q += 7) {
    const [nx, ny, nz] = [faces[q + 1] ?? 0, faces[q + 2] ?? 0, faces[q + 3] ?? 0];
    cosine = Math.min(cosine, nx * (aim[0] ?? 0) + ny * (aim[1] ?? 0) + nz * (aim[2] ?? 0));
  }
  const angle = Math.acos(Math.max(-1, cosine)) + SLACK;
  aim[3] = Math.cos(angle);
  aim[4] = Math.sin(angle);
}

/**
 * Downskin area and support volume down to the plate for one upright direction. Bins wholly within or without the limit go as sums, those
 * across it face by face, so the answer is that of all faces one by one.
 * @param up unit direction of the part's frame that stands upright
 * @param limit cosine of the overhang angle, and the height of the plate along `up`, metres
 */
export function plateSupport(
  bins: NormalBins,
  up: Vec3,
  limit: { readonly cosine: number; readonly plate: number },
): PlateSupport {
  const cosine = limit.cosine + LIMIT_SLACK;
  const sine = Math.sqrt(Math.max(0, 1 - cosine * cosine));
  const { aims, sums, first, faces } = bins;
  const x = up[0];
  const y = up[1];
  const z = up[2];
  let area = 0;
  let volume = 0;
  for (let b = 0, o = 0; b < bins.bins; b++, o += AIM) {
    const down = -(at(aims, o) * x + at(aims, o + 1) * y + at(aims, o + 2) * z);
    // Of the limit's angle and the bin's widest, the cosines of sum and difference: beyond the one no face counts, within the other all do.
    const a = cosine * at(aims, o + 3);
    const c = sine * at(aims, o + 4);
    if (down <= a - c) continue;
    if (down > a + c && at(aims, o + 3) > cosine) {
      area += at(sums, STRIDE * b);
      volume += wholeBin(sums, STRIDE * b, up, limit.plate);
      continue;
    }
    for (let q = 7 * (first[b] ?? 0), end = 7 * (first[b + 1] ?? 0); q < end; q += 7) {
      const steep = -(at(faces, q + 1) * x + at(faces, q + 2) * y + at(faces, q + 3) * z);
      if (steep <= cosine) continue;
      const height = at(faces, q + 4) * x + at(faces, q + 5) * y + at(faces, q + 6) * z - limit.plate;
      area += at(faces, q);
      volume += steep * at(faces, q) * height;
    }
  }
  return { area, volume };
}

/** What a bin gives as a whole. */
function wholeBin(sums: Float64Array, o: number, up: Vec3, plate: number): number {
  return (
    plate * along(sums, o + 1, up) -
    (up[0] * along(sums, o + 4, up) + up[1] * along(sums, o + 7, up) + up[2] * along(sums, o + 10, up))
  );
}

const along = (sums: Float64Array, o: number, up: Vec3): number =>
  at(sums, o) * up[0] + at(sums, o + 1) * up[1] + at(sums, o + 2) * up[2];

const at = (list: Float64Array, i: number): number => list[i] ?? 0;
