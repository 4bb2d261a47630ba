import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { runnerClearance } from './rule.ts';

const subject = 'r1~r2';

ruleTable(
  runnerClearance,
  [
    {
      kind: 'pass',
      name: 'runners a hundred apart pass',
      subject,
      expect: 'pass',
      message: 'nearest',
      value: 0.1 - 0.0445,
      limit: 0.006,
    },
    {
      kind: 'fail',
      name: 'runners that run into each other fail with a negative gap',
      subject,
      spec: { 'runners.r2.nodes.n1.x': 0.02, 'runners.r2.nodes.n2.x': 0.02, 'runners.r2.nodes.n3.x': 0.02 },
      expect: 'fail',
      value: 0.02 - 0.0445,
    },
    {
      kind: 'boundary',
      name: 'six millimetres are left',
      subject,
      move: 'tube.outsideDiameter',
      inside: 0.0445,
      outside: 0.1,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0.006,
      at: 0.094,
    },
    {
      kind: 'published',
      name: 'perpendicular legs pass each other at the distance of their planes',
      subject,
      spec: {
        'runners.r1.nodes.n2': undefined,
        'runners.r1.nodes.n3.y': 0.4,
        'runners.r1.nodes.n3.z': 0,
        'runners.r2.nodes.n2': undefined,
        'runners.r2.nodes.n1.x': -0.2,
        'runners.r2.nodes.n1.y': 0.2,
        'runners.r2.nodes.n1.z': 0.07,
        'runners.r2.nodes.n3.x': 0.2,
        'runners.r2.nodes.n3.y': 0.2,
        'runners.r2.nodes.n3.z': 0.07,
      },
      expect: 'pass',
      value: 0.07 - 0.0445,
      citation: 'closed form: common perpendicular of two skew lines',
    },
    {
      kind: 'pass',
      name: 'meeting inside the merge length is allowed',
      subject,
      spec: { 'runners.r2.nodes.n3.x': 0, 'collector.mergeLength': 0.2 },
      expect: 'pass',
    },
    {
      kind: 'fail',
      name: 'meeting ahead of the merge length is not',
      subject,
      spec: { 'runners.r2.nodes.n3.x': 0, 'collector.mergeLength': 0.01 },
      expect: 'fail',
    },
    {
      kind: 'inconsistent',
      name: 'a merge longer than the runners leaves nothing to judge',
      subject,
      spec: { 'collector.mergeLength': 0.5 },
      expect: 'unknown',
      path: 'collector.mergeLength',
    },
  ],
  { without: { validity: 'distances of straights and arcs are exact for every node table that gives a centreline' } },
);
