import type { FactContext } from '../quantities/context.ts';
import { digest } from '../spec/digest.ts';
import type { GateId } from '../spec/gateId.ts';
import type { Branch, GroupKey, Spec } from '../spec/spec.ts';
import type { Source } from '../trade/source.ts';
import { derive, groundsOf, type Known, sameKnown, unknown, type Values, type Why, whyNot } from '../units/known.ts';
import type { QuantityKey } from '../units/quantities.ts';
import type { Limit, Outcome } from './outcome.ts';
import { jobLimit, type Overridden, overridden, overrideInputs } from './override.ts';
import type { Subject, Verdict } from './verdict.ts';

/** `cheap` rules also run in the browser on each keystroke; `measured` ones wait for a worker. */
export type Cost = 'cheap' | 'measured';

/** Everything about a rule that is not its arithmetic. */
export interface RuleMeta {
  /** `<thing>-<check>`, equals the folder name, never reused. */
  readonly id: string;
  readonly gate: GateId;
  /** "Limit / Require / Forbid ..." one line, no full stop. */
  readonly title: string;
  /** A blocking rule that fails or is unknown keeps its gate shut; an advisory one only cautions, it never fails. */
  readonly severity: 'block' | 'advise';
  /** The kind of limit a job may set in its place: only where the limit is one fixed number from practice, memory or our own. False where it follows from the job, a standard or a maker. */
  readonly adjustable: Limit['kind'] | false;
  /** Top-level branches of the spec it reads, itself or through quantities. Reading any other is an error. */
  readonly branches: readonly Branch[];
  /**
   * Of a branch with single fields of which it reads only some, the names of those: an edit of another one does not run it. A
   * signature covers the whole branch all the same.
   */
  readonly fields?: Readonly<Partial<Record<GroupKey, readonly string[]>>>;
  /**
   * Those of its branches that a signature on its gate does not cover, because a later gate does: a scan is signed for the bay as it
   * was taken, and its verdicts follow the header as it is drawn. What moves there is judged anew and shuts the gate while it fails.
   */
  readonly uncovered?: readonly Branch[];
  readonly cost: Cost;
  /** Quantity of the measured value: unit and decimals follow. */
  readonly quantity: QuantityKey;
  /** The limit in words, with unit. */
  readonly limit: string;
  /** Where the limit comes from. */
  readonly source: Source;
  /** In words: in which range the check holds. */
  readonly validity: string;
  /** What fails, who or what is hurt, how it shows. */
  readonly hazard: string;
  /** What to change first. */
  readonly remedy: string;
  /** Message id to template: `{name}` is data as text or in the rule's quantity, `{name:length}` a number in that quantity. */
  readonly messages: Readonly<Record<string, string>>;
  /** Rule-set version that brought it. */
  readonly since: number;
}

type Inputs = Readonly<Record<string, Known<unknown>>>;

/** What an author writes for one rule. */
export interface RuleDefinition<S extends Subject, I extends Inputs> extends RuleMeta {
  /** What there is to judge; a missing precondition is no subject, not a pass. */
  subjects(spec: Spec): readonly S[];
  /** Every fact the rule looks at, each known or with its reason. */
  reads(context: FactContext, subject: S): I;
  /** Total, deterministic, no I/O; only called with every input known. */
  evaluate(inputs: Values<I>, subject: S): Outcome;
}

/** What an engine keeps of a verdict between evaluations. */
export interface Kept {
  readonly inputs: Inputs;
  readonly verdict: Verdict;
}

/** A rule the engine can run. */
export interface Rule extends RuleMeta {
  subjects(spec: Spec): readonly Subject[];
  /** Verdict for each subject; a kept verdict is returned as it is when none of its inputs moved. `counted` is called once per evaluation made. */
  run(context: FactContext, kept: ReadonlyMap<string, Kept>, counted: () => void): ReadonlyMap<string, Kept>;
}

/** Key of a verdict: rule and subject. */
export function verdictKey(rule: string, subject: string): string {
  return `${rule}/${subject}`;
}

/** Makes a rule from its definition. Every rule also reads the limits set for the job: only its own row of them counts. */
export function defineRule<S extends Subject, I extends Inputs>(definition: RuleDefinition<S, I>): Rule {
  const branches: readonly Branch[] = [...definition.branches, 'limits'];
  return { ...definition, branches, run: (context, kept, counted) => run(definition, { context, kept, counted }) };
}

interface Running {
  readonly context: FactContext;
  readonly kept: ReadonlyMap<string, Kept>;
  readonly counted: () => void;
}

