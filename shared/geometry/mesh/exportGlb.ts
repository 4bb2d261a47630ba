import type { TriangleMesh } from './triangleMesh.ts';
import { boxOf, vertexCount } from './triangleMesh.ts';

const [JSON_CHUNK, BIN_CHUNK] = [0x4e4f534a, 0x004e4942];

/**
 * A mesh as a binary glTF 2.0 file, in metres as glTF is; coordinates are rounded to singles, axes are left as they are.
 * Source: glTF 2.0 specification, chapters 3 to 5 (memory).
 */
export function glbBytes(mesh: TriangleMesh): Uint8Array<ArrayBuffer> {
  const points = Float32Array.from(mesh.positions);
  const [pointBytes, indexBytes] = [points.byteLength, 4 * mesh.indices.length];
  const text = new TextEncoder().encode(JSON.stringify(describe(mesh, pointBytes, indexBytes)));
  const textBytes = 4 * Math.ceil(text.length / 4);
  const bytes = new Uint8Array(12 + 8 + textBytes + 8 + pointBytes + indexBytes);
  const view = new DataView(bytes.buffer);
  const words = [0x46546c67, 2, bytes.length, textBytes, JSON_CHUNK];
  for (const [i, word] of words.entries()) view.setUint32(4 * i, word, true);
  // JSON is filled up with spaces, as the format asks.
  bytes.fill(32, 20, 20 + textBytes);
  bytes.set(text, 20);
  let o = 20 + textBytes;
  view.setUint32(o, pointBytes + indexBytes, true);
  view.setUint32(o + 4, BIN_CHUNK, true);
  o += 8;
  for (const x of points) {
    view.setFloat32(o, x, true);
    o += 4;
  }
  for (const vertex of mesh.indices) {
    view.setUint32(o, vertex, true);
    o += 4;
  }
  return bytes;
}

function describe(mesh: TriangleMesh, pointBytes: number, indexBytes: number): object {
  const box = boxOf(mesh);
  const single = (p: readonly number[] = [0, 0, 0]): readonly number[] => p.map((x) => Math.fround(x));
  return {
    asset: { version: '2.0', generator: 'Slipjoint' },
    scene: 0,
    scenes: [{ nodes: [0] }],
    nodes: [{ mesh: 0 }],
    meshes: [{ primitives: [{ attributes: { POSITION: 0 }, indices: 1, mode: 4 }] }],
    buffers: [{ byteLength: pointBytes + indexBytes }],
    bufferViews: [
      { buffer: 0, byteOffset: 0, byteLength: pointBytes, target: 34962 },
      { buffer: 0, byteOffset: pointBytes, byteLength: indexBytes, target: 34963 },
    ],
    accessors: [
      {
        bufferView: 0,
        componentType: 5126,
        count: vertexCount(mesh),
        type: 'VEC3',
        min: single(box?.least),
        max: single(box?.greatest),
      },
      { bufferView: 1, componentType: 5125, count: mesh.indices.length, type: 'SCALAR' },
    ],
  };
}
