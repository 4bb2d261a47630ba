import type { MeasureJob, MeasureResult } from '../../../shared/geometry/measurement.ts';
import { BoreFinder } from '../../../shared/geometry/mesh/boreTilt.ts';
import { poseMeasures, searchPoses } from '../../../shared/geometry/mesh/buildPose.ts';
import type { EnclosedVolume } from '../../../shared/geometry/mesh/enclosed.ts';
import { enclosedVolumes } from '../../../shared/geometry/mesh/enclosed.ts';
import { rotationOfTurns, turnsOfRotation } from '../../../shared/geometry/mesh/fixedTurns.ts';
import { smallestInnerGap } from '../../../shared/geometry/mesh/gapInside.ts';
import { massProperties } from '../../../shared/geometry/mesh/massProperties.ts';
import { meshReport } from '../../../shared/geometry/mesh/meshReport.ts';
import { overhangReach } from '../../../shared/geometry/mesh/overhangReach.ts';
import { poseSurface } from '../../../shared/geometry/mesh/poseSurface.ts';
import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { boxOf, triangleCount } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { triangleTree } from '../../../shared/geometry/mesh/triangleTree.ts';
import { voxelEdge } from '../../../shared/geometry/mesh/voxelGrid.ts';
import { thinnestWall } from '../../../shared/geometry/mesh/wallThickness.ts';
import type { BorePlace, PartKinds } from '../../../shared/geometry/partMeasurement.ts';
import type { Attempt } from '../jobs.ts';
import { gapRays, wallRays } from '../kernels/surface-rays.ts';
import type { MeasureInputs } from './inputs.ts';
import { builtTubes } from './tubes.ts';

/** Walls thicker and gaps wider than these are of no interest to a printer, metres (own: many times any limit). */
const WALL_LIMIT = 0.01;
const GAP_LIMIT = 0.005;

type PartMeasure<K extends keyof PartKinds> = (job: MeasureJob<K>, inputs: MeasureInputs) => Attempt<MeasureResult<K>>;

const done = <R>(result: R): Attempt<R> => ({ ok: true, result });

/** How each kind of measurement on a part is made. */
export const partKinds: { readonly [K in keyof PartKinds]: PartMeasure<K> } = {
  meshReport: ({ mesh }, inputs) => done(report(inputs.mesh(mesh))),
  pose: (job, inputs) => done(pose(inputs.mesh(job.mesh), job)),
  poseSearch: (job, inputs) => poses(inputs.mesh(job.mesh), job),
  thinnestWall: ({ mesh }, inputs) =>
    done({
      ...(thinnest(inputs.mesh(mesh)) ?? { smallest: WALL_LIMIT, p1: WALL_LIMIT, at: null }),
      limit: WALL_LIMIT,
    }),
  innerGap: ({ mesh }, inputs) =>
    done({
      ...(narrowest(inputs.mesh(mesh)) ?? { gap: GAP_LIMIT, at: null, to: null }),
      limit: GAP_LIMIT,
    }),
  enclosed: ({ mesh, voxel }, inputs) => enclosed(inputs.mesh(mesh), voxel),
  boreTilt: (job, inputs) => boreTilt(inputs.mesh(job.mesh), job),
};

function report(mesh: TriangleMesh): MeasureResult<'meshReport'> {
  const { shells, ...found } = meshReport(mesh);
  const { least, greatest } = boxOf(mesh) ?? { least: [0, 0, 0], greatest: [0, 0, 0] };
  return { ...found, shells: shells.length, triangles: triangleCount(mesh), least, greatest };
}

function pose(mesh: TriangleMesh, { turn, overhangAngle, leastAngle }: MeasureJob<'pose'>): MeasureResult<'pose'> {
  const rows = rotationOfTurns(turn);
  return {
    ...poseMeasures(mesh, rows, { overhangAngle }),
    ...poseSurface(mesh, rows, leastAngle),
    ...overhangReach(mesh, { up: [rows[6], rows[7], rows[8]], overhangAngle: leastAngle }),
  };
}

function poses(
  mesh: TriangleMesh,
  { overhangAngle, count, tubes }: MeasureJob<'poseSearch'>,
): Attempt<MeasureResult<'poseSearch'>> {
  const built = builtTubes(tubes);
  if (!built.ok) return built;
  const finder = new BoreFinder(triangleTree(mesh));
  const bores = built.tubes.flatMap(({ centreline, outerRadius }) => finder.directions(centreline, outerRadius));
  const found = searchPoses(mesh, { overhangAngle, best: count, bores });
  return done({
    volume: massProperties(mesh).volume,
    choices: found.map(({ up, pose, leastBoreAngle = null, ...figures }) => ({
      turn: turnsOfRotation(pose),
      leastBoreAngle,
      ...figures,
    })),
  });
}

function thinnest(mesh: TriangleMesh): Pick<MeasureResult<'thinnestWall'>, 'smallest' | 'p1' | 'at'> | undefined {
  const found = thinnestWall(mesh, { limit: WALL_LIMIT, cast: wallRays(mesh) });
  return found && { smallest: found.smallest, p1: found.p1, at: found.at };
}

const narrowest = (mesh: TriangleMesh) => smallestInnerGap(mesh, { limit: GAP_LIMIT, cast: gapRays(mesh) });

function enclosed(mesh: TriangleMesh, voxel: number): Attempt<MeasureResult<'enclosed'>> {
  const box = boxOf(mesh);
  if (!box || !(voxel > 0)) {
    const message = `Expected a part with a cube edge above 0 m to look with, got ${voxel} m.`;
    return { ok: false, problem: { code: 'bad-voxel', message } };
  }
  const volumes = enclosedVolumes(mesh, voxel);
  const second = ({ openings }: EnclosedVolume): number => openings[1]?.diameter ?? 0;
  // The list is largest first, so of two alike the larger stays.
  const [worst] = [...volumes].sort((a, b) => second(a) - second(b));
  return done({
    count: volumes.length,
    air: worst?.volume ?? 0,
    openings: worst?.openings.length ?? 0,
    second: worst ? second(worst) : 0,
    at: (worst?.openings[1] ?? worst?.openings[0] ?? worst)?.at ?? null,
    edge: voxelEdge(box, voxel),
  });
}

function boreTilt(mesh: TriangleMesh, { turn, tubes }: MeasureJob<'boreTilt'>): Attempt<MeasureResult<'boreTilt'>> {
  const built = builtTubes(tubes);
  if (!built.ok) return built;
  const rows = rotationOfTurns(turn);
  const up = [rows[6], rows[7], rows[8]] as const;
  const finder = new BoreFinder(triangleTree(mesh));
  const places = (hidden: boolean): BorePlace | null =>
    built.tubes
      .map(({ centreline, outerRadius }, tube) => {
        const found = finder.flattest(centreline, { reach: outerRadius, up }, hidden);
        return found && { ...found, tube };
      })
      .reduce<BorePlace | null>((best, one) => (one && (!best || one.tilt < best.tilt) ? one : best), null);
  return done({ flattest: places(false), hidden: places(true) });
}
