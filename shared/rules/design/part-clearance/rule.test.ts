import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { partClearance } from './rule.ts';

const subject = 'q1~c1';
const gap = (metres: number) => ({ gap: metres });

ruleTable(
  partClearance,
  [
    {
      kind: 'pass',
      name: 'a piece far from the rail passes',
      subject,
      measured: gap(0.2),
      expect: 'pass',
      limit: 0.0254,
      message: 'made',
    },
    { kind: 'fail', name: 'a piece near the rail fails', subject, measured: gap(0.03), expect: 'fail' },
    {
      kind: 'fail',
      name: 'scan points inside the piece fail whatever the class',
      subject,
      measured: gap(-0.004),
      expect: 'fail',
    },
    { kind: 'pending', name: 'pending until it is measured', subject, expect: 'unknown' },
    {
      kind: 'boundary',
      name: 'a brake line',
      subject,
      measured: {},
      spec: { 'components.c1.heatClass': 'brake-line' },
      move: 'measured.gap',
      inside: 0.2,
      outside: 0.02,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0.075,
    },
    {
      kind: 'published',
      name: 'a turbine housing near a metal cover needs about 25 mm',
      subject,
      measured: gap(0.0254 + 0.006 + 0.001 + 1.65 * 0.0005 + 0.01),
      spec: {
        'components.c1.heatClass': 'structure',
        'pieces.q1.use': 'bought',
        'engine.rock': 0.006,
        'bay.scanUncertainty': 0.0005,
      },
      expect: 'pass',
      value: 0.0254 + 0.01 + 0.001 - 0.00193,
      tolerance: 0.03,
      citation: 'common practice, no source: a hot housing about 25 mm from a metal cover',
    },
    {
      kind: 'validity',
      name: 'hotter than the expansion table of the alloy goes',
      subject,
      measured: gap(0.2),
      spec: { 'tube.wallTemperature': 1250 },
      expect: 'unknown',
    },
  ],
  {
    optional: {
      'route.made': 'while no route is chosen printing is not left out',
      '.use': 'only what is said to be bought stays when nothing is printed',
    },
  },
);

it('grows with the distance from the nearest port', () => {
  const left = (onPart: readonly number[]) => {
    const { verdict } = evaluateRow(partClearance, { name: 'x', subject, measured: { gap: 0.2, onPart } });
    return verdict && 'measured' in verdict ? verdict.measured : Number.NaN;
  };
  expect(left([0, 0, 0])).toBeGreaterThan(left([0, 0.3, 0]));
});

it.each([
  ['printed piece is not on a car that gets a fabricated header', 'printed', false],
  ['bought piece is', 'bought', true],
])('a %s', (_, use, judged) => {
  const spec = { 'route.made': 'fabricated', 'pieces.q1.use': use };
  const { verdict } = evaluateRow(partClearance, { name: 'x', subject, spec, measured: {} });
  expect(verdict !== undefined).toBe(judged);
});
