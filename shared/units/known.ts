/** A value we have, or the reason why we do not. "Unknown" is data, never an exception and never a pass. */

/** Why a value is not known. */
export type Why =
  /** Spec paths that are empty or invalid. */
  | { readonly reason: 'missing'; readonly paths: readonly string[] }
  /** An input lies outside the range in which the formula or limit holds. */
  | {
      readonly reason: 'outOfValidity';
      readonly input: string;
      readonly value: number;
      readonly range: readonly [number, number];
      readonly unit: string;
    }
  /** A measurement is still being made; `job` names it. */
  | { readonly reason: 'pending'; readonly job: string }
  /** Inputs are present but contradict each other; `detail` says what was expected and what came. */
  | { readonly reason: 'inconsistent'; readonly detail: string; readonly paths: readonly string[] }
  /** A rule broke: a bug of ours, logged as an alarm. */
  | { readonly reason: 'fault'; readonly detail: string };

/** Something a job brought itself that a value rests on; whatever used the value says so. */
export interface Ground {
  /** Spec path of the row it is kept in, `materials.m1`. */
  readonly path: string;
  readonly name: string;
  /** Where its figures come from, with how far to trust them. */
  readonly source: string;
  readonly reason: string;
}

/** A fact that is there. */
export interface KnownValue<T> {
  readonly known: true;
  readonly value: T;
  /** What of the job's own it rests on; left out when nothing. {@link derive} hands it on. */
  readonly grounds?: readonly Ground[];
}
/** A fact that is not there, with the reason. Never a pass. */
export interface UnknownValue {
  readonly known: false;
  readonly why: Why;
}
/** A fact or why there is none. */
export type Known<T> = KnownValue<T> | UnknownValue;

/** Wraps a value. */
export function known<T>(value: T): KnownValue<T> {
  return { known: true, value };
}

/** Wraps a reason. */
export function unknown(why: Why): UnknownValue {
  return { known: false, why };
}

/** A spec value read at `path`; undefined means missing. */
export function at<T>(path: string, value: T | undefined): Known<T> {
  return value === undefined ? unknown({ reason: 'missing', paths: [path] }) : known(value);
}

type Inputs = Readonly<Record<string, Known<unknown>>>;
/** The plain values of a record of known inputs. */
export type Values<I> = { readonly [K in keyof I]: I[K] extends Known<infer T> ? T : never };

/** The first reason that keeps `inputs` from being computed with, missing paths merged; null when all are known. */
export function whyNot(inputs: Inputs): Why | null {
  const missing: string[] = [];
  let other: Why | null = null;
  for (const k of Object.keys(inputs)) {
    const v = inputs[k];
    if (!v || v.known) continue;
    if (v.why.reason === 'missing') missing.push(...v.why.paths);
    else other ??= v.why;
  }
  if (missing.length > 0) return { reason: 'missing', paths: [...new Set(missing)] };
  return other;
}

function allKnown<I extends Inputs>(inputs: I): Values<I> {
  const out: Record<string, unknown> = {};
  for (const k of Object.keys(inputs)) {
    const v = inputs[k];
    if (v?.known) out[k] = v.value;
  }
  const values: unknown = out;
  assertFilled<I>(values);
  return values;
}

/** Only called once every key of the inputs was found known and its value put in. */
function assertFilled<I extends Inputs>(_values: unknown): asserts _values is Values<I> {}

/** Computes `make` from inputs that are all known, else hands the reason on. */
export function derive<I extends Inputs, T>(inputs: I, make: (values: Values<I>) => T | Known<T>): Known<T> {
  const why = whyNot(inputs);
  if (why) return unknown(why);
  const made = make(allKnown(inputs));
  return restingOn(isKnownShape(made) ? made : known(made), groundsOf(inputs));
}

/** What of the job's own some inputs rest on, each once. */
export function groundsOf(inputs: Inputs): readonly Ground[] {
  const found = new Map<string, Ground>();
  for (const k of Object.keys(inputs)) {
    const v = inputs[k];
    if (v?.known) for (const ground of v.grounds ?? []) found.set(ground.path, ground);
  }
  return [...found.values()];
}

/** The same fact, resting on these grounds too; a reason rests on nothing. */
export function restingOn<T>(fact: Known<T>, more: readonly Ground[]): Known<T> {
  if (!fact.known || more.length === 0) return fact;
  return { ...fact, grounds: groundsOf({ fact, more: { known: true, value: null, grounds: more } }) };
}

function isKnownShape<T>(x: T | Known<T>): x is Known<T> {
  return typeof x === 'object' && x !== null && 'known' in x && typeof x.known === 'boolean';
}

/** Same value or same reason: lets a memo keep its old object. */
export function sameKnown(a: Known<unknown>, b: Known<unknown>): boolean {
  if (a === b) return true;
  if (a.known && b.known) return Object.is(a.value, b.value) && sameGrounds(a.grounds, b.grounds);
  if (!a.known && !b.known) return JSON.stringify(a.why) === JSON.stringify(b.why);
  return false;
}

function sameGrounds(a: readonly Ground[] = [], b: readonly Ground[] = []): boolean {
  if (a === b) return true;
  return a.length === b.length && (a.length === 0 || JSON.stringify(a) === JSON.stringify(b));
}
