import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { straightMinimum } from './rule.ts';

const subject = 'r1';
/** A second quarter bend of 50 mm after the first one of 80 mm, on a leg of this length. */
const second = (leg: number) => ({
  'runners.r1.nodes.n3.z': leg,
  'runners.r1.nodes.n3.radius': 0.05,
  'runners.r1.nodes.n4': 4,
  'runners.r1.nodes.n4.x': 0,
  'runners.r1.nodes.n4.y': 0.4,
  'runners.r1.nodes.n4.z': leg,
});

ruleTable(
  straightMinimum,
  [
    {
      kind: 'pass',
      name: 'room for the saw',
      subject,
      spec: second(0.2),
      expect: 'pass',
      message: 'needs',
      limit: 0.01,
      value: 0.07,
    },
    {
      kind: 'fail',
      name: 'bends that nearly touch',
      subject,
      spec: second(0.135),
      expect: 'fail',
      message: 'needs',
      value: 0.005,
    },
    { kind: 'fail', name: 'bends that meet', subject, spec: second(0.13), expect: 'fail', value: 0, tolerance: 1e-3 },
    {
      kind: 'boundary',
      name: '10 mm between cut bends',
      subject,
      spec: second(0.2),
      move: 'runners.r1.nodes.n3.radius',
      inside: 0.05,
      outside: 0.118,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0.01,
      at: 0.11,
    },
    {
      kind: 'fail',
      name: 'a bender asks for one diameter',
      subject,
      spec: { ...second(0.17), 'cutting.method': 'rotary-draw' },
      expect: 'fail',
      limit: 0.0445,
      value: 0.04,
    },
    {
      kind: 'published',
      name: 'setbacks of two quarter bends are their radii',
      subject,
      spec: { ...second(0.2), 'runners.r1.nodes.n2.radius': 0.06675, 'runners.r1.nodes.n3.radius': 0.06675 },
      expect: 'pass',
      value: 0.2 - 2 * 0.06675,
      tolerance: 1e-9,
      citation: 'own arithmetic, example E-29: R 66.75 mm, 90 degrees, setback 66.75 mm',
    },
    {
      kind: 'pass',
      name: 'a node on the straight does not part it',
      subject,
      spec: {
        ...second(0.2),
        'runners.r1.nodes.n2b': 2.5,
        'runners.r1.nodes.n2b.x': 0,
        'runners.r1.nodes.n2b.y': 0.15,
        'runners.r1.nodes.n2b.z': 0.12,
        'runners.r1.nodes.n2b.radius': 0.05,
      },
      expect: 'pass',
      value: 0.07,
    },
    { kind: 'notApplicable', name: 'a runner with one bend', subject, expect: 'notApplicable' },
    {
      kind: 'inconsistent',
      name: 'a bend that does not fit',
      subject,
      spec: second(0.1),
      expect: 'unknown',
      path: 'runners.r1.nodes',
    },
  ],
  {
    without: { validity: 'a length of the centreline, which the form bounds' },
    optional: { 'route.made': 'while no route is chosen cutting is not left out' },
  },
);

it('says nothing of a header that is only printed', () => {
  expect(
    evaluateRow(straightMinimum, { name: 'printed', subject, spec: { 'route.made': 'printed' } }).verdict,
  ).toBeUndefined();
});
