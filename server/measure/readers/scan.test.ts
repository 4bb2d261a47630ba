import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../shared/geometry/random.ts';
import { writeBinaryPly } from '../ply.ts';
import type { ReadCode } from './problem.ts';
import { readScan } from './scan.ts';
import { asciiStl, binaryStl, boxTriangles, folder, MM, POINTS, problemOf, written } from './upload.fixture.ts';

describe('any file', () => {
  it.each<[string, string | Buffer, ReadCode, RegExp]>([
    ['0 bytes', '', 'empty', /0 bytes/],
    [
      'noise (seed 84)',
      (() => {
        const r = seededRandom(84);
        return Buffer.from(Array.from({ length: 5000 }, () => r() * 256));
      })(),
      'unknown-format',
      /Expected PLY, STL, LAS, LAZ, E57 or rows/,
    ],
    ['a STEP file', 'ISO-10303-21;\nHEADER;', 'unsupported', /got STEP/],
    ['a ZIP archive', 'PK\u0003\u0004\u0000\u0000', 'unsupported', /ZIP/],
  ])('refuses: %s', (_, content, code, words) => {
    const problem = problemOf(content);
    expect(problem.code).toBe(code);
    expect(problem.message).toMatch(words);
  });

  it('refuses what cannot be opened without naming a path of this machine', () => {
    for (const path of [join(folder, 'absent'), folder]) {
      const outcome = readScan(path, MM);
      expect(outcome).toMatchObject({ ok: false, problem: { code: 'unreadable-file' } });
      if (!outcome.ok) expect(outcome.problem.message).not.toContain(folder);
    }
  });

  it.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])('refuses a unit of %d m', (unitFactor) => {
    expect(problemOf('0 0 0\n1 1 1\n', { unitFactor })).toMatchObject({ code: 'unsupported' });
  });

  it('refuses too many points, by the header or while they come', () => {
    const few = { unitFactor: 0.001, maxPoints: 3 };
    expect(problemOf(writeBinaryPly(Float32Array.from(POINTS)), few).message).toMatch(
      /at most 3 points, the file has 4/,
    );
    expect(problemOf('0 0 0\n100 0 0\n0 100 0\n0 0 100\n', few).message).toMatch(/at most 3 points, the file has more/);
    expect(problemOf(binaryStl(boxTriangles()), few).code).toBe('too-many-points');
  });

  it('says which unit would be plausible', () => {
    const bay = '0 0 0\n900 700 500\n';
    expect(problemOf(bay, { unitFactor: 1 })).toMatchObject({ code: 'implausible-extents' });
    expect(problemOf(bay, { unitFactor: 1 }).message).toMatch(
      /diagonal is 1.24e\+3 m.*plausible in millimetres \(1.24 m\)/,
    );
    expect(problemOf('0 0 0\n0.9 0.7 0.5\n', MM).message).toMatch(
      /diagonal is 0.00124 m.*plausible in metres \(1.24 m\)/,
    );
    expect(problemOf('0 0 0\n1e30 0 0\n').message).toMatch(/No common unit/);
    expect(problemOf('5 5 5\n5 5 5\n').message).toMatch(/No common unit/);
  });
});

describe('damaged files (seed 85)', () => {
  const random = seededRandom(85);
  const vertices =
    'element vertex 2\nproperty float x\nproperty float y\nproperty float z\nend_header\n0 0 0\n100 0 0\n';
  const good: readonly (readonly [string, Buffer])[] = [
    ['PLY', writeBinaryPly(Float32Array.from(POINTS))],
    ['text PLY', Buffer.from(`ply\nformat ascii 1.0\n${vertices}`)],
    ['rows', Buffer.from('3\n0 0 0\n100.5 0 0\n0 200.25 1e1\n')],
    ['STL', binaryStl(boxTriangles())],
    ['text STL', Buffer.from(asciiStl(boxTriangles()))],
  ];
  it.each(good)('%s: 400 random damages each give a scan or a problem, never a throw', (_, file) => {
    const codes = new Map<string, number>();
    for (let n = 0; n < 400; n++) {
      const bad = Buffer.from(file.subarray(0, n % 4 === 0 ? Math.floor(random() * file.length) : file.length));
      for (let k = 0; k <= n % 3 && bad.length > 0; k++)
        bad[Math.floor(random() * bad.length)] = Math.floor(random() * 256);
      const outcome = readScan(written(bad), { unitFactor: 0.0003, maxPoints: 20_000 });
      const code = outcome.ok ? 'read' : outcome.problem.code;
      codes.set(code, (codes.get(code) ?? 0) + 1);
      if (outcome.ok) expect(outcome.scan.points.every(Number.isFinite)).toBe(true);
    }
    expect(codes.size).toBeGreaterThan(2);
  });
});
