import { describe, expect, it } from 'vitest';
import { buildPointGrid, type PointGrid } from '../../../shared/geometry/cloud.ts';
import { joinPoints, sampleCylinder, sampleSheet } from '../../../shared/geometry/generate.ts';
import type { MeasureJob } from '../../../shared/geometry/measurement.ts';
import { cutGrid, type Motion, movedBy, movedGrid, undoing } from '../../../shared/geometry/motion.ts';
import { boxOf, motionOf, uploadedScan } from '../../../shared/geometry/placedScan.ts';
import { seededRandom } from '../../../shared/geometry/random.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import { MemoStore } from '../../../shared/quantities/context.ts';
import { measuredCoverage, measuredExtents, measuredSpacing } from '../../../shared/quantities/scanFigures.ts';
import { scanGap } from '../../../shared/quantities/scanGap.ts';
import { type Known, known, unknown } from '../../../shared/units/known.ts';
import { makeSpec } from '../../../tests/support/baseSpec.ts';
import { measured } from '../workers/kinds.ts';

/*
 * One bay, once as it lies on the car and once turned and shifted as a scanner might have it, with datum points that bring it back: whatever
 * is measured must come out the same.
 */

/** 40 degrees about a slanted axis, and 4 m away. */
const onto: Motion = (() => {
  const [x, y, z] = [2 / 7, 3 / 7, 6 / 7];
  const [c, s] = [Math.cos(0.7), Math.sin(0.7)];
  const v = 1 - c;
  const rotation = [
    [x * x * v + c, x * y * v - z * s, x * z * v + y * s],
    [y * x * v + z * s, y * y * v + c, y * z * v - x * s],
    [z * x * v - y * s, z * y * v + x * s, z * z * v + c],
  ] as const;
  return { rotation, translation: [3.1, -2.2, 0.4] };
})();

const onCar = buildPointGrid(
  joinPoints([
    sampleSheet(
      { corner: [-0.4, 0.03, -0.09], edgeU: [0.8, 0, 0], edgeV: [0, 0.4, 0] },
      { spacing: 0.002, sigma: 0.0003 },
      seededRandom(61),
    ),
    sampleCylinder(
      { from: [-0.3, 0.1, 0.3], to: [0.3, 0.12, 0.3], radius: 0.02, caps: true },
      { spacing: 0.002, sigma: 0 },
      seededRandom(62),
    ),
  ]),
  [0.1, 0, 0.02],
);
const asScanned = movedGrid(onCar, undoing(onto));

const marks: readonly Vec3[] = [
  [0.3, 0, 0.3],
  [-0.3, 0.1, 0.25],
  [-0.25, 0.2, -0.3],
  [0.35, 0.05, -0.2],
];
const datums = Object.fromEntries(
  marks.flatMap((car, i) => {
    const scan = movedBy(undoing(onto), car);
    return ['X', 'Y', 'Z'].flatMap((axis, k) => [
      [`datums.d${i + 1}.scan${axis}`, scan[k]],
      [`datums.d${i + 1}.car${axis}`, car[k]],
    ]);
  }),
);

/** The base job with that scan, everything measured at once; the jobs that were asked for beside. */
function bench(grid: PointGrid, placed: 'as-uploaded' | 'by-datums', more: Readonly<Record<string, unknown>> = {}) {
  const spec = makeSpec({ ...datums, 'components.c1.placed': placed, ...more });
  const jobs: MeasureJob[] = [];
  const inputs = {
    scan: (name: string) => {
      expect(uploadedScan(name)).toMatch(/^a{64}-mm$/);
      const [motion, box] = [motionOf(name), boxOf(name)];
      const placed = motion ? movedGrid(grid, motion) : grid;
      return box ? cutGrid(placed, box) : placed;
    },
    mesh: (): never => {
      throw new Error('no mesh is asked for');
    },
  };
  const context = {
    spec,
    memo: new MemoStore().memo,
    measured: {
      measure: <J extends MeasureJob>(job: J) => {
        jobs.push(job);
        const made = measured(job, inputs);
        return (
          made.ok ? known(made.result) : unknown({ reason: 'inconsistent', detail: made.problem.message, paths: [] })
        ) as never;
      },
    },
  };
  const [runner, component] = [spec.runners[0], spec.components[0]];
  if (!runner || !component) throw new Error('the base spec has a runner and a component');
  return { context, runner, component, jobs };
}

function value<T>(fact: Known<T>): T {
  if (!fact.known) throw new Error(JSON.stringify(fact.why));
  return fact.value;
}

const still = bench(onCar, 'as-uploaded');
const moved = bench(asScanned, 'by-datums');
const near = (a: Vec3, b: Vec3): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
/** Single precision some metres from zero, twice over, metres. */
const ROUNDING = 1e-6;

