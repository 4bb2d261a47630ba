import type { TriangleMesh } from './triangleMesh.ts';
import { triangleCount, vertexCount } from './triangleMesh.ts';

/** A mesh as a binary PLY file (little-endian, doubles), in millimetres; the header says the unit. Nothing is rounded but the change of unit. */
export function plyBytes(mesh: TriangleMesh): Uint8Array<ArrayBuffer> {
  const [vertices, triangles] = [vertexCount(mesh), triangleCount(mesh)];
  const header = new TextEncoder().encode(
    [
      'ply',
      'format binary_little_endian 1.0',
      'comment unit millimetre',
      `element vertex ${vertices}`,
      ...['x', 'y', 'z'].map((axis) => `property double ${axis}`),
      `element face ${triangles}`,
      'property list uchar uint vertex_indices',
      'end_header\n',
    ].join('\n'),
  );
  const bytes = new Uint8Array(header.length + 24 * vertices + 13 * triangles);
  bytes.set(header);
  const view = new DataView(bytes.buffer);
  let o = header.length;
  for (const x of mesh.positions) {
    view.setFloat64(o, x * 1000, true);
    o += 8;
  }
  for (let i = 0; i < mesh.indices.length; i++) {
    if (i % 3 === 0) view.setUint8(o++, 3);
    view.setUint32(o, mesh.indices[i] ?? 0, true);
    o += 4;
  }
  return bytes;
}
