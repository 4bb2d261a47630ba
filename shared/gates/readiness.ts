import { type Rule, verdictKey } from '../rules/define.ts';
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
  /** This rule set has no checks for it yet, or (`offRoute`) the header is not made the way it belongs to; it cannot be signed and holds nothing up. */
  | { readonly state: 'not-in-force'; readonly offRoute?: true }
  /** Shut. Signatures for exactly these facts may stand already, when what holds it is not a fact of its own (an earlier gate, a measurement under way). */
  | { readonly state: 'open'; readonly current: readonly SignatureView[]; readonly blockers: readonly Blocker[] }
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

/** What the state of a gate follows from: the spec, its verdicts and what has been signed. */
export interface GateInputs {
  readonly spec: Spec;
  readonly verdicts: Iterable<Verdict>;
  readonly rules: readonly Rule[];
  readonly ruleSet: number;
  readonly signatures: readonly Signature[];
  /** Where the facts come from, when somebody keeps them; else they are gathered anew. */
  readonly covered?: Coverage;
}

/** The facts a gate covers now, and the digest that names them. */
export type Coverage = (gate: GateId, spec: Spec) => { readonly facts: CoveredFacts; readonly digest: string };

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

/** The facts a signature on this gate covers now. */
export function gateFacts(gate: GateId, spec: Spec, rules: readonly Rule[]): CoveredFacts {
  const own = new Set(rules.filter((rule) => rule.gate === gate).map((rule) => rule.id));
  return coveredFacts(spec, gateBranches(gate, rules), gate, own);
}

/** The digest that names exactly these facts under this rule set. */
export function gateDigest(gate: GateId, facts: CoveredFacts, ruleSet: number): string {
  return digest({ gate, facts, ruleSet });
}

function gatheredFrom(rules: readonly Rule[], ruleSet: number): Coverage {
  return (gate, spec) => {
    const facts = gateFacts(gate, spec, rules);
    return { facts, digest: gateDigest(gate, facts, ruleSet) };
  };
}

/** Gathers a gate's facts again only when a branch they come from is another one than last time. */
export function keptCoverage(rules: readonly Rule[], ruleSet: number): Coverage {
  const gather = gatheredFrom(rules, ruleSet);
  const kept = new Map<GateId, { readonly branches: readonly unknown[]; readonly covered: ReturnType<Coverage> }>();
  const read = new Map(gateIds.map((id) => [id, [...gateBranches(id, rules), ...everyGateReads]] as const));
  return (gate, spec) => {
    const branches = (read.get(gate) ?? []).map((branch) => spec[branch]);
    const before = kept.get(gate);
    if (before?.branches.every((branch, i) => branch === branches[i])) return before.covered;
    const covered = gather(gate, spec);
    kept.set(gate, { branches, covered });
    return covered;
  };
}

function openItems(gate: Gate, spec: Spec): readonly ChecklistItem[] {
  return gate.items.filter((item) => item.point === 'hold' && spec.ticks[`${gate.id}.${item.id}`]?.done !== true);
}

/** Whether the chosen route leaves this gate out. While no route is chosen, none is left out. */
function isOffRoute(gate: Gate, { route: { made } }: Spec): boolean {
  return gate.route !== 'both' && made !== undefined && made !== 'both' && made !== gate.route;
}

/** The nearest gates before this one that are in force: a gate without checks, or off the route, hands the demand on to those before it. */
function gatesBefore(gate: Gate, earlier: ReadonlyMap<GateId, GateState>): readonly GateId[] {
  const found = gate.after.flatMap((id) =>
    earlier.get(id)?.state === 'not-in-force' ? gatesBefore(gateRow(id), earlier) : [id],
  );
  return [...new Set(found)];
}

/** A gate whose blocking rules found nothing to judge has not been checked, and is shut by each of them. */
function unchecked(gate: Gate, inputs: GateInputs, judged: readonly Verdict[]): Blocker[] {
  if (judged.some((verdict) => verdict.severity === 'block')) return [];
  const mute = inputs.rules.filter((rule) => rule.gate === gate.id && rule.severity === 'block');
  return mute.map((rule) => ({ kind: 'rule', verdict: verdictKey(rule.id, 'subjects'), status: 'unknown' }));
}

function blockersOf(gate: Gate, inputs: GateInputs, earlier: ReadonlyMap<GateId, GateState>): Blocker[] {
  const judged = [...inputs.verdicts].filter((verdict) => verdict.gate === gate.id);
  const out = unchecked(gate, inputs, judged);
  for (const verdict of judged.filter(blocks)) {
    out.push({ kind: 'rule', verdict: verdict.key, status: verdict.status === 'fail' ? 'fail' : 'unknown' });
  }
  for (const item of openItems(gate, inputs.spec)) out.push({ kind: 'item', item: item.id, text: item.text });
  for (const id of gatesBefore(gate, earlier)) {
    if (earlier.get(id)?.state !== 'signed') out.push({ kind: 'gate', gate: id });
  }
  return out;
}

/** The last word of each role the gate asks for. */
function latestPerRole(gate: Gate, signatures: readonly Signature[]): readonly Signature[] {
  const byRole = new Map<Role, Signature>();
  for (const s of signatures) if (s.gate === gate.id && gate.signs.includes(s.role)) byRole.set(s.role, s);
  return [...byRole.values()];
}

/** One person counts for one role of a gate, whatever the record holds. */
function byDifferentAccounts(signatures: readonly Signature[]): readonly Signature[] {
  return signatures.filter((s, i) => signatures.findIndex((other) => other.account === s.account) === i);
}

function stateOf(gate: Gate, inputs: GateInputs, earlier: ReadonlyMap<GateId, GateState>): GateView {
  const covered = inputs.covered ?? gatheredFrom(inputs.rules, inputs.ruleSet);
  const { facts, digest: now } = covered(gate.id, inputs.spec);
  const as = (state: GateState): GateView => ({ gate: gate.id, digest: now, state });
  if (isOffRoute(gate, inputs.spec)) return as({ state: 'not-in-force', offRoute: true });
  if (!inputs.rules.some((r) => r.gate === gate.id)) return as({ state: 'not-in-force' });
  const blockers = blockersOf(gate, inputs, earlier);
  const signatures = latestPerRole(gate, inputs.signatures);
  const current = byDifferentAccounts(signatures.filter((s) => s.digest === now)).map(view);
  const stale = signatures.filter((s) => s.digest !== now).map((s) => staleBecause(s, facts, inputs.ruleSet));
  if (stale.length > 0) return as({ state: 'stale', stale, current, blockers });
  if (blockers.length > 0) return as({ state: 'open', current, blockers });
  const awaiting = gate.signs.filter((role) => !current.some((s) => s.role === role));
  return as(awaiting.length === 0 ? { state: 'signed', current } : { state: 'ready', current, awaiting });
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
    return no('same-person', 'each role of this gate needs its own person: another account has to sign in this one');
  }
  return { ok: true };
}
