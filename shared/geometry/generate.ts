import type { Centreline } from './centreline.ts';
import { sample } from './centreline.ts';
import type { Random } from './random.ts';
import { gaussian } from './random.ts';
import { minimalTwistFrames } from './sweep.ts';
import type { Vec3 } from './vector.ts';
import { add, along, cross, distance, norm, perpendicular, rotate, scale, subtract, unit } from './vector.ts';

/** How an invented scan samples a surface. Lengths in metres. */
export interface Sampling {
  /** Mean distance between neighbouring points, > 0. */
  readonly spacing: number;
  /** Standard deviation of the noise square to the surface, >= 0. */
  readonly sigma: number;
  /** Round gaps where the scanner saw nothing: how many on this surface, and their radius. */
  readonly holes?: { readonly count: number; readonly radius: number };
}

/** A flat sheet: one corner and the two edges that leave it, metres. The scanned side is the one that edgeU x edgeV points to. */
export interface Sheet {
  readonly corner: Vec3;
  readonly edgeU: Vec3;
  readonly edgeV: Vec3;
}

/** A box: its middle, its size along its own axes (metres), and those axes (orthonormal; the world's when left out). */
export interface Box {
  readonly centre: Vec3;
  readonly size: Vec3;
  readonly axes?: readonly [Vec3, Vec3, Vec3];
}

/** A round bar between two points, metres, with or without its end faces. */
export interface Cylinder {
  readonly from: Vec3;
  readonly to: Vec3;
  readonly radius: number;
  readonly caps: boolean;
}

interface SurfacePoint {
  readonly point: Vec3;
  readonly normal: Vec3;
}

/** A surface over the unit square, with its real extent along both sides. */
interface Patch {
  readonly lengthU: number;
  readonly lengthV: number;
  readonly at: (u: number, v: number) => SurfacePoint;
}

/** Points on a flat sheet: xyz triples, metres. */
export function sampleSheet(sheet: Sheet, sampling: Sampling, random: Random): Float32Array<ArrayBuffer> {
  return samplePatches([sheetPatch(sheet)], sampling, random);
}

