import { type GateView, gateDigest, gateFacts } from '../../shared/gates/readiness.ts';
import { RULE_SET, rules } from '../../shared/rules/registry.ts';
import type { GateId } from '../../shared/spec/gateId.ts';
import type { Spec } from '../../shared/spec/spec.ts';

const digests = new WeakMap<Spec, Map<GateId, string>>();

/** Digest of the facts of a gate as this browser has them. */
function localDigest(gate: GateId, spec: Spec): string {
  const kept = digests.get(spec) ?? new Map<GateId, string>();
  digests.set(spec, kept);
  const there = kept.get(gate);
  if (there !== undefined) return there;
  const made = gateDigest(gate, gateFacts(gate, spec, rules), RULE_SET);
  kept.set(gate, made);
  return made;
}

/** True when this browser's facts are not those the server's view of the gate speaks of: edits on their way, or offline. */
export function movedSince(view: GateView, spec: Spec): boolean {
  return view.state.state !== 'not-in-force' && localDigest(view.gate, spec) !== view.digest;
}
