import {
  bruteDistances,
  looseTriangles,
  meshKinds,
  scatter,
  slivers,
  snapped,
} from '../../../server/measure/kernels/brute.fixture.ts';
import type { Coordinates } from '../../../server/measure/kernels/clearance.ts';
import { isFault } from '../../../server/measure/kernels/clearance.ts';
import { builtKernel, openScan } from '../../../server/measure/kernels/clearance-kernel.ts';
import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { seededRandom } from '../../../shared/geometry/random.ts';

/*
 * The distance kernels against all pairs in double precision, over many seeded meshes: small, large, tiny, and with degenerates and slivers
 * among them, where the usual forms in single precision are millimetres off. npm run bench -- geometry/distance-fuzz [meshes, 60] [seed, 1].
 * Prints the worst error of each kind and fails when one passes the bound, or when a smallest distance is not that of all pairs.
 */

/** Most that a distance may be off, millimetres. */
const BOUND = 1e-5;
/** Farthest distance asked for, metres, as in use: farther ones are off by more, since they are kept in single precision. */
const CAP = 0.06;
/** Most that a smallest distance may be off, metres: what doubles hold of a metre, with room. */
const EXACT = 1e-11;
const [meshes = 60, firstSeed = 1] = process.argv.slice(2).map(Number);
const say = (line: string): void => void process.stdout.write(`${line}\n`);

interface Case {
  readonly mesh: TriangleMesh;
  readonly points: Float64Array;
}

function made(kind: (typeof meshKinds)[number] | 'slivers', seed: number): Case {
  const random = seededRandom(seed);
  if (kind === 'slivers') return slivers(120, random);
  return {
    mesh: snapped(looseTriangles(kind, 100 + Math.floor(200 * random()), random)),
    points: scatter(403, random),
  };
}

/** Greatest error of the field, metres, and whether the smallest distance is exact. */
function errorOf({ mesh, points }: Case, module: typeof builtKernel | (() => undefined)): readonly [number, boolean] {
  const kernel = openScan(points satisfies Coordinates, module);
  if (isFault(kernel)) throw new Error(kernel.message);
  const surface = kernel.surface(mesh);
  if (isFault(surface)) throw new Error(surface.message);
  const brute = bruteDistances(points, mesh);
  const field = surface.field(CAP);
  const worst = brute.reduce(
    (most, one, i) => Math.max(most, Math.abs(Math.min(one, CAP) - (field[i] ?? Number.NaN))),
    0,
  );
  const least = brute.reduce((most, one) => Math.min(most, one), Number.POSITIVE_INFINITY);
  return [worst, Math.abs((surface.smallest()?.distance ?? Number.NaN) - least) < EXACT];
}

const kinds = [...meshKinds, 'slivers'] as const;
const worst = new Map<string, number>();
let wrong = 0;
for (let n = 0; n < meshes; n++) {
  const kind = kinds[n % kinds.length] ?? 'slivers';
  const one = made(kind, firstSeed + n);
  for (const [name, module] of [
    ['vectors', builtKernel],
    ['plain', () => undefined],
  ] as const) {
    const [error, exact] = errorOf(one, module);
    const label = `${kind}, ${name}`;
    worst.set(label, Math.max(worst.get(label) ?? 0, error * 1000));
    if (exact) continue;
    wrong++;
    say(`WRONG smallest distance: ${label}, seed ${firstSeed + n}`);
  }
}
for (const [label, error] of worst) say(`${label.padEnd(20)} worst error ${error.toExponential(2)} mm`);
const most = Array.from(worst.values()).reduce((a, b) => Math.max(a, b), 0);
say(
  `${meshes} meshes from seed ${firstSeed}: worst ${most.toExponential(2)} mm of ${BOUND} allowed, ${wrong} wrong smallest`,
);
if (!(most <= BOUND) || wrong > 0 || worst.size === 0) process.exitCode = 1;
