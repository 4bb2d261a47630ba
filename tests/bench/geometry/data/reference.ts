import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { TriangleMesh } from '../../../../shared/geometry/mesh/triangleMesh.ts';

/** What a native reference answers: CPU milliseconds, least of three runs, and what it found (mm, or a percentage). */
export interface ReferenceAnswer {
  readonly name: string;
  readonly time: number;
  readonly found: number;
}

const COMPILER = 'g++';
const inMillimetres = (metres: ArrayLike<number>): Float32Array => Float32Array.from(metres, (x) => x * 1000);

/** Answers of Embree; undefined where there is no compiler or no Embree 3 (Debian: libembree-dev). */
export const embreeAnswers = (mesh: TriangleMesh, points: Float32Array): readonly ReferenceAnswer[] | undefined =>
  answersOf({ source: 'embree', libraries: ['-lembree3'] }, mesh, points);

/** Answers of CGAL, its field timed once; undefined where there is no compiler or no CGAL (Debian: libcgal-dev). */
export const cgalDistances = (mesh: TriangleMesh, points: Float32Array): readonly ReferenceAnswer[] | undefined =>
  answersOf({ source: 'cgalDistance', libraries: ['-DNDEBUG', '-lgmp', '-lmpfr'] }, mesh, points);

/** Builds a reference in a temporary folder and asks it. */
function answersOf(
  { source, libraries }: { readonly source: string; readonly libraries: readonly string[] },
  mesh: TriangleMesh,
  points: Float32Array,
): readonly ReferenceAnswer[] | undefined {
  const folder = mkdtempSync(join(tmpdir(), 'slipjoint-reference-'));
  try {
    const program = join(folder, source);
    const file = fileURLToPath(new URL(`../native/${source}.cpp`, import.meta.url));
    const flags = ['-O3', '-march=native', '-std=c++17', file, '-o', program, ...libraries];
    if (spawnSync(COMPILER, flags).status !== 0) return undefined;
    writeFileSync(join(folder, 'positions'), inMillimetres(mesh.positions));
    writeFileSync(join(folder, 'indices'), mesh.indices);
    writeFileSync(join(folder, 'points'), inMillimetres(points));
    const { status, stdout } = spawnSync(program, [folder], { encoding: 'utf8' });
    if (status !== 0) return undefined;
    return stdout
      .trim()
      .split('\n')
      .map((line) => line.split('\t'))
      .map(([name = '', time, found]) => ({ name, time: Number(time), found: Number(found) }));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
