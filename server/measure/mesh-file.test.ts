import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { crc32 } from 'node:zlib';
import { afterAll, describe, expect, it } from 'vitest';
import { ballMesh } from '../../shared/geometry/mesh/shapes.fixture.ts';
import { FlatFileError, fileStamp } from './flat-file.ts';
import { MeshFileError, meshBytes, meshFileIn, readMeshFile, writeMeshFile } from './mesh-file.ts';
import { createShelf } from './shelf.ts';

const folder = mkdtempSync(join(tmpdir(), 'mesh-'));
afterAll(() => rmSync(folder, { recursive: true }));
const mesh = ballMesh(0.05, 2);
const path = join(folder, 'a.mesh');

/** A header that says something else, with its own sum right. */
function rewritten(file: Buffer, change: (file: Buffer) => void): Buffer {
  change(file);
  file.writeUInt32LE(crc32(file.subarray(0, 28)), 28);
  return file;
}

describe('mesh file', () => {
  it('comes back equal in every byte and leaves nothing beside it', () => {
    writeMeshFile(path, mesh);
    expect(readMeshFile(path)).toEqual(mesh);
    expect(readdirSync(folder)).toEqual(['a.mesh']);
  });

  it('is named by content, unit and version', () => {
    const sha = 'ab'.repeat(32);
    expect(meshFileIn(folder, `${sha}-mm`)).toBe(join(folder, `${sha}-mm.v1.mesh`));
    expect(meshFileIn(folder, '../../etc')).toBe(join(folder, '______etc.v1.mesh'));
  });

  it.each<[string, (file: Buffer) => Buffer, RegExp]>([
    ['cut short', (f) => f.subarray(0, f.length - 1), /of 3152 bytes for 66 vertices and 128 triangles, got 3151/],
    ['cut to a part of its header', (f) => f.subarray(0, 20), /Expected a mesh file, got another/],
    ['grown', (f) => Buffer.concat([f, Buffer.alloc(12)]), /got 3164/],
    ['another file', () => Buffer.from('solid part\n'), /Expected a mesh file/],
    ['another version', (f) => rewritten(f, (x) => x.writeUInt32LE(0, 4)), /version 1, got 0/],
    [
      'a changed count',
      (f) => {
        f.writeUInt32LE(4e9, 8);
        return f;
      },
      /header.*damaged/,
    ],
    ['a count with its sum made to fit', (f) => rewritten(f, (x) => x.writeUInt32LE(4e9, 8)), /got 3152/],
    [
      'one bit of a vertex flipped',
      (f) => {
        f[100] = (f[100] ?? 0) ^ 1;
        return f;
      },
      /triangles.*damaged/,
    ],
    [
      'one bit of a triangle flipped',
      (f) => {
        f[3000] = (f[3000] ?? 0) ^ 1;
        return f;
      },
      /triangles.*damaged/,
    ],
    [
      'a vertex number that is not there, all sums right',
      (f) =>
        rewritten(f, (x) => {
          x.writeUInt32LE(66, x.length - 4);
          x.writeUInt32LE(crc32(x.subarray(32)), 16);
        }),
      /vertex numbers below 66, triangle 127 names 66/,
    ],
  ])('is refused when %s', (_, damage, words) => {
    writeMeshFile(path, mesh);
    const bad = join(folder, 'bad.mesh');
    writeFileSync(bad, damage(readFileSync(path)));
    expect(() => readMeshFile(bad)).toThrow(words);
    expect(() => readMeshFile(bad)).toThrow(MeshFileError);
    expect(() => readMeshFile(bad)).toThrow(FlatFileError);
  });

  it('is loaded anew from the shelf when it was written anew', () => {
    const shelf = createShelf({ load: readMeshFile, stamp: fileStamp, size: meshBytes });
    writeMeshFile(path, mesh);
    expect(shelf.get(path)).toEqual(mesh);
    expect(shelf.get(path)).toBe(shelf.get(path));
    const other = ballMesh(0.06, 1);
    writeMeshFile(path, other);
    expect(shelf.get(path)).toEqual(other);
  });
});
