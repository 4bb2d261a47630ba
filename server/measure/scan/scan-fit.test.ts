import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { buildPointGrid, type PointGrid } from '../../../shared/geometry/cloud.ts';
import { bendMesh, boxMesh, moved } from '../../../shared/geometry/mesh/shapes.fixture.ts';
import { sampleSurface } from '../../../shared/geometry/mesh/surfaceSamples.ts';
import { joinMeshes } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { triangleTree } from '../../../shared/geometry/mesh/triangleTree.ts';
import { type Motion, movedBy, undoing } from '../../../shared/geometry/motion.ts';
import { gaussian, seededRandom } from '../../../shared/geometry/random.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import { readScan } from '../readers/scan.ts';
import { writeMovedScan } from './move-scan.ts';
import { scanFitOf } from './scan-fit.ts';

/** A block, a pipe and a shelf of an engine bay. */
const bay = triangleTree(
  joinMeshes([
    moved(boxMesh([0.3, 0.2, 0.15]), [-0.15, -0.25, -0.05]),
    bendMesh({ bend: 0.08, outer: 0.03, inner: 0.001 }, 1.4, { along: 40, facets: 48 }),
    moved(boxMesh([0.1, 0.02, 0.3]), [0.2, 0.1, -0.1]),
  ]),
);

interface Look {
  readonly seed: number;
  /** One sigma, metres. */
  readonly noise?: number;
  /** What it sees. */
  readonly sees?: (p: Vec3) => boolean;
  readonly motion?: Motion;
  readonly origin?: Vec3;
  readonly spacing?: number;
}

/** What a scanner sees of the bay, where a motion has it. */
function scan({ seed, noise = 1e-4, sees = () => true, motion, origin = [0, 0, 0], spacing = 0.003 }: Look): PointGrid {
  const random = seededRandom(seed);
  const { places, normals, count } = sampleSurface(bay, spacing);
  const points: number[] = [];
  for (let i = 0; i < count; i++) {
    // Every scan has points of its own.
    const off = noise * gaussian(random);
    if (random() < 0.4) continue;
    const p: Vec3 = [0, 1, 2].map((k) => (places[3 * i + k] ?? 0) + off * (normals[3 * i + k] ?? 0)) as unknown as Vec3;
    if (!sees(p)) continue;
    const [x, y, z] = motion ? movedBy(motion, p) : p;
    points.push(x - origin[0], y - origin[1], z - origin[2]);
  }
  return buildPointGrid(Float32Array.from(points), origin);
}

/** Turned by so many radians about a slanted axis, and shifted. */
function off(angle: number, shift: Vec3): Motion {
  const [x, y, z] = [2 / 3, 1 / 3, 2 / 3];
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const t = 1 - c;
  return {
    rotation: [
      [c + x * x * t, x * y * t - z * s, x * z * t + y * s],
      [y * x * t + z * s, c + y * y * t, y * z * t - x * s],
      [z * x * t - y * s, z * y * t + x * s, c + z * z * t],
    ],
    translation: shift,
  };
}

function laid(...asked: Parameters<typeof scanFitOf>) {
  const made = scanFitOf(...asked);
  if (!made.ok) throw new Error(made.problem.message);
  return made.result;
}

/** Farthest that what was fitted still lies from where it belongs, over the corners of the bay. */
function error(found: Motion, was: Motion): number {
  const corners = [-0.2, 0.3].flatMap((x) => [-0.3, 0.2].flatMap((y) => [-0.1, 0.2].map((z): Vec3 => [x, y, z])));
  return Math.max(
    ...corners.map((p) => {
      const back = movedBy(found, movedBy(was, p));
      return Math.hypot(back[0] - p[0], back[1] - p[1], back[2] - p[2]);
    }),
  );
}

