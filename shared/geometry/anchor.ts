import { type Centreline, pointAt, type Station, sample, tangentAt } from './centreline.ts';
import { footOnCentreline } from './distance.ts';
import { type Frame, minimalTwistFrames } from './sweep.ts';
import type { Vec3 } from './vector.ts';
import { along, cross, dot, norm, scale, subtract } from './vector.ts';

/**
 * A place on a tube that moves with it: share of the centreline's length (0..1) and clock angle about it (radians). Angle 0 at the start
 * is up (z) as seen when the start points away from the head (y), carried along without twist.
 */
export interface TubePlace {
  readonly share: number;
  readonly angle: number;
}

/** Spacing error of the stations the frame is carried along, metres (own: the frame is exact on lines and arcs, this only sets how many). */
const CHORD = 1e-3;

/**
 * Up at the start of a runner: z turned by the smallest turn that takes y to the start direction. Unlike a fixed choice of axis it has no
 * jump near y, along which ports point, so a pin does not leap round the tube when the first straight is nudged. Undefined straight into the head.
 */
function upAtStart(direction: Vec3): Vec3 | undefined {
  const [x, y, z] = direction;
  const k = 1 + y;
  return k < 1e-9 ? undefined : [(-x * z) / k, -z, 1 - (z * z) / k];
}

function frameAt(line: Centreline, s: number): Frame | undefined {
  const before = sample(line, CHORD).filter((station) => station.s < s);
  const here: Station = { s, point: pointAt(line, s), tangent: tangentAt(line, s) };
  const frames = minimalTwistFrames([...before, here]);
  const [start, frame] = [frames[0], frames.at(-1)];
  const up = start && upAtStart(start.station.tangent);
  if (!frame || !up) return frame;
  // The frame's own first normal is turned to "up"; without twist the same turn holds all along.
  const turn = Math.atan2(dot(up, start.binormal), dot(up, start.normal));
  const normal = along(scale(frame.normal, Math.cos(turn)), frame.binormal, Math.sin(turn));
  return { station: frame.station, normal, binormal: cross(frame.station.tangent, normal) };
}

/** The place on a tube nearest to a point. Undefined for a centreline without pieces and for a point that is not finite. */
export function placeOnTube(line: Centreline, point: Vec3): TubePlace | undefined {
  const foot = point.every(Number.isFinite) ? footOnCentreline(line, point) : undefined;
  const frame = foot && frameAt(line, foot.s);
  if (!foot || !frame) return undefined;
  const out = subtract(point, foot.point);
  const angle = norm(out) === 0 ? 0 : Math.atan2(dot(out, frame.binormal), dot(out, frame.normal));
  return { share: line.length > 0 ? foot.s / line.length : 0, angle };
}

/** Where a place is on a tube of a radius (metres) around the present centreline. */
export function pointOfPlace(line: Centreline, place: TubePlace, radius: number): Vec3 {
  const frame = frameAt(line, Math.min(1, Math.max(0, place.share)) * line.length);
  if (!frame) return [Number.NaN, Number.NaN, Number.NaN];
  const { point } = frame.station;
  const out = along(scale(frame.normal, Math.cos(place.angle)), frame.binormal, Math.sin(place.angle));
  return along(point, out, radius);
}
