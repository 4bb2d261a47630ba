import { describe, expect, it } from 'vitest';
import { seededRandom } from '../random.ts';
import { ballMesh, unwelded } from './shapes.fixture.ts';
import { VertexJoiner, weldVertices } from './weld.ts';

describe('points joined as they come', () => {
  it.each([1, 15, 16, 17, 64, 1024])('keep every place as the store of %i grows', (expected) => {
    const random = seededRandom(71);
    const points = Float64Array.from({ length: 3 * 3000 }, random);
    const joiner = new VertexJoiner(expected);
    for (let i = 0; i < points.length; i += 3) {
      expect(joiner.add(points[i] ?? 0, points[i + 1] ?? 0, points[i + 2] ?? 0)).toBe(i / 3);
    }
    expect(joiner.joined()).toEqual(points);
    for (let i = 0; i < points.length; i += 3) {
      expect(joiner.add(points[i] ?? 0, points[i + 1] ?? 0, points[i + 2] ?? 0)).toBe(i / 3);
    }
    expect(joiner.size).toBe(3000);
  });

  it.each([2, 3, 4, 5])('give a ball halved %i times back, corner by corner', (times) => {
    const ball = ballMesh(0.05, times);
    const { mesh, joined } = weldVertices(unwelded(ball));
    expect(mesh.positions.length).toBe(ball.positions.length);
    expect(joined).toBe(ball.indices.length - ball.positions.length / 3);
    const corner = (of: typeof ball, i: number) => Array.from(of.positions.subarray(3 * i, 3 * i + 3));
    for (const [i, vertex] of ball.indices.entries())
      expect(corner(mesh, mesh.indices[i] ?? 0)).toEqual(corner(ball, vertex));
  });
});
