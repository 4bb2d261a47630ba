import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import bunny from 'bunny';
import { afterAll, beforeAll, describe, expect } from 'vitest';
import { readMesh } from '../../server/measure/readers/mesh/mesh-file.ts';
import { meshReport } from '../../shared/geometry/mesh/meshReport.ts';
import { moved } from '../../shared/geometry/mesh/shapes.fixture.ts';
import type { TriangleMesh } from '../../shared/geometry/mesh/triangleMesh.ts';
import { joinMeshes, triangleCount, vertexAt, vertexCount } from '../../shared/geometry/mesh/triangleMesh.ts';
import type { Vec3 } from '../../shared/geometry/vector.ts';
import { type CgalAnswer, cgalAnswers, cgalProgram } from '../bench/geometry/data/cgal.ts';
import { apart, judgedBy } from './judge.ts';

/*
 * How many pairs of triangles cross, whether a mesh is closed, its area and volume, against CGAL (Debian: g++, libcgal-dev; `npm test`
 * does not install them) on public meshes: npm stl-models 0.12.0 (MIT) and npm bunny 1.0.1 (public domain), alone and laid into each
 * other. The program takes 20 s to build and is kept beside the packages. Many more meshes: npm run bench -- geometry/cgal.
 */

const require = createRequire(import.meta.url);
const COMPILER = 'g++';
const version = '/usr/include/CGAL/version.h';
const here = existsSync(version) && spawnSync(COMPILER, ['--version']).status === 0;
const named = here ? /define CGAL_VERSION (\S+)/.exec(readFileSync(version, 'utf8'))?.[1] : undefined;
const judged = judgedBy({ name: `CGAL ${named ?? '(not installed; Debian: g++, libcgal-dev)'}`, here });

/** The program, built once for each source and version. */
function kept(): string {
  const source = readFileSync(fileURLToPath(new URL('../bench/geometry/native/cgal.cpp', import.meta.url)));
  const key = createHash('sha256').update(source).update(`${named}`).digest('hex').slice(0, 16);
  const home = fileURLToPath(new URL(`../../node_modules/.cache/slipjoint/cgal-${key}`, import.meta.url));
  mkdirSync(home, { recursive: true });
  const program = existsSync(join(home, 'cgal')) ? join(home, 'cgal') : cgalProgram(home);
  if (program === undefined) throw new Error('expected g++ to build tests/bench/geometry/native/cgal.cpp');
  return program;
}

function model(name: string): TriangleMesh {
  const path = join(dirname(require.resolve('stl-models/package.json')), 'objects', name);
  const outcome = readMesh(path, { unitFactor: name.startsWith('gear') ? 0.001 : 1 });
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return outcome.read.mesh;
}

const rabbit = (): TriangleMesh => ({
  positions: Float64Array.from(bunny.positions.flat(), (x) => x * 0.01),
  indices: Uint32Array.from(bunny.cells.flat()),
});

/** As the shell of a cavity is. */
const insideOut = ({ positions, indices }: TriangleMesh): TriangleMesh => ({
  positions,
  indices: indices.toReversed(),
});

/** What is judged, whether some of it crosses, and how it is made. */
const subjects: readonly (readonly [name: string, crosses: boolean, make: () => TriangleMesh])[] = [
  ['the scanned rabbit, open at its foot', false, () => model('bunny.bin.stl')],
  ['the gearwheel', false, () => model('gearwheel.bin.stl')],
  ['the rabbit cut down and closed', false, rabbit],
  ['two gearwheels, teeth in teeth', true, () => beside(model('gearwheel.bin.stl'), [0.0371, 0.0013, 0.0007])],
  ['two gearwheels, one in the other', true, () => beside(model('gearwheel.bin.stl'), [0.0011, 0.0017, 0.0023])],
  ['two gearwheels, face on face', true, () => beside(model('gearwheel.bin.stl'), [0.0011, 0.0017, 0])],
  ['two rabbits, one in the other', true, () => beside(rabbit(), [0.0103, 0.0057, 0.0031])],
  ['a rabbit in a gearwheel', true, () => joinMeshes([rabbit(), gearwheelAt([0.003, 0.041, 0.002])])],
  ['two scanned rabbits, a hair apart', true, () => beside(model('bunny.bin.stl'), [1e-5, 2e-5, 3e-5])],
  ['a rabbit with a gearwheel inside out', true, () => joinMeshes([rabbit(), insideOut(gearwheelAt([0, 0.04, 0]))])],
];
const gearwheelAt = (by: Vec3): TriangleMesh => moved(model('gearwheel.bin.stl'), by);
const beside = (mesh: TriangleMesh, by: Vec3): TriangleMesh => joinMeshes([mesh, moved(mesh, by)]);

/** As text with all digits. */
function off(mesh: TriangleMesh): string {
  const lines = [`OFF\n${vertexCount(mesh)} ${triangleCount(mesh)} 0`];
  for (let v = 0; v < vertexCount(mesh); v++) lines.push(vertexAt(mesh, v).join(' '));
  for (let o = 0; o < mesh.indices.length; o += 3) lines.push(`3 ${mesh.indices.subarray(o, o + 3).join(' ')}`);
  return `${lines.join('\n')}\n`;
}

describe('public meshes', () => {
  let answers: readonly (CgalAnswer | string)[] = [];
  let folder = '';
  beforeAll(() => {
    if (!here) return;
    folder = mkdtempSync(join(tmpdir(), 'slipjoint-cgal-'));
    const files = subjects.map(([, , make], i) => {
      const path = join(folder, `mesh${i}.off`);
      writeFileSync(path, off(make()));
      return path;
    });
    answers = cgalAnswers(kept(), folder, files);
  }, 300_000);
  afterAll(() => {
    if (folder !== '') rmSync(folder, { recursive: true, force: true });
  });

  for (const [i, [name, crosses, make]] of subjects.entries()) {
    judged(`${name}: as many crossing pairs, as closed, of one area and volume`, () => {
      const theirs = answers[i];
      if (theirs === undefined || typeof theirs === 'string') throw new Error(`CGAL says it ${theirs}`);
      // It has read all of it.
      expect(triangleCount(theirs.mesh)).toBe(triangleCount(make()));
      const ours = meshReport(theirs.mesh);
      expect(ours.selfIntersectionsComplete).toBe(true);
      expect(ours.selfIntersections).toBe(theirs.pairs);
      expect(ours.degenerate).toBe(theirs.degenerate);
      expect(ours.openEdges + ours.nonManifoldEdges + ours.flippedEdges === 0).toBe(theirs.closed);
      expect(apart(ours.area, theirs.area)).toBeLessThan(1e-12);
      if (theirs.closed) expect(apart(ours.volume, theirs.volume)).toBeLessThan(1e-12);
      expect(theirs.pairs > 0).toBe(crosses);
    });
  }
});
