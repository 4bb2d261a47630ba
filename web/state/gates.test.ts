import { expect, it } from 'vitest';
import { undecided } from '../../shared/gates/invent.ts';
import { gateViews } from '../../shared/gates/readiness.ts';
import { RULE_SET, rules } from '../../shared/rules/registry.ts';
import { makeSpec } from '../../tests/support/baseSpec.ts';
import { movedSince } from './gates.ts';

const viewOf = (gate: string) => {
  const view = gateViews({
    spec: makeSpec(),
    verdicts: [],
    rules,
    ruleSet: RULE_SET,
    signatures: [],
    ...undecided,
  }).find((v) => v.gate === gate);
  if (!view) throw new Error(`no gate ${gate}`);
  return view;
};

it('knows when this device has the facts the server speaks of', () => {
  expect(movedSince(viewOf('design'), makeSpec(), undecided)).toBe(false);
});

it('knows when an edit here moved a covered fact, and that others did not', () => {
  const edited = makeSpec({ 'stud.torque': 3 });
  expect(movedSince(viewOf('design'), edited, undecided)).toBe(true);
  expect(movedSince(viewOf('weld'), edited, undecided)).toBe(false);
});

it('says nothing about gates that are not in force', () => {
  const edited = makeSpec({ 'stud.torque': 3 });
  expect(movedSince({ ...viewOf('design'), state: { state: 'not-in-force' } }, edited, undecided)).toBe(false);
});
