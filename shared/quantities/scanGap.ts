import type { ClearanceResult } from '../geometry/measurement.ts';
import type { BayComponent, Runner } from '../spec/spec.ts';
import { derive, type Known } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { gapOnCar, placing, tubesAtScan } from './placing.ts';
import { scanName } from './scanName.ts';
import { tubeShape } from './tubeShapes.ts';

/** Smallest gap between a runner and the scan of a bay component where it lies on the car, measured by a worker; pending until it is there. */
export function scanGap(context: FactContext, runner: Runner, component: BayComponent): Known<ClearanceResult> {
  const tube = tubeShape(context, runner);
  const motion = placing(context, component);
  const deps = [tube, motion, component.scan, component.scanUnit];
  const pair = `${runner.id}~${component.id}`;
  const job = context.memo(`clearance-job/${pair}`, deps, () =>
    derive({ scan: scanName(component), tube, motion }, (v) => {
      const [shape = v.tube] = tubesAtScan([v.tube], v.motion);
      return { kind: 'clearance', scan: v.scan, ...shape } as const;
    }),
  );
  const gap = derive({ job }, (v) => context.measured.measure(v.job));
  if (component.placed !== 'by-datums') return gap;
  // The same object as long as neither moved: rules compare by it.
  return context.memo(`clearance-on-car/${pair}`, [gap.known ? gap.value : gap.why, motion], () =>
    derive({ gap, motion }, (v) => gapOnCar(v.gap, v.motion)),
  );
}
