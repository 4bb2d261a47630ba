import { type Rule, verdictKey } from '../rules/define.ts';
import { blocks, type Verdict } from '../rules/verdict.ts';
import { type CoveredFacts, changedFacts, type FactChange } from '../spec/covered.ts';
import { type GateId, gateIds } from '../spec/gateId.ts';
import type { Spec } from '../spec/spec.ts';
import { type Concession, type ConcessionView, concessionViews, type LapseReason } from './concession.ts';
import { type Coverage, gatheredFrom } from './coverage.ts';
import { type Gate, gateRow, type PointKind } from './gates.ts';
import { type GatePlan, type Plan, planOf } from './plan.ts';
import { fieldPlaces } from './planField.ts';
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
  | {
      readonly kind: 'rule';
      readonly verdict: string;
      readonly status: 'fail' | 'unknown';
      /** A concession that covered it and no longer does. */
      readonly lapsed?: { readonly concession: string; readonly because: LapseReason };
    }
  | {
      readonly kind: 'item';
      readonly item: string;
      readonly text: string;
      /** Ticked, but these fields have no value; empty: there is no row to measure. */
      readonly unmeasured?: readonly string[];
    }
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
  /**
   * This rule set has no checks for it yet, the header is not made the way it belongs to (`offRoute`), or the plan of the job leaves it
   * out for that reason (`left`); it cannot be signed and holds nothing up.
   */
  | { readonly state: 'not-in-force'; readonly offRoute?: true; readonly left?: string }
  /** Shut. Signatures for exactly these facts may stand already, when what holds it is not a fact of its own (an earlier gate, a measurement under way). */
  | { readonly state: 'open'; readonly current: readonly SignatureView[]; readonly blockers: readonly Blocker[] }
  | { readonly state: 'ready'; readonly current: readonly SignatureView[]; readonly awaiting: readonly Role[] }
  | { readonly state: 'signed'; readonly current: readonly SignatureView[] }
  | {
      readonly state: 'stale';
      readonly stale: readonly StaleSignature[];
      readonly current: readonly SignatureView[];
      readonly blockers: readonly Blocker[];
      /** Hold gates before it that are not signed now. With nothing in `stale` it was signed on top of them, and is current again when they are. */
      readonly upstream: readonly GateId[];
    };

/** A gate's state and the digest a signature would have to name. */
export interface GateView {
  readonly gate: GateId;
  readonly digest: string;
  /** As planned for this job. */
  readonly point: PointKind;
  readonly signs: readonly Role[];
  readonly twoPeople: boolean;
  /** Ids of the concessions among its covered facts. */
  readonly concessions: readonly string[];
  readonly state: GateState;
}

/** What the state of a gate follows from: the spec, its verdicts and what people decided. */
export interface GateInputs {
  readonly spec: Spec;
  readonly verdicts: Iterable<Verdict>;
  readonly rules: readonly Rule[];
  readonly ruleSet: number;
  readonly signatures: readonly Signature[];
  readonly plan: Plan;
  readonly concessions: readonly Concession[];
  /** Ms since 1970: concessions run out. */
  readonly now: number;
  /** Where the facts come from, when somebody keeps them; else they are gathered anew. */
  readonly covered?: Coverage;
}

/** A gate with its plan, and what is known before any gate is looked at. */
interface Looked {
  readonly gate: Gate;
  readonly plan: GatePlan;
  readonly inputs: GateInputs;
  readonly verdicts: readonly Verdict[];
  /** Of all gates. */
  readonly conceded: readonly ConcessionView[];
  readonly earlier: ReadonlyMap<GateId, GateView>;
}

/** Hold items that are open: not ticked, or ticked without the values that were to be measured. */
function openItems({ gate, plan, inputs: { spec } }: Looked): readonly Blocker[] {
  return plan.items.flatMap(({ id, point, text, field }): readonly Blocker[] => {
    if (point !== 'hold') return [];
    if (spec.ticks[`${gate.id}.${id}`]?.done !== true) return [{ kind: 'item', item: id, text }];
    if (field === undefined) return [];
    const places = fieldPlaces(field, spec);
    const unmeasured = places.filter(({ value }) => value === null).map(({ path }) => path);
    return places.length > 0 && unmeasured.length === 0 ? [] : [{ kind: 'item', item: id, text, unmeasured }];
  });
}

/** Whether the chosen route leaves this gate out. While no route is chosen, none is left out. */
function isOffRoute(gate: Gate, { route: { made } }: Spec): boolean {
  return gate.route !== 'both' && made !== undefined && made !== 'both' && made !== gate.route;
}

/**
 * The nearest hold gates before this one that are in force: a gate without checks, off the route or left out, and one that is no hold
 * point, hands the demand on to those before it.
 */
function gatesBefore(gate: Gate, earlier: ReadonlyMap<GateId, GateView>): readonly GateId[] {
  const found = gate.after.flatMap((id) => {
    const view = earlier.get(id);
    const holds = view !== undefined && view.point === 'hold' && view.state.state !== 'not-in-force';
    return holds ? [id] : gatesBefore(gateRow(id), earlier);
  });
  return [...new Set(found)];
}

