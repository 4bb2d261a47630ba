import { smallestGap } from '../../../shared/geometry/gap.ts';
import type { MeasureJob, MeasureKind, MeasureResult } from '../../../shared/geometry/measurement.ts';
import type { Attempt } from '../jobs.ts';
import { coverageOf } from '../scan/coverage.ts';
import { deviationOf } from '../scan/deviation.ts';
import { extentsOf } from '../scan/extents.ts';
import { scanFitOf } from '../scan/scan-fit.ts';
import { spacingOf } from '../scan/spacing.ts';
import { accessKinds } from './access-kinds.ts';
import type { MeasureInputs } from './inputs.ts';
import { partKinds } from './part-kinds.ts';
import { builtTube, builtTubes } from './tubes.ts';

type Measure<K extends MeasureKind> = (job: MeasureJob<K>, inputs: MeasureInputs) => Attempt<MeasureResult<K>>;

/** How each kind of measurement is made. */
const kinds: { readonly [K in MeasureKind]: Measure<K> } = {
  clearance: (job, inputs) => {
    const built = builtTube(job);
    if (!built.ok) return built;
    const grid = inputs.scan(job.scan);
    const found = smallestGap(built.tube, grid);
    if (!found) return { ok: false, problem: { code: 'empty', message: 'Expected a scan with points, got none.' } };
    return { ok: true, result: { ...found, points: grid.count, cover: grid.cover } };
  },
  scanSpacing: (job, inputs) => {
    const built = builtTubes(job.tubes);
    if (!built.ok) return built;
    return { ok: true, result: spacingOf(inputs.scan(job.scan), built.tubes, job.reach) };
  },
  scanCoverage: (job, inputs) => {
    const built = builtTubes(job.tubes);
    if (!built.ok) return built;
    return coverageOf(job.scans.map(inputs.scan), built.tubes, job.reach);
  },
  scanExtents: (job, inputs) => ({ ok: true, result: extentsOf(inputs.scan(job.scan)) }),
  scanFit: ({ scans: [moving, onto] }, inputs) => scanFitOf(inputs.scan(moving), inputs.scan(onto)),
  deviation: (job, inputs) => deviationOf(inputs.scan(job.scan), inputs.mesh(job.mesh), job.fit),
  ...partKinds,
  ...accessKinds,
};

/** Makes a measurement. @throws GridFileError, MeshFileError, ReadFailure */
export function measured<K extends MeasureKind>(
  job: MeasureJob<K> & { readonly kind: K },
  inputs: MeasureInputs,
): Attempt<MeasureResult<K>> {
  return kinds[job.kind](job, inputs);
}
