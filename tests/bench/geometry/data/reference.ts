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
const source = fileURLToPath(new URL('../native/embree.cpp', import.meta.url));
const inMillimetres = (metres: ArrayLike<number>): Float32Array => Float32Array.from(metres, (x) => x * 1000);

/** Builds the Embree reference in a temporary folder and asks it; undefined where there is no compiler or no Embree 3 (Debian: libembree-dev). */
export function embreeAnswers(mesh: TriangleMesh, points: Float32Array): readonly ReferenceAnswer[] | undefined {
  const folder = mkdtempSync(join(tmpdir(), 'slipjoint-reference-'));
  try {
    const program = join(folder, 'embree');
    const flags = ['-O3', '-march=native', '-std=c++17', source, '-o', program, '-lembree3'];
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
