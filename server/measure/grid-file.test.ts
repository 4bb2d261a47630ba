import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { buildPointGrid } from '../../shared/geometry/cloud.ts';
import { seededRandom } from '../../shared/geometry/random.ts';
import { fileStamp } from './flat-file.ts';
import { GridFileError, gridBytes, readGridFile, writeGridFile } from './grid-file.ts';
import { createShelf } from './shelf.ts';

const folder = mkdtempSync(join(tmpdir(), 'grid-'));
afterAll(() => rmSync(folder, { recursive: true }));
const random = seededRandom(91);
const grid = buildPointGrid(Float32Array.from({ length: 3000 }, random), [12.5, -3, 1e6], 0.0009);
const path = join(folder, 'a.grid');

describe('grid file', () => {
  it('comes back equal in every byte and leaves nothing beside it', () => {
    writeGridFile(path, grid);
    expect(readGridFile(path)).toEqual(grid);
    expect(readGridFile(path).cover).toBe(0.0009);
    expect(readdirSync(folder)).toEqual(['a.grid']);
  });

  it.each<[string, (file: Buffer) => Buffer, RegExp]>([
    ['cut short', (f) => f.subarray(0, f.length - 1), /of 12064 bytes for 1000 points, got 12063/],
    ['grown', (f) => Buffer.concat([f, Buffer.alloc(12)]), /got 12076/],
    ['another file', () => Buffer.from('0 0 0\n'), /Expected a grid file/],
    [
      'another version',
      (f) => {
        f.writeUInt32LE(1, 4);
        return f;
      },
      /version 2, got 1/,
    ],
    [
      'a changed count',
      (f) => {
        f.writeDoubleLE(1e9, 16);
        return f;
      },
      /header.*damaged/,
    ],
    [
      'one bit of a point flipped',
      (f) => {
        f[7000] = (f[7000] ?? 0) ^ 1;
        return f;
      },
      /points.*damaged/,
    ],
    [
      'one bit of the header flipped',
      (f) => {
        f[30] = (f[30] ?? 0) ^ 1;
        return f;
      },
      /header.*damaged/,
    ],
  ])('is refused when %s', (_, damage, words) => {
    writeGridFile(path, grid);
    const bad = join(folder, 'bad.grid');
    writeFileSync(bad, damage(readFileSync(path)));
    expect(() => readGridFile(bad)).toThrow(words);
    expect(() => readGridFile(bad)).toThrow(GridFileError);
  });
});

describe('shelf', () => {
  it('keeps what was used last within its bytes, and what is in use in any case', () => {
    const loads: string[] = [];
    const size = gridBytes(grid);
    const load = (file: string) => {
      loads.push(file);
      return grid;
    };
    const shelf = createShelf({ load, stamp: () => '', size: gridBytes }, 2 * size);
    for (const file of ['a', 'b', 'a', 'c', 'a', 'b']) shelf.get(file);
    expect(loads).toEqual(['a', 'b', 'c', 'b']);
    const small = createShelf({ load, stamp: () => '', size: gridBytes }, 1);
    loads.length = 0;
    for (const file of ['a', 'a', 'b', 'a']) small.get(file);
    expect(loads).toEqual(['a', 'b', 'a']);
  });

  it('loads a grid anew when its file was written anew', () => {
    const other = buildPointGrid(Float32Array.from({ length: 3000 }, random), [0, 0, 0]);
    const shelf = createShelf({ load: readGridFile, stamp: fileStamp, size: gridBytes });
    writeGridFile(path, grid);
    expect(shelf.get(path)).toEqual(grid);
    expect(shelf.get(path)).toBe(shelf.get(path));
    writeGridFile(path, other);
    expect(shelf.get(path)).toEqual(other);
  });
});
