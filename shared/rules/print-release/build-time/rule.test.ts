import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { buildTime } from './rule.ts';

const subject = 'build';
const hour = 3600;
/** The worked runner piece: 60 cm3, 48 cm3 of support space at 25 % metal, 180 mm high, 40 um layers. */
const worked = {
  spec: {
    'pieces.q1.lift': 0,
    'printer.scanSpeed': 0.8,
    'printer.hatch': 1e-4,
    'printer.layer': 4e-5,
    'printer.overhead': 2 * hour,
  },
  measured: { volume: 60e-6, supportToPart: 48e-6, box: [0.06, 0.2, 0.18] },
} as const;

ruleTable(
  buildTime,
  [
    {
      kind: 'pass',
      name: 'a piece of 120 cm3 passes',
      subject,
      measured: {},
      expect: 'pass',
      // 120 cm3 + foot 500 mm2 x 6 mm + 25 % of 1 cm3 support; 226 mm high.
      value: (120e-6 + 3e-6 + 0.25e-6) / (0.7 * 4.224e-9) + 5650 * 10 + 10800,
      limit: 432e3,
      message: 'parts',
      says: 'Melting 11.6 h, 5650 layers 15.7 h, the rest 3.0 h. Pieces: 1.',
    },
    {
      kind: 'fail',
      name: 'five of them in a build that may take a day caution',
      subject,
      spec: { 'pieces.q1.copies': 5, 'printer.longest': 24 * hour },
      measured: {},
      expect: 'caution',
    },
    {
      kind: 'boundary',
      name: 'the longest build',
      subject,
      ...worked,
      move: 'printer.overhead',
      inside: 0,
      outside: 1e6,
      expectInside: 'pass',
      expectOutside: 'caution',
      limit: 432e3,
      tolerance: 1e-9,
    },
    {
      kind: 'published',
      name: 'the worked runner piece takes 23.4 h',
      subject,
      ...worked,
      expect: 'pass',
      value: 23.4286 * hour,
      tolerance: 1e-5,
      citation: 'vector WE-03a: 4500 layers, recoat 12.5 h, scan 8.92857 h, total 23.4286 h',
    },
    {
      kind: 'validity',
      name: 'a build larger than the formula goes',
      subject,
      measured: { volume: 0.06 },
      expect: 'unknown',
    },
    {
      kind: 'inconsistent',
      name: 'an open mesh has no volume',
      subject,
      measured: { openEdges: 2 },
      expect: 'unknown',
      path: 'pieces.q1.mesh',
    },
    { kind: 'pending', name: 'not measured yet', subject, expect: 'unknown' },
  ],
  {
    optional: {
      'route.made': 'while no route is chosen printing is not left out',
      '.use': 'what is not said to be bought is printed',
    },
  },
);

const second = {
  'pieces.q2': 2,
  'pieces.q2.name': 'Runner 2',
  'pieces.q2.mesh': 'c'.repeat(64),
  'pieces.q2.meshUnit': 'mm',
  'pieces.q2.use': 'printed',
  'pieces.q2.alloy': '625',
  'pieces.q2.turnX': 0,
  'pieces.q2.turnY': 0,
  'pieces.q2.turnZ': 0,
  'pieces.q2.lift': 0.01,
  'pieces.q2.supports': 'none',
  'pieces.q2.copies': 2,
};
const measuredTime = (spec: Readonly<Record<string, unknown>>) => {
  const { verdict } = evaluateRow(buildTime, { name: 'x', subject, spec, measured: {} });
  return verdict && 'measured' in verdict ? verdict.measured : Number.NaN;
};

it('melts every copy of every piece, and lays the layers of the tallest once', () => {
  // Without supports only the foot under the flat of the piece is printed below it.
  const metal = 120e-6 + 3e-6 + 0.25e-6 + 2 * (120e-6 + 5e-6);
  expect(measuredTime(second)).toBeCloseTo(metal / (0.7 * 4.224e-9) + Math.ceil(0.23 / 4e-5) * 10 + 10800, 3);
});

it('prints support below what hangs as high as the piece is lifted', () => {
  const spec = { 'pieces.q1.lift': 0.02 };
  const row = { name: 'x', subject, spec, measured: { downskinArea: 0.0015 } };
  const { verdict } = evaluateRow(buildTime, row);
  // Foot 500 mm2 x 20 mm; support 1 cm3 and 1000 mm2 x 20 mm, a quarter of it metal.
  const metal = 120e-6 + 10e-6 + 0.25 * (1e-6 + 20e-6);
  const total = metal / (0.7 * 4.224e-9) + 6000 * 10 + 10800;
  expect(verdict && 'measured' in verdict ? verdict.measured : 0).toBeCloseTo(total, 3);
});

it('has no build without a piece to print', () => {
  for (const spec of [{ 'pieces.q1.use': 'bought' }, { 'route.made': 'fabricated' }])
    expect(evaluateRow(buildTime, { name: 'x', subject, spec, measured: {} }).verdict).toBeUndefined();
});

it.each([
  [1.22, false],
  [1.18, true],
])('a longest build of %d times its time is close: %s', (times, close) => {
  const spec = { 'printer.longest': times * measuredTime({}) };
  expect(evaluateRow(buildTime, { name: 'x', subject, spec, measured: {} }).verdict).toMatchObject({ close });
});
