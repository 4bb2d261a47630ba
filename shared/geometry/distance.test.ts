import { describe, expect, it } from 'vitest';
import type { Centreline } from './centreline.ts';
import { buildCentreline, pointAt } from './centreline.ts';
import { footOnCentreline, footOnPiece, TUBE_DISTANCE_TOLERANCE, tubeToTube } from './distance.ts';
import { inventedRunner } from './invent.ts';
import type { Random } from './random.ts';
import { seededRandom } from './random.ts';
import type { Vec3 } from './vector.ts';
import { distance } from './vector.ts';

function runner(random: Random, bends: number, start: Vec3 = [0, 0, 0]): Centreline {
  const line = buildCentreline(inventedRunner(random, bends, start));
  if (!line.ok) throw new Error('the generator made a bad runner');
  return line;
}

const somewhere = (random: Random): Vec3 => [random() - 0.5, random() - 0.5, random() - 0.2];

/** Smallest of f over from..to by dense steps and golden-section refinement about the best: slow, and shares nothing with the code tested. */
function bruteMinimum(f: (s: number) => number, from: number, to: number, steps: number): number {
  const h = (to - from) / steps;
  let best = 0;
  for (let i = 1; i <= steps; i++) if (f(from + i * h) < f(from + best * h)) best = i;
  let [a, b] = [Math.max(from, from + (best - 1) * h), Math.min(to, from + (best + 1) * h)];
  const golden = (Math.sqrt(5) - 1) / 2;
  for (let i = 0; i < 60; i++) {
    const [c, d] = [b - golden * (b - a), a + golden * (b - a)];
    if (f(c) < f(d)) b = d;
    else a = c;
  }
  return Math.min(f((a + b) / 2), f(from), f(to));
}

describe('point to centreline', () => {
  it('agrees with brute force (seed 41, 300 points)', () => {
    const random = seededRandom(41);
    for (let i = 0; i < 300; i++) {
      const [line, p] = [runner(random, i % 6), somewhere(random)];
      const foot = footOnCentreline(line, p);
      if (!foot) throw new Error('no foot');
      const brute = bruteMinimum((s) => distance(p, pointAt(line, s)), 0, line.length, 400);
      expect(Math.abs(foot.distance - brute)).toBeLessThan(1e-9);
      expect(distance(foot.point, pointAt(line, foot.s))).toBeLessThan(1e-12);
      expect(distance(p, foot.point)).toBeCloseTo(foot.distance, 14);
    }
  });

  it('sends a point behind an arc to the nearer end, and a point on its axis to its start', () => {
    const line = buildCentreline([
      { x: 0, y: 0, z: 0, radius: 0 },
      { x: 0.1, y: 0, z: 0, radius: 0.1 },
      { x: 0.1, y: 0.1, z: 0, radius: 0 },
    ]);
    const arc = line.ok ? line.pieces[0] : undefined;
    if (arc?.kind !== 'arc') throw new Error('expected a quarter circle about (0, 0.1)');
    expect(footOnPiece(arc, [-1, 0.2, 0]).s).toBe(0);
    expect(footOnPiece(arc, [-1, 5, 0]).s).toBeCloseTo(arc.length, 14);
    const axis = footOnPiece(arc, [0, 0.1, 0.05]);
    expect(axis.distance).toBeCloseTo(Math.hypot(0.1, 0.05), 14);
  });
});

describe('tube to tube', () => {
  it('agrees with brute force on seeded pairs, witnesses included (seed 42, 60 pairs)', () => {
    const random = seededRandom(42);
    for (let i = 0; i < 60; i++) {
      const [a, b] = [runner(random, i % 6), runner(random, (i * 3) % 7, somewhere(random))];
      const found = tubeToTube(a, b);
      if (!found) throw new Error('no distance');
      const brute = bruteMinimum((s) => footOnCentreline(b, pointAt(a, s))?.distance ?? 9, 0, a.length, 600);
      expect(found.distance).toBeLessThan(brute + TUBE_DISTANCE_TOLERANCE);
      expect(found.distance).toBeGreaterThan(brute - 1e-7);
      expect(distance(found.pointA, found.pointB)).toBeCloseTo(found.distance, 14);
      expect(distance(found.pointA, pointAt(a, found.sA))).toBeLessThan(1e-12);
      expect(distance(found.pointB, pointAt(b, found.sB))).toBeLessThan(1e-12);
    }
  });

  it('is the same either way round, within the tolerance (seed 43)', () => {
    const random = seededRandom(43);
    for (let i = 0; i < 40; i++) {
      const [a, b] = [runner(random, 4), runner(random, 5, somewhere(random))];
      const [there, back] = [tubeToTube(a, b)?.distance ?? 0, tubeToTube(b, a)?.distance ?? 9];
      expect(Math.abs(there - back)).toBeLessThanOrEqual(TUBE_DISTANCE_TOLERANCE);
    }
  });

  it('is exact between straights: crossing, skew, parallel, end to end', () => {
    const bar = (from: Vec3, to: Vec3): Centreline => {
      const line = buildCentreline([from, to].map(([x, y, z]) => ({ x, y, z, radius: 0 })));
      if (!line.ok) throw new Error('a straight must build');
      return line;
    };
    const a = bar([0, 0, 0], [1, 0, 0]);
    expect(tubeToTube(a, bar([0.5, -1, 0.25], [0.5, 1, 0.25]))?.distance).toBe(0.25);
    expect(tubeToTube(a, bar([0.5, -1, 0], [0.5, 1, 0]))?.distance).toBe(0);
    expect(tubeToTube(a, bar([0.2, 0.3, 0.4], [0.8, 0.3, 0.4]))?.distance).toBeCloseTo(0.5, 15);
    expect(tubeToTube(a, bar([2, 3, 0], [2, 9, 0]))?.distance).toBeCloseTo(Math.hypot(1, 3), 15);
    expect(tubeToTube(a, bar([-5, 1, 0], [5, 1 + 1e-8, 0]))?.distance).toBeCloseTo(1, 7);
  });

  it('finishes on tubes that are equally far apart all along', () => {
    const random = seededRandom(44);
    const nodes = inventedRunner(random, 4);
    const [a, b] = [buildCentreline(nodes), buildCentreline(nodes.map((n) => ({ ...n, z: n.z + 0.05 })))];
    if (!a.ok || !b.ok) throw new Error('the generator made a bad runner');
    const brute = bruteMinimum((s) => footOnCentreline(b, pointAt(a, s))?.distance ?? 9, 0, a.length, 4000);
    expect(Math.abs((tubeToTube(a, b)?.distance ?? 9) - brute)).toBeLessThan(2e-6);
  });

  it('looks only between the limits and gives nothing when they leave nothing', () => {
    const random = seededRandom(45);
    const [a, b] = [runner(random, 4), runner(random, 4, [0.02, 0.01, 0])];
    const whole = tubeToTube(a, b)?.distance ?? 9;
    const cut = tubeToTube(a, b, { a: { fromS: 0.1 }, b: { fromS: 0.1, toS: 0.3 } });
    if (!cut) throw new Error('no distance');
    expect(cut.distance).toBeGreaterThanOrEqual(whole - 1e-6);
    expect(cut.sA).toBeGreaterThanOrEqual(0.1);
    expect(cut.sB).toBeGreaterThanOrEqual(0.1);
    expect(cut.sB).toBeLessThanOrEqual(0.3 + 1e-12);
    expect(tubeToTube(a, b, { a: { fromS: 99 } })).toBeUndefined();
  });
});
