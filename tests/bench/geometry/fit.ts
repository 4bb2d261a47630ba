import { performance } from 'node:perf_hooks';
import { deviationOf } from '../../../server/measure/scan/deviation.ts';
import { buildPointGrid } from '../../../shared/geometry/cloud.ts';
import { bendMesh, boxMesh, moved } from '../../../shared/geometry/mesh/shapes.fixture.ts';
import { sampleSurface } from '../../../shared/geometry/mesh/surfaceSamples.ts';
import { joinMeshes, triangleCount } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { triangleTree } from '../../../shared/geometry/mesh/triangleTree.ts';
import { type Motion, movedBy } from '../../../shared/geometry/motion.ts';
import { gaussian, seededRandom } from '../../../shared/geometry/random.ts';

/*
 * The scan of a printed piece against its model: npm run bench -- geometry/fit [sigma in um, 40]. A bent pipe on a plate, some 280,000
 * triangles and a million points with noise, half a turn and 2 m away; one thread. The fit has to leave the noise and nothing else (95 % of
 * a normal distribution lie within 1.96 sigma), or the bench ends with 1.
 */

const sigma = Number(process.argv[2] ?? 40) * 1e-6;
const say = (line: string): void => void process.stdout.write(`${line}\n`);

const mesh = joinMeshes([
  bendMesh({ bend: 0.09, outer: 0.0222, inner: 0.0208 }, 1.4, { along: 700, facets: 100 }),
  moved(boxMesh([0.08, 0.008, 0.06]), [0.05, -0.008, -0.03]),
  moved(boxMesh([0.015, 0.012, 0.02]), [0.13, -0.006, 0.02]),
]);
const away: Motion = {
  rotation: [
    [-1 / 9, 4 / 9, 8 / 9],
    [4 / 9, -7 / 9, 4 / 9],
    [8 / 9, 4 / 9, -1 / 9],
  ],
  translation: [1.5, -2, 0.25],
};
const random = seededRandom(7);
const { count, places, normals } = sampleSurface(triangleTree(mesh), 0.0003);
const points = new Float32Array(3 * count);
for (let i = 0; i < count; i++) {
  const off = sigma * gaussian(random);
  const on = (k: number): number => (places[3 * i + k] ?? 0) + off * (normals[3 * i + k] ?? 0);
  const [x, y, z] = movedBy(away, [on(0), on(1), on(2)]);
  points.set([x - 1.5, y + 2, z - 0.25], 3 * i);
}
const grid = buildPointGrid(points, [1.5, -2, 0.25]);
say(
  `${triangleCount(mesh)} triangles, ${grid.count} points, noise ${sigma * 1e6} um, Node ${process.version}, one thread`,
);

for (const fit of ['as-placed', 'best-fit'] as const) {
  const before = performance.now();
  const made = deviationOf(grid, mesh, fit);
  const time = performance.now() - before;
  if (!made.ok) throw new Error(made.problem.message);
  const { compared, size95, mean } = made.result;
  const found = `95 % within ${(size95 * 1e6).toFixed(1)} um, mean ${(mean * 1e6).toFixed(2)} um`;
  say(`${fit.padEnd(10)} ${time.toFixed(0).padStart(6)} ms, ${compared} points compared: ${found}`);
  if (fit === 'best-fit' && Math.abs(size95 / (1.96 * sigma) - 1) > 0.02) process.exitCode = 1;
}
