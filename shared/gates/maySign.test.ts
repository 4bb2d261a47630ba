import { describe, expect, it } from 'vitest';
import type { Rule } from '../rules/define.ts';
import type { GateId } from '../spec/gateId.ts';
import { readSpec } from '../spec/reader.ts';
import { at } from '../units/known.ts';
import { gateRow, gates } from './gates.ts';
import { freshVerdicts, inventedRule, inventedSignature, undecided } from './invent.ts';
import { maySign } from './maySign.ts';
import { type GateView, gateViews, type Signature } from './readiness.ts';
import type { Role } from './roles.ts';

type Content = Readonly<Record<string, unknown>>;
const rules: readonly Rule[] = [
  inventedRule({ id: 'lambda-limit', gate: 'design', branches: ['engine'] }, (spec) => ({
    job: at('engine.lambda', spec.engine.lambda),
  })),
];
const ticks = gateRow('design').items.map(
  (item) => [`ticks.design.${item.id}`, { done: true, note: '', by: 'x' }] as const,
);
const ready: Content = { 'engine.lambda': 0.9, 'turbo.mass': 6, ...Object.fromEntries(ticks) };
const specOf = (content: Content) => readSpec(new Map(Object.entries(content)));
const without = (content: Content, key: string): Content =>
  Object.fromEntries(Object.entries(content).filter(([k]) => k !== key));
const signature = (role: Role, account: string, content: Content): Signature =>
  inventedSignature('design', { spec: specOf(content), rules }, { id: `${role} ${account}`, role, account });
const signDesign = (): Signature[] => [signature('designer', 'ann', ready), signature('lead', 'bob', ready)];

function viewOf(
  gate: GateId,
  content: Content,
  { signatures = [], inForce = rules }: { signatures?: readonly Signature[]; inForce?: readonly Rule[] } = {},
): GateView {
  const spec = specOf(content);
  const verdicts = freshVerdicts(spec, inForce);
  const view = gateViews({ spec, verdicts, rules: inForce, ruleSet: 1, signatures, ...undecided }).find(
    (v) => v.gate === gate,
  );
  if (!view) throw new Error(`no view of ${gate}`);
  return view;
}

describe('maySign', () => {
  const wish = (view: GateView, role: Role, account: string, held: readonly Role[] = [role]) =>
    maySign(view, { digest: view.digest, role, account, held });

  it('lets each role sign once, by different accounts', () => {
    const view = viewOf('design', ready);
    expect(wish(view, 'designer', 'ann')).toEqual({ ok: true });
    expect(wish(view, 'lead', 'bob')).toEqual({ ok: true });
    const half = viewOf('design', ready, { signatures: [signature('designer', 'ann', ready)] });
    expect(wish(half, 'designer', 'dee')).toMatchObject({ ok: false, code: 'already-signed' });
    expect(wish(half, 'lead', 'ann', ['lead', 'designer'])).toMatchObject({ ok: false, code: 'same-person' });
    expect(wish(half, 'lead', 'bob')).toEqual({ ok: true });
    const signed = viewOf('design', ready, { signatures: signDesign() });
    expect(wish(signed, 'lead', 'eve')).toMatchObject({ ok: false, code: 'already-signed' });
  });

  it.each<readonly [string, Role, readonly Role[], RegExp]>([
    [
      'a role the gate does not ask for',
      'welder',
      ['welder'],
      /expected a signer with the role designer or lead, got welder/,
    ],
    ['a role the account does not hold', 'lead', ['designer'], /got designer/],
    ['no role at all', 'lead', [], /got none/],
  ])('refuses %s', (_, role, held, detail) => {
    const answer = wish(viewOf('design', ready), role, 'ann', held);
    expect(answer).toMatchObject({ ok: false, code: 'wrong-role' });
    expect(answer.ok ? '' : answer.detail).toMatch(detail);
  });

  it('refuses facts that moved since they were looked at', () => {
    const seen = viewOf('design', ready).digest;
    const view = viewOf('design', { ...ready, 'engine.lambda': 0.95 });
    const answer = maySign(view, { digest: seen, role: 'lead', account: 'bob', held: ['lead'] });
    expect(answer).toMatchObject({ ok: false, code: 'facts-moved' });
  });

  it.each<readonly [string, Record<string, unknown>]>([
    ['open', without(ready, 'engine.lambda')],
    ['stale and held', without(ready, 'ticks.design.route-agreed')],
  ])('refuses while it is %s', (_, content) => {
    const view = viewOf('design', content, { signatures: signDesign() });
    expect(wish(view, 'lead', 'eve')).toMatchObject({ ok: false, code: 'not-ready' });
  });

  it('refuses a gate that is not in force, for every one of its signers', () => {
    for (const gate of gates) {
      const view = viewOf(gate.id, ready, { inForce: [] });
      for (const role of gate.signs) expect(wish(view, role, 'ann')).toMatchObject({ ok: false, code: 'not-ready' });
    }
  });

  it('a stale gate that nothing holds is signed again role by role', () => {
    const moved = { ...ready, 'engine.lambda': 0.95 };
    const signatures = signDesign();
    expect(wish(viewOf('design', moved, { signatures }), 'lead', 'bob')).toEqual({ ok: true });
    const one = [...signatures, signature('lead', 'bob', moved)];
    const half = viewOf('design', moved, { signatures: one });
    expect(half.state.state).toBe('stale');
    expect(wish(half, 'lead', 'bob')).toMatchObject({ code: 'already-signed' });
    expect(wish(half, 'designer', 'bob', ['designer'])).toMatchObject({ code: 'same-person' });
    const both = [...one, signature('designer', 'ann', moved)];
    expect(viewOf('design', moved, { signatures: both }).state.state).toBe('signed');
  });
});
