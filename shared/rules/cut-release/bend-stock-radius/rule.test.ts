import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { bendStockRadius } from './rule.ts';

const subject = 'r1';
const radius = 'runners.r1.nodes.n2.radius';

ruleTable(
  bendStockRadius,
  [
    {
      kind: 'pass',
      name: 'a bend of the stock radius',
      subject,
      expect: 'pass',
      message: 'farthest',
      limit: 0.5e-3,
      value: 0,
    },
    {
      kind: 'fail',
      name: 'a bend nobody has',
      subject,
      spec: { [radius]: 0.075 },
      expect: 'fail',
      message: 'farthest',
      value: 0.005,
    },
    {
      kind: 'boundary',
      name: 'half a millimetre tighter',
      subject,
      move: radius,
      inside: 0.08,
      outside: 0.07,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0.5e-3,
      at: 0.0795,
    },
    {
      kind: 'boundary',
      name: 'half a millimetre wider',
      subject,
      move: radius,
      inside: 0.08,
      outside: 0.09,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0.5e-3,
      at: 0.0805,
    },
    {
      kind: 'published',
      name: 'a long-radius elbow of 44.5 mm tube, 66.75 mm, from stock of that radius',
      subject,
      spec: { [radius]: 0.06675, 'stockBends.b1.radius': 0.06675 },
      expect: 'pass',
      value: 0,
      citation: 'D-ratio 1.5 of 44.5 mm tube: 66.75 mm, own arithmetic, mitre table',
    },
    {
      kind: 'pass',
      name: 'the nearest of two stock radii counts',
      subject,
      spec: {
        [radius]: 0.0601,
        'stockBends.b2': 2,
        'stockBends.b2.radius': 0.06,
      },
      expect: 'pass',
      value: 0.1e-3,
      tolerance: 1e-6,
    },
    {
      kind: 'notApplicable',
      name: 'a straight runner',
      subject,
      spec: Object.fromEntries(
        ['', '.x', '.y', '.z', '.radius'].map((cell) => [`runners.r1.nodes.n2${cell}`, undefined]),
      ),
      expect: 'notApplicable',
    },
    {
      kind: 'inconsistent',
      name: 'nothing on the shelf',
      subject,
      spec: {
        'stockBends.b1': undefined,
        'stockBends.b1.name': undefined,
        'stockBends.b1.radius': undefined,
        'stockBends.b1.angle': undefined,
        'stockBends.b1.count': undefined,
      },
      expect: 'unknown',
      path: 'stockBends',
    },
  ],
  {
    without: { validity: 'a difference of two lengths that the form bounds' },
    optional: { 'route.made': 'while no route is chosen cutting is not left out' },
  },
);

it('says nothing of a header that is only printed', () => {
  expect(
    evaluateRow(bendStockRadius, { name: 'printed', subject, spec: { 'route.made': 'printed' } }).verdict,
  ).toBeUndefined();
});
