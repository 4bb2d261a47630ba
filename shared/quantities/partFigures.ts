import type {
  BoreTiltResult,
  EnclosedResult,
  InnerGapResult,
  MeshReportResult,
  PoseResult,
  ThinnestWallResult,
} from '../geometry/partMeasurement.ts';
import type { Vec3 } from '../geometry/vector.ts';
import type { Element } from '../spec/spec.ts';
import { type PrintLimit, selfSupportingAngles } from '../trade/data/print-limits.ts';
import { at, derive, type Known, known, unknown } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { pieceMesh } from './pieceMesh.ts';
import { headerTubes } from './tubeShapes.ts';

/** A piece that is printed. */
export type Piece = Element<'pieces'>;

/** Edge of the cubes that enclosed volumes are looked for with, metres. Source: own, an eighth of the opening asked for. */
export const powderVoxel = 0.0005;

/** What the mesh of a piece is like, measured by a worker. */
export function measuredReport(context: FactContext, piece: Piece): Known<MeshReportResult> {
  const job = context.memo(`mesh-report-job/${piece.id}`, [piece.mesh, piece.meshUnit], () =>
    derive({ mesh: pieceMesh(piece) }, ({ mesh }) => ({ kind: 'meshReport', mesh }) as const),
  );
  return derive({ job }, (v) => context.measured.measure(v.job));
}

/** Places where a mesh is no closed, oriented surface: edges open, shared by more than two or flipped, triangles that cross, inside out. */
export function meshFaults(report: MeshReportResult): number {
  const { openEdges, nonManifoldEdges, flippedEdges, selfIntersections, volume } = report;
  const edges = openEdges + nonManifoldEdges + flippedEdges;
  return edges + selfIntersections + (edges === 0 && !(volume > 0) ? 1 : 0);
}

/** The name of the mesh of a piece when it is closed and sound: what all else is measured on. Inconsistent when it is not. */
export function soundMesh(context: FactContext, piece: Piece): Known<string> {
  return derive({ mesh: pieceMesh(piece), report: measuredReport(context, piece) }, ({ mesh, report }) => {
    const faults = meshFaults(report);
    if (faults === 0 && report.selfIntersectionsComplete) return known(mesh);
    const found = faults > 0 ? `faults in its mesh: ${faults}` : 'a mesh too tangled to be searched for crossings';
    const detail = `expected a closed surface without crossings, got ${found}; see the check of the mesh itself`;
    return unknown({ reason: 'inconsistent', detail, paths: [`pieces.${piece.id}.mesh`] });
  });
}

/** Angles (from the plate, radians) at which the powder of a piece carries itself. */
export function selfSupport(piece: Piece): Known<PrintLimit> {
  return derive({ alloy: at(`pieces.${piece.id}.alloy`, piece.alloy) }, ({ alloy }) => selfSupportingAngles[alloy]);
}

/** How a piece is turned for the build: about X, then Y, then Z; radians. */
function buildTurn({ id, turnX, turnY, turnZ }: Piece): Known<Vec3> {
  return derive(
    {
      x: at<number>(`pieces.${id}.turnX`, turnX),
      y: at<number>(`pieces.${id}.turnY`, turnY),
      z: at<number>(`pieces.${id}.turnZ`, turnZ),
    },
    ({ x, y, z }): Known<Vec3> => known([x, y, z]),
  );
}

/** A piece as it stands on the plate, measured by a worker: support below the usual angle of its powder, hanging below the least. */
export function measuredPose(context: FactContext, piece: Piece): Known<PoseResult> {
  const { id, mesh, meshUnit, alloy, turnX, turnY, turnZ } = piece;
  const job = context.memo(`pose-job/${id}`, [mesh, meshUnit, alloy, turnX, turnY, turnZ], () =>
    derive({ mesh: pieceMesh(piece), turn: buildTurn(piece), support: selfSupport(piece) }, (v) => {
      const { start, band } = v.support;
      return { kind: 'pose', mesh: v.mesh, turn: v.turn, overhangAngle: start, leastAngle: band[0] } as const;
    }),
  );
  return derive({ job, sound: soundMesh(context, piece) }, (v) => context.measured.measure(v.job));
}

/** The thinnest wall of a piece, measured by a worker. */
export function measuredWall(context: FactContext, piece: Piece): Known<ThinnestWallResult> {
  const job = context.memo(`wall-job/${piece.id}`, [piece.mesh, piece.meshUnit], () =>
    derive({ mesh: pieceMesh(piece) }, ({ mesh }) => ({ kind: 'thinnestWall', mesh }) as const),
  );
  return derive({ job, sound: soundMesh(context, piece) }, (v) => context.measured.measure(v.job));
}

/** The narrowest gap of a piece, measured by a worker. */
export function measuredInnerGap(context: FactContext, piece: Piece): Known<InnerGapResult> {
  const job = context.memo(`inner-gap-job/${piece.id}`, [piece.mesh, piece.meshUnit], () =>
    derive({ mesh: pieceMesh(piece) }, ({ mesh }) => ({ kind: 'innerGap', mesh }) as const),
  );
  return derive({ job, sound: soundMesh(context, piece) }, (v) => context.measured.measure(v.job));
}

/** The volume of a piece that is hardest to empty of powder, measured by a worker. */
export function measuredEnclosed(context: FactContext, piece: Piece): Known<EnclosedResult> {
  const job = context.memo(`enclosed-job/${piece.id}`, [piece.mesh, piece.meshUnit], () =>
    derive({ mesh: pieceMesh(piece) }, ({ mesh }) => ({ kind: 'enclosed', mesh, voxel: powderVoxel }) as const),
  );
  return derive({ job, sound: soundMesh(context, piece) }, (v) => context.measured.measure(v.job));
}

/** How the runners' bores lie in the build where they run through a piece, measured by a worker. */
export function measuredBores(context: FactContext, piece: Piece): Known<BoreTiltResult> {
  const { id, mesh, meshUnit, turnX, turnY, turnZ } = piece;
  const tubes = headerTubes(context);
  const job = context.memo(`bore-job/${id}`, [mesh, meshUnit, turnX, turnY, turnZ, tubes], () =>
    derive({ mesh: pieceMesh(piece), turn: buildTurn(piece), tubes }, (v) => ({ kind: 'boreTilt', ...v }) as const),
  );
  return derive({ job, sound: soundMesh(context, piece) }, (v) => context.measured.measure(v.job));
}
