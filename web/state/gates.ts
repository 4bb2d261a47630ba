import type { Concession } from '../../shared/gates/concession.ts';
import { gateDigest, gateFacts } from '../../shared/gates/coverage.ts';
import type { Plan } from '../../shared/gates/plan.ts';
import type { GateView } from '../../shared/gates/readiness.ts';
import { RULE_SET, rules } from '../../shared/rules/registry.ts';
import type { GateId } from '../../shared/spec/gateId.ts';
import type { Spec } from '../../shared/spec/spec.ts';

/** What the server said people decided, as the facts of a gate are read by it. */
export interface DecidedHere {
  readonly plan: Plan;
  readonly concessions: readonly Concession[];
}

interface Kept {
  readonly decided: DecidedHere;
  readonly ids: string;
  readonly digest: string;
}

const digests = new WeakMap<Spec, Map<GateId, Kept>>();

/** Digest of the facts of a gate as this browser has them. */
function localDigest({ gate, concessions }: GateView, spec: Spec, decided: DecidedHere): string {
  const kept = digests.get(spec) ?? new Map<GateId, Kept>();
  digests.set(spec, kept);
  const there = kept.get(gate);
  const ids = concessions.join();
  if (there?.ids === ids && there.decided.plan === decided.plan && there.decided.concessions === decided.concessions)
    return there.digest;
  const conceded = decided.concessions.filter(({ id }) => concessions.includes(id));
  const digest = gateDigest(gate, gateFacts(gate, spec, rules, { plan: decided.plan, conceded }), RULE_SET);
  kept.set(gate, { decided, ids, digest });
  return digest;
}

/** True when this browser's facts are not those the server's view of the gate speaks of: edits on their way, or offline. */
export function movedSince(view: GateView, spec: Spec, decided: DecidedHere): boolean {
  return view.state.state !== 'not-in-force' && localDigest(view, spec, decided) !== view.digest;
}
