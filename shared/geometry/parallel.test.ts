import { describe, expect, it } from 'vitest';
import type { Centreline, CentrelineNode } from './centreline.ts';
import { buildCentreline, pointAt } from './centreline.ts';
import { footOnCentreline, tubeToTube } from './distance.ts';
import { onPiece, parallelCandidates } from './parallel.ts';
import { seededRandom } from './random.ts';

function built(nodes: readonly CentrelineNode[]): Centreline {
  const line = buildCentreline(nodes);
  if (!line.ok) throw new Error(`expected a centreline, got ${line.code}`);
  return line;
}

/** A run of straights and bends in the plane at height z. */
function flat(random: () => number, z: number): Centreline {
  const nodes: CentrelineNode[] = [];
  let [x, y, heading] = [random() * 0.3, random() * 0.3, random() * 6];
  for (let i = 0; i < 5; i++) {
    nodes.push({ x, y, z, radius: 0.02 + 0.03 * random() });
    x += 0.12 * Math.cos(heading);
    y += 0.12 * Math.sin(heading);
    heading += (random() - 0.5) * 2.4;
  }
  return built(nodes);
}

/** One arc and nothing else at height z: the legs of its corner are all setback. */
function bareArc(random: () => number, z: number): Centreline {
  const [x, y, heading] = [random() * 0.2, random() * 0.2, random() * 7];
  const [turn, radius] = [0.3 + 2.4 * random(), 0.02 + 0.15 * random()];
  const leg = radius * Math.tan(turn / 2);
  return built([
    { x: x - leg * Math.cos(heading), y: y - leg * Math.sin(heading), z, radius: 0 },
    { x, y, z, radius },
    { x: x + leg * Math.cos(heading + turn), y: y + leg * Math.sin(heading + turn), z, radius: 0 },
  ]);
}

/** Distance by steps along one and exact feet on the other, then finer steps about the best. */
function brute(a: Centreline, b: Centreline): number {
  const f = (s: number) => footOnCentreline(b, pointAt(a, s))?.distance ?? 9;
  let [best, step] = [0, a.length / 2000];
  for (let i = 0; i <= 2000; i++) if (f(i * step) < f(best)) best = i * step;
  for (let round = 0; round < 8; round++) {
    const centre = best;
    for (let k = -10; k <= 10; k++) {
      const s = Math.min(Math.max(centre + (k * step) / 10, 0), a.length);
      if (f(s) < f(best)) best = s;
    }
    step /= 8;
  }
  return f(best);
}

describe('pieces about parallel axes', () => {
  it('agree with brute force in parallel planes and in one plane (seed 47, 80 pairs)', () => {
    const random = seededRandom(47);
    let crossings = 0;
    for (let i = 0; i < 80; i++) {
      const [a, b] = [flat(random, 0), flat(random, i % 2 ? 0 : 0.01 * random())];
      const [found, slow] = [tubeToTube(a, b)?.distance ?? 9, brute(a, b)];
      if (slow < 1e-4) crossings++;
      expect(Math.abs(found - slow)).toBeLessThan(2e-6);
    }
    expect(crossings).toBeGreaterThan(5);
  });

  it('agree with brute force for bare arcs of all sizes, one within the other too (seed 49, 200 pairs)', () => {
    const random = seededRandom(49);
    for (let i = 0; i < 200; i++) {
      const [a, b] = [bareArc(random, 0), bareArc(random, i % 3 ? 0.02 * random() : 0)];
      expect(Math.abs((tubeToTube(a, b)?.distance ?? 9) - brute(a, b))).toBeLessThan(2e-6);
    }
  });

  it('find the nearest place of an arc within a larger one, where it bulges most towards it', () => {
    // Middle of the bend due south of its centre: the corner lies radius / cos(turn / 2) south of it.
    const bowl = (radius: number, centreY: number): Centreline => {
      const [half, y] = [0.6, centreY - radius / Math.cos(0.6)];
      const leg = radius * Math.tan(half);
      return built([
        { x: -leg * Math.cos(half), y: y + leg * Math.sin(half), z: 0, radius: 0 },
        { x: 0, y, z: 0, radius },
        { x: leg * Math.cos(half), y: y + leg * Math.sin(half), z: 0, radius: 0 },
      ]);
    };
    const [small, large] = [bowl(0.05, 0), bowl(0.15, 0.01)];
    expect(tubeToTube(small, large)?.distance).toBeCloseTo(0.09, 12);
    expect(tubeToTube(large, small)?.distance).toBeCloseTo(0.09, 12);
    expect(tubeToTube(small, large)?.sA).toBeCloseTo(small.length / 2, 9);
  });

  it('agree with brute force for an arc and a straight along its axis, either way round (seed 50, 60 pairs)', () => {
    const random = seededRandom(50);
    for (let i = 0; i < 60; i++) {
      const arc = bareArc(random, 0);
      const [x, y, z] = [0.3 * random(), 0.3 * random(), 0.2 * random() - 0.1];
      const bar = built([
        { x, y, z, radius: 0 },
        { x, y, z: z + 0.1, radius: 0 },
      ]);
      const slow = brute(arc, bar);
      expect(Math.abs((tubeToTube(arc, bar)?.distance ?? 9) - slow)).toBeLessThan(2e-6);
      expect(Math.abs((tubeToTube(bar, arc)?.distance ?? 9) - slow)).toBeLessThan(2e-6);
    }
  });

  it('find a straight on the axis of an arc equally far from all of it', () => {
    const arc = built([
      { x: 0, y: 0, z: 0, radius: 0 },
      { x: 0.1, y: 0, z: 0, radius: 0.1 },
      { x: 0.1, y: 0.1, z: 0, radius: 0 },
    ]);
    const axis = built([
      { x: 0, y: 0.1, z: -0.3, radius: 0 },
      { x: 0, y: 0.1, z: 0.2, radius: 0 },
    ]);
    expect(tubeToTube(arc, axis)?.distance).toBeCloseTo(0.1, 14);
    expect(tubeToTube(axis, arc)?.distance).toBeCloseTo(0.1, 14);
    expect(tubeToTube(axis, arc, { a: { toS: 0.2 } })?.distance).toBeCloseTo(Math.hypot(0.1, 0.1), 14);
  });

  it('settle equally distant runners with a few dozen candidates, so without halving', () => {
    const [a, b] = [flat(seededRandom(48), 0), flat(seededRandom(48), 0.05)];
    expect(tubeToTube(a, b)?.distance).toBeCloseTo(0.05, 14);
    const arcs = (line: Centreline) => line.pieces.filter((p) => p.kind === 'arc');
    const counts = arcs(a).flatMap((p) => arcs(b).map((q) => parallelCandidates(p, q)?.length ?? 99));
    expect(counts.length).toBeGreaterThan(3);
    expect(Math.max(...counts)).toBeLessThanOrEqual(6);
  });

  it('bring distances onto the arc by whole turns only', () => {
    const [arc] = built([
      { x: 0, y: 0, z: 0, radius: 0 },
      { x: 0.1, y: 0, z: 0, radius: 0.1 },
      { x: 0.1, y: 0.1, z: 0, radius: 0 },
    ]).pieces;
    if (arc?.kind !== 'arc') throw new Error('expected a quarter circle');
    const turn = 2 * Math.PI * 0.1;
    expect(onPiece(arc, 0.03 - turn)).toBeCloseTo(0.03, 14);
    expect(onPiece(arc, 0.03 + turn)).toBeCloseTo(0.03, 14);
    expect(onPiece(arc, 0.3)).toBeUndefined();
  });
});
