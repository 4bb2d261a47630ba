import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { turboFrequency } from './rule.ts';

const subject = 'header';
/** Firing of two cylinders is the crank speed itself: 30 to 110 Hz in the base spec. */
const above = 1.2 * 110;
const below = 0.8 * 30;

ruleTable(turboFrequency, [
  {
    kind: 'pass',
    name: 'a stiff support is above the run range',
    subject,
    expect: 'pass',
    message: 'band',
    limit: above,
  },
  {
    kind: 'fail',
    name: 'a mode inside the run range',
    subject,
    spec: { 'turbo.mass': 20, 'turbo.arm': 0.25 },
    expect: 'fail',
    message: 'band',
    limit: below,
  },
  {
    kind: 'boundary',
    name: '20 % above the highest firing frequency',
    subject,
    move: 'turbo.mass',
    inside: 6,
    outside: 60,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: above,
  },
  {
    kind: 'boundary',
    name: '20 % below the lowest firing frequency',
    subject,
    spec: { 'turbo.mass': 60 },
    move: 'turbo.arm',
    inside: 1,
    outside: 0.3,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: below,
  },
  {
    kind: 'pass',
    name: 'a soft support is below the run range',
    subject,
    spec: { 'turbo.mass': 60, 'turbo.arm': 1 },
    expect: 'pass',
    limit: below,
  },
  {
    kind: 'published',
    name: '8 kg at 200 mm on one root of 625 tube 48.3 x 2, cold',
    subject,
    spec: {
      'tube.outsideDiameter': 0.0483,
      'tube.wallTemperature': 293.15,
      'turbo.mass': 8,
      'turbo.arm': 0.2,
      'turbo.sharingRunners': 1,
    },
    expect: 'pass',
    value: 137.72,
    tolerance: 2e-3,
    citation: 'own arithmetic, vector 6.16: 137.7 Hz at 20 C',
  },
  {
    kind: 'notApplicable',
    name: 'a braced turbo does not swing on its roots',
    subject,
    spec: { 'turbo.brace': 'braced' },
    expect: 'notApplicable',
  },
  {
    kind: 'validity',
    name: 'a wall hotter than the modulus table',
    subject,
    spec: { 'tube.wallTemperature': 1300 },
    expect: 'unknown',
    path: 'modulus of alloy 625',
  },
  {
    kind: 'inconsistent',
    name: 'a run range upside down',
    subject,
    spec: { 'service.lowSpeed': 110 },
    expect: 'unknown',
    path: 'service.topSpeed',
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
