import type { TriangleMesh } from '../../../../shared/geometry/mesh/triangleMesh.ts';
import { cornerAt, triangleCount } from '../../../../shared/geometry/mesh/triangleMesh.ts';

/** A mesh as STL in text, millimetres. */
export function asciiStl(mesh: TriangleMesh): string {
  const lines = ['solid made'];
  for (let t = 0; t < triangleCount(mesh); t++) {
    lines.push('facet normal 0 0 0', 'outer loop');
    for (let k = 0; k < 3; k++)
      lines.push(
        `vertex ${cornerAt(mesh, t, k)
          .map((x) => (x * 1000).toFixed(6))
          .join(' ')}`,
      );
    lines.push('endloop', 'endfacet');
  }
  return [...lines, 'endsolid made', ''].join('\n');
}

function rows(list: ArrayLike<number>, line: (row: readonly number[]) => string): string[] {
  return Array.from({ length: list.length / 3 }, (_, i) =>
    line([list[3 * i] ?? 0, list[3 * i + 1] ?? 0, list[3 * i + 2] ?? 0]),
  );
}

/** A mesh as PLY in text, millimetres. */
export function asciiPly(mesh: TriangleMesh): string {
  const points = rows(mesh.positions, (p) => p.map((x) => (x * 1000).toFixed(6)).join(' '));
  const faces = rows(mesh.indices, (f) => `3 ${f.join(' ')}`);
  const axes = ['x', 'y', 'z'].map((axis) => `property float ${axis}`);
  const head = ['ply', 'format ascii 1.0', `element vertex ${points.length}`, ...axes, `element face ${faces.length}`];
  return [...head, 'property list uchar int vertex_indices', 'end_header', ...points, ...faces, ''].join('\n');
}

/** A mesh as OBJ, millimetres. */
export const obj = (mesh: TriangleMesh): string =>
  [
    ...rows(mesh.positions, (p) => `v ${p.map((x) => (x * 1000).toFixed(6)).join(' ')}`),
    ...rows(mesh.indices, (f) => `f ${f.map((v) => v + 1).join(' ')}`),
    '',
  ].join('\n');
