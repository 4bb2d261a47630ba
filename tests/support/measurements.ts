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
  scanExtents: { least: [-0.4, -0.3, -0.3], greatest: [0.4, 0.3, 0.3], points: 1000 },
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