/** Points on all six faces of a box: xyz triples, metres. */
export function sampleBox(box: Box, sampling: Sampling, random: Random): Float32Array<ArrayBuffer> {
  const axes = box.axes ?? [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  const patches: Patch[] = [];
  for (const [k, axis] of axes.entries()) {
    const [u, v] = [axes[(k + 1) % 3] ?? axis, axes[(k + 2) % 3] ?? axis];
    const [depth = 0, sideU = 0, sideV = 0] = [box.size[k], box.size[(k + 1) % 3], box.size[(k + 2) % 3]];
    for (const side of [1, -1]) {
      const middle = along(box.centre, axis, (side * depth) / 2);
      const [edgeU, edgeV] = side > 0 ? [scale(u, sideU), scale(v, sideV)] : [scale(v, sideV), scale(u, sideU)];
      patches.push(sheetPatch({ corner: along(along(middle, edgeU, -0.5), edgeV, -0.5), edgeU, edgeV }));
    }
  }
  return samplePatches(patches, sampling, random);
}

/** Points on a round bar: xyz triples, metres. */
export function sampleCylinder(bar: Cylinder, sampling: Sampling, random: Random): Float32Array<ArrayBuffer> {
  const axis = unit(subtract(bar.to, bar.from));
  const out = perpendicular(axis);
  const wall: Patch = {
    lengthU: distance(bar.from, bar.to),
    lengthV: 2 * Math.PI * bar.radius,
    at: (u, v) => {
      const normal = rotate(out, axis, 2 * Math.PI * v);
      return { point: along(along(bar.from, axis, u * distance(bar.from, bar.to)), normal, bar.radius), normal };
    },
  };
  const faces = bar.caps ? [discPatch(bar.from, scale(axis, -1), bar.radius), discPatch(bar.to, axis, bar.radius)] : [];
  return samplePatches([wall, ...faces], sampling, random);
}

/** Points on the outside of a hose or pipe around a centreline: xyz triples, metres. */
export function sampleTube(
  tube: { readonly centreline: Centreline; readonly radius: number },
  sampling: Sampling,
  random: Random,
): Float32Array<ArrayBuffer> {
  const { centreline, radius } = tube;
  const frames = minimalTwistFrames(sample(centreline, Math.max(sampling.sigma / 10, 1e-5), radius));
  const patches: Patch[] = [];
  for (let i = 1; i < frames.length; i++) {
    const [a, b] = [frames[i - 1], frames[i]];
    if (!a || !b) continue;
    patches.push({
      lengthU: b.station.s - a.station.s,
      lengthV: 2 * Math.PI * radius,
      at: (u, v) => {
        const [c, s] = [Math.cos(2 * Math.PI * v), Math.sin(2 * Math.PI * v)];
        const [first, second] = [a, b].map((f) => along(scale(f.normal, c), f.binormal, s));
        const normal = unit(add(scale(first ?? a.normal, 1 - u), scale(second ?? b.normal, u)));
        const middle = add(scale(a.station.point, 1 - u), scale(b.station.point, u));
        return { point: along(middle, normal, radius), normal };
      },
    });
  }
  return samplePatches(patches, sampling, random);
}

/** Several sampled surfaces as one scan, in the order given. */
export function joinPoints(parts: readonly Float32Array[]): Float32Array<ArrayBuffer> {
  const all = new Float32Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

function sheetPatch({ corner, edgeU, edgeV }: Sheet): Patch {
  const normal = unit(cross(edgeU, edgeV));
  return {
    lengthU: norm(edgeU),
    lengthV: norm(edgeV),
    at: (u, v) => ({ point: along(along(corner, edgeU, u), edgeV, v), normal }),
  };
}

function discPatch(centre: Vec3, normal: Vec3, radius: number): Patch {
  const across = perpendicular(normal);
  // The root spreads points evenly over the area; the sides are those of a rectangle of the same area.
  const at = (u: number, v: number): SurfacePoint => ({
    point: along(centre, rotate(across, normal, 2 * Math.PI * v), radius * Math.sqrt(u)),
    normal,
  });
  return { lengthU: radius / 2, lengthV: 2 * Math.PI * radius, at };
}

/**
 * One point a cell of a regular net, placed at random in its cell: as even as a scan and as irregular.
 * A patch narrower than the spacing keeps its share of points by drawing whether a cell exists.
 */
function samplePatches(patches: readonly Patch[], sampling: Sampling, random: Random): Float32Array<ArrayBuffer> {
  const { spacing, sigma } = sampling;
  const found: number[] = [];
  const holes = holesOf(patches, sampling, random);
  for (const patch of patches) {
    const rows = wholeNumber(patch.lengthU / spacing, random);
    const columns = Math.max(1, Math.round(patch.lengthV / spacing));
    for (let i = 0; i < rows * columns; i++) {
      const u = (Math.floor(i / columns) + random()) / rows;
      const { point, normal } = patch.at(u, ((i % columns) + random()) / columns);
      const seen = along(point, normal, sigma * gaussian(random));
      if (holes.every((hole) => distance(hole.centre, point) > hole.radius)) found.push(...seen);
    }
  }
  return Float32Array.from(found);
}

function wholeNumber(x: number, random: Random): number {
  const whole = Math.floor(x);
  return whole + (random() < x - whole ? 1 : 0);
}

function holesOf(patches: readonly Patch[], sampling: Sampling, random: Random): { centre: Vec3; radius: number }[] {
  const { count, radius } = sampling.holes ?? { count: 0, radius: 0 };
  return Array.from({ length: count }, () => {
    // Wider patches get more of the holes: choosing by area keeps them even over the whole surface.
    const areas = patches.map((p) => p.lengthU * p.lengthV);
    let draw = random() * areas.reduce((sum, area) => sum + area, 0);
    const patch = patches.find((_, i) => {
      draw -= areas[i] ?? 0;
      return draw <= 0;
    });
    const centre = (patch ?? patches[0])?.at(random(), random()).point ?? [0, 0, 0];
    return { centre, radius };
  });
}
