import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../shared/geometry/random.ts';
import type { ReadCode } from './problem.ts';
import { asciiStl, binaryStl, boxTriangles, inFile, problemOf, read } from './upload.fixture.ts';

describe('STL', () => {
  it.each([
    ['stl-binary', binaryStl(boxTriangles())],
    ['stl-ascii', asciiStl(boxTriangles())],
  ])('%s: samples lie on the surface and cover it within the bound stated (seed 83)', (format, content) => {
    const scan = read(content);
    expect(scan).toMatchObject({ format, triangles: 12, spacing: 0.0015 });
    expect(scan.bounds.greatest).toEqual([0.1, 0.06, 0.04]);
    const p = inFile(scan);
    for (let i = 0; i < p.length; i += 3) {
      const [x = 9, y = 9, z = 9] = p.slice(i, i + 3);
      expect(Math.min(x, 100 - x, y, 60 - y, z, 40 - z)).toBeCloseTo(0, 6);
    }
    const random = seededRandom(83);
    for (let n = 0; n < 60; n++) {
      const q = [random() * 100, random() * 60, n % 2 ? 0 : 40];
      let nearest = Number.POSITIVE_INFINITY;
      for (let i = 0; i < p.length; i += 3)
        nearest = Math.min(
          nearest,
          Math.hypot((p[i] ?? 0) - (q[0] ?? 0), (p[i + 1] ?? 0) - (q[1] ?? 0), (p[i + 2] ?? 0) - (q[2] ?? 0)),
        );
      expect(nearest / 1000).toBeLessThanOrEqual(scan.cover ?? 0);
    }
    expect(scan.cover).toBeCloseTo(0.0015 / Math.sqrt(3), 12);
  });

  it('does not multiply on slivers: 1 m by 10 um stays in the thousands', () => {
    const scan = read(binaryStl([[0, 0, 0, 1000, 0, 0, 500, 0.01, 0]]));
    expect(scan.count).toBeGreaterThan(1000 / 1.5);
    expect(scan.count).toBeLessThan(1500);
  });

  it.each<[string, string | Buffer, ReadCode, RegExp]>([
    [
      '2 GiB claimed in 200 bytes',
      (() => {
        const b = Buffer.alloc(200);
        b.write('made up');
        b.writeUInt32LE(42_949_672, 80);
        return b;
      })(),
      'truncated',
      /promises 42,949,672 triangles = 2,147,483,684 bytes, the file has 200/,
    ],
    [
      'cut short',
      binaryStl(boxTriangles()).subarray(0, 500),
      'truncated',
      /promises 12 triangles = 684 bytes, the file has 500/,
    ],
    ['no triangles', binaryStl([]), 'empty', /0 triangles/],
    [
      'NaN',
      binaryStl([
        [0, 0, 0, Number.NaN, 0, 0, 50, 50, 0],
        [0, 0, 0, 90, 0, 0, 50, 50, 0],
      ]),
      'not-finite',
      /1 are NaN or Inf, the first at triangle 1/,
    ],
    ['text cut short', asciiStl(boxTriangles()).slice(0, 900), 'truncated', /"endsolid"|3 vertices|vertex x y z/],
    [
      'two vertices in a facet',
      asciiStl(boxTriangles()).replace(/ *vertex.*\n/, ''),
      'malformed',
      /Expected 3 vertices before line/,
    ],
    ['a broken vertex', asciiStl(boxTriangles()).replace(/vertex .*/, 'vertex 1 2'), 'malformed', /line 4 is not that/],
  ])('refuses: %s', (_, content, code, words) => {
    const problem = problemOf(content);
    expect(problem.code).toBe(code);
    expect(problem.message).toMatch(words);
  });
});
