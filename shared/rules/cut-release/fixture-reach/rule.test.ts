import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { fixtureReach } from './rule.ts';

const subject = 'r1';
/** From the middle of the ports at x 50 mm to the end of runner 1. */
const away = Math.hypot(0.05, 0.15, 0.25);

ruleTable(
  fixtureReach,
  [
    { kind: 'pass', name: 'an end within reach', subject, expect: 'pass', message: 'reach', limit: 0.5, value: away },
    {
      kind: 'fail',
      name: 'an arm too short',
      subject,
      spec: { 'cutting.fixtureReach': 0.2 },
      expect: 'fail',
      message: 'reach',
      value: away,
    },
    {
      kind: 'boundary',
      name: 'the whole reach',
      subject,
      move: 'cutting.fixtureReach',
      inside: 0.5,
      outside: 0.1,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: away,
      at: away,
    },
    {
      kind: 'published',
      name: 'an end 300 mm out and 400 mm up from the middle of the ports is 500 mm away',
      subject,
      spec: {
        'cutting.fixtureReach': 0.6,
        'runners.r1.nodes.n3.x': 0.05,
        'runners.r1.nodes.n3.y': 0.3,
        'runners.r1.nodes.n3.z': 0.4,
      },
      expect: 'pass',
      value: 0.5,
      citation: 'own arithmetic: a triangle of sides 3, 4, 5',
    },
    {
      kind: 'inconsistent',
      name: 'a runner with one node',
      subject,
      spec: Object.fromEntries(
        ['n2', 'n3'].flatMap((node) =>
          ['', '.x', '.y', '.z', '.radius'].map((cell) => [`runners.r1.nodes.${node}${cell}`, undefined]),
        ),
      ),
      expect: 'unknown',
      path: 'runners.r1',
    },
  ],
  {
    without: { validity: 'a distance between points that the form bounds' },
    optional: { 'route.made': 'while no route is chosen cutting is not left out' },
  },
);

it('says nothing of a header that is only printed', () => {
  const row = { name: 'printed', subject, spec: { 'route.made': 'printed' } };
  expect(evaluateRow(fixtureReach, row).verdict).toBeUndefined();
});
