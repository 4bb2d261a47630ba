import { validityTable } from '../../../tests/support/validityTable.ts';
import { collectorArea, collectorSize } from './collector.ts';
import { copeDepth, copeHole, copeTemplate } from './cope.ts';
import { mitreBend, mitreTemplate } from './mitre-bend.ts';

validityTable({
  name: 'collector',
  call: collectorSize,
  good: { tubes: 4, halfAngle: 0.2, tubeRadius: 0.02, outletDiameter: 0.05 },
  rows: {
    tubes: ['count', 2, 6],
    halfAngle: ['angle', 0.03, 0.8],
    tubeRadius: ['length', 1e-3, 0.5],
    outletDiameter: ['length', 1e-3, 1],
  },
});

validityTable({
  name: 'collector-area',
  call: ({ tubes, tubeRadius }) => collectorArea(tubes, tubeRadius, 0),
  good: { tubes: 4, tubeRadius: 0.02 },
  rows: { tubes: ['count', 2, 6], tubeRadius: ['length', 1e-3, 0.5] },
});
// The ring reaches the pitch circle of two tubes, a hair over for rounding.
validityTable({
  name: 'collector-area',
  call: ({ ring }) => collectorArea(2, 0.02, ring),
  good: { ring: 0.03 },
  rows: { ring: ['length', 0, 0.04 * (1 + 1e-9)] },
});

const cope = { mainRadius: 0.03, outerRadius: 0.021, innerRadius: 0.0195, angle: 0.8, offset: 0 };
const copeRows = {
  mainRadius: ['length', 1e-3, 1],
  outerRadius: ['length', 1e-3, 1],
  innerRadius: ['length', 5e-4, 1],
  angle: ['angle', 0.1, 1.5707963267958966],
  offset: ['length', -1, 1],
} as const;
validityTable({ name: 'cope', call: (inputs) => copeDepth(inputs, 0), good: cope, rows: copeRows });
validityTable({ name: 'cope', call: (inputs) => copeTemplate(inputs, 8), good: cope, rows: copeRows });
validityTable({ name: 'cope', call: (inputs) => copeHole(inputs, 8), good: cope, rows: copeRows });
validityTable({
  name: 'cope-template',
  call: ({ points, paper }) => copeTemplate(cope, points, paper),
  good: { points: 36, paper: 1e-4 },
  rows: { points: ['count', 4, 3600], paper: ['length', 0, 2e-3] },
});
validityTable({
  name: 'cope-hole',
  call: ({ points }) => copeHole(cope, points),
  good: { points: 36 },
  rows: { points: ['count', 4, 3600] },
});

const bend = { angle: 1.5, radius: 0.06, outsideDiameter: 0.042, count: 5 };
validityTable({
  name: 'mitre-bend',
  call: (inputs) => mitreBend({ ...inputs, convention: 'A' }),
  good: bend,
  rows: {
    angle: ['angle', 0.01, Math.PI],
    radius: ['length', 1e-3, 5],
    outsideDiameter: ['length', 1e-3, 1],
    count: ['count', 1, 60],
  },
});
validityTable({
  name: 'mitre-template',
  call: ({ points }) => mitreTemplate({ ...bend, convention: 'A' }, points),
  good: { points: 36 },
  rows: { points: ['count', 3, 3600] },
});
