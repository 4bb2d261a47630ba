import type { ClearanceResult } from '../geometry/measurement.ts';
import type { BayComponent, Runner } from '../spec/spec.ts';
import { at, derive, type Known } from '../units/known.ts';
import { nodeTable, runnerCentreline } from './centreline.ts';
import type { FactContext } from './context.ts';
import { runnerOuterRadius } from './tube.ts';

/** Smallest gap between a runner and the scan of a bay component, measured by a worker; pending until it is there. */
export function scanGap(context: FactContext, runner: Runner, component: BayComponent): Known<ClearanceResult> {
  return derive(
    {
      scan: scanName(component),
      nodes: flatNodes(context, runner),
      outerRadius: runnerOuterRadius(context),
      // What lies inside the flange is the head's own port: it would read as a contact.
      fromS: at<number>('flange.thickness', context.spec.flange.thickness),
    },
    (job) => context.measured.clearance({ kind: 'clearance', ...job }),
  );
}

/** Content hash and unit together: the same file read in another unit is another scan. */
function scanName(component: BayComponent): Known<string> {
  const path = `components.${component.id}`;
  return derive(
    { scan: at(`${path}.scan`, component.scan), unit: at(`${path}.scanUnit`, component.scanUnit) },
    ({ scan, unit }) => `${scan}-${unit}`,
  );
}

function flatNodes(context: FactContext, runner: Runner): Known<readonly number[]> {
  return context.memo(`flat-nodes/${runner.id}`, [runner.nodes], () =>
    // The centreline is asked for first: a table that describes none is not worth a worker's time.
    derive({ line: runnerCentreline(context, runner), table: nodeTable(runner) }, ({ table }) =>
      table.flatMap(({ x, y, z, radius }) => [x, y, z, radius]),
    ),
  );
}
