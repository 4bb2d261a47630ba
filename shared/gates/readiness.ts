import type { Rule } from '../rules/define.ts';
import { blocks, type Verdict } from '../rules/verdict.ts';
import { type CoveredFacts, changedFacts, coveredFacts, type FactChange } from '../spec/covered.ts';
import { digest } from '../spec/digest.ts';
import { type GateId, gateIds } from '../spec/gateId.ts';
import type { Branch, Spec } from '../spec/spec.ts';
import { type ChecklistItem, type Gate, gateRow } from './gates.ts';
import type { Role } from './roles.ts';

/** One signature as the record keeps it. */
export interface Signature {
  readonly id: string;
  readonly gate: GateId;
  readonly account: string;
  readonly name: string;
  readonly role: Role;
  readonly at: string;
  readonly meaning: string;
  readonly ruleSet: number;
  readonly facts: CoveredFacts;
  readonly digest: string;
  readonly hash: string;
}

/** A signature as it is shown: without the list of facts. */
export type SignatureView = Omit<Signature, 'facts'>;

/** What keeps a gate shut. */
export type Blocker =
  | { readonly kind: 'rule'; readonly verdict: string; readonly status: 'fail' | 'unknown' }
  | { readonly kind: 'item'; readonly item: string; readonly text: string }
  | { readonly kind: 'gate'; readonly gate: GateId };

/** A signature that speaks of other facts than the present ones. */
export interface StaleSignature {
  readonly signature: SignatureView;
  readonly because: readonly FactChange[];
  /** Set when it was given under another rule set. */
  readonly ruleSet?: number;
}

/** Where a gate stands. Derived, never written down: undoing a change makes a stale gate current again. */
export type GateState =
  /** This rule set has no checks for it yet; it cannot be signed. */
  | { readonly state: 'not-in-force' }
  | { readonly state: 'open'; readonly blockers: readonly Blocker[] }
  | { readonly state: 'ready'; readonly current: readonly SignatureView[]; readonly awaiting: readonly Role[] }
  | { readonly state: 'signed'; readonly current: readonly SignatureView[] }
  | {
      readonly state: 'stale';
      readonly stale: readonly StaleSignature[];
      readonly current: readonly SignatureView[];
      readonly blockers: readonly Blocker[];
    };

/** A gate's state and the digest a signature would have to name. */
export interface GateView {
  readonly gate: GateId;
  readonly digest: string;
  readonly state: GateState;
}

export interface GateInputs {
  readonly spec: Spec;
  readonly verdicts: Iterable<Verdict>;
  readonly rules: readonly Rule[];
  readonly ruleSet: number;
  readonly signatures: readonly Signature[];
}

/** Branches whose facts a gate's signature covers. */
export function gateBranches(gate: GateId, rules: readonly Rule[]): readonly Branch[] {
  const branches = new Set<Branch>();
  for (const rule of rules) if (rule.gate === gate) for (const b of rule.branches) branches.add(b);
  return [...branches].sort();
}

/** The facts a signature on this gate covers now. */
export function gateFacts(gate: GateId, spec: Spec, rules: readonly Rule[]): CoveredFacts {
  return coveredFacts(spec, gateBranches(gate, rules), gate);
}

/** The digest that names exactly these facts under this rule set. */
export function gateDigest(gate: GateId, facts: CoveredFacts, ruleSet: number): string {
  return digest({ gate, facts, ruleSet });
}

function openItems(gate: Gate, spec: Spec): readonly ChecklistItem[] {
  return gate.items.filter((item) => item.point === 'hold' && spec.ticks[`${gate.id}.${item.id}`]?.done !== true);
}

function blockersOf(gate: Gate, inputs: GateInputs, earlier: ReadonlyMap<GateId, GateState>): Blocker[] {
  const out: Blocker[] = [];
  for (const verdict of inputs.verdicts) {
    if (verdict.gate !== gate.id || !blocks(verdict)) continue;
    out.push({ kind: 'rule', verdict: verdict.key, status: verdict.status === 'fail' ? 'fail' : 'unknown' });
  }
  for (const item of openItems(gate, inputs.spec)) out.push({ kind: 'item', item: item.id, text: item.text });
  for (const id of gate.after) {
    const state = earlier.get(id)?.state;
    if (state !== 'signed' && state !== 'not-in-force') out.push({ kind: 'gate', gate: id });
  }
  return out;
}

