import type { ClearanceResult } from '../geometry/measurement.ts';
import type { BayComponent, Runner } from '../spec/spec.ts';
import { derive, type Known } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { gapOnCar, scanFrame, tubesAtScan } from './placing.ts';
import { tubeShape } from './tubeShapes.ts';

/** Smallest gap between a runner and the scan of a bay component where it lies on the car, measured by a worker; pending until it is there. */
export function scanGap(context: FactContext, runner: Runner, component: BayComponent): Known<ClearanceResult> {
  const tube = tubeShape(context, runner);
  const frame = scanFrame(context, component);
  const pair = `${runner.id}~${component.id}`;
  const job = context.memo(`clearance-job/${pair}`, [tube, frame], () =>
    derive({ tube, frame }, (v) => {
      const [shape = v.tube] = tubesAtScan([v.tube], v.frame.motion);
      return { kind: 'clearance', scan: v.frame.scan, ...shape } as const;
    }),
  );
  const gap = derive({ job }, (v) => context.measured.measure(v.job));
  if (component.placed !== 'by-datums') return gap;
  // The same object as long as neither moved: rules compare by it.
  return context.memo(`clearance-on-car/${pair}`, [gap.known ? gap.value : gap.why, frame], () =>
    derive({ gap, frame }, (v) => gapOnCar(v.gap, v.frame.motion)),
  );
}
