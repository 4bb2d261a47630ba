import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { workedPrimary } from '../../../../tests/support/workedPrimary.ts';
import { wallTemperature } from './rule.ts';

const subject = 'r1';

ruleTable(wallTemperature, [
  {
    kind: 'pass',
    name: '625 at 700 C passes',
    subject,
    expect: 'pass',
    message: 'estimate',
    value: 973.15,
    limit: 982 + 273.15,
  },
  {
    kind: 'fail',
    name: '321 stated at 900 C fails',
    subject,
    spec: { 'tube.alloy': '321', 'tube.wallTemperature': 1173.15 },
    expect: 'fail',
    message: 'estimate',
    limit: 870 + 273.15,
  },
  {
    kind: 'fail',
    name: '304 with strong pulses in hot gas fails by its estimate',
    subject,
    spec: {
      ...workedPrimary(),
      'engine.exhaustTemperature': 1400,
      'heat.pulsation': 2.5,
      'tube.alloy': '304',
      'tube.wallTemperature': 1000,
    },
    expect: 'fail',
    message: 'understated',
    limit: 870 + 273.15,
  },
  {
    kind: 'boundary',
    name: 'stated at the service limit of 625',
    subject,
    move: 'tube.wallTemperature',
    inside: 1000,
    outside: 1300,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 1255.15,
    at: 1255.15,
  },
  {
    kind: 'boundary',
    name: 'caution starts where the estimate passes what is stated',
    subject,
    move: 'tube.wallTemperature',
    inside: 973.15,
    outside: 900,
    expectInside: 'pass',
    expectOutside: 'caution',
    // Own evaluation of the balance for the base spec.
    limit: 960.73195,
    tolerance: 1e-6,
  },
  {
    kind: 'published',
    name: 'worked balance: 950 C gas, steady convection, 729 C outside',
    subject,
    spec: { ...workedPrimary(), 'tube.outsideDiameter': 0.0445, 'tube.wall': 0.0018, 'heat.pulsation': 1 },
    expect: 'caution',
    value: 1007,
    tolerance: 0.01,
    citation:
      'own, example E-26: 1002 K outside, 5 K through the wall; friction and conductivity of the gas as read there differ',
  },
  {
    kind: 'published',
    name: 'worked balance with pulses counted 2.5 times',
    subject,
    spec: { ...workedPrimary(), 'tube.outsideDiameter': 0.0445, 'tube.wall': 0.0018, 'heat.pulsation': 2.5 },
    expect: 'caution',
    value: 1102,
    tolerance: 0.01,
    citation: 'own, section 3.3: 1095 K outside, 7 K through the wall',
  },
  {
    kind: 'validity',
    name: 'so little gas that the flow is not turbulent',
    subject,
    spec: { 'engine.peakSpeed': 10, 'engine.manifoldPressure': 30e3 },
    expect: 'unknown',
  },
  {
    kind: 'inconsistent',
    name: 'gas colder than the bay',
    subject,
    spec: { 'engine.exhaustTemperature': 450, 'heat.surroundings': 470 },
    expect: 'unknown',
  },
]);
