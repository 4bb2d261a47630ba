import { describe, expect, it } from 'vitest';
import { glbBytes } from '../../shared/geometry/mesh/exportGlb.ts';
import { boxMesh } from '../../shared/geometry/mesh/shapes.fixture.ts';
import { readPartMesh } from './partMesh.ts';

const box = boxMesh([0.1, 0.06, 0.04], [1, 2, 3]);
const file = (): ArrayBuffer => glbBytes(box).buffer;

describe('a part’s surface from the server’s file', () => {
  it('is what went in, without a copy', () => {
    const bytes = file();
    const mesh = readPartMesh(bytes);
    expect([...mesh.positions]).toEqual([...Float32Array.from(box.positions)]);
    expect([...mesh.indices]).toEqual([...box.indices]);
    expect([mesh.positions.buffer, mesh.indices.buffer]).toEqual([bytes, bytes]);
  });

  it.each<[string, (bytes: ArrayBuffer) => ArrayBuffer]>([
    ['nothing', () => new ArrayBuffer(0)],
    ['half of it', (bytes) => bytes.slice(0, bytes.byteLength / 2)],
    ['something else', () => new TextEncoder().encode('solid box facet normal 0 0 0 outer loop').buffer],
  ])('is refused when it is %s', (_, change) => {
    expect(() => readPartMesh(change(file()))).toThrow(/expected/);
  });

  it('is refused when its numbers are of another kind', () => {
    const bytes = file();
    const text = new Uint8Array(bytes, 20, new DataView(bytes).getUint32(12, true));
    text.set(new TextEncoder().encode(new TextDecoder().decode(text).replace('5126', '5122')));
    expect(() => readPartMesh(bytes)).toThrow(/kind 5122/);
  });
});
