import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect } from 'vitest';
import { readScan } from '../../server/measure/readers/scan.ts';
import { apart, judgedBy, judgeOf } from './judge.ts';

/*
 * Point sets that others scanned or sampled, as they come with CGAL (Debian: libcgal-dev, data/points_3; `npm test` does not install it,
 * nothing of it is copied here), through the readers of scans; number by number against NumPy (tests/reference/scans.py).
 */

const DATA = '/usr/share/doc/libcgal-dev/data.tar.gz';
const numpy = judgeOf('./scans.py', ['numpy']);
const here = existsSync(DATA) && numpy.here;
const judged = judgedBy({
  name: here ? `${numpy.name}, on the data of CGAL` : 'NumPy on the data of CGAL (not installed; Debian: libcgal-dev)',
  here,
});

const sets: readonly (readonly [name: string, count: number])[] = [
  // With colours and labels, binary.
  ['b9_training.ply', 22_300],
  ['ball.ply', 31_374],
  // With normals, as text.
  ['building.ply', 100_000],
  ['circles.ply', 1101],
  ['hippo1.ply', 6104],
  ['hippo2.ply', 4387],
  ['oni.ply', 1435],
  ['spheres.ply', 5969],
  ['before_upsample.xyz', 850],
  // Eighteen digits.
  ['blobby.xyz', 3288],
  ['fin90_with_PCA_normals.xyz', 757],
  // Exponents of three digits.
  ['half.xyz', 325],
  ['kitten.xyz', 5210],
  ['oneK.xyz', 1000],
  ['point_set_2.xyz', 3634],
  ['point_set_3.xyz', 8075],
  ['poste_france.xyz', 9031],
  ['radar.xyz', 20_950],
  ['sphere_20k.xyz', 21_000],
  ['cube.pwn', 50_000],
  ['oni.pwn', 1435],
  ['sphere926.pwn', 926],
];

/** What NumPy read; metres. */
interface Told {
  readonly count: number;
  readonly factor: number;
  readonly least: readonly number[];
  readonly greatest: readonly number[];
  readonly origin: readonly number[];
  /** Singles from the first point, little end first, base64. */
  readonly points: string;
}

describe('public point sets', () => {
  let folder = '';
  let told: readonly Told[] = [];
  const pathOf = (name: string): string => join(folder, 'data/points_3', name);
  beforeAll(() => {
    if (!here) return;
    folder = mkdtempSync(join(tmpdir(), 'slipjoint-scans-'));
    spawnSync('tar', ['xzf', DATA, '-C', folder, 'data/points_3']);
    told = numpy.ask(sets.map(([name]) => ({ kind: 'scan', inputs: { path: pathOf(name) } }))) as readonly Told[];
  }, 120_000);
  afterAll(() => {
    if (folder !== '') rmSync(folder, { recursive: true, force: true });
  });

  for (const [i, [name, count]] of sets.entries()) {
    judged(`${name}: as many points, each where it is, within the same bounds`, () => {
      const theirs = told[i];
      if (!theirs) throw new Error('expected an answer');
      const outcome = readScan(pathOf(name), { unitFactor: theirs.factor });
      if (!outcome.ok) throw new Error(outcome.problem.message);
      const { scan } = outcome;
      expect([scan.count, theirs.count]).toEqual([count, count]);
      expect(scan.format).toMatch(name.endsWith('.ply') ? /^ply-/ : /^text$/);
      expect(scan.skipped ?? 0).toBe(0);
      const bytes = Uint8Array.from(Buffer.from(theirs.points, 'base64'));
      expect(Buffer.from(scan.points.buffer, 0, 12 * count).equals(bytes)).toBe(true);
      expect(
        apart([scan.origin, scan.bounds.least, scan.bounds.greatest], [theirs.origin, theirs.least, theirs.greatest]),
      ).toBe(0);
    });
  }
});
