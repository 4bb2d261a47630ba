import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../shared/geometry/random.ts';
import { coverRadius, sampleTriangle } from './surface.ts';

const EDGE = 1;

function samplesOf(corners: readonly number[]): number[][] {
  const samples: number[][] = [];
  sampleTriangle(corners, EDGE, (x, y, z) => samples.push([x, y, z]));
  return samples;
}

const between = (a: readonly number[], b: readonly number[]): number =>
  Math.hypot((a[0] ?? 0) - (b[0] ?? 0), (a[1] ?? 0) - (b[1] ?? 0), (a[2] ?? 0) - (b[2] ?? 0));

describe('samples of a triangle', () => {
  it('leave no point of it farther than the cover radius, whatever its shape (seed 86, 300 triangles)', () => {
    const random = seededRandom(86);
    for (let n = 0; n < 300; n++) {
      // Flattening one direction makes slivers of every height about the step.
      const flat = 10 ** (-3 * random());
      const corners = Array.from({ length: 9 }, (_, i) => (random() - 0.5) * 16 * (i % 3 === 1 ? flat : 1));
      const samples = samplesOf(corners);
      for (let k = 0; k < 20; k++) {
        const [u, v] = [random(), random()];
        const [a, b] = u + v > 1 ? [1 - u, 1 - v] : [u, v];
        const p = [0, 1, 2].map(
          (i) => (corners[i] ?? 0) * (1 - a - b) + (corners[3 + i] ?? 0) * a + (corners[6 + i] ?? 0) * b,
        );
        expect(Math.min(...samples.map((s) => between(s, p)))).toBeLessThanOrEqual(coverRadius(EDGE) + 1e-9);
      }
    }
  });

  it('hold the corners exactly', () => {
    const corners = [0.1, 0.2, 0.3, 9, 1, 2, 3, 7, 5];
    expect(samplesOf(corners).slice(0, 3)).toEqual([corners.slice(0, 3), corners.slice(3, 6), corners.slice(6)]);
  });

  it('are only the corners of one that is small or a single point', () => {
    expect(samplesOf([0, 0, 0, 0.5, 0, 0, 0, 0.5, 0])).toHaveLength(3);
    expect(samplesOf([1, 1, 1, 1, 1, 1, 1, 1, 1])).toHaveLength(3);
  });

  it('number at most seven for every square of the step', () => {
    const count = samplesOf([0, 0, 0, 100, 0, 0, 0, 100, 0]).length;
    expect(count).toBeGreaterThan(5000);
    expect(count).toBeLessThan(35_000);
  });
});
