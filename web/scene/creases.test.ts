import { expect, it } from 'vitest';
import { boxMesh, pipeMesh } from '../../shared/geometry/mesh/shapes.fixture.ts';
import type { TriangleMesh } from '../../shared/geometry/mesh/triangleMesh.ts';
import { creaseLines } from './creases.ts';

const single = ({ positions, indices }: TriangleMesh) => ({ positions: Float32Array.from(positions), indices });
const count = (mesh: TriangleMesh) => creaseLines(single(mesh)).length / 6;
const box = boxMesh([3, 2, 1]);

it('draws the twelve edges of a box and none of its diagonals', () => {
  const lines = creaseLines(single(box));
  expect(lines.length / 6).toBe(12);
  for (let o = 0; o < lines.length; o += 6) {
    const along = [0, 1, 2].filter((k) => lines[o + k] !== lines[o + 3 + k]);
    expect(along).toHaveLength(1);
  }
});

it('draws the rims of a pipe and not the facets between them', () => {
  expect(count(pipeMesh({ outer: 0.02, inner: 0.018 }, 0.1, 48))).toBe(4 * 48);
});

it('draws where the surface ends', () => {
  // The first triangle's own diagonal is an end now; its two other sides were edges before.
  expect(count({ ...box, indices: box.indices.slice(3) })).toBe(13);
});
