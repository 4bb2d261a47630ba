import { describe, expect, it } from 'vitest';
import { boxMesh } from '../../shared/geometry/mesh/shapes.fixture.ts';
import { joinMeshes, type TriangleMesh } from '../../shared/geometry/mesh/triangleMesh.ts';
import type { Vec3 } from '../../shared/geometry/vector.ts';
import { poseShape } from './poseShape.ts';

const [width, height, overhang] = [96, 72, Math.PI / 4];
const single = ({ positions, indices }: TriangleMesh) => ({ positions: Float32Array.from(positions), indices });
const shapeOf = (mesh: TriangleMesh, turn: Vec3 = [0, 0, 0]) =>
  poseShape(single(mesh), { turn, overhang, width, height });
const count = (flags: Uint8Array) => flags.filter((flag) => flag > 0).length;
/** Width and height of what is drawn, px. */
const size = (shade: Uint8Array): [number, number] => {
  const at = [...shade.keys()].filter((i) => (shade[i] ?? 0) > 0);
  const [xs, ys] = [at.map((i) => i % width), at.map((i) => Math.floor(i / width))];
  return [Math.max(...xs) - Math.min(...xs) + 1, Math.max(...ys) - Math.min(...ys) + 1];
};

/** A table: a plate on a post in its middle. */
const table = joinMeshes([boxMesh([0.02, 0.02, 0.1], [0.04, 0.04, 0]), boxMesh([0.1, 0.1, 0.01], [0, 0, 0.1])]);

describe('a piece on its plate', () => {
  it('fits the picture and stands in its middle', () => {
    const { shade, plate } = shapeOf(boxMesh([0.1, 0.1, 0.1], [5, 5, 5]));
    const [wide, high] = size(shade);
    expect(wide).toBeLessThanOrEqual(width);
    expect(high).toBeLessThanOrEqual(height);
    expect(Math.max(wide / width, high / height)).toBeGreaterThan(0.7);
    for (const [k, value] of plate.entries()) {
      expect(value).toBeGreaterThan(0);
      expect(value).toBeLessThan(k % 2 === 0 ? width : height);
    }
  });

  it('stands as it is turned', () => {
    const rod = boxMesh([0.2, 0.02, 0.02]);
    const [wide, high] = size(shapeOf(rod).shade);
    expect(wide).toBeGreaterThan(2 * high);
    const [narrow, tall] = size(shapeOf(rod, [0, -Math.PI / 2, 0]).shade);
    expect(tall).toBeGreaterThan(2 * narrow);
  });

  it('shows what needs support, and that what lies on the plate does not', () => {
    expect(count(shapeOf(boxMesh([0.1, 0.1, 0.1])).support)).toBe(0);
    expect(count(shapeOf(table).support)).toBeGreaterThan(100);
    // Upside down its wide plate lies flat.
    expect(count(shapeOf(table, [Math.PI, 0, 0]).support)).toBe(0);
  });

  it('goes by the angle that needs support', () => {
    const tilted = boxMesh([0.1, 0.1, 0.1]);
    const turn: Vec3 = [(50 * Math.PI) / 180, 0, 0];
    const at = (degrees: number) =>
      count(poseShape(single(tilted), { turn, overhang: (degrees * Math.PI) / 180, width, height }).support);
    // Its two lower faces lean 40 and 50 degrees from the plate; the second is on the far side.
    expect(at(35)).toBe(0);
    expect(at(39)).toBe(0);
    expect(at(41)).toBeGreaterThan(100);
  });

  it('hides what is behind', () => {
    const near = shapeOf(table).shade;
    expect(count(near)).toBeLessThan(width * height);
    expect(new Set(near).size).toBeGreaterThan(2);
  });

  it('bears a surface without area', () => {
    const flat = { positions: new Float32Array(3 * 3), indices: new Uint32Array([0, 1, 2]) };
    expect(count(poseShape(flat, { turn: [0, 0, 0], overhang, width, height }).shade)).toBe(0);
  });
});
