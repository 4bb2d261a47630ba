import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { buildVolume } from './rule.ts';

const subject = 'q1';
const space = (x: number, y: number, z: number) => ({
  'printer.spaceX': x,
  'printer.spaceY': y,
  'printer.spaceZ': z,
});

ruleTable(
  buildVolume,
  [
    {
      kind: 'pass',
      name: 'a piece of 60 x 200 x 220 mm in a large printer passes',
      subject,
      measured: {},
      expect: 'pass',
      // Height: 400 - 30 - 220 - 6.
      value: 0.144,
      limit: 0,
      message: 'space',
      says: 'Stands 60.00 mm x 200.00 mm x 226.00 mm high with its lift, in 384.00 mm x 384.00 mm x 370.00 mm usable.',
    },
    {
      kind: 'fail',
      name: 'too wide by 2 mm',
      subject,
      spec: space(0.4, 0.214, 0.4),
      measured: {},
      expect: 'fail',
      value: -0.002,
    },
    {
      kind: 'fail',
      name: 'a plate that is all edge has no room',
      subject,
      spec: { ...space(0.02, 0.4, 0.4), 'printer.edge': 0.02 },
      measured: {},
      expect: 'fail',
      value: -0.06,
    },
    {
      kind: 'boundary',
      name: 'the height of plate, lift and piece',
      subject,
      measured: {},
      move: 'printer.spaceZ',
      inside: 0.4,
      outside: 0.2,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0,
      at: 0.256,
    },
    {
      kind: 'boundary',
      name: 'the width of both edges and the piece',
      subject,
      measured: {},
      move: 'printer.spaceX',
      inside: 0.4,
      outside: 0.05,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 0,
      at: 0.076,
    },
    {
      kind: 'published',
      name: 'a printer of 250 x 250 x 325 mm takes the piece with 24 mm of width to spare',
      subject,
      spec: { ...space(0.25, 0.25, 0.325), 'printer.edge': 0.013 },
      measured: {},
      expect: 'pass',
      value: 0.024,
      citation: 'common envelope class 250 x 250 x 325 mm (from memory); own arithmetic',
    },
    {
      kind: 'inconsistent',
      name: 'an open mesh does not stand',
      subject,
      measured: { openEdges: 2 },
      expect: 'unknown',
      path: 'pieces.q1.mesh',
    },
    { kind: 'pending', name: 'not measured yet', subject, expect: 'unknown' },
  ],
  {
    without: { validity: 'any size can be compared' },
    optional: {
      'route.made': 'while no route is chosen printing is not left out',
      '.use': 'what is not said to be bought is printed',
    },
  },
);

it.each([
  [0.262, false],
  [0.26, true],
])('a printer %d m high is close: %s', (height, close) => {
  const spec = { 'printer.spaceZ': height };
  expect(evaluateRow(buildVolume, { name: 'x', subject, spec, measured: {} }).verdict).toMatchObject({ close });
});
