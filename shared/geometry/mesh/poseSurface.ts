import type { Vec3 } from '../vector.ts';
import { facesOf } from './faces.ts';
import { LIMIT_SLACK } from './normalBins.ts';
import type { Mat3 } from './rotation.ts';
import { turnedMesh } from './rotation.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { boxOf } from './triangleMesh.ts';

/** What a look over the faces of a part in a pose shows. */
export interface PoseSurface {
  /** Downward surface flatter than the limit that does not lie on the plate, m2. */
  readonly hangingArea: number;
  /** The middle of its largest face; in the part's frame, metres. */
  readonly hangingAt: Vec3 | null;
  /** A tenth of the sloped surface, up and down, is flatter than this; radians from the plate, a right angle when nothing slopes. */
  readonly slope: number;
}

/** Faces flatter than this are level as drawn and have no layer steps, radians (own: 3 degrees). */
const LEVEL = (3 * Math.PI) / 180;
/** A face counts as on the plate when it is no higher than this, metres. */
const ON_PLATE = 1e-6;
/** Share of the sloped surface that may be flatter (own: what a hand feels first). */
const FLATTEST = 0.1;

/**
 * Looks over the faces of a part turned as it is built.
 * @param limit angle from the plate below which a downward face hangs, radians
 */
export function poseSurface(mesh: TriangleMesh, rows: Mat3, limit: number): PoseSurface {
  const { count, area, normal, middle } = facesOf(mesh);
  const plate = (boxOf(turnedMesh(mesh, rows))?.least[2] ?? 0) + ON_PLATE;
  const cosine = Math.cos(limit) + LIMIT_SLACK;
  const upward = (list: Float64Array, t: number): number =>
    rows[6] * (list[3 * t] ?? 0) + rows[7] * (list[3 * t + 1] ?? 0) + rows[8] * (list[3 * t + 2] ?? 0);
  const sloped: { readonly angle: number; readonly area: number }[] = [];
  let [hangingArea, largest] = [0, 0];
  let hangingAt: Vec3 | null = null;
  for (let t = 0; t < count; t++) {
    const [up, size] = [upward(normal, t), area[t] ?? 0];
    const angle = Math.acos(Math.min(1, Math.abs(up)));
    if (angle >= LEVEL && angle < Math.PI / 2 - LIMIT_SLACK) sloped.push({ angle, area: size });
    if (-up <= cosine || upward(middle, t) <= plate) continue;
    hangingArea += size;
    if (size <= largest) continue;
    largest = size;
    hangingAt = [middle[3 * t] ?? 0, middle[3 * t + 1] ?? 0, middle[3 * t + 2] ?? 0];
  }
  return { hangingArea, hangingAt, slope: flattestTenth(sloped) };
}

function flattestTenth(sloped: { readonly angle: number; readonly area: number }[]): number {
  const whole = sloped.reduce((sum, face) => sum + face.area, 0);
  let below = 0;
  for (const { angle, area } of sloped.sort((a, b) => a.angle - b.angle)) {
    below += area;
    if (below >= FLATTEST * whole) return angle;
  }
  return Math.PI / 2;
}
