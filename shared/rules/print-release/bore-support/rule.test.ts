import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { boreSupport } from './rule.ts';

const subject = 'q1';
const degree = Math.PI / 180;
const place = (tilt: number, diameter = 0.042) => ({
  tube: 1,
  tilt: tilt * degree,
  diameter,
  s: 0.1,
  at: [0.1, 0.1, 0],
});
const bare = { 'pieces.q1.supports': 'none' };
const flat = (tilt: number, diameter?: number) => ({ flattest: place(tilt, diameter), hidden: null });

ruleTable(
  boreSupport,
  [
    {
      kind: 'pass',
      name: 'a bore at 70 degrees passes',
      subject,
      measured: { flattest: place(20), hidden: place(70) },
      expect: 'pass',
      value: 70 * degree,
      limit: 40 * degree,
      message: 'crown',
      says: 'Bore 42.00 mm: the strip of its crown that does not carry itself at 45.0 deg is 0.00 mm wide; as a teardrop it would rise 29.70 mm over its centre.',
    },
    {
      kind: 'fail',
      name: 'without supports the flattest place counts',
      subject,
      spec: bare,
      measured: { flattest: place(20), hidden: place(70) },
      expect: 'fail',
      value: 20 * degree,
      limit: 40 * degree,
    },
    {
      kind: 'fail',
      name: 'a place whose support no tool reaches counts',
      subject,
      measured: { flattest: place(10), hidden: place(30) },
      expect: 'fail',
      value: 30 * degree,
      says: 'Bore 42.00 mm: the strip of its crown that does not carry itself at 45.0 deg is 24.25 mm wide; as a teardrop it would rise 29.70 mm over its centre.',
    },
    {
      kind: 'boundary',
      name: '45 degrees is usual for 625',
      subject,
      measured: { hidden: place(60) },
      move: 'measured.hidden.tilt',
      inside: 60 * degree,
      outside: 41 * degree,
      expectInside: 'pass',
      expectOutside: 'caution',
      limit: 45 * degree,
      at: 45 * degree,
    },
    {
      kind: 'boundary',
      name: '40 degrees is the least for 625',
      subject,
      measured: { hidden: place(44) },
      move: 'measured.hidden.tilt',
      inside: 44 * degree,
      outside: 10 * degree,
      expectInside: 'caution',
      expectOutside: 'fail',
      limit: 40 * degree,
      at: 40 * degree,
    },
    {
      kind: 'boundary',
      name: 'titanium carries itself from 20 degrees',
      subject,
      spec: { ...bare, 'pieces.q1.alloy': 'Ti-6Al-4V' },
      measured: flat(30),
      move: 'measured.flattest.tilt',
      inside: 30 * degree,
      outside: 10 * degree,
      expectInside: 'caution',
      expectOutside: 'fail',
      limit: 20 * degree,
      at: 20 * degree,
    },
    {
      kind: 'published',
      name: 'a level bore of 42 mm needs support over 29.7 mm',
      subject,
      spec: bare,
      measured: flat(0),
      expect: 'fail',
      value: 0,
      says: 'Bore 42.00 mm: the strip of its crown that does not carry itself at 45.0 deg is 29.70 mm wide; as a teardrop it would rise 29.70 mm over its centre.',
      citation: 'vectors WE-06b (chord 29.6985 mm) and WE-07b (apex 29.6985 mm)',
    },
    {
      kind: 'validity',
      name: 'a bore wider than the formula goes',
      subject,
      spec: bare,
      measured: flat(50, 0.31),
      expect: 'unknown',
      path: 'diameter',
    },
    {
      kind: 'notApplicable',
      name: 'no runner runs through the piece',
      subject,
      measured: { flattest: null, hidden: null },
      expect: 'notApplicable',
    },
    {
      kind: 'notApplicable',
      name: 'all supports are reached',
      subject,
      measured: flat(10),
      expect: 'notApplicable',
    },
    {
      kind: 'notApplicable',
      name: 'a bore of 8 mm carries its crown',
      subject,
      spec: bare,
      measured: flat(10, 0.008),
      expect: 'notApplicable',
    },
    {
      kind: 'inconsistent',
      name: 'an open mesh has no bores',
      subject,
      measured: { openEdges: 1 },
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

it.each([
  ['no runner of the spec runs through it', bare, { flattest: null, hidden: null }],
  ['no runner of the spec runs through it', {}, { flattest: null, hidden: null }],
  ['a straight tool reaches the support of every bore', {}, flat(10)],
  ['a bore of at most 8 mm carries its crown however it lies', bare, flat(10, 0.008)],
])('does not apply: %s', (because, spec, measured) => {
  const { verdict } = evaluateRow(boreSupport, { name: 'x', subject, spec, measured });
  expect(verdict).toMatchObject({ status: 'notApplicable', because });
});

it('judges a bore a little over 8 mm', () => {
  const { verdict } = evaluateRow(boreSupport, { name: 'x', subject, spec: bare, measured: flat(10, 0.0081) });
  expect(verdict?.status).toBe('fail');
});

it('names no runner that the spec does not have', () => {
  const measured = { hidden: { ...place(50), tube: 7 } };
  const { verdict } = evaluateRow(boreSupport, { name: 'x', subject, measured });
  expect(verdict).toMatchObject({ witness: { at: [0.1, 0.1, 0] } });
  expect(verdict && 'witness' in verdict && verdict.witness).not.toHaveProperty('s');
});

it('asks for the bores of all runners in the pose, and points at the runner', () => {
  const { verdict, jobs } = evaluateRow(boreSupport, { name: 'x', subject, measured: { hidden: place(50) } });
  const job = jobs.find(({ kind }) => kind === 'boreTilt');
  expect(job).toMatchObject({ turn: [0.1, 0.2, 0.3], mesh: `${'b'.repeat(64)}-mm` });
  expect(job?.kind === 'boreTilt' && job.tubes).toHaveLength(2);
  expect(verdict).toMatchObject({ witness: { at: [0.1, 0.1, 0], runner: 'r2', s: 0.1 } });
});
