import type { ScanCoverageResult, ScanExtentsResult, ScanSpacingResult } from '../geometry/measurement.ts';
import type { BayComponent } from '../spec/spec.ts';
import { derive, type Known } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { scanFrame, scanOnCar, tubesAtScan } from './placing.ts';
import { headerTubes } from './tubeShapes.ts';

/** How far from the outside of the runners a scan has to be good, metres. Source: common practice, no source: the widest clearances are 75 to 100 mm, of which hot growth and rock use up some. */
export const nearHeader = 0.06;

/** Spacing of the points of a component's scan near the runners, measured by a worker. */
export function measuredSpacing(context: FactContext, component: BayComponent): Known<ScanSpacingResult> {
  const tubes = headerTubes(context);
  const frame = scanFrame(context, component);
  const job = context.memo(`spacing-job/${component.id}`, [tubes, frame], () =>
    derive({ tubes, frame }, (v) => {
      const { scan, motion } = v.frame;
      return { kind: 'scanSpacing', scan, tubes: tubesAtScan(v.tubes, motion), reach: nearHeader } as const;
    }),
  );
  return derive({ job }, (v) => context.measured.measure(v.job));
}

/** How much of what the runners look at has been scanned, all components together, measured by a worker. */
export function measuredCoverage(context: FactContext): Known<ScanCoverageResult> {
  const { components } = context.spec;
  const tubes = headerTubes(context);
  const named = Object.fromEntries(components.map((one) => [one.id, scanOnCar(context, one)]));
  const job = context.memo('coverage-job', [tubes, ...Object.values(named)], () => {
    return derive({ named: derive(named, (found) => [...new Set(Object.values(found))].sort()), tubes }, (v) => {
      return { kind: 'scanCoverage', scans: v.named, tubes: v.tubes, reach: nearHeader } as const;
    });
  });
  return derive({ job }, (v) => context.measured.measure(v.job));
}

/** The box around a component's scan, measured by a worker. */
export function measuredExtents(context: FactContext, component: BayComponent): Known<ScanExtentsResult> {
  const name = scanOnCar(context, component);
  const job = context.memo(`extents-job/${component.id}`, [name], () =>
    derive({ scan: name }, ({ scan }) => ({ kind: 'scanExtents', scan }) as const),
  );
  return derive({ job }, (v) => context.measured.measure(v.job));
}
