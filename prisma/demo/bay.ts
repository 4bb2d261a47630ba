import { buildCentreline } from '../../shared/geometry/centreline.ts';
import {
  joinPoints,
  type Sampling,
  sampleBox,
  sampleCylinder,
  sampleSheet,
  sampleTube,
} from '../../shared/geometry/generate.ts';
import { type Random, seededRandom } from '../../shared/geometry/random.ts';
import type { Vec3 } from '../../shared/geometry/vector.ts';

/** The demo's invented engine bay as a scanner would give it: noisy points with holes, one cloud a component. Metres, z up, y away from the head. */

const scan = (spacing: number, holes = 0): Sampling => ({
  spacing,
  sigma: 0.00035,
  ...(holes > 0 && { holes: { count: holes, radius: 0.018 } }),
});

function bar(from: Vec3, to: Vec3, radius: number) {
  return { from, to, radius, caps: false };
}

function hose(points: readonly Vec3[], radius: number, bend: number, sampling: Sampling, random: Random): Float32Array {
  const line = buildCentreline(
    points.map(([x, y, z], i) => ({ x, y, z, radius: i === 0 || i === points.length - 1 ? 0 : bend })),
  );
  if (!line.ok) throw new Error(`demo bay: a hose does not fit (${line.code})`);
  return sampleTube({ centreline: line, radius }, sampling, random);
}

const makers: Readonly<Record<string, (random: Random) => Float32Array>> = {
  block: (random) =>
    sampleSheet({ corner: [-0.29, -0.03, -0.3], edgeU: [0.58, 0, 0], edgeV: [0, 0, 0.22] }, scan(0.0016, 6), random),
  'head-cover': (random) => sampleBox({ centre: [0, -0.075, 0.14], size: [0.52, 0.12, 0.07] }, scan(0.0022, 5), random),
  'frame-rail': (random) =>
    joinPoints([
      sampleBox({ centre: [0, 0.49, -0.24], size: [0.9, 0.07, 0.11] }, scan(0.0028, 6), random),
      sampleBox({ centre: [0.33, 0.46, -0.1], size: [0.08, 0.05, 0.16] }, scan(0.0028, 1), random),
    ]),
  'steering-shaft': (random) =>
    joinPoints([
      sampleCylinder(bar([-0.36, 0.3, 0.16], [-0.105, 0.165, -0.15], 0.0125), scan(0.0014, 2), random),
      sampleCylinder(bar([-0.13, 0.178, -0.12], [-0.105, 0.165, -0.15], 0.02), scan(0.0014), random),
    ]),
  'brake-line': (random) =>
    hose(
      [
        [0.42, 0.43, 0.06],
        [0.31, 0.425, 0.02],
        [0.27, 0.42, -0.14],
        [0.1, 0.43, -0.17],
        [-0.35, 0.435, -0.17],
      ],
      0.0031,
      0.03,
      scan(0.0012, 4),
      random,
    ),
  loom: (random) =>
    hose(
      [
        [-0.3, -0.12, 0.205],
        [-0.05, -0.11, 0.21],
        [0.2, -0.1, 0.205],
        [0.33, 0.02, 0.19],
        [0.36, 0.2, 0.17],
      ],
      0.011,
      0.05,
      scan(0.0018, 4),
      random,
    ),
  hood: (random) =>
    sampleSheet({ corner: [-0.5, -0.25, 0.315], edgeU: [1.0, 0, 0], edgeV: [0, 0.75, -0.05] }, scan(0.0045, 8), random),
};

/** Points of one component, the same for the same seed. Throws for a component that is not in the demo. */
export function demoPoints(component: string, seed: number): Float32Array {
  const make = makers[component];
  if (!make) throw new Error(`the demo has no component "${component}"`);
  let salt = seed;
  for (const char of component) salt = (Math.imul(salt, 31) + char.charCodeAt(0)) | 0;
  return make(seededRandom(salt >>> 0));
}
