import { type Centreline, pointAt, type Station, sample, tangentAt } from './centreline.ts';
import { footOnCentreline } from './distance.ts';
import { type Frame, minimalTwistFrames } from './sweep.ts';
import type { Vec3 } from './vector.ts';
import { along, dot, norm, scale, subtract } from './vector.ts';

/** A place on a tube that moves with it: share of the centreline's length (0..1) and clock angle about it (radians) in the twist-free frame. */
export interface TubePlace {
  readonly share: number;
  readonly angle: number;
}

/** Spacing error of the stations the frame is carried along, metres (own: the frame is exact on lines and arcs, this only sets how many). */
const CHORD = 1e-3;

function frameAt(line: Centreline, s: number): Frame | undefined {
  const before = sample(line, CHORD).filter((station) => station.s < s);
  const here: Station = { s, point: pointAt(line, s), tangent: tangentAt(line, s) };
  return minimalTwistFrames([...before, here]).at(-1);
}

/** The place on a tube nearest to a point. Undefined for a centreline without pieces. */
export function placeOnTube(line: Centreline, point: Vec3): TubePlace | undefined {
  const foot = footOnCentreline(line, point);
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
