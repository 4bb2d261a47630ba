import { expect, it } from 'vitest';
import { makeSpec } from '../../tests/support/baseSpec.ts';
import type { Spec } from '../spec/spec.ts';
import { unknown } from '../units/known.ts';
import { headerSolid } from './headerSolid.ts';
import { headerStep } from './headerStep.ts';

const time = '2026-01-02T03:04:05Z';

it('holds every runner under its name', () => {
  const made = headerStep(makeSpec({ 'runners.r1.name': 'Long one' }), time);
  if (!made.known) throw new Error(JSON.stringify(made.why));
  expect(made.value.match(/MANIFOLD_SOLID_BREP/g)).toHaveLength(makeSpec().runners.length);
  expect(made.value).toContain("MANIFOLD_SOLID_BREP('Long one'");
});

it.each([
  ['a bend that does not fit', { 'runners.r1.nodes.n2.radius': 0.9 }],
  ['no wall', { 'tube.wall': undefined }],
  ['a wall without a bore', { 'tube.wall': 0.008, 'tube.outsideDiameter': 0.012 }],
])('says why there is none: %s', (_, change) => {
  expect(headerStep(makeSpec(change), time)).toMatchObject({ known: false });
});

it('says where a tube would run through itself, for STEP and for the one solid of all tubes', () => {
  const tight = { 'runners.r1.nodes.n2.radius': 0.012 };
  const why = {
    reason: 'inconsistent',
    detail: expect.stringMatching(
      /^node 2: expected a bend radius above half the outside diameter \(.* mm\), got 12(\.0+)? mm; /,
    ),
    paths: ['runners.r1.nodes.n2.radius'],
  };
  expect(headerStep(makeSpec(tight), time)).toMatchObject({ known: false, why });
  const nothing = { measure: () => unknown({ reason: 'pending', job: 'none' }) };
  const bare = (spec: Spec): Spec => ({ ...spec, pieces: [] });
  expect(headerSolid(bare(makeSpec(tight)), nothing)).toMatchObject({ known: false, why });
  expect(headerSolid(bare(makeSpec()), nothing)).toMatchObject({ known: true });
  // What is printed comes from its own files.
  expect(headerSolid(makeSpec(tight), nothing)).toMatchObject({ known: true });
});
