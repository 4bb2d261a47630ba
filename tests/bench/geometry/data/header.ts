import type { TriangleMesh } from '../../../../shared/geometry/mesh/triangleMesh.ts';
import type { Vec3 } from '../../../../shared/geometry/vector.ts';
import { type Piece, pieces, skin, stations, tube } from './sweep.ts';

/* An invented header, millimetres: six primaries of 44.45 mm with a wall of 1.4 mm into a collector, 311,520 triangles. */

const [OUTER, WALL, FACETS, STEP] = [44.45, 1.4, 60, 3.2];
/** Middle of the collector's mouth. */
export const COLLECTOR: Vec3 = [470, 190, -400];

/** How far the third corner of a primary is moved. */
export interface Edit {
  readonly tube: number;
  readonly by: Vec3;
}

/** The centreline of a primary, 0 to 5. */
export function primaryPath(i: number, edit?: Edit): readonly Piece[] {
  const [x, angle] = [i * 95, Math.PI / 2 + (i * Math.PI) / 3];
  const sx = COLLECTOR[0] + OUTER * 1.02 * Math.cos(angle);
  const sy = COLLECTOR[1] + OUTER * 1.02 * Math.sin(angle);
  const [dx, dy, dz] = edit?.tube === i ? edit.by : [0, 0, 0];
  const third: Vec3 = [x + (sx - x) * 0.5 + dx, 130 + 10 * ((i * 2) % 5) + dy, -120 - 9 * i + dz];
  const corners: readonly Vec3[] = [[x, 0, 0], [x, 78 + 9 * (i % 2), -4], third, [sx, sy, -265], [sx, sy, -410]];
  return pieces(corners, [50, 60, 60]);
}

/** The mesh of a primary. */
export const primary = (i: number, edit?: Edit): TriangleMesh =>
  tube(stations(primaryPath(i, edit), STEP), [OUTER / 2, OUTER / 2 - WALL], FACETS);

/** The collector: a thin wall turned about its axis. */
export function collector(): TriangleMesh {
  const profile = [
    [70, 0],
    [70, -40],
    [38, -170],
    [38, -230],
  ] as const;
  const [facets, step] = [120, 3.5];
  const rings = profile.slice(1).flatMap(([r1, z1], k) => {
    const [r0, z0] = profile[k] ?? [r1, z1];
    const count = Math.ceil(Math.hypot(r1 - r0, z1 - z0) / step);
    const all = Array.from({ length: count + 1 }, (_, i) => [
      r0 + ((r1 - r0) * i) / count,
      z0 + ((z1 - z0) * i) / count,
    ]);
    return all.slice(k === 0 ? 0 : 1);
  });
  const positions: number[] = [];
  for (const wall of [0, WALL])
    for (const [r = 0, z = 0] of rings)
      for (let j = 0; j < facets; j++) {
        const angle = (2 * Math.PI * j) / facets;
        const radius = r - wall;
        positions.push(
          COLLECTOR[0] + radius * Math.cos(angle),
          COLLECTOR[1] + radius * Math.sin(angle),
          COLLECTOR[2] + z,
        );
      }
  return skin(positions, rings.length, facets);
}

/** All seven parts. */
export const headerParts = (edit?: Edit): readonly TriangleMesh[] => [
  ...Array.from({ length: 6 }, (_, i) => primary(i, edit)),
  collector(),
];