function latestPerRole(signatures: readonly Signature[]): readonly Signature[] {
  const byRole = new Map<Role, Signature>();
  for (const s of signatures) byRole.set(s.role, s);
  return [...byRole.values()];
}

function stateOf(gate: Gate, inputs: GateInputs, earlier: ReadonlyMap<GateId, GateState>): GateView {
  const facts = gateFacts(gate.id, inputs.spec, inputs.rules);
  const now = gateDigest(gate.id, facts, inputs.ruleSet);
  if (!inputs.rules.some((r) => r.gate === gate.id))
    return { gate: gate.id, digest: now, state: { state: 'not-in-force' } };
  const blockers = blockersOf(gate, inputs, earlier);
  const signatures = latestPerRole(inputs.signatures.filter((s) => s.gate === gate.id));
  const current = signatures.filter((s) => s.digest === now);
  const stale = signatures.filter((s) => s.digest !== now);
  if (stale.length > 0) {
    const moved = stale.map((signature) => staleBecause(signature, facts, inputs.ruleSet));
    return {
      gate: gate.id,
      digest: now,
      state: { state: 'stale', stale: moved, current: current.map(view), blockers },
    };
  }
  if (blockers.length > 0) return { gate: gate.id, digest: now, state: { state: 'open', blockers } };
  const awaiting = gate.signs.filter((role) => !current.some((s) => s.role === role));
  const state: GateState =
    awaiting.length === 0
      ? { state: 'signed', current: current.map(view) }
      : { state: 'ready', current: current.map(view), awaiting };
  return { gate: gate.id, digest: now, state };
}

function view({ facts: _, ...shown }: Signature): SignatureView {
  return shown;
}

function staleBecause(signature: Signature, facts: CoveredFacts, ruleSet: number): StaleSignature {
  return {
    signature: view(signature),
    because: changedFacts(signature.facts, facts),
    ...(signature.ruleSet !== ruleSet && { ruleSet: signature.ruleSet }),
  };
}

/** Where every gate stands, in gate order. Pure. */
export function gateViews(inputs: GateInputs): readonly GateView[] {
  const states = new Map<GateId, GateState>();
  const verdicts = [...inputs.verdicts];
  return gateIds.map((id) => {
    const view = stateOf(gateRow(id), { ...inputs, verdicts }, states);
    states.set(id, view.state);
    return view;
  });
}

/** A wish to sign, judged against a gate's present state. */
export type SigningAnswer =
  | { readonly ok: true }
  | {
      readonly ok: false;
      readonly code: 'facts-moved' | 'not-ready' | 'wrong-role' | 'already-signed' | 'same-person';
      readonly detail: string;
    };

/** Whether this account may now sign this gate in this role for facts it named by digest. Pure: the server asks it with a fresh evaluation. */
export function maySign(
  view: GateView,
  wish: { readonly digest: string; readonly role: Role; readonly account: string; readonly held: readonly Role[] },
): SigningAnswer {
  const gate = gateRow(view.gate);
  const no = (code: Exclude<SigningAnswer, { ok: true }>['code'], detail: string): SigningAnswer => ({
    ok: false,
    code,
    detail,
  });
  if (!gate.signs.includes(wish.role) || !wish.held.includes(wish.role)) {
    return no(
      'wrong-role',
      `expected a signer with the role ${gate.signs.join(' or ')}, got ${wish.held.join(', ') || 'none'}`,
    );
  }
  if (view.digest !== wish.digest)
    return no('facts-moved', 'the facts have changed since you looked; read them again before you sign');
  const { state } = view;
  if (state.state === 'not-in-force') return no('not-ready', 'this rule set has no checks for this gate yet');
  if (state.state === 'open' || (state.state === 'stale' && state.blockers.length > 0)) {
    return no('not-ready', `${state.blockers.length} points still keep this gate shut`);
  }
  const { current } = state;
  if (current.some((s) => s.role === wish.role))
    return no('already-signed', `the ${wish.role} has already signed these facts`);
  if (current.some((s) => s.account === wish.account)) {
    return no('same-person', 'this gate needs two people: another account has to sign in the other role');
  }
  return { ok: true };
}
