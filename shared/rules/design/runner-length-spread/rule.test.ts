import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { runnerLengthSpread } from './rule.ts';

const subject = 'header';
/** Length of a base runner: two legs of 150 and 250 mm around a quarter bend of 80 mm. */
const length = 0.15 + 0.25 - 2 * 0.08 + (0.08 * Math.PI) / 2;

const node = (id: string, order: number, [x, y, z]: readonly [number, number, number], radius?: number) => ({
  [`runners.r1.nodes.${id}`]: order,
  [`runners.r1.nodes.${id}.x`]: x,
  [`runners.r1.nodes.${id}.y`]: y,
  [`runners.r1.nodes.${id}.z`]: z,
  [`runners.r1.nodes.${id}.radius`]: radius,
});

ruleTable(
  runnerLengthSpread,
  [
    { kind: 'pass', name: 'equal runners pass', subject, expect: 'pass', value: 0, message: 'ends', limit: 0.1 },
    {
      kind: 'fail',
      name: 'a runner half as long again fails',
      subject,
      spec: { 'runners.r2.nodes.n3.z': 0.45 },
      expect: 'caution',
      message: 'ends',
    },
    {
      kind: 'boundary',
      name: 'a tenth of the mean',
      subject,
      move: 'runners.r2.nodes.n3.z',
      inside: 0.25,
      outside: 0.45,
      expectInside: 'pass',
      expectOutside: 'caution',
      limit: 0.1,
      at: 0.25 + (0.1 * length) / 0.95,
    },
    {
      kind: 'published',
      name: 'a three-bend runner of developed length 604.33 mm beside a straight one of 500 mm',
      subject,
      spec: {
        ...node('n1', 1, [0, 0, 0]),
        ...node('n2', 2, [0.15, 0, 0], 0.06675),
        ...node('n3', 3, [0.15, 0.16, 0], 0.06675),
        ...node('n4', 4, [0.15, 0.16, 0.2], 0.06675),
        ...node('n5', 5, [0.3, 0.26, 0.2]),
        'runners.r2.nodes.n2': undefined,
        'runners.r2.nodes.n3.x': 0.1,
        'runners.r2.nodes.n3.y': 0,
        'runners.r2.nodes.n3.z': 0.5,
      },
      expect: 'caution',
      value: (0.6043295 - 0.5) / ((0.6043295 + 0.5) / 2),
      tolerance: 1e-5,
      citation: 'own, example E-35: points to straights and bends, developed length 604.3295 mm',
    },
    {
      kind: 'notApplicable',
      name: 'one runner has nothing to be compared with',
      subject,
      spec: { 'runners.r2': undefined },
      expect: 'notApplicable',
    },
  ],
  { without: { validity: 'a ratio of lengths holds for every set of runners' } },
);
