import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { TriangleMesh } from '../../../../shared/geometry/mesh/triangleMesh.ts';

/** What CGAL says of a mesh. Lengths in the file's unit, CPU milliseconds. */
export interface CgalAnswer {
  readonly mesh: TriangleMesh;
  readonly closed: boolean;
  readonly area: number;
  /** 0 for an open mesh. */
  readonly volume: number;
  /** Pairs of triangles with area that intersect. */
  readonly pairs: number;
  /** Triangles without area. */
  readonly degenerate: number;
  /** Search for the pairs with its boxes, least of three. */
  readonly search: number;
  /** Area, volume and whether it is closed. */
  readonly measures: number;
}

const COMPILER = 'g++';
const source = fileURLToPath(new URL('../native/cgal.cpp', import.meta.url));

/** Builds the CGAL reference in a folder; undefined where there is no compiler or no CGAL (Debian: g++, libcgal-dev). */
export function cgalProgram(folder: string): string | undefined {
  const program = join(folder, 'cgal');
  const flags = ['-O3', '-march=native', '-DNDEBUG', '-std=c++17', source, '-o', program, '-lgmp', '-lmpfr'];
  return spawnSync(COMPILER, flags).status === 0 ? program : undefined;
}

/** Asks it about mesh files, in their order: an answer, or why it cannot hold that mesh. Its triangles pass through the folder. */
export function cgalAnswers(
  program: string,
  folder: string,
  files: readonly string[],
): readonly (CgalAnswer | string)[] {
  const { status, stdout, stderr } = spawnSync(program, [folder, ...files], { encoding: 'utf8', maxBuffer: 1e8 });
  const lines = stdout.split('\n').filter((line) => line !== '');
  if (status !== 0 || lines.length !== files.length)
    throw new Error(`expected ${files.length} answers of CGAL, got ${lines.length}: ${stderr.slice(-500)}`);
  return lines.map((line, i) => answerOf(line.split('\t'), join(folder, String(i))));
}

function answerOf([, closed = '', ...words]: readonly string[], name: string): CgalAnswer | string {
  if (words.length === 0) return closed;
  const [area = 0, volume = 0, pairs = 0, degenerate = 0, search = 0, measures = 0] = words.map(Number);
  const [positions, indices] = [readFileSync(`${name}.positions`), readFileSync(`${name}.indices`)];
  const mesh = {
    positions: new Float64Array(Uint8Array.from(positions).buffer),
    indices: new Uint32Array(Uint8Array.from(indices).buffer),
  };
  return { mesh, closed: closed === '1', area, volume, pairs, degenerate, search, measures };
}