describe('a scan placed by its datum points measures as the same scan on the car', () => {
  it('its gap to a runner, and where', () => {
    const [a, b] = [still, moved].map((one) => value(scanGap(one.context, one.runner, one.component)));
    if (!a || !b) throw new Error('no gaps');
    expect(a.gap).toBeGreaterThan(0.01);
    expect(Math.abs(b.gap - a.gap)).toBeLessThan(ROUNDING);
    for (const key of ['point', 'foot', 'onTube'] as const) expect(near(a[key], b[key])).toBeLessThan(10 * ROUNDING);
  });

  it('its spacing', () => {
    const [a, b] = [still, moved].map((one) => value(measuredSpacing(one.context, one.component)));
    expect(a?.near).toBeGreaterThan(1000);
    expect(Math.abs((a?.near ?? 0) - (b?.near ?? 0))).toBeLessThan(0.001 * (a?.near ?? 0));
    expect(b?.median).toBeCloseTo(a?.median ?? 0, 5);
  });

  it('how much of the bay it covers', () => {
    const [a, b] = [still, moved].map((one) => value(measuredCoverage(one.context)));
    expect(a?.seen).toBeGreaterThan(0.005);
    expect((b?.seen ?? 0) / (a?.seen ?? 1)).toBeCloseTo(1, 2);
    expect(b?.open).toBeCloseTo(a?.open ?? 0, 2);
  });

  it('the box around it', () => {
    const [a, b] = [still, moved].map((one) => value(measuredExtents(one.context, one.component)));
    if (!a || !b) throw new Error('no boxes');
    expect(near(a.least, b.least)).toBeLessThan(10 * ROUNDING);
    expect(near(a.greatest, b.greatest)).toBeLessThan(10 * ROUNDING);
  });

  it('and is measured in its own frame as well as named with its motion', () => {
    const kinds = new Map(
      moved.jobs.map((job) => [job.kind, 'scan' in job ? job.scan : 'scans' in job ? job.scans[0] : '']),
    );
    expect(kinds.get('clearance')).toBe(`${'a'.repeat(64)}-mm`);
    expect(motionOf(kinds.get('scanCoverage') ?? '')?.translation[0]).toBeCloseTo(onto.translation[0], 9);
    expect(motionOf(kinds.get('scanExtents') ?? '')).toBeDefined();
  });
});

it('a scan to be placed by datums that fix no place is unknown, never measured as it lies', () => {
  const lost = bench(asScanned, 'by-datums');
  const spec = { ...lost.context.spec, datums: lost.context.spec.datums.slice(0, 2) };
  const context = { ...lost.context, spec };
  for (const fact of [
    scanGap(context, lost.runner, lost.component),
    measuredSpacing(context, lost.component),
    measuredCoverage(context),
    measuredExtents(context, lost.component),
  ])
    expect(fact).toMatchObject({
      known: false,
      why: { reason: 'inconsistent', detail: expect.stringMatching(/at least 3 points/) },
    });
  expect(lost.jobs).toEqual([]);
});

describe('a component that is a part of its scan', () => {
  /** The bar above, without the sheet below. */
  const above = { 'components.c1.fromZ': 0.25 };
  const [stillAbove, movedAbove] = [bench(onCar, 'as-uploaded', above), bench(asScanned, 'by-datums', above)];

  it('is measured by what of it lies in its box on the car, placed or not', () => {
    for (const one of [stillAbove, movedAbove]) {
      const { least, greatest, points } = value(measuredExtents(one.context, one.component));
      expect(least[2]).toBeGreaterThan(0.25);
      // The bar is 20 mm thick about z = 320 mm.
      expect(greatest[2]).toBeCloseTo(0.34, 3);
      expect(points).toBeLessThan(onCar.count / 2);
      const all = value(scanGap(still.context, still.runner, still.component));
      const part = value(scanGap(one.context, one.runner, one.component));
      expect(part.gap).toBeGreaterThan(all.gap + 0.005);
      expect(part.point[2]).toBeGreaterThan(0.25);
      expect(part.points).toBe(points);
      expect(value(measuredCoverage(one.context)).seen).toBeLessThan(value(measuredCoverage(still.context)).seen);
    }
    const [a, b] = [stillAbove, movedAbove].map((one) => value(scanGap(one.context, one.runner, one.component)));
    expect(Math.abs((a?.gap ?? 0) - (b?.gap ?? 1))).toBeLessThan(ROUNDING);
    expect(near(a?.point ?? [0, 0, 0], b?.point ?? [1, 1, 1])).toBeLessThan(10 * ROUNDING);
  });

  it('with a box turned inside out is unknown, and says which side', () => {
    const lost = bench(onCar, 'as-uploaded', { 'components.c1.fromY': 0.3, 'components.c1.toY': 0.1 });
    for (const fact of [
      scanGap(lost.context, lost.runner, lost.component),
      measuredExtents(lost.context, lost.component),
    ])
      expect(fact).toMatchObject({
        known: false,
        why: { reason: 'inconsistent', detail: expect.stringMatching(/got Y from 300\.00 mm to 100\.00 mm/) },
      });
    expect(lost.jobs).toEqual([]);
  });

  it('with nothing in its box is told so, and not passed over', () => {
    const empty = bench(onCar, 'as-uploaded', { 'components.c1.fromZ': 5 });
    expect(scanGap(empty.context, empty.runner, empty.component)).toMatchObject({
      known: false,
      why: { detail: expect.stringMatching(/Expected a scan with points, got none/) },
    });
  });
});
