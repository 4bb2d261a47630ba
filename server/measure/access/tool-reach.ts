import type { ToolReachJob, ToolReachResult } from '../../../shared/geometry/accessMeasurement.ts';
import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import type { TubeReach } from '../../../shared/geometry/gap.ts';
import { depthToMesh, depthToPoints, type Stop, type ToolPath } from '../../../shared/geometry/mesh/freeDepth.ts';
import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { tubeMesh } from './header-body.ts';

/** What may be in the way of a tool. */
export interface Around {
  readonly tubes: readonly TubeReach[];
  readonly parts: readonly TriangleMesh[];
  readonly grids: readonly PointGrid[];
}

type Obstacle = readonly [by: 'tube' | 'part' | 'scan', stop: Stop | undefined];

/** How far a tool goes onto its fastener before the first thing in its way. */
export function toolReach(
  around: Around,
  job: Omit<ToolReachJob, 'tubes' | 'meshes' | 'scans' | 'kind'>,
): ToolReachResult {
  const tool: ToolPath = { from: job.from, way: job.way, radius: job.radius, hollow: job.stud };
  const obstacles: Obstacle[] = [
    ...around.tubes.map((tube): Obstacle => ['tube', depthToMesh(tubeMesh(tube), tool)]),
    ...around.parts.map((part): Obstacle => ['part', depthToMesh(part, tool)]),
    ...around.grids.map((grid): Obstacle => ['scan', depthToPoints(grid.positions, grid.origin, tool)]),
  ];
  let found: ToolReachResult = { free: job.reach, by: null, at: null };
  for (const [by, stop] of obstacles)
    if (stop && stop.depth < found.free) found = { free: stop.depth, by, at: stop.at };
  return found;
}