function run<S extends Subject, I extends Inputs>(
  rule: RuleDefinition<S, I>,
  running: Running,
): ReadonlyMap<string, Kept> {
  const out = new Map<string, Kept>();
  const found = subjectsOf(rule, running.context.spec);
  if (!found.ok) {
    const subject: Subject = { kind: 'job', id: 'subjects', name: rule.title };
    const inputs = { subjects: unknown(found.why) };
    running.counted();
    out.set(verdictKey(rule.id, subject.id), {
      inputs,
      verdict: stamp(rule, { subject, inputs }, { outcome: { status: 'unknown', why: found.why } }),
    });
    return out;
  }
  const row = jobLimit(running.context.spec, rule.id);
  const set = overrideInputs(row);
  for (const subject of found.subjects) {
    const key = verdictKey(rule.id, subject.id);
    const before = running.kept.get(key);
    const { inputs: own, outcome } = read(rule, running.context, subject);
    const inputs = row ? { ...own, ...set } : own;
    if (before && sameInputs(before.inputs, inputs) && sameSubject(before.verdict.subject, subject))
      out.set(key, before);
    else {
      running.counted();
      out.set(key, { inputs, verdict: stamp(rule, { subject, inputs }, overridden(outcome(), rule, row)) });
    }
  }
  return out;
}

type Found<S> = { readonly ok: true; readonly subjects: readonly S[] } | { readonly ok: false; readonly why: Why };

function subjectsOf<S extends Subject, I extends Inputs>(rule: RuleDefinition<S, I>, spec: Spec): Found<S> {
  try {
    return { ok: true, subjects: rule.subjects(spec) };
  } catch (error) {
    return { ok: false, why: fault(rule, error) };
  }
}

/** The facts of one subject and how they would be judged; a throw while reading is a fault of the rule like any other. */
function read<S extends Subject, I extends Inputs>(
  rule: RuleDefinition<S, I>,
  context: FactContext,
  subject: S,
): { readonly inputs: Inputs; readonly outcome: () => Outcome } {
  try {
    const inputs = rule.reads(context, subject);
    return { inputs, outcome: () => safely(rule, subject, inputs) };
  } catch (error) {
    const why = fault(rule, error);
    return { inputs: { reads: unknown(why) }, outcome: () => ({ status: 'unknown', why }) };
  }
}

function fault(rule: Pick<RuleMeta, 'id'>, error: unknown): Why {
  return { reason: 'fault', detail: `rule ${rule.id}: ${String(error)}` };
}

function stamp(
  rule: RuleMeta,
  read: { readonly subject: Subject; readonly inputs: Inputs },
  { outcome, override }: Overridden,
): Verdict {
  const { kind, id, name } = read.subject;
  const grounds = groundsOf(read.inputs);
  return {
    ...advised(rule, outcome),
    key: verdictKey(rule.id, id),
    rule: rule.id,
    gate: rule.gate,
    severity: rule.severity,
    subject: { kind, id, name },
    digest: inputsDigest(read.inputs),
    ...(override && { override }),
    ...(grounds.length > 0 && { grounds }),
  };
}

/** A rule that only advises never fails: outside its limit it cautions. */
function advised(rule: RuleMeta, outcome: Outcome): Outcome {
  return rule.severity === 'advise' && outcome.status === 'fail' ? { ...outcome, status: 'caution' } : outcome;
}

/** Digits kept of a number in a digest: engines differ in the last bits of powers and logarithms, and a browser must get the server's digest. */
const DIGEST_DIGITS = 10;

function inputsDigest(inputs: Inputs): string {
  return digest(inputs, rounded).slice(0, 16);
}

/** Whole numbers that short are what they would be rounded to; writing digits and reading them back is the costly part of a digest. */
const rounded = (x: number): number =>
  Number.isInteger(x) && Math.abs(x) < 10 ** DIGEST_DIGITS ? x : Number(x.toPrecision(DIGEST_DIGITS));

/** A throw in a rule is a bug: the verdict is unknown and says so, everything else goes on. */
function safely<S extends Subject, I extends Inputs>(rule: RuleDefinition<S, I>, subject: S, inputs: I): Outcome {
  const why = whyNot(inputs);
  if (why) return { status: 'unknown', why };
  try {
    const made = derive(inputs, (values) => ({ outcome: rule.evaluate(values, subject) }));
    return made.known ? made.value.outcome : { status: 'unknown', why: made.why };
  } catch (error) {
    return { status: 'unknown', why: fault(rule, error) };
  }
}

function sameInputs(a: Inputs, b: Inputs): boolean {
  const keys = Object.keys(b);
  return keys.length === Object.keys(a).length && keys.every((k) => sameInput(a[k], b[k]));
}

function sameInput(a: Known<unknown> | undefined, b: Known<unknown> | undefined): boolean {
  return a !== undefined && b !== undefined && sameKnown(a, b);
}

function sameSubject(a: Subject, b: Subject): boolean {
  return a.name === b.name && a.kind === b.kind;
}
