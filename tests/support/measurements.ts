import type { MeasureJob, MeasureKind, MeasureResult } from '../../shared/geometry/measurement.ts';
import type { Measurements } from '../../shared/quantities/context.ts';
import { type Known, known, unknown } from '../../shared/units/known.ts';

/** One result of each kind with which every rule passes comfortably on the base spec. */
export const comfortable: { readonly [K in MeasureKind]: MeasureResult<K> } = {
  clearance: {
    gap: 0.2,
    point: [0, 0.2, 0.4],
    foot: [0, 0.15, 0.2],
    onTube: [0, 0.17, 0.2],
    s: 0.3,
    points: 1000,
    cover: 0,
  },
  scanSpacing: { near: 40_000, measured: 20_000, median: 0.0008, cover: 0 },
  scanCoverage: { seen: 0.097, gap: 0.003, open: 0.4, at: [0, 0.2, 0.1] },
  partGap: { gap: 0.2, point: [0, 0.2, 0.4], onPart: [0, 0.17, 0.2], points: 1000, cover: 0 },
  toolReach: { free: 0.2, by: null, at: null },
  straightOff: { free: 0.1, point: null, onPart: null },
  torchReach: { share: 1, blind: 0, at: null },
  scanExtents: { least: [-0.4, -0.3, -0.3], greatest: [0.4, 0.3, 0.3], points: 1000 },
  deviation: {
    points: 52_000,
    compared: 52_000,
    before: { rms: 0.0021, size95: 0.004 },
    mean: 12e-6,
    deviation: 90e-6,
    rms: 91e-6,
    size95: 0.0002,
    largest: 0.0006,
    at: [0.02, 0.1, 0],
  },
  scanFit: {
    motion: {
      rotation: [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ],
      translation: [0.001, 0, 0],
    },
    ...{ shift: 0.001, compared: 12_000, overlap: 0.3, settled: true },
    before: { rms: 0.0012, size95: 0.0021 },
    after: { rms: 0.0002, size95: 0.0005 },
  },
  meshReport: {
    openEdges: 0,
    nonManifoldEdges: 0,
    flippedEdges: 0,
    shells: 1,
    selfIntersections: 0,
    selfIntersectionsComplete: true,
    degenerate: 0,
    duplicate: 0,
    holes: 0,
    volume: 1.2e-4,
    area: 0.12,
    triangles: 20_000,
    least: [-0.03, 0, -0.03],
    greatest: [0.03, 0.2, 0.25],
    at: null,
  },
  pose: {
    downskinArea: 0.0005,
    plateArea: 0.0005,
    supportToPlate: 1e-6,
    supportToPart: 1e-6,
    supportOnPart: 0,
    raster: 0.001,
    box: [0.06, 0.2, 0.22],
    lowest: -0.03,
    hangingArea: 0,
    hangingAt: null,
    trappedArea: 0,
    trappedAt: null,
    slope: 1,
  },
  poseSearch: {
    volume: 1.2e-5,
    choices: [
      {
        turn: [0, 0, 0],
        ...{ downskinArea: 0.0005, plateArea: 0, supportToPlate: 1e-6, supportToPart: 1e-6, height: 0.22 },
        leastBoreAngle: 1.2,
      },
    ],
  },
  thinnestWall: { smallest: 0.0019, p1: 0.00195, at: [0.02, 0.1, 0], limit: 0.01 },
  innerGap: { gap: 0.003, at: [0.02, 0.1, 0], to: [0.02, 0.103, 0], limit: 0.005 },
  enclosed: { count: 1, air: 2e-6, openings: 2, second: 0.006, at: [0, 0.1, 0.02], edge: 0.0005 },
  boreTilt: {
    flattest: { tube: 0, tilt: 1.2, diameter: 0.0405, s: 0.1, at: [0, 0.1, 0] },
    hidden: { tube: 0, tilt: 1.25, diameter: 0.0405, s: 0.12, at: [0, 0.12, 0] },
  },
};

/** Members of results to set, whatever the kind they belong to. */
export type MeasuredMembers = Readonly<Record<string, unknown>>;

/** The comfortable result of a kind with some members replaced. */
export function resultOf<K extends MeasureKind>(kind: K, members: MeasuredMembers = {}): MeasureResult<K> {
  const made: MeasureResult<K> = { ...comfortable[kind], ...members };
  return made;
}

/** Nothing is measured yet. */
export const pendingMeasurements: Measurements = { measure: () => unknown({ reason: 'pending', job: 'test' }) };

/** Everything asked for is measured at once; a job object asked for again gets the same object. `asked` sees every job. */
export function measuredAs(members: MeasuredMembers = {}, asked: (job: MeasureJob) => void = () => {}): Measurements {
  const kept = new Map<MeasureKind, Known<MeasureResult>>();
  return {
    measure: <J extends MeasureJob>(job: J) => {
      asked(job);
      const result = kept.get(job.kind) ?? known(resultOf(job.kind, members));
      kept.set(job.kind, result);
      return result as Known<MeasureResult<J['kind']>>;
    },
  };
}
