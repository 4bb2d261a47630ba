import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import type { DeviationJob, DeviationResult } from '../../../shared/geometry/deviationMeasurement.ts';
import { deviationsFrom } from '../../../shared/geometry/fit/deviations.ts';
import type { NearestLeaves } from '../../../shared/geometry/fit/footFinder.ts';
import { evenly, roughFit, STAY } from '../../../shared/geometry/fit/roughFit.ts';
import { fitToSurface } from '../../../shared/geometry/fit/surfaceFit.ts';
import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { type TriangleTree, triangleTree } from '../../../shared/geometry/mesh/triangleTree.ts';
import type { Motion } from '../../../shared/geometry/motion.ts';
import { deviationSummary } from '../../../shared/trade/print/deviation-summary.ts';
import type { Attempt } from '../jobs.ts';
import { isFault } from '../kernels/clearance.ts';
import { openRays } from '../kernels/ray-kernel.ts';
import { grouped } from '../readers/problem.ts';

/** Points that the fit goes by (own: its motion is then uncertain by a hundredth of the noise). */
const FITTED = 20_000;
/** Points compared with the model (own: the 95 % point of so many is within 0.03 % of that of all). */
const COMPARED = 500_000;
/** Nineteen of twenty points hold the fit: clamps, table and strays of a twentieth stay out of it. */
const EFFORT = { keep: 0.95, rounds: 100 };

/** Compares the scan of a piece with its model. */
export function deviationOf(grid: PointGrid, mesh: TriangleMesh, fit: DeviationJob['fit']): Attempt<DeviationResult> {
  const tree = triangleTree(mesh);
  const points = evenly(placesOf(grid), COMPARED);
  if (points.length < 6 || tree.count === 0) {
    const message = `Expected a scan of at least two points and a model with triangles, got ${grouped(grid.count)} and ${grouped(tree.count)}.`;
    return { ok: false, problem: { code: 'empty', message } };
  }
  const nearest = leavesBy(tree, mesh);
  const figures = (motion: Motion) => figuresOf(tree, points, motion, nearest);
  const before = figures(STAY);
  if (fit === 'as-placed') return { ok: true, result: { ...before, before: short(before), points: grid.count } };
  const fitted = fitToSurface(tree, evenly(points, FITTED), roughFit(tree, points, nearest), { ...EFFORT, nearest });
  if (!fitted.settled) {
    const message = `Expected the fit of the scan on the model to come to rest within ${EFFORT.rounds} rounds, it did not: crop the scan to the piece.`;
    return { ok: false, problem: { code: 'no-fit', message } };
  }
  return { ok: true, result: { ...figures(fitted.motion), before: short(before), points: grid.count } };
}

/** In double precision: a scan may lie far from zero, and its model elsewhere. */
function placesOf({ positions, origin, count }: PointGrid): Float64Array {
  const out = new Float64Array(3 * count);
  for (let i = 0; i < 3 * count; i++) out[i] = (positions[i] ?? 0) + (origin[i % 3] ?? 0);
  return out;
}

/** Names nearest triangles by the kernel; undefined where it can't be had: then they are looked for one by one. */
function leavesBy(tree: TriangleTree, mesh: TriangleMesh): NearestLeaves | undefined {
  const kernel = openRays(mesh);
  if (!kernel || isFault(kernel)) return undefined;
  const leafOf = new Int32Array(tree.count);
  for (let leaf = 0; leaf < tree.count; leaf++) leafOf[tree.order[leaf] ?? 0] = leaf;
  // A fit asks about the same points again and again, each time moved a little.
  const lists = new Map<number, (points: Float64Array) => Int32Array>();
  return (points) => {
    const count = points.length / 3;
    const nearest = lists.get(count) ?? kernel.nearest(count);
    lists.set(count, nearest);
    return nearest(points).map((triangle) => (triangle < 0 ? -1 : (leafOf[triangle] ?? -1)));
  };
}

function figuresOf(tree: TriangleTree, points: Float64Array, motion: Motion, nearest: NearestLeaves | undefined) {
  const { signed, farthest } = deviationsFrom(tree, points, motion, nearest);
  const summary = deviationSummary([...signed]);
  // Two points at least, all finite: there is nothing to be unknown.
  if (!summary.known || !farthest) throw new Error('deviations of checked points have a summary');
  const { count, mean, spread, rootMeanSquare, size95, largest } = summary.value;
  return { compared: count, mean, deviation: spread, rms: rootMeanSquare, size95, largest, at: farthest };
}

const short = ({ rms, size95 }: DeviationResult['before']): DeviationResult['before'] => ({ rms, size95 });
