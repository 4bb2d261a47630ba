import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { layerStair } from './rule.ts';

const subject = 'q1';
const degree = Math.PI / 180;
const fourThou = { 'printer.layer': 0.1016e-3 };

ruleTable(
  layerStair,
  [
    {
      kind: 'pass',
      name: 'layers of 40 um pass',
      subject,
      measured: {},
      expect: 'pass',
      value: (4e-5 * Math.cos(1)) / 4,
      limit: 25e-6,
      message: 'steps',
      says: 'Steps of 21.6 um at 57.3 deg from the plate with layers of 40.0 um.',
    },
    {
      kind: 'fail',
      name: 'layers of 0.15 mm on flat slopes caution',
      subject,
      spec: { 'printer.layer': 0.15e-3 },
      measured: { slope: 30 * degree },
      expect: 'caution',
      value: (0.15e-3 * Math.cos(30 * degree)) / 4,
    },
    {
      kind: 'boundary',
      name: 'twenty-five micrometres',
      subject,
      measured: { slope: 60 * degree },
      move: 'printer.layer',
      inside: 1e-4,
      outside: 2e-4,
      expectInside: 'pass',
      expectOutside: 'caution',
      limit: 25e-6,
      at: 2e-4,
      tolerance: 1e-9,
    },
    {
      kind: 'published',
      name: 'four thou at 45 degrees makes 18 um',
      subject,
      spec: fourThou,
      measured: { slope: 45 * degree },
      expect: 'pass',
      value: 17.9605e-6,
      tolerance: 1e-4,
      citation: 'vector WE-11b: stair Ra of a 0.1016 mm layer at 45 degrees',
    },
    {
      kind: 'validity',
      name: 'a slope flatter than the formula goes',
      subject,
      measured: { slope: 0.005 },
      expect: 'unknown',
    },
    {
      kind: 'inconsistent',
      name: 'an open mesh has no slopes',
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
