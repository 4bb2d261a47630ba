import type { Rule } from '../rules/define.ts';
import { type CoveredFacts, coveredFacts } from '../spec/covered.ts';
import { digest } from '../spec/digest.ts';
import { type GateId, gateIds } from '../spec/gateId.ts';
import type { Branch, Spec } from '../spec/spec.ts';
import { type Concession, concessionFacts } from './concession.ts';
import { type Plan, planFacts, planOf } from './plan.ts';
import { fieldBranch, fieldFacts } from './planField.ts';

/** What people decided that a gate's signatures rest on. */
export interface Basis {
  readonly plan: Plan;
  /** Concessions that stand for verdicts of the gate. */
  readonly conceded: readonly Concession[];
}

/** The facts a gate covers now, and the digest that names them. */
export type Coverage = (
  gate: GateId,
  spec: Spec,
  basis: Basis,
) => { readonly facts: CoveredFacts; readonly digest: string };

/** What a gate's facts are also taken from, whatever its rules declare. */
const everyGateReads: readonly Branch[] = ['limits', 'materials', 'ticks'];

/** Branches whose facts a gate's signature covers. */
export function gateBranches(gate: GateId, rules: readonly Rule[]): readonly Branch[] {
  const branches = new Set<Branch>();
  for (const rule of rules) {
    if (rule.gate !== gate) continue;
    for (const branch of rule.branches) if (!rule.uncovered?.includes(branch)) branches.add(branch);
  }
  return [...branches].sort();
}

/** The facts a signature on this gate covers now: of the spec, of its plan and of the concessions it rests on. */
export function gateFacts(gate: GateId, spec: Spec, rules: readonly Rule[], { plan, conceded }: Basis): CoveredFacts {
  const own = new Set(rules.filter((rule) => rule.gate === gate).map((rule) => rule.id));
  const facts = coveredFacts(spec, gateBranches(gate, rules), gate, own);
  const row = planOf(plan, gate);
  const measured = row.items.flatMap(({ field }) =>
    field === undefined ? [] : Object.entries(fieldFacts(field, spec)).filter(([path]) => !(path in facts)),
  );
  const more = { ...Object.fromEntries(measured), ...planFacts(row), ...concessionFacts(conceded) };
  if (Object.keys(more).length === 0) return facts;
  return Object.fromEntries(Object.entries({ ...facts, ...more }).sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** The digest that names exactly these facts under this rule set. */
export function gateDigest(gate: GateId, facts: CoveredFacts, ruleSet: number): string {
  return digest({ gate, facts, ruleSet });
}

/** Gathers a gate's facts anew each time. */
export function gatheredFrom(rules: readonly Rule[], ruleSet: number): Coverage {
  return (gate, spec, basis) => {
    const facts = gateFacts(gate, spec, rules, basis);
    return { facts, digest: gateDigest(gate, facts, ruleSet) };
  };
}

interface KeptFacts {
  readonly parts: readonly unknown[];
  readonly covered: ReturnType<Coverage>;
}

/** Gathers a gate's facts again only when something they come from is another thing than last time. */
export function keptCoverage(rules: readonly Rule[], ruleSet: number): Coverage {
  const gather = gatheredFrom(rules, ruleSet);
  const kept = new Map<GateId, KeptFacts>();
  const read = new Map(gateIds.map((id) => [id, [...gateBranches(id, rules), ...everyGateReads]] as const));
  return (gate, spec, basis) => {
    const row = planOf(basis.plan, gate);
    const asked = row.items.flatMap(({ field }) => (field === undefined ? [] : (fieldBranch(field) ?? [])));
    const branches = [...(read.get(gate) ?? []), ...asked].map((branch) => spec[branch]);
    const parts = [row, ...basis.conceded, ...branches];
    const before = kept.get(gate);
    if (before?.parts.length === parts.length && before.parts.every((part, i) => part === parts[i]))
      return before.covered;
    const covered = gather(gate, spec, basis);
    kept.set(gate, { parts, covered });
    return covered;
  };
}
