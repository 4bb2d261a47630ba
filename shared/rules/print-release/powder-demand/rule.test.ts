import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { powderDemand } from './rule.ts';

const subject = 'build';
/** The worked bed of 250 by 250 mm filled to 180 mm around 72 cm3 of metal. */
const worked = {
  spec: {
    'pieces.q1.lift': 0,
    'printer.spaceX': 0.25,
    'printer.spaceY': 0.25,
    'printer.packing': 0.58,
    'printer.dosing': 1.6,
  },
  measured: { volume: 60e-6, supportToPart: 48e-6, box: [0.06, 0.2, 0.18] },
} as const;

ruleTable(
  powderDemand,
  [
    {
      kind: 'pass',
      name: 'a stock of 300 kg for a bed of 0.4 m square passes',
      subject,
      measured: {},
      expect: 'pass',
      value: 1.5 * 8440 * (0.58 * (0.16 * 0.226 - 123.25e-6) + 123.25e-6),
      limit: 300,
      message: 'bed',
      says: 'The pieces and supports weigh 1.04 kg, the loose powder around them 176.41 kg, 226.00 mm high.',
    },
    {
      kind: 'fail',
      name: 'a stock of 100 kg fails',
      subject,
      spec: { 'printer.stock': 100 },
      measured: {},
      expect: 'fail',
    },
    {
      kind: 'boundary',
      name: 'the stock',
      subject,
      ...worked,
      move: 'printer.stock',
      inside: 300,
      outside: 10,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 88.522,
      at: 88.522,
      tolerance: 1e-4,
    },
    {
      kind: 'published',
      name: 'the worked bed takes 88.5 kg',
      subject,
      ...worked,
      expect: 'pass',
      value: 88.522,
      tolerance: 1e-4,
      citation: 'vector WE-04: bed of 250 x 250 mm filled to 180 mm around 72 cm3, 88.522 kg to charge',
    },
    {
      kind: 'validity',
      name: 'a bed higher than the formula goes',
      subject,
      measured: { box: [0.1, 0.1, 1.2] },
      expect: 'unknown',
    },
    {
      kind: 'inconsistent',
      name: 'more metal than the bed holds',
      subject,
      spec: { 'pieces.q1.copies': 50 },
      measured: { volume: 0.002 },
      expect: 'unknown',
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

const second = {
  'pieces.q2': 2,
  'pieces.q2.mesh': 'c'.repeat(64),
  'pieces.q2.meshUnit': 'mm',
  'pieces.q2.turnX': 0,
  'pieces.q2.turnY': 0,
  'pieces.q2.turnZ': 0,
  'pieces.q2.lift': 0.006,
  'pieces.q2.supports': 'none',
  'pieces.q2.copies': 1,
};

it('takes one powder a build', () => {
  const { verdict } = evaluateRow(powderDemand, {
    name: 'x',
    subject,
    spec: { ...second, 'pieces.q2.alloy': '316L' },
    measured: {},
  });
  expect(verdict).toMatchObject({ status: 'unknown', why: { reason: 'inconsistent' } });
  expect(JSON.stringify(verdict)).toContain('expected one powder for all pieces of a build, got 625, 316L');
  const alike = { name: 'x', subject, spec: { ...second, 'pieces.q2.alloy': '625' }, measured: {} };
  expect(evaluateRow(powderDemand, alike).verdict?.status).toBe('pass');
});

it.each([
  ['316L', 7990],
  ['718', 8220],
  ['AlSi10Mg', 2670],
  ['CoCr', 8400],
  ['Ti-6Al-4V', 4430],
])('weighs %s at %d kg/m3', (alloy, density) => {
  const spec = { ...worked.spec, 'pieces.q1.alloy': alloy };
  const { verdict } = evaluateRow(powderDemand, { name: 'x', subject, spec, measured: worked.measured });
  expect(verdict && 'measured' in verdict ? verdict.measured : 0).toBeCloseTo((88.522 * density) / 8440, 2);
});

it.each([
  [1.11, false],
  [1.09, true],
])('a stock of %d times what it takes is close: %s', (times, close) => {
  const spec = { ...worked.spec, 'printer.stock': times * 88.522 };
  const { verdict } = evaluateRow(powderDemand, { name: 'x', subject, spec, measured: worked.measured });
  expect(verdict).toMatchObject({ close });
});

it('has no build without a piece to print', () => {
  for (const spec of [{ 'pieces.q1.use': 'bought' }, { 'route.made': 'fabricated' }])
    expect(evaluateRow(powderDemand, { name: 'x', subject, spec, measured: {} }).verdict).toBeUndefined();
});
