import { facesOf } from './faces.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { cornerAt, triangleCount } from './triangleMesh.ts';

const HEADER = 84;
const RECORD = 50;

/**
 * A mesh as a binary STL file, in millimetres as the trade takes STL to be; coordinates are rounded to singles (0.03 um a metre from zero).
 * The title says the unit and does not begin with "solid", which some readers take for a text file.
 */
export function stlBytes(mesh: TriangleMesh): Uint8Array<ArrayBuffer> {
  const count = triangleCount(mesh);
  const bytes = new Uint8Array(HEADER + RECORD * count);
  bytes.set(new TextEncoder().encode('Slipjoint, millimetres'));
  const view = new DataView(bytes.buffer);
  view.setUint32(80, count, true);
  const { normal } = facesOf(mesh);
  for (let t = 0; t < count; t++) {
    let o = HEADER + RECORD * t;
    const corners = [0, 1, 2].flatMap((corner) => cornerAt(mesh, t, corner).map((x) => x * 1000));
    for (const value of [normal[3 * t] ?? 0, normal[3 * t + 1] ?? 0, normal[3 * t + 2] ?? 0, ...corners]) {
      view.setFloat32(o, value, true);
      o += 4;
    }
  }
  return bytes;
}
