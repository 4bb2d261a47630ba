import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { hoopStress } from './rule.ts';

const subject = 'r1';
/** As weak as the spec allows: a wide thin tube in hot 304. */
const weak = { 'tube.alloy': '304', 'tube.wallTemperature': 923.15, 'tube.outsideDiameter': 0.12, 'tube.wall': 0.0005 };

ruleTable(hoopStress, [
  {
    kind: 'pass',
    name: 'a header tube is nowhere near yield',
    subject,
    expect: 'pass',
    message: 'against',
    value: (98675 * 42.5) / 4,
    // 625 at 700 C between 340 MPa (649 C) and 330 MPa (760 C).
    limit: (340e6 - (10e6 * 51) / 111) / 1.5,
  },
  {
    kind: 'fail',
    name: 'a wide thin tube in hot 304 fails',
    subject,
    spec: { ...weak, 'engine.exhaustPressure': 8e5 },
    expect: 'fail',
  },
  {
    kind: 'boundary',
    name: 'the limit is two thirds of yield',
    subject,
    spec: weak,
    move: 'engine.exhaustPressure',
    inside: 2e5,
    outside: 8e5,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 79.8e6 / 1.5,
    at: 101325 + ((79.8e6 / 1.5) * 2 * 0.0005) / (0.12 - 0.0005),
  },
  {
    kind: 'published',
    name: 'tube 48.3 x 2 at 0.3 MPa above the atmosphere',
    subject,
    spec: { 'tube.outsideDiameter': 0.0483, 'tube.wall': 0.002, 'engine.exhaustPressure': 401325 },
    expect: 'pass',
    value: 3.4725e6,
    tolerance: 1e-9,
    citation: 'own arithmetic, vector 6.5 (hoop_mean 3.4725 MPa, exact bore value 3.479 MPa)',
  },
  {
    kind: 'pass',
    name: 'below the atmosphere there is no hoop tension',
    subject,
    spec: { 'engine.exhaustPressure': 9e4 },
    expect: 'pass',
    value: 0,
  },
  { kind: 'validity', name: 'a thick wall', subject, spec: { 'tube.wall': 0.0045 }, expect: 'unknown', path: 'wall' },
  {
    kind: 'validity',
    name: 'a wall hotter than the yield table',
    subject,
    spec: { 'tube.alloy': '321', 'tube.wallTemperature': 973.15 },
    expect: 'unknown',
    path: '321',
  },
]);
