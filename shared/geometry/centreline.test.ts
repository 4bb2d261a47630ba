import { describe, expect, it } from 'vitest';
import type { Centreline, CentrelineNode } from './centreline.ts';
import { buildCentreline, piecesBetween, pointAt, sample, tangentAt } from './centreline.ts';
import { footOnCentreline } from './distance.ts';
import { inventedRunner } from './invent.ts';
import { pointOnPiece, tangentOnPiece } from './piece.ts';
import { seededRandom } from './random.ts';
import { add, distance, dot, norm, scale, subtract } from './vector.ts';

const node = (x: number, y: number, z: number, radius = 0): CentrelineNode => ({ x, y, z, radius });

function built(nodes: readonly CentrelineNode[]): Centreline {
  const line = buildCentreline(nodes);
  if (!line.ok) throw new Error(`expected a centreline, got ${JSON.stringify(line)}`);
  return line;
}

describe('length against closed forms', () => {
  it('is the distance for a straight', () => {
    expect(built([node(0, 0, 0), node(0.3, 0.4, 0)]).length).toBeCloseTo(0.5, 15);
  });

  it.each([10, 45, 90, 150, 179])('is legs less two setbacks plus the arc for one bend of %d degrees', (degrees) => {
    const [angle, radius, leg] = [(degrees * Math.PI) / 180, 0.002, 0.5];
    const line = built([
      node(0, 0, 0),
      node(leg, 0, 0, radius),
      node(leg + leg * Math.cos(angle), leg * Math.sin(angle), 0),
    ]);
    const expected = 2 * leg - 2 * radius * Math.tan(angle / 2) + radius * angle;
    expect(Math.abs(line.length / expected - 1)).toBeLessThan(1e-9);
    expect(line.bends).toHaveLength(1);
    expect(line.bends[0]?.angle).toBeCloseTo(angle, 12);
    expect(line.endTangent[0]).toBeCloseTo(Math.cos(angle), 12);
  });

  it.each([1e-3, 1, 1e3])('scales with the part (factor %d)', (k) => {
    const nodes = inventedRunner(seededRandom(3), 4);
    const scaled = nodes.map((n) => node(n.x * k, n.y * k, n.z * k, n.radius * k));
    expect(built(scaled).length / k / built(nodes).length).toBeCloseTo(1, 12);
  });
});

describe('shape, over 200 seeded runners', () => {
  const random = seededRandom(20251125);
  const lines = Array.from({ length: 200 }, (_, i) => built(inventedRunner(random, i % 7)));

  it('has no step and no kink between pieces', () => {
    for (const line of lines) {
      for (const [i, piece] of line.pieces.entries()) {
        const next = line.pieces[i + 1];
        if (!next) continue;
        expect(distance(pointOnPiece(piece, piece.length), pointOnPiece(next, 0))).toBeLessThan(1e-12);
        expect(distance(tangentOnPiece(piece, piece.length), tangentOnPiece(next, 0))).toBeLessThan(1e-9);
        expect(piece.s0 + piece.length).toBeCloseTo(next.s0, 12);
      }
    }
  });

  it('starts and ends at the end nodes and has unit tangents', () => {
    const nodes = inventedRunner(seededRandom(9), 5);
    const line = built(nodes);
    const [first, last] = [nodes[0], nodes.at(-1)];
    expect(distance(pointAt(line, 0), [first?.x ?? 9, first?.y ?? 9, first?.z ?? 9])).toBeLessThan(1e-15);
    expect(distance(pointAt(line, line.length), [last?.x ?? 9, last?.y ?? 9, last?.z ?? 9])).toBeLessThan(1e-12);
    for (let i = 0; i <= 50; i++) expect(norm(tangentAt(line, (line.length * i) / 50))).toBeCloseTo(1, 12);
  });

  it('moves along the tangent at unit speed', () => {
    for (const line of lines.slice(0, 50)) {
      const [s, h] = [line.length * 0.37, 1e-6];
      const way = scale(subtract(pointAt(line, s + h), pointAt(line, s - h)), 1 / (2 * h));
      expect(dot(way, tangentAt(line, s))).toBeCloseTo(1, 5);
    }
  });

  it('samples within the chord error asked for, and not much finer', () => {
    for (const line of lines.slice(0, 40)) {
      const stations = sample(line, 1e-4);
      let worst = 0;
      for (const [i, station] of stations.entries()) {
        const next = stations[i + 1];
        if (!next) continue;
        const middle = scale(add(station.point, next.point), 0.5);
        worst = Math.max(worst, footOnCentreline(line, middle)?.distance ?? 9);
      }
      expect(worst).toBeLessThanOrEqual(1e-4 * (1 + 1e-9));
      if (line.bends.length > 0) expect(worst).toBeGreaterThan(1e-5);
      expect(stations.at(-1)?.s).toBeCloseTo(line.length, 12);
    }
  });

  it('cuts pieces that keep their place along the whole', () => {
    for (const line of lines.slice(0, 60)) {
      const [from, to] = [line.length * 0.21, line.length * 0.83];
      const cut = piecesBetween(line, from, to);
      expect(cut.reduce((sum, p) => sum + p.length, 0)).toBeCloseTo(to - from, 12);
      for (const piece of cut) {
        expect(
          distance(pointOnPiece(piece, piece.length / 3), pointAt(line, piece.s0 + piece.length / 3)),
        ).toBeLessThan(1e-12);
      }
    }
  });
});

