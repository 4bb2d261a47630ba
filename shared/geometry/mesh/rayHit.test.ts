import { describe, expect, it } from 'vitest';
import { seededRandom } from '../random.ts';
import type { Vec3 } from '../vector.ts';
import { unit } from '../vector.ts';
import { RayCaster } from './rayHit.ts';
import { ballMesh, bendMesh } from './shapes.fixture.ts';
import { triangleTree } from './triangleTree.ts';

describe('a ray that may go on for ever', () => {
  const bend = new RayCaster(
    triangleTree(bendMesh({ bend: 0.08, outer: 0.02, inner: 0.018 }, 2, { along: 40, facets: 30 })),
  );
  const random = seededRandom(41);
  const point = (): Vec3 => [0.2 * random() - 0.1, 0.2 * random() - 0.05, 0.1 * random() - 0.05];

  it('is blocked exactly where it meets something first', () => {
    let met = 0;
    for (let i = 0; i < 2000; i++) {
      const [from, along] = [point(), unit([random() - 0.5, random() - 0.5, random() - 0.5])];
      for (const to of [0.03, Number.POSITIVE_INFINITY]) {
        const first = bend.first(from, along, { from: 1e-7, to });
        expect(bend.blocked(from, along, { from: 1e-7, to })).toBe(Number.isFinite(first));
        if (Number.isFinite(first)) met++;
      }
    }
    expect(met).toBeGreaterThan(200);
    expect(met).toBeLessThan(3800);
  });

  it('looks through the triangle it is told to', () => {
    const ball = new RayCaster(triangleTree(ballMesh(0.05, 3)));
    const [from, along]: [Vec3, Vec3] = [
      [0.001, 0.002, 0.2],
      [0, 0, -1],
    ];
    const stretch = { from: 0, to: 0.18 };
    ball.first(from, along, stretch);
    const { leaf } = ball;
    expect(ball.blocked(from, along, stretch)).toBe(true);
    expect(ball.blocked(from, along, stretch, leaf)).toBe(false);
  });

  it('meets nothing where there is nothing', () => {
    const none = new RayCaster(triangleTree({ positions: new Float64Array(), indices: new Uint32Array() }));
    expect(none.blocked([0, 0, 0], [0, 0, 1], { from: 0, to: Number.POSITIVE_INFINITY })).toBe(false);
    expect(none.first([0, 0, 0], [0, 0, 1], { from: 0, to: Number.POSITIVE_INFINITY })).toBe(Number.POSITIVE_INFINITY);
  });
});
