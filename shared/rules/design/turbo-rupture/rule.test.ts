import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { ruptureStress } from '../../../trade/strength/rupture.ts';
import { turboRupture } from './rule.ts';

const subject = 'header';
/** 625 at 850 C for 1000 h: parameter 25832; both published sets reach it and the handbook one is the lower. */
const parameter = 1123.15 * 23;
const handbook = 160e6 * (50 / 160) ** ((parameter - 23762) / (26292 - 23762));
const hot = { 'tube.wallTemperature': 1123.15, 'service.hotLife': 3.6e6, 'turbo.arm': 0.5, 'turbo.sharingRunners': 1 };
const single = {
  'tube.outsideDiameter': 0.0483,
  'turbo.mass': 8,
  'turbo.arm': 0.2,
  'turbo.unsupportedShare': 1,
  'turbo.sharingRunners': 1,
  'turbo.jointFactor': 1,
  'engine.exhaustPressure': 101325,
};
/** Bending of the base roots at 1 g with half the axial share of the hoop stress, times 1.5. */
const section = (Math.PI * (0.0445 ** 4 - 0.0405 ** 4)) / (32 * 0.0445);
const hoop = ((200e3 - 101325) * (0.0445 - 0.002)) / (2 * 0.002);
const steady = (mass: number, arm: number) => 1.5 * ((0.5 * mass * 9.80665 * arm) / section + hoop / 2);

ruleTable(turboRupture, [
  {
    kind: 'pass',
    name: 'a shared, braced turbo passes',
    subject,
    expect: 'pass',
    message: 'against',
    limit: 1,
    // 625 at 700 C for 200 h: parameter 21702, between 370 MPa at 21232 and 160 MPa at 23762.
    value:
      steady(3, 0.15) / (0.8 * 370e6 * (160 / 370) ** ((973.15 * (20 + Math.log10(200)) - 21232) / (23762 - 21232))),
  },
  {
    kind: 'fail',
    name: 'a heavy turbo on one very hot root fails',
    subject,
    spec: { ...hot, 'turbo.mass': 60 },
    expect: 'fail',
    message: 'against',
    value: steady(60, 0.5) / (0.8 * handbook),
  },
  {
    kind: 'boundary',
    name: 'the whole of what printed metal is trusted with',
    subject,
    spec: hot,
    move: 'turbo.mass',
    inside: 6,
    outside: 60,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 1,
    at: (((0.8 * handbook) / 1.5 - hoop / 2) * section) / (0.5 * 9.80665 * 0.5),
  },
  {
    kind: 'published',
    name: '4.85 MPa of dead weight on 304 at 538 C for 1000 h, printed rupture stress 255 MPa',
    subject,
    spec: {
      ...single,
      'route.made': 'fabricated',
      'tube.alloy': '304',
      'tube.wallTemperature': 811.15,
      'service.hotLife': 3.6e6,
    },
    expect: 'pass',
    value: 4.8519 / 255,
    tolerance: 1e-4,
    citation:
      'stainless specialty table, 304 at 538 C, 1000 h; bending at 1 g: own arithmetic, vector 6.14 (24.26 MPa at 5 g)',
  },
  {
    kind: 'pass',
    name: 'short of the first point the stress there is used',
    subject,
    spec: { ...single, 'route.made': 'fabricated', 'tube.wallTemperature': 773.15 },
    expect: 'pass',
    value: 4.8519 / 370,
    tolerance: 1e-4,
  },
  {
    kind: 'pass',
    name: 'past the handbook set the lower of both is the maker one',
    subject,
    spec: { ...single, 'route.made': 'fabricated', 'tube.wallTemperature': 1223.15, 'service.hotLife': 3.6e6 },
    expect: 'pass',
    // Parameter 28132, between the maker's 31 MPa (871 C, 14 000 h) and 14 MPa (982 C, 2400 h).
    value: 4.8519e6 / maker(1223.15 * 23),
    tolerance: 1e-4,
  },
  {
    kind: 'pass',
    name: 'pressure alone: hoop stress governs',
    subject,
    spec: { 'turbo.unsupportedShare': 0, 'turbo.jointFactor': 1 },
    expect: 'pass',
    value: hoop / (0.8 * value625()),
  },
  {
    kind: 'validity',
    name: 'past the last published point',
    subject,
    spec: { 'tube.wallTemperature': 1323.15, 'service.hotLife': 3.6e8 },
    expect: 'unknown',
    path: 'Larson-Miller parameter',
  },
  {
    kind: 'validity',
    name: 'metal too cold to creep',
    subject,
    spec: { 'tube.wallTemperature': 400 },
    expect: 'unknown',
  },
  {
    kind: 'inconsistent',
    name: 'an alloy without published points',
    subject,
    spec: { 'tube.alloy': '321' },
    expect: 'unknown',
    path: 'tube.alloy',
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

function value625(): number {
  const found = ruptureStress('625-handbook', 973.15, 720e3);
  return found.known ? found.value : Number.NaN;
}

function maker(at: number): number {
  const [first, last] = [1144.15 * (20 + Math.log10(14000)), 1255.15 * (20 + Math.log10(2400))];
  return 31e6 * (14 / 31) ** ((at - first) / (last - first));
}
