import type { Vec3 } from '../vector.ts';
import { add, along, cross, dot, perpendicular, scale, unit } from '../vector.ts';
import { RayCaster } from './rayHit.ts';
import type { TriangleTree } from './triangleTree.ts';

/** What stops a part that is moved straight: after how far, the scan point it meets and the place on the part before it moved; metres. */
export interface Bump {
  readonly travel: number;
  readonly point: Vec3;
  readonly onPart: Vec3;
}

/**
 * How far a part can be moved along a way until it meets the first of some points; undefined when it meets none within the reach.
 * Exact for the points: from each, a ray goes back against the way to the part.
 * @param points xyz in metres from the origin
 * @param way unit vector
 */
export function freeTravel(
  tree: TriangleTree,
  points: { readonly positions: Float32Array; readonly origin: Vec3 },
  { way, reach }: { readonly way: Vec3; readonly reach: number },
): Bump | undefined {
  const window = windowOf(tree, way);
  const caster = new RayCaster(tree);
  const back = scale(way, -1);
  const { positions, origin } = points;
  let best: Bump | undefined;
  for (let i = 0; i + 2 < positions.length; i += 3) {
    const point = add([positions[i] ?? 0, positions[i + 1] ?? 0, positions[i + 2] ?? 0], origin);
    const to = best?.travel ?? reach;
    if (!seen(window, point, to)) continue;
    const travel = caster.first(point, back, { from: 0, to });
    if (travel < to || (travel === to && !best)) best = { travel, point, onPart: along(point, back, travel) };
  }
  return best;
}

/** The box of a part in the frame of a way: two directions across, then the way. */
interface Window {
  readonly axes: readonly Vec3[];
  readonly least: Float64Array;
  readonly greatest: Float64Array;
}

function windowOf({ corners }: TriangleTree, way: Vec3): Window {
  const side = unit(perpendicular(way));
  const axes = [side, cross(way, side), way];
  const least = new Float64Array(3).fill(Number.POSITIVE_INFINITY);
  const greatest = new Float64Array(3).fill(Number.NEGATIVE_INFINITY);
  for (let i = 0; i + 2 < corners.length; i += 3) {
    const p: Vec3 = [corners[i] ?? 0, corners[i + 1] ?? 0, corners[i + 2] ?? 0];
    for (const [k, axis] of axes.entries()) {
      const x = dot(p, axis);
      if (x < (least[k] ?? 0)) least[k] = x;
      if (x > (greatest[k] ?? 0)) greatest[k] = x;
    }
  }
  return { axes, least, greatest };
}

/** Whether the part sweeps over a place at all within a travel. */
function seen({ axes, least, greatest }: Window, p: Vec3, travel: number): boolean {
  for (const [k, axis] of axes.entries()) {
    const x = dot(p, axis);
    if (x < (least[k] ?? 0) || x > (greatest[k] ?? 0) + (k === 2 ? travel : 0)) return false;
  }
  return true;
}