describe('a node on the straight is no bend', () => {
  it('joins the two straights into one and asks for no radius', () => {
    const line = built([node(0, 0, 0), node(0.1, 0.1, 0.1, 0), node(0.3, 0.3, 0.3)]);
    expect(line.bends).toEqual([]);
    expect(line.pieces).toHaveLength(1);
    expect(line.length).toBeCloseTo(0.3 * Math.sqrt(3), 15);
  });
});

describe('bad node tables come back as problems', () => {
  const corner = [node(0, 0, 0), node(0.1, 0, 0, 0.05), node(0.1, 0.1, 0)] as const;
  it.each([
    ['no rows', [], { code: 'too-few-nodes', count: 0 }],
    ['one row', [node(1, 2, 3)], { code: 'too-few-nodes', count: 1 }],
    ['NaN', [node(0, 0, 0), node(0, Number.NaN, 1)], { code: 'not-finite', node: 1 }],
    [
      'infinite radius',
      [corner[0], node(0.1, 0, 0, Number.POSITIVE_INFINITY), corner[2]],
      { code: 'not-finite', node: 1 },
    ],
    [
      'same place twice',
      [node(0, 0, 0), node(0.1, 0, 0, 0.01), node(0.1, 0, 0, 0.01), node(0.1, 0.1, 0)],
      { code: 'coincident', node: 2 },
    ],
    ['radius zero', [corner[0], node(0.1, 0, 0, 0), corner[2]], { code: 'no-radius', node: 1, radius: 0 }],
    ['radius negative', [corner[0], node(0.1, 0, 0, -0.05), corner[2]], { code: 'no-radius', node: 1, radius: -0.05 }],
    ['straight back', [node(0, 0, 0), node(0.1, 0, 0, 0.05), node(0.02, 0, 0)], { code: 'reversal', node: 1 }],
  ])('%s', (_, nodes, expected) => {
    expect(buildCentreline(nodes)).toMatchObject({ ok: false, ...expected });
  });

  it('says how much straight a bend needs and how much there is', () => {
    const alone = buildCentreline([node(0, 0, 0), node(0.1, 0, 0, 0.12), node(0.1, 0.3, 0)]);
    expect(alone).toMatchObject({ ok: false, code: 'bend-does-not-fit', node: 1 });
    if (alone.ok || alone.code !== 'bend-does-not-fit') throw new Error('wrong problem');
    expect(alone.setback).toBeCloseTo(0.12, 12);
    expect(alone.available).toBeCloseTo(0.1, 12);
    const shared = buildCentreline([node(0, 0, 0), node(0.2, 0, 0, 0.04), node(0.2, 0.1, 0, 0.07), node(0.4, 0.1, 0)]);
    if (shared.ok || shared.code !== 'bend-does-not-fit') throw new Error('wrong problem');
    expect(shared.node).toBe(2);
    expect(shared.setback).toBeCloseTo(0.07, 12);
    expect(shared.available).toBeCloseTo(0.06, 12);
  });

  it('accepts bends that share a straight exactly', () => {
    const line = built([node(0, 0, 0), node(0.2, 0, 0, 0.05), node(0.2, 0.1, 0, 0.05), node(0.4, 0.1, 0)]);
    expect(line.pieces.map((p) => p.kind)).toEqual(['line', 'arc', 'arc', 'line']);
  });
});
