import type { Centreline } from '../centreline.ts';
import { chordSteps, sample } from '../centreline.ts';
import { minimalTwistFrames } from '../sweep.ts';
import { along, scale, type Vec3 } from '../vector.ts';
import type { TriangleMesh } from './triangleMesh.ts';

/** A pipe and how finely it is cut into facets; metres. */
export interface PipeWall {
  readonly outer: number;
  readonly inner: number;
  /** Largest distance between the facets and the round outside. */
  readonly maxChordError: number;
}

/**
 * The wall of a pipe about a centreline as one closed surface with flat ends: outside there, bore back. Facets of outside and bore stand over
 * each other, so the wall is as thick as asked less the cosine of half a facet.
 * @param wall radii, the outer above the inner, both above 0
 */
export function sweptPipe(line: Centreline, { outer, inner, maxChordError }: PipeWall): TriangleMesh {
  const facets = Math.max(12, chordSteps(2 * Math.PI, outer, maxChordError));
  const frames = minimalTwistFrames(sample(line, maxChordError, outer));
  const rings = [
    ...frames.map((frame) => ({ frame, radius: outer })),
    ...frames.map((frame) => ({ frame, radius: inner })).reverse(),
  ];
  const positions = new Float64Array(3 * rings.length * facets);
  const indices = new Uint32Array(6 * rings.length * facets);
  let next = 0;
  for (const [i, { frame, radius }] of rings.entries()) {
    for (let k = 0; k < facets; k++) {
      const turn = (2 * Math.PI * k) / facets;
      const out: Vec3 = along(scale(frame.normal, Math.cos(turn)), frame.binormal, Math.sin(turn));
      positions.set(along(frame.station.point, out, radius), 3 * (i * facets + k));
      const [i1, k1] = [(i + 1) % rings.length, (k + 1) % facets];
      const [a, b, c, d] = [i * facets + k, i * facets + k1, i1 * facets + k1, i1 * facets + k];
      indices.set([a, b, c, a, c, d], next);
      next += 6;
    }
  }
  return { positions, indices };
}
