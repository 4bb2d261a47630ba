import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { headerMass } from './rule.ts';

const subject = 'header';
/** Two straight runners of 250 mm. */
const straight = Object.fromEntries(
  ['r1', 'r2'].flatMap((runner) => [
    ...['', '.x', '.y', '.z', '.radius'].map((cell) => [`runners.${runner}.nodes.n2${cell}`, undefined]),
    [`runners.${runner}.nodes.n3.y`, 0.25],
    [`runners.${runner}.nodes.n3.z`, 0],
  ]),
);
/** Length of a base runner: two legs of 150 and 250 mm with a bend of 80 mm. */
const length = 0.15 + 0.25 - 2 * 0.08 + 0.08 * (Math.PI / 2);
const tube = 2 * length * Math.PI * (0.0445 - 0.002) * 0.002 * 8440;

ruleTable(headerMass, [
  {
    kind: 'pass',
    name: 'under its target',
    subject,
    expect: 'pass',
    message: 'parts',
    limit: 6,
    value: tube + 2.5,
  },
  {
    kind: 'fail',
    name: 'over its target it cautions',
    subject,
    spec: { 'service.massTarget': 4 },
    expect: 'caution',
    message: 'parts',
  },
  {
    kind: 'boundary',
    name: 'exactly the target',
    subject,
    move: 'service.otherMass',
    inside: 2,
    outside: 8,
    expectInside: 'pass',
    expectOutside: 'caution',
    limit: 6,
    at: 6 - tube,
  },
  {
    kind: 'published',
    name: '250 mm of 625 tube, 42 mm inside, wall 1.6, twice',
    subject,
    spec: { ...straight, 'tube.outsideDiameter': 0.0452, 'tube.wall': 0.0016, 'service.otherMass': 0 },
    expect: 'pass',
    value: 2 * 0.462422,
    tolerance: 1e-5,
    citation: 'own arithmetic, vector WE-24a: 0.462422 kg each',
  },
  {
    kind: 'validity',
    name: 'a wall that fills the tube',
    subject,
    spec: { 'tube.outsideDiameter': 0.012, 'tube.wall': 0.008 },
    expect: 'unknown',
    path: 'wall',
  },
  {
    kind: 'inconsistent',
    name: 'a bend that does not fit',
    subject,
    spec: { 'runners.r1.nodes.n2.radius': 0.2 },
    expect: 'unknown',
    path: 'runners.r1.nodes.n2.radius',
  },
]);