/** A gate whose blocking rules found nothing to judge has not been checked, and is shut by each of them. */
function unchecked({ gate, inputs }: Looked, judged: readonly Verdict[]): Blocker[] {
  if (judged.some((verdict) => verdict.severity === 'block')) return [];
  const mute = inputs.rules.filter((rule) => rule.gate === gate.id && rule.severity === 'block');
  return mute.map((rule) => ({ kind: 'rule', verdict: verdictKey(rule.id, 'subjects'), status: 'unknown' }));
}

function ruleBlockers(looked: Looked): readonly Blocker[] {
  const judged = looked.verdicts.filter((verdict) => verdict.gate === looked.gate.id);
  const out = unchecked(looked, judged);
  for (const verdict of judged.filter(blocks)) {
    const status = verdict.status === 'fail' ? 'fail' : 'unknown';
    const about = looked.conceded.findLast(({ concession }) => concession.verdict === verdict.key);
    // Only what is known to fail is accepted, and only while the concession holds for it.
    if (status === 'fail' && about?.standing.standing === 'in-force') continue;
    const lapsed = about?.standing.standing === 'lapsed' && {
      lapsed: { concession: about.concession.id, because: about.standing.because },
    };
    out.push({ kind: 'rule', verdict: verdict.key, status, ...lapsed });
  }
  return out;
}

/** The last word of each role the gate asks for. */
function latestPerRole({ gate, plan, inputs }: Looked): readonly Signature[] {
  const byRole = new Map<Role, Signature>();
  for (const s of inputs.signatures) if (s.gate === gate.id && plan.signs.includes(s.role)) byRole.set(s.role, s);
  return [...byRole.values()];
}

/** One person counts for one role of a gate, whatever the record holds. */
function byDifferentAccounts(signatures: readonly Signature[]): readonly Signature[] {
  return signatures.filter((s, i) => signatures.findIndex((other) => other.account === s.account) === i);
}

/** Concessions a gate rests on: those in force, and those whose verdict is just not known, which keeps the gate shut by itself. */
function concededOf({ gate, conceded }: Looked): readonly Concession[] {
  return conceded
    .filter(({ concession, standing }) => concession.gate === gate.id && standing.standing !== 'lapsed')
    .map(({ concession }) => concession);
}

function viewOf(looked: Looked): GateView {
  const { gate, plan, inputs, earlier } = looked;
  const conceded = concededOf(looked);
  const covered = inputs.covered ?? gatheredFrom(inputs.rules, inputs.ruleSet);
  const { facts, digest } = covered(gate.id, inputs.spec, { plan: inputs.plan, conceded });
  const { point, signs, twoPeople } = plan;
  const concessions = conceded.map(({ id }) => id);
  const as = (state: GateState): GateView => ({ gate: gate.id, digest, point, signs, twoPeople, concessions, state });
  if (plan.left !== undefined) return as({ state: 'not-in-force', left: plan.left });
  if (isOffRoute(gate, inputs.spec)) return as({ state: 'not-in-force', offRoute: true });
  if (!inputs.rules.some((r) => r.gate === gate.id)) return as({ state: 'not-in-force' });
  const upstream = gatesBefore(gate, earlier).filter((id) => earlier.get(id)?.state.state !== 'signed');
  const before = upstream.map((id): Blocker => ({ kind: 'gate', gate: id }));
  return as(
    stateOf(looked, { facts, digest, upstream, blockers: [...ruleBlockers(looked), ...openItems(looked), ...before] }),
  );
}

interface Now {
  readonly facts: CoveredFacts;
  readonly digest: string;
  readonly upstream: readonly GateId[];
  readonly blockers: readonly Blocker[];
}

function stateOf(looked: Looked, { facts, digest, upstream, blockers }: Now): GateState {
  const { plan, inputs } = looked;
  const signatures = latestPerRole(looked);
  const fresh = signatures.filter((s) => s.digest === digest);
  const current = (plan.twoPeople ? byDifferentAccounts(fresh) : fresh).map(view);
  const stale = signatures.filter((s) => s.digest !== digest).map((s) => staleBecause(s, facts, inputs.ruleSet));
  const awaiting = plan.signs.filter((role) => !current.some((s) => s.role === role));
  // Signed by all on top of gates that no longer stand: as stale as those.
  if (stale.length > 0 || (awaiting.length === 0 && upstream.length > 0))
    return { state: 'stale', stale, current, blockers, upstream };
  if (blockers.length > 0) return { state: 'open', current, blockers };
  return awaiting.length === 0 ? { state: 'signed', current } : { state: 'ready', current, awaiting };
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
  const earlier = new Map<GateId, GateView>();
  const verdicts = [...inputs.verdicts];
  const conceded = concessionViews(inputs.concessions, verdicts, inputs.now);
  return gateIds.map((id) => {
    const gate = gateRow(id);
    const view = viewOf({ gate, plan: planOf(inputs.plan, id), inputs, verdicts, conceded, earlier });
    earlier.set(id, view);
    return view;
  });
}