describe('a scan laid on another', () => {
  const small = off(0.008, [0.003, -0.002, 0.004]);

  it('comes back to where it was, to a small part of the noise, and says what was left before and after', () => {
    const found = laid(scan({ seed: 1, motion: small }), scan({ seed: 2 }));
    expect(found.settled).toBe(true);
    expect(error(found.motion, small)).toBeLessThan(3e-5);
    // Both have 0.1 mm: together 0.14; the plane through neighbours smooths one of them.
    expect(found.after.rms).toBeGreaterThan(0.8e-4);
    expect(found.after.rms).toBeLessThan(1.6e-4);
    expect(found.before.rms).toBeGreaterThan(5 * found.after.rms);
    expect(found.before.size95).toBeGreaterThan(found.before.rms);
    expect(found.overlap).toBeGreaterThan(0.7);
    expect(found.shift).toBeGreaterThan(0.004);
    expect(found.shift).toBeLessThan(0.012);
  });

  it('where they overlap in a part only, and something has been moved in between', () => {
    const hose = (p: Vec3): boolean => p[0] > 0.19 && p[2] > 0.05;
    const first = scan({ seed: 3, motion: small, sees: (p) => p[0] > -0.05 && !hose(p) });
    // In the second the end of the shelf stands 6 mm off.
    const still = scan({ seed: 4, sees: (p) => p[0] < 0.15 });
    const bent = scan({ seed: 5, sees: hose, motion: off(0, [0, 0.006, 0]) });
    const both = Float32Array.from([...still.positions, ...bent.positions]);
    const found = laid(first, buildPointGrid(both, [0, 0, 0]));
    expect(found.settled).toBe(true);
    // At the far corners, which they have not in common.
    expect(error(found.motion, small)).toBeLessThan(2e-4);
    expect(found.overlap).toBeGreaterThan(0.2);
    expect(found.overlap).toBeLessThan(0.8);
  });

  it('wherever the zeros of both lie', () => {
    const far: Vec3 = [12.5, -3.25, 8];
    const found = laid(scan({ seed: 6, motion: small, origin: [-1, 2, 0.5] }), scan({ seed: 7, origin: far }));
    expect(error(found.motion, small)).toBeLessThan(5e-5);
  });

  it('that lies on it already stays', () => {
    const found = laid(scan({ seed: 8 }), scan({ seed: 9 }));
    expect(found.shift).toBeLessThan(3e-5);
    expect(found.after.rms / found.before.rms).toBeCloseTo(1, 2);
  });

  it.each<[string, PointGrid, PointGrid, string]>([
    ['nothing in it', buildPointGrid(new Float32Array(), [0, 0, 0]), scan({ seed: 10 }), 'empty'],
    ['too far off', scan({ seed: 11, motion: off(0, [0.5, 0, 0]) }), scan({ seed: 12 }), 'no-overlap'],
    [
      'only one plane in common',
      scan({ seed: 13, sees: (p) => p[1] < -0.2499, noise: 1e-5 }),
      scan({ seed: 14, sees: (p) => p[1] < -0.2499, noise: 1e-5 }),
      'not-held',
    ],
  ])('cannot be with %s', (_, first, second, code) => {
    expect(scanFitOf(first, second)).toMatchObject({
      ok: false,
      problem: { code, message: expect.stringMatching(/^Expected /) },
    });
  });
});

it('a moved copy reads back as the scan where the motion puts it', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'slipjoint-moved-'));
  try {
    const grid = scan({ seed: 15, origin: [1, 2, 3] });
    const motion = off(0.4, [0.25, -0.5, 1]);
    const file = join(folder, 'moved.ply');
    writeMovedScan(file, grid, motion);
    const read = await readScan(file, { unitFactor: 0.001 });
    if (!read.ok) throw new Error(read.problem.message);
    const { points, origin } = read.scan;
    expect(points.length).toBe(grid.positions.length);
    let worst = 0;
    const back = undoing(motion);
    for (let o = 0; o < points.length; o += 3) {
      const at = (k: number): number => (points[o + k] ?? 0) + (origin[k] ?? 0);
      const was = movedBy(back, [at(0), at(1), at(2)]);
      for (let k = 0; k < 3; k++)
        worst = Math.max(worst, Math.abs((was[k] ?? 0) - (grid.positions[o + k] ?? 0) - (grid.origin[k] ?? 0)));
    }
    // Singles again about the middle of the scan: a tenth of a micrometre.
    expect(worst).toBeLessThan(1e-7);
  } finally {
    rmSync(folder, { recursive: true });
  }
});
