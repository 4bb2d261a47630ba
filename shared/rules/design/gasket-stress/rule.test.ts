import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { gasketStress } from './rule.ts';

const subject = 'gasket';
const area = (Math.PI / 4) * (0.055 ** 2 - 0.045 ** 2);
const psi = 6894.757293168361;
/** Two M8 studs at K 0.15, N for a torque. */
const preload = (torque: number) => torque / (0.15 * 0.008);
const gas = (Math.PI / 4) * 0.05 ** 2 * (200e3 - 101325);
const low = (torque: number) => (2 * preload(torque) * 0.7 * 0.8 - gas) / area;
const high = (torque: number) => (2 * preload(torque) * 1.3) / area;

ruleTable(gasketStress, [
  {
    kind: 'pass',
    name: 'graphite seats with room',
    subject,
    expect: 'pass',
    message: 'seats',
    value: low(20),
    limit: 2500 * psi,
  },
  {
    kind: 'fail',
    name: 'a spiral wound ring does not seat on two M8 studs',
    subject,
    spec: { 'gasket.kind': 'spiral-wound' },
    expect: 'fail',
    message: 'seats',
    limit: 10000 * psi,
  },
  {
    kind: 'fail',
    name: 'the high end crushes',
    subject,
    spec: { 'gasket.crush': 50e6 },
    expect: 'fail',
    message: 'crushes',
    value: high(20),
    limit: 50e6,
  },
  {
    kind: 'boundary',
    name: 'the least torque that seats graphite',
    subject,
    move: 'stud.torque',
    inside: 20,
    outside: 5,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 2500 * psi,
    at: ((2500 * psi * area + gas) / (2 * 0.7 * 0.8)) * 0.15 * 0.008,
  },
  {
    kind: 'boundary',
    name: 'the torque from which it is crushed',
    subject,
    move: 'stud.torque',
    inside: 20,
    outside: 90,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: 103e6,
    at: ((103e6 * area) / (2 * 1.3)) * 0.15 * 0.008,
  },
  {
    kind: 'published',
    name: 'two studs at 15 kN on a 45/55 ring give 38.2 MPa',
    subject,
    spec: {
      'stud.torque': 18,
      'stud.preloadScatter': 0,
      'stud.preloadLoss': 0,
      'engine.exhaustPressure': 101325,
    },
    expect: 'pass',
    value: 38.197186e6,
    tolerance: 1e-6,
    citation: 'own arithmetic, vector 4.5: 38.2 MPa, enough for graphite',
  },
  {
    kind: 'fail',
    name: 'gas load past the clamp leaves nothing',
    subject,
    spec: { 'stud.torque': 0.5, 'engine.exhaustPressure': 800e3, 'stud.preloadLoss': 0.9 },
    expect: 'fail',
    value: 0,
  },
  {
    kind: 'pass',
    name: 'pressure below the atmosphere does not help',
    subject,
    spec: { 'engine.exhaustPressure': 90e3 },
    expect: 'pass',
    value: low(20) + gas / area,
  },
  {
    kind: 'validity',
    name: 'a ring larger than the formula was made for',
    subject,
    spec: { 'stud.torque': 300, 'stud.nutFactor': 0.05, 'stud.thread': 'M6', 'gasket.studs': 8 },
    expect: 'unknown',
  },
  {
    kind: 'inconsistent',
    name: 'a ring inside out',
    subject,
    spec: { 'gasket.outsideDiameter': 0.04 },
    expect: 'unknown',
  },
]);
