import { isFault } from '../../../server/measure/kernels/clearance.ts';
import { builtKernel, openScan } from '../../../server/measure/kernels/clearance-kernel.ts';
import { helpersHere } from '../../../server/measure/kernels/crew.ts';
import { openRays } from '../../../server/measure/kernels/ray-kernel.ts';
import { wallRays } from '../../../server/measure/kernels/surface-rays.ts';
import { sampleSurface } from '../../../shared/geometry/mesh/surfaceSamples.ts';
import { joinMeshes, type TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { triangleTree } from '../../../shared/geometry/mesh/triangleTree.ts';
import { wallWidths } from '../../../shared/geometry/mesh/wallThickness.ts';
import { bayPoints } from './data/bay.ts';
import { headerParts } from './data/header.ts';

/*
 * What threads that help are worth, and the ball kernel beside ball by ball: npm run bench -- geometry/threads [millions of points, 5]. Time of
 * day, least of some runs: on a machine with other work the second thread is not there.
 */

const millions = Number(process.argv[2] ?? 5);
const helpers = helpersHere();
const LIMIT = 0.01;
const say = (line: string): void => void process.stdout.write(`${line}\n`);

function least(runs: number, work: () => void): number {
  const times = Array.from({ length: runs }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return Math.min(...times);
}

function sound<T extends object>(answer: T | undefined): Exclude<T, { readonly message: string }> {
  if (!answer) throw new Error('the kernels are not compiled: npm run build');
  if (isFault(answer)) throw new Error(answer.message);
  return answer as Exclude<T, { readonly message: string }>;
}

const inMetres = ({ positions, indices }: TriangleMesh): TriangleMesh => ({
  positions: Float64Array.from(Float32Array.from(positions), (x) => x / 1000),
  indices,
});

const header = joinMeshes(headerParts().map(inMetres));
const points = bayPoints(millions * 1e6, 42);
const tree = triangleTree(header);
const samples = sampleSurface(tree, 0.003);
const rays = {
  places: samples.places.subarray(0, 3 * samples.count),
  directions: samples.normals.subarray(0, 3 * samples.count).map((x) => -x),
  own: Uint32Array.from({ length: samples.count }, (_, i) => tree.order[samples.leaves[i] ?? 0] ?? 0),
};

/** Least milliseconds of each question with so many threads to help. */
function asked(count: number): ReadonlyMap<string, number> {
  const times = new Map<string, number>();
  const scans = Array.from({ length: 2 }, () => {
    const start = performance.now();
    const scan = sound(openScan(points, builtKernel, count));
    return { scan, time: performance.now() - start };
  });
  times.set('taking in the scan', Math.min(...scans.map(({ time }) => time)));
  const surface = sound(scans[0]?.scan.surface(header));
  times.set(
    'field of 60 mm',
    least(7, () => surface.field(0.06)),
  );
  const kernel = sound(openRays(header, builtKernel, count));
  const { distances } = kernel.cast(rays, LIMIT);
  const radii = distances.map((seen) => Math.min(seen, LIMIT) / 2);
  times.set(
    'rays into walls',
    least(7, () => kernel.cast(rays, LIMIT)),
  );
  times.set(
    'balls in walls',
    least(7, () => kernel.shrink(rays, radii)),
  );
  return times;
}

say(
  `${points.length / 3} points, ${header.indices.length / 3} triangles, ${samples.count} rays, Node ${process.version}`,
);
const alone = asked(0);
const helped = asked(helpers);
for (const [what, time] of alone) {
  const together = helped.get(what) ?? Number.NaN;
  say(
    `${what}: alone ${time.toFixed(0)} ms, with ${helpers} to help ${together.toFixed(0)} ms = ${(time / together).toFixed(2)} x`,
  );
}
const byKernel = least(3, () => wallWidths(tree, samples, LIMIT, wallRays(header)(tree, samples, LIMIT)));
const plain = least(1, () => wallWidths(tree, samples, LIMIT));
say(
  `all walls: kernel ${byKernel.toFixed(0)} ms, ball by ball ${plain.toFixed(0)} ms = ${(plain / byKernel).toFixed(1)} x`,
);
