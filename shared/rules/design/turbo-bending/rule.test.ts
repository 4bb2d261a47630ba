import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { turboBending } from './rule.ts';

const subject = 'header';
/** 625 at 700 C, between 340 MPa (649 C) and 330 MPa (760 C), over 1.5. */
const limit = (340e6 - (10e6 * 51) / 111) / 1.5;
const overhung = { 'turbo.arm': 0.5, 'turbo.dynamicFactor': 20 };

ruleTable(turboBending, [
  { kind: 'pass', name: 'a shared, braced turbo passes', subject, expect: 'pass', message: 'against', limit },
  {
    kind: 'fail',
    name: 'a heavy turbo far out fails',
    subject,
    spec: { ...overhung, 'turbo.mass': 60 },
    expect: 'fail',
    message: 'against',
  },
  {
    kind: 'boundary',
    name: 'two thirds of yield',
    subject,
    spec: overhung,
    move: 'turbo.mass',
    inside: 6,
    outside: 60,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit,
  },
  {
    kind: 'published',
    name: '8 kg at 200 mm on one root of tube 48.3 x 2, 4 g and its dead weight',
    subject,
    spec: {
      'tube.outsideDiameter': 0.0483,
      'turbo.mass': 8,
      'turbo.arm': 0.2,
      'turbo.dynamicFactor': 4,
      'turbo.unsupportedShare': 1,
      'turbo.sharingRunners': 1,
      'turbo.jointFactor': 1,
    },
    expect: 'pass',
    value: 24.259695e6,
    tolerance: 1e-6,
    citation: 'own arithmetic, vector 6.14: 5 g altogether gives 24.26 MPa',
  },
  {
    kind: 'validity',
    name: 'a wall hotter than the yield table',
    subject,
    spec: { 'tube.wallTemperature': 1300 },
    expect: 'unknown',
    path: 'yield of alloy 625',
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
    name: 'more roots share the load than there are runners',
    subject,
    spec: { 'turbo.sharingRunners': 3 },
    expect: 'unknown',
    path: 'turbo.sharingRunners',
  },
]);
