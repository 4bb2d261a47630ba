import type { ClearanceResult } from '../geometry/measurement.ts';
import type { BayComponent, Runner } from '../spec/spec.ts';
import { derive, type Known } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { scanName } from './scanName.ts';
import { tubeShape } from './tubeShapes.ts';

/** Smallest gap between a runner and the scan of a bay component, measured by a worker; pending until it is there. */
export function scanGap(context: FactContext, runner: Runner, component: BayComponent): Known<ClearanceResult> {
  const tube = tubeShape(context, runner);
  const deps = [tube, component.scan, component.scanUnit];
  const job = context.memo(`clearance-job/${runner.id}~${component.id}`, deps, () =>
    derive({ scan: scanName(component), tube }, (v) => ({ kind: 'clearance', scan: v.scan, ...v.tube }) as const),
  );
  return derive({ job }, (v) => context.measured.measure(v.job));
}
