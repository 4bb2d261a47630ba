import type { AccessKinds } from '../../../shared/geometry/accessMeasurement.ts';
import type { TubeReach } from '../../../shared/geometry/gap.ts';
import type { TubeShape } from '../../../shared/geometry/measurement.ts';
import { headerBody, keptBody } from '../access/header-body.ts';
import { partGap } from '../access/part-gap.ts';
import { straightOff } from '../access/straight-off.ts';
import { type Around, toolReach } from '../access/tool-reach.ts';
import { torchReach } from '../access/torch-reach.ts';
import type { Attempt } from '../jobs.ts';
import type { MeasureInputs } from './inputs.ts';
import { builtTubes } from './tubes.ts';

type Measure<K extends keyof AccessKinds> = (
  job: AccessKinds[K]['job'],
  inputs: MeasureInputs,
) => Attempt<AccessKinds[K]['result']>;

interface Surroundings {
  readonly tubes: readonly TubeShape[];
  readonly meshes: readonly string[];
  readonly scans?: readonly string[];
}

/** Everything the job names, ready to be looked at. */
function around<R>(
  job: Surroundings,
  inputs: MeasureInputs,
  look: (around: Around, tubes: readonly TubeReach[]) => Attempt<R>,
): Attempt<R> {
  const { tubes, meshes, scans = [] } = job;
  const built = builtTubes(tubes);
  if (!built.ok) return built;
  const body = keptBody(JSON.stringify({ tubes, meshes }), () => headerBody(built.tubes, meshes.map(inputs.mesh)));
  return look({ body, grids: scans.map(inputs.scan) }, built.tubes);
}

/** How measurements of room and access are made. */
export const accessKinds: { readonly [K in keyof AccessKinds]: Measure<K> } = {
  partGap: (job, inputs) => partGap(inputs.mesh(job.mesh), inputs.scan(job.scan), job),
  toolReach: (job, inputs) => around(job, inputs, (all) => ({ ok: true, result: toolReach(all, job) })),
  straightOff: (job, inputs) => around(job, inputs, (all) => ({ ok: true, result: straightOff(all, job) })),
  torchReach: (job, inputs) => around(job, inputs, ({ body }, tubes) => torchReach(tubes, body, job)),
};
