import type { Vec3 } from '../geometry/vector.ts';
import type { Why } from '../units/known.ts';

/** The bound a measured value is held against, SI. */
export type Limit =
  | { readonly kind: 'max'; readonly value: number }
  | { readonly kind: 'min'; readonly value: number }
  | { readonly kind: 'range'; readonly low: number; readonly high: number };

/** Where on the preview a verdict points, metres in the spec's frame. */
export interface Witness {
  readonly at: Vec3;
  /** The other end of a distance, when there is one. */
  readonly to?: Vec3;
  /** Runner and arc length from its port, when it lies on one. */
  readonly runner?: string;
  readonly s?: number;
}

/** Facts about one judged value. `margin` is signed, in the rule's SI unit: positive is inside the limit. */
export interface Judged {
  readonly measured: number;
  readonly limit: Limit;
  readonly margin: number;
  /** Key of the rule's messages, when it has something to add. */
  readonly message?: string;
  /** Numbers (SI) and words for the message's placeholders; a placeholder names its quantity when it is not the rule's. */
  readonly data?: Readonly<Record<string, number | string>>;
  readonly witness?: Witness;
  /** Set when the limit came from memory or practice for this subject and differs from the rule's own source. */
  readonly limitNote?: string;
}

/** What a rule says about one subject. Unknown is never a pass. */
export type Outcome =
  | ({ readonly status: 'pass'; readonly close: boolean } & Judged)
  | ({ readonly status: 'fail' } & Judged)
  /** Outside a first, advisory limit but inside the blocking one. */
  | ({ readonly status: 'caution' } & Judged)
  | { readonly status: 'unknown'; readonly why: Why }
  | { readonly status: 'notApplicable'; readonly because: string };

/** Signed distance inside a limit. */
export function marginOf(measured: number, limit: Limit): number {
  if (limit.kind === 'max') return limit.value - measured;
  if (limit.kind === 'min') return measured - limit.value;
  return Math.min(measured - limit.low, limit.high - measured);
}

/** How a measured value is judged. */
export interface Judgement {
  readonly limit: Limit;
  /** A second, stricter limit that only cautions. */
  readonly advisory?: Limit;
  /** A pass with a margin below this reads close: the stated uncertainty of measured value and limit, SI. Default: 3 % of the limit. */
  readonly guard?: number;
  readonly message?: string;
  readonly data?: Readonly<Record<string, number | string>>;
  readonly witness?: Witness;
  readonly limitNote?: string;
}

function defaultGuard(limit: Limit): number {
  return 0.03 * (limit.kind === 'range' ? limit.high - limit.low : Math.abs(limit.value));
}

/** How each outcome came about, for a limit of the job's own to be put in place of the rule's. Not part of the outcome: it does not travel. */
const judgements = new WeakMap<Outcome, Judgement>();

/** How an outcome was judged; null for one that no {@link judge} made. */
export function judgementOf(outcome: Outcome): Judgement | null {
  return judgements.get(outcome) ?? null;
}

/** Holds a measured value against its limits. At the limit is inside. A value that is not finite is unknown. */
export function judge(measured: number, how: Judgement): Outcome {
  if (!Number.isFinite(measured)) {
    return {
      status: 'unknown',
      why: { reason: 'inconsistent', detail: `expected a finite value, got ${measured}`, paths: [] },
    };
  }
  const outcome = judged(measured, how);
  judgements.set(outcome, how);
  return outcome;
}

function judged(measured: number, how: Judgement): Outcome {
  const { limit, advisory, guard = defaultGuard(limit), ...rest } = how;
  const margin = marginOf(measured, limit);
  const facts: Judged = { measured, limit, margin, ...rest };
  if (margin < 0) return { status: 'fail', ...facts };
  if (advisory && marginOf(measured, advisory) < 0) {
    return { status: 'caution', ...facts, limit: advisory, margin: marginOf(measured, advisory) };
  }
  // Near which of the two it is: that one says how much is spare.
  const spare = advisory ? marginOf(measured, advisory) : margin;
  if (advisory && spare < Math.min(guard, margin)) {
    return { status: 'pass', close: true, ...facts, limit: advisory, margin: spare };
  }
  return { status: 'pass', close: margin < guard, ...facts };
}
