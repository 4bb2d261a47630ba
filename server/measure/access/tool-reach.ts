import type { ToolReachJob, ToolReachResult } from '../../../shared/geometry/accessMeasurement.ts';
import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import { depthToMesh, depthToPoints, type Stop, type ToolPath } from '../../../shared/geometry/mesh/freeDepth.ts';
import type { HeaderBody } from './header-body.ts';

/** What may be in the way of a tool. */
export interface Around {
  readonly body: HeaderBody;
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
    ...around.body.tubes.map((tube): Obstacle => ['tube', depthToMesh(tube, tool)]),
    ...around.body.parts.map((part): Obstacle => ['part', depthToMesh(part, tool)]),
    ...around.grids.map((grid): Obstacle => ['scan', depthToPoints(grid.positions, grid.origin, tool)]),
  ];
  let found: ToolReachResult = { free: job.reach, by: null, at: null };
  for (const [by, stop] of obstacles)
    if (stop && stop.depth < found.free) found = { free: stop.depth, by, at: stop.at };
  return found;
}
