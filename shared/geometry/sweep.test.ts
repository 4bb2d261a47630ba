import { describe, expect, it } from 'vitest';
import type { Centreline } from './centreline.ts';
import { buildCentreline, sample } from './centreline.ts';
import { footOnCentreline } from './distance.ts';
import { inventedRunner } from './invent.ts';
import { seededRandom } from './random.ts';
import type { SweptMesh } from './sweep.ts';
import { meshVolume, minimalTwistFrames, sweepTube } from './sweep.ts';
import { surfaceArea, sweptVolume, wallVolume } from './tube.ts';
import type { Vec3 } from './vector.ts';
import { cross, dot, perpendicular, rotate, subtract } from './vector.ts';

function runner(seed: number, bends: number): Centreline {
  const line = buildCentreline(inventedRunner(seededRandom(seed), bends));
  if (!line.ok) throw new Error('the generator made a bad runner');
  return line;
}

const straight = (): Centreline => {
  const line = buildCentreline([
    { x: 0.1, y: 0.2, z: 0.3, radius: 0 },
    { x: 0.4, y: 0.6, z: 0.3, radius: 0 },
  ]);
  if (!line.ok) throw new Error('a straight must build');
  return line;
};

function meshArea({ positions: p, indices }: SweptMesh): number {
  let sum = 0;
  for (let i = 0; i < indices.length; i += 3) {
    const corner = (k: number): Vec3 => {
      const at = 3 * (indices[i + k] ?? 0);
      return [p[at] ?? 0, p[at + 1] ?? 0, p[at + 2] ?? 0];
    };
    sum += Math.hypot(...cross(subtract(corner(1), corner(0)), subtract(corner(2), corner(0)))) / 2;
  }
  return sum;
}

describe('tube formulas against meshes (theorems of Pappus)', () => {
  it.each([1, 2, 3, 4])('a fine closed mesh of runner %d has the swept volume and the surface area', (seed) => {
    const line = runner(seed, 4);
    const radius = 0.4 * Math.min(...line.bends.map((b) => b.radius));
    const mesh = sweepTube(line, { radius, maxChordError: 2e-7, facets: 256, caps: true });
    expect(Math.abs(meshVolume(mesh) / sweptVolume(radius, line.length) - 1)).toBeLessThan(2e-4);
    const open = sweepTube(line, { radius, maxChordError: 2e-7, facets: 256 });
    expect(Math.abs(meshArea(open) / surfaceArea(radius, line.length) - 1)).toBeLessThan(2e-4);
  });

  it('wall metal is outside less bore', () => {
    expect(wallVolume(0.0222, 0.0014, 0.8)).toBeCloseTo(sweptVolume(0.0222, 0.8) - sweptVolume(0.0208, 0.8), 17);
  });
});

describe('mesh volume converges as an inscribed polygon', () => {
  it.each([16, 32, 64, 128, 256])('misses a straight tube by (2 pi / %d)^2 / 6', (facets) => {
    const line = straight();
    const exact = sweptVolume(0.02, line.length);
    const missing = 1 - meshVolume(sweepTube(line, { radius: 0.02, maxChordError: 1e-4, facets, caps: true })) / exact;
    const expected = ((2 * Math.PI) / facets) ** 2 / 6;
    expect(Math.abs(missing / expected - 1)).toBeLessThan(0.02);
  });

  it('keeps every vertex on the tube and every chord within the error asked for', () => {
    const line = runner(7, 5);
    const mesh = sweepTube(line, { radius: 0.019, maxChordError: 5e-5 });
    for (let i = 0; i < mesh.positions.length; i += 3) {
      const [x = 0, y = 0, z = 0] = mesh.positions.subarray(i, i + 3);
      expect(Math.abs((footOnCentreline(line, [x, y, z])?.distance ?? 0) - 0.019)).toBeLessThan(1e-7);
    }
    expect(0.019 * (1 - Math.cos(Math.PI / mesh.facets))).toBeLessThanOrEqual(5e-5);
  });

  it('is closed: every edge is used once each way by wall and caps together', () => {
    const mesh = sweepTube(runner(8, 3), { radius: 0.015, maxChordError: 1e-4, caps: true });
    const name = (v: number) => Array.from(mesh.positions.subarray(3 * v, 3 * v + 3)).join(' ');
    const open = new Map<string, number>();
    for (let i = 0; i < mesh.indices.length; i++) {
      const next = i % 3 === 2 ? i - 2 : i + 1;
      const [a, b] = [name(mesh.indices[i] ?? 0), name(mesh.indices[next] ?? 0)];
      const [key, way] = a < b ? [`${a}|${b}`, 1] : [`${b}|${a}`, -1];
      open.set(key, (open.get(key) ?? 0) + way);
    }
    expect([...open.values()].filter((n) => n !== 0)).toEqual([]);
  });
});

describe('no twist', () => {
  it.each([11, 12, 13, 14, 15])('carries the frame of runner %d as the exact turns about the bend axes do', (seed) => {
    const line = runner(seed, 5);
    let expected = perpendicular(line.startTangent);
    for (const piece of line.pieces) {
      if (piece.kind === 'arc') expected = rotate(expected, cross(piece.u, piece.v), piece.angle);
    }
    for (const chord of [1e-3, 1e-5]) {
      const last = minimalTwistFrames(sample(line, chord)).at(-1);
      if (!last) throw new Error('no frames');
      const twist = Math.atan2(dot(cross(expected, last.normal), line.endTangent), dot(expected, last.normal));
      expect(Math.abs(twist)).toBeLessThan(1e-9);
      expect(Math.abs(dot(last.normal, last.station.tangent))).toBeLessThan(1e-12);
    }
  });
});
