import { expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { overhangSupport } from './rule.ts';

const subject = 'q1';
const bare = { 'pieces.q1.supports': 'none' };
const degree = Math.PI / 180;
/** Area of the crown of a bore 42 mm wide and 100 mm long that lies level and does not carry itself at 40 degrees. */
const crown = 2 * 0.021 * (40 * degree) * 0.1;

ruleTable(
  overhangSupport,
  [
    {
      kind: 'pass',
      name: 'supports that all come out pass',
      subject,
      measured: { hangingArea: 0.002, trappedArea: 0 },
      expect: 'pass',
      value: 0,
      limit: 1e-5,
      message: 'trapped',
      says: 'Of 2000.0 mm2 flatter than 40.0 deg, so much is out of reach of a straight tool. Support takes 0.001 L of space, 0.000 L of it standing on the piece.',
    },
    {
      kind: 'pass',
      name: 'a piece without supports on which nothing hangs passes',
      subject,
      spec: bare,
      measured: { downskinArea: 0.0008 },
      expect: 'pass',
      value: 0,
      message: 'none',
      says: 'Without supports; 300.0 mm2 is flatter than 45.0 deg and 0.0 mm2 flatter than 40.0 deg.',
    },
    {
      kind: 'fail',
      name: 'what hangs without a support fails',
      subject,
      spec: bare,
      measured: { hangingArea: 0.0004, trappedArea: 0 },
      expect: 'fail',
      value: 0.0004,
    },
    {
      kind: 'fail',
      name: 'a support that stays in a bore fails',
      subject,
      measured: { hangingArea: 0.003, trappedArea: 0.0012 },
      expect: 'fail',
      value: 0.0012,
    },
    {
      kind: 'boundary',
      name: 'ten square millimetres may hang',
      subject,
      spec: bare,
      measured: {},
      move: 'measured.hangingArea',
      inside: 0,
      outside: 0.001,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 1e-5,
      at: 1e-5,
    },
    {
      kind: 'boundary',
      name: 'ten square millimetres may be trapped',
      subject,
      measured: {},
      move: 'measured.trappedArea',
      inside: 0,
      outside: 0.001,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 1e-5,
      at: 1e-5,
    },
    {
      kind: 'published',
      name: 'the crown of a level bore of 42 mm hangs over its whole arc',
      subject,
      spec: bare,
      measured: { hangingArea: crown },
      expect: 'fail',
      value: 42e-3 * 0.6981317 * 0.1,
      tolerance: 1e-6,
      citation:
        'vector WE-06: the arc of a level bore that does not carry itself is its diameter times the least angle',
    },
    {
      kind: 'inconsistent',
      name: 'an open mesh does not hang',
      subject,
      measured: { flippedEdges: 1 },
      expect: 'unknown',
      path: 'pieces.q1.mesh',
    },
    { kind: 'pending', name: 'not measured yet', subject, expect: 'unknown' },
  ],
  {
    without: { validity: 'any pose of a closed mesh can be judged' },
    optional: {
      'route.made': 'while no route is chosen printing is not left out',
      '.use': 'what is not said to be bought is printed',
    },
  },
);

it.each([
  ['625', 45, 40],
  ['316L', 45, 30],
  ['Ti-6Al-4V', 40, 20],
])('%s carries itself from %d degrees, and hangs for certain below %d', (alloy, usual, least) => {
  const { jobs } = evaluateRow(overhangSupport, {
    name: 'x',
    subject,
    spec: { 'pieces.q1.alloy': alloy },
    measured: {},
  });
  expect(jobs.find(({ kind }) => kind === 'pose')).toEqual({
    kind: 'pose',
    mesh: `${'b'.repeat(64)}-mm`,
    turn: [0.1, 0.2, 0.3],
    overhangAngle: usual * degree,
    leastAngle: least * degree,
  });
});

it('points at what hangs, or at what is trapped', () => {
  const measured = { hangingArea: 1, hangingAt: [1, 0, 0], trappedArea: 1, trappedAt: [0, 1, 0] };
  expect(evaluateRow(overhangSupport, { name: 'x', subject, spec: bare, measured }).verdict).toMatchObject({
    witness: { at: [1, 0, 0] },
  });
  expect(evaluateRow(overhangSupport, { name: 'x', subject, measured }).verdict).toMatchObject({
    witness: { at: [0, 1, 0] },
  });
});

it('is close from half of what may hang', () => {
  const close = (hangingArea: number) =>
    evaluateRow(overhangSupport, { name: 'x', subject, spec: bare, measured: { hangingArea } }).verdict;
  expect(close(4.9e-6)).toMatchObject({ close: false });
  expect(close(5.1e-6)).toMatchObject({ close: true });
});
