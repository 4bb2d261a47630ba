import type { JobLimit, Spec } from '../spec/spec.ts';
import { formatSi } from '../units/format.ts';
import { type Known, known, type Why } from '../units/known.ts';
import type { QuantityKey } from '../units/quantities.ts';
import { type Judgement, judge, judgementOf, type Limit, marginOf, type Outcome } from './outcome.ts';

/** A limit set for this job in place of the rule's own. */
export interface Override {
  /** Why, in the words of who set it. */
  readonly reason: string;
  /** The rule's own blocking limit for this subject, SI. */
  readonly was: Limit;
}

/** What an override needs to know of its rule. */
export interface Adjusted {
  readonly id: string;
  readonly quantity: QuantityKey;
  /** The kind of limit that a job may set; false where none may be set. */
  readonly adjustable: Limit['kind'] | false;
}

/** The limit a job sets for a rule; undefined when it leaves the rule's own. */
export function jobLimit(spec: Spec, rule: string): JobLimit | undefined {
  return spec.limits.find((row) => row.id === rule);
}

/** The limit of a job as inputs of its rule, by path: part of what a verdict is judged by, and of its digest. */
export function overrideInputs(row: JobLimit | undefined): Readonly<Record<string, Known<unknown>>> {
  if (!row) return {};
  const path = `limits.${row.id}`;
  return {
    [`${path}.least`]: known(row.least ?? null),
    [`${path}.most`]: known(row.most ?? null),
    [`${path}.reason`]: known(row.reason ?? null),
  };
}

/** Why the limit of a job cannot be used; null when it can. `rule` is null where no rule has this id. */
export function overrideProblem(row: JobLimit, rule: Adjusted | null): Why | null {
  const path = `limits.${row.id}`;
  if (!rule) return inconsistent(`expected the id of a rule, got ${row.id}`, [path]);
  if (!rule.adjustable) {
    const detail = `expected a rule whose limit a job may set, got ${row.id}: its limit follows from the job, a standard or a maker`;
    return inconsistent(detail, [path]);
  }
  return numberProblem(row, rule, rule.adjustable) ?? reasonProblem(row);
}

function reasonProblem(row: JobLimit): Why | null {
  return row.reason === undefined ? { reason: 'missing', paths: [`limits.${row.id}.reason`] } : null;
}

const sides = { max: ['most'], min: ['least'], range: ['least', 'most'] } as const;

function numberProblem(row: JobLimit, { quantity }: Adjusted, kind: Limit['kind']): Why | null {
  const path = `limits.${row.id}`;
  const wanted: readonly string[] = sides[kind];
  for (const side of sides.range) {
    const value = row[side];
    if (value !== undefined && !Number.isFinite(value)) {
      return inconsistent(`expected a finite number, got ${value}`, [`${path}.${side}`]);
    }
    if (value !== undefined && !wanted.includes(side)) {
      const detail = `expected only "${wanted.join('')}" for ${row.id}, got "${side}" too: its limit has one side`;
      return inconsistent(detail, [`${path}.${side}`]);
    }
  }
  const { least, most } = row;
  if (least === undefined && most === undefined) {
    return { reason: 'missing', paths: wanted.map((side) => `${path}.${side}`) };
  }
  return least !== undefined && most !== undefined && least > most ? upsideDown(row, least, most, quantity) : null;
}

function upsideDown({ id }: JobLimit, least: number, most: number, quantity: QuantityKey): Why {
  const detail = `expected at least ${formatSi(quantity, least)} not to be above the most, got ${formatSi(quantity, most)}`;
  return inconsistent(detail, [`limits.${id}.least`, `limits.${id}.most`]);
}

const inconsistent = (detail: string, paths: readonly string[]): Why => ({ reason: 'inconsistent', detail, paths });

/** A limit of the job that cannot be used. */
export interface LimitProblem {
  readonly row: JobLimit;
  readonly why: Why;
}

/** Every limit of the job that cannot be used, those of no rule at all too: they would show at no verdict. */
export function limitProblems(spec: Spec, find: (id: string) => Adjusted | null): readonly LimitProblem[] {
  return spec.limits.flatMap((row) => {
    const why = overrideProblem(row, find(row.id));
    return why ? [{ row, why }] : [];
  });
}

/** What an override made of an outcome. */
export interface Overridden {
  readonly outcome: Outcome;
  readonly override?: Override;
}

/**
 * Judges an outcome again by the limit of the job. A limit that cannot be used makes the verdict unknown: neither the rule's own limit
 * nor the broken one may let something pass.
 */
export function overridden(outcome: Outcome, rule: Adjusted, row: JobLimit | undefined): Overridden {
  if (!row || outcome.status === 'notApplicable') return { outcome };
  const problem = overrideProblem(row, rule);
  if (problem) return { outcome: { status: 'unknown', why: problem } };
  if (outcome.status === 'unknown') return { outcome };
  const how = judgementOf(outcome);
  if (!how || how.limit.kind !== rule.adjustable || row.reason === undefined) {
    return { outcome: { status: 'unknown', why: fault(rule, how?.limit.kind) } };
  }
  const limit = limitOf(row, how.limit);
  if (limit.kind === 'range' && limit.low > limit.high) {
    return { outcome: { status: 'unknown', why: upsideDown(row, limit.low, limit.high, rule.quantity) } };
  }
  const override = { reason: row.reason, was: how.limit };
  return { outcome: judge(outcome.measured, judgedBy(limit, how)), override };
}

function fault({ id, adjustable }: Adjusted, got = 'none that was judged'): Why {
  return { reason: 'fault', detail: `rule ${id}: expected a limit of the kind ${adjustable}, got ${got}` };
}

/** The limit of the job; of a range, an end that is not set stays the rule's own. */
function limitOf({ least, most }: JobLimit, was: Limit): Limit {
  if (was.kind === 'range') return { kind: 'range', low: least ?? was.low, high: most ?? was.high };
  return { kind: was.kind, value: (was.kind === 'max' ? most : least) ?? was.value };
}

/** The same judgement by another limit: an advisory limit stays while it is inside, a stated guard grows with the limit and never shrinks. */
function judgedBy(limit: Limit, { advisory, guard, ...how }: Judgement): Judgement {
  return {
    ...how,
    limit,
    ...(advisory && isInside(advisory, limit) && { advisory }),
    ...(guard !== undefined && { guard: guard * growth(how.limit, limit) }),
  };
}

/** How many times larger a limit has become, at least 1. */
function growth(was: Limit, now: Limit): number {
  const ratio = sizeOf(now) / sizeOf(was);
  return Number.isFinite(ratio) ? Math.max(1, ratio) : 1;
}

function isInside(inner: Limit, outer: Limit): boolean {
  const ends = inner.kind === 'range' ? [inner.low, inner.high] : [inner.value];
  return ends.every((end) => marginOf(end, outer) >= 0);
}

function sizeOf(limit: Limit): number {
  return limit.kind === 'range' ? limit.high - limit.low : Math.abs(limit.value);
}
