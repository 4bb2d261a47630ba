import { edgesOf, NO_TRIANGLE } from '../../shared/geometry/mesh/edges.ts';
import { facesOf } from '../../shared/geometry/mesh/faces.ts';
import { meshFrom } from '../../shared/geometry/mesh/triangleMesh.ts';
import type { PartMesh } from './partMesh.ts';

/** Faces that meet at more than this are two, cosine of 30 degrees (own: a bend cut into facets of 15 degrees stays one). */
const SHARP = Math.cos(Math.PI / 6);

/** The edges a draughtsman would draw: sharp ones, and every edge that has not two faces. Two xyz a line, metres. */
export function creaseLines(part: PartMesh): Float32Array {
  const mesh = meshFrom(part.positions, part.indices);
  const edges = edgesOf(mesh);
  const { normal } = facesOf(mesh);
  const lines = new Float32Array(6 * edges.count);
  let next = 0;
  for (let e = 0; e < edges.count; e++) {
    const [a, b] = [edges.first[e] ?? 0, edges.second[e] ?? NO_TRIANGLE];
    if (edges.uses[e] === 2 && b !== NO_TRIANGLE && level(normal, a, b) > SHARP) continue;
    for (const vertex of [edges.low[e] ?? 0, edges.high[e] ?? 0]) {
      lines.set(part.positions.subarray(3 * vertex, 3 * vertex + 3), next);
      next += 3;
    }
  }
  return lines.slice(0, next);
}

/** Cosine of the angle between two faces; 0 where one has no direction, so that its edges are drawn. */
function level(normal: Float64Array, a: number, b: number): number {
  let dot = 0;
  for (let k = 0; k < 3; k++) dot += (normal[3 * a + k] ?? 0) * (normal[3 * b + k] ?? 0);
  return dot;
}
