import { defineRule, type Rule, type RuleMeta } from '../rules/define.ts';
import { createEngine } from '../rules/engine.ts';
import { judge } from '../rules/outcome.ts';
import type { Verdict } from '../rules/verdict.ts';
import type { CoveredFacts } from '../spec/covered.ts';
import type { GateId } from '../spec/gateId.ts';
import type { Spec } from '../spec/spec.ts';
import { type Known, unknown } from '../units/known.ts';
import { type Basis, gateDigest, gateFacts } from './coverage.ts';
import { defaultPlan } from './plan.ts';
import type { GateInputs, Signature } from './readiness.ts';
import type { Role } from './roles.ts';

/** What an invented rule looks at: values (no unit) by the id of their subject, each held against at most 1. */
export type InventedReading = (spec: Spec) => Readonly<Record<string, Known<number>>>;

/** A rule that says nothing about headers: a known value up to 1 passes, above fails. For tests of gates. */
export function inventedRule(
  meta: Pick<RuleMeta, 'id' | 'gate' | 'branches'> & Partial<Pick<RuleMeta, 'severity' | 'uncovered'>>,
  read: InventedReading,
): Rule {
  return defineRule({
    title: 'Limit an invented number',
    severity: 'block',
    adjustable: 'max',
    cost: 'cheap',
    quantity: 'ratio',
    limit: 'at most 1',
    source: { document: 'invented for tests', trust: 'own' },
    validity: 'tests only',
    hazard: 'none',
    remedy: 'none',
    messages: {},
    since: 1,
    ...meta,
    subjects: (spec) => Object.keys(read(spec)).map((id) => ({ kind: 'job' as const, id, name: id })),
    reads: ({ spec }, { id }) => ({ value: read(spec)[id] ?? unknown({ reason: 'missing', paths: [] }) }),
    evaluate: ({ value }) => judge(value, { limit: { kind: 'max', value: 1 } }),
  });
}

/** What a fresh engine says of a spec under some rules; no measurement ever arrives. */
export function freshVerdicts(spec: Spec, rules: readonly Rule[]): readonly Verdict[] {
  const engine = createEngine({ rules, measured: { measure: () => unknown({ reason: 'pending', job: 'none' }) } });
  engine.evaluate(spec);
  return [...engine.verdicts().values()];
}

/** Who signs an invented record. */
export interface InventedSigner {
  readonly id: string;
  readonly role: Role;
  readonly account: string;
  readonly ruleSet?: number;
}

/** A job whose people decided nothing yet. */
export const undecided: Pick<GateInputs, 'plan' | 'concessions' | 'now'> = {
  plan: defaultPlan,
  concessions: [],
  now: 0,
};

/** A signature on a gate for the facts of a spec, as the record gives it back: gone through JSON. */
export function inventedSignature(
  gate: GateId,
  facts: { readonly spec: Spec; readonly rules: readonly Rule[]; readonly basis?: Basis },
  { id, role, account, ruleSet = 1 }: InventedSigner,
): Signature {
  const covered: CoveredFacts = JSON.parse(
    JSON.stringify(gateFacts(gate, facts.spec, facts.rules, facts.basis ?? { plan: defaultPlan, conceded: [] })),
  );
  const signer = { id, gate, account, name: account, role, ruleSet };
  const digest = gateDigest(gate, covered, ruleSet);
  return { ...signer, at: '2026-01-01T00:00:00.000Z', meaning: 'checked', facts: covered, digest, hash: id };
}
