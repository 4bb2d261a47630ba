import type { Limit } from '../rules/outcome.ts';
import type { Verdict } from '../rules/verdict.ts';
import type { CoveredFacts } from '../spec/covered.ts';
import type { GateId } from '../spec/gateId.ts';
import { formatSi } from '../units/format.ts';
import type { QuantityKey } from '../units/quantities.ts';
import type { Role } from './roles.ts';

/** Who decided something. */
export interface DecidedBy {
  readonly account: string;
  readonly name: string;
}

/** Leave to use what one verdict finds outside its limit, as the record keeps it. */
export interface Concession {
  readonly id: string;
  /** Key of the verdict: rule and subject. */
  readonly verdict: string;
  readonly gate: GateId;
  /** Rule and subject in words, as they were when it was granted. */
  readonly title: string;
  readonly quantity: QuantityKey;
  /** What was measured and accepted, SI. */
  readonly value: number;
  /** The limit it was outside of, SI. */
  readonly limit: Limit;
  readonly reason: string;
  readonly by: DecidedBy;
  /** When it was granted, ISO 8601 in UTC. */
  readonly at: string;
  /** When it runs out, ISO 8601 in UTC; null: not by itself. */
  readonly expires: string | null;
  /** Hash of its row in the record. */
  readonly hash: string;
  /** Set when it was taken back. */
  readonly ended?: { readonly reason: string; readonly by: DecidedBy; readonly at: string };
}

/**
 * Why a concession no longer holds. worse: what is measured is further outside than was accepted. limit-moved: the limit is another
 * one. unneeded: the value is inside its limit again, or what it was about is gone. replaced: a later one speaks of the same verdict.
 */
export type LapseReason = 'ended' | 'replaced' | 'expired' | 'worse' | 'limit-moved' | 'unneeded';

/** Where a concession stands. waits: the verdict is not known at the moment, and an unknown is never accepted. */
export type Standing =
  | { readonly standing: 'in-force' }
  | { readonly standing: 'waits' }
  | { readonly standing: 'lapsed'; readonly because: LapseReason };

/** A concession and where it stands. */
export interface ConcessionView {
  readonly concession: Concession;
  readonly standing: Standing;
}

/** Two machines may differ in the last bits of the same measurement (relative; as verdict digests round). */
const SLACK = 1e-9;

const apart = (a: number, b: number): boolean => Math.abs(a - b) > SLACK * Math.max(Math.abs(a), Math.abs(b));

function sameLimit(a: Limit, b: Limit): boolean {
  if (a.kind === 'range' || b.kind === 'range')
    return a.kind === 'range' && b.kind === 'range' && !apart(a.low, b.low) && !apart(a.high, b.high);
  return a.kind === b.kind && !apart(a.value, b.value);
}

/** True if `now` is further outside the limit than `accepted`, or outside on its other side. */
export function isWorse(now: number, accepted: number, limit: Limit): boolean {
  const above = limit.kind === 'max' || (limit.kind === 'range' && accepted > limit.high);
  if (limit.kind === 'range' && (above ? now < limit.low : now > limit.high)) return true;
  return apart(now, accepted) && (above ? now > accepted : now < accepted);
}

/** Where a concession stands by itself. `now` is in ms since 1970. */
export function standingOf(concession: Concession, verdict: Verdict | undefined, now: number): Standing {
  const lapsed = (because: LapseReason): Standing => ({ standing: 'lapsed', because });
  if (concession.ended) return lapsed('ended');
  // A time nobody can read is over: it must not hold for ever.
  if (concession.expires !== null && !(Date.parse(concession.expires) > now)) return lapsed('expired');
  if (!verdict) return lapsed('unneeded');
  if (verdict.status === 'unknown') return { standing: 'waits' };
  if (verdict.status !== 'fail') return lapsed('unneeded');
  if (!sameLimit(verdict.limit, concession.limit)) return lapsed('limit-moved');
  return isWorse(verdict.measured, concession.value, concession.limit) ? lapsed('worse') : { standing: 'in-force' };
}

/** Where every concession stands, in the order they were granted; of several for one verdict only the last can hold. Pure. */
export function concessionViews(
  concessions: readonly Concession[],
  verdicts: Iterable<Verdict>,
  now: number,
): readonly ConcessionView[] {
  if (concessions.length === 0) return [];
  const last = new Map(concessions.map((one) => [one.verdict, one.id]));
  const found = new Map<string, Verdict>();
  for (const verdict of verdicts) if (last.has(verdict.key)) found.set(verdict.key, verdict);
  return concessions.map((concession) => {
    const own = standingOf(concession, found.get(concession.verdict), now);
    const replaced = !concession.ended && last.get(concession.verdict) !== concession.id;
    return { concession, standing: replaced ? { standing: 'lapsed', because: 'replaced' } : own };
  });
}

/** Time at which the next of them runs out, ms since 1970; null when none will. */
export function nextExpiry(concessions: readonly Concession[], now: number): number | null {
  const times = concessions
    .filter(({ ended, expires }) => !ended && expires !== null)
    .map(({ expires }) => Date.parse(expires ?? ''))
    .filter((at) => at > now);
  return times.length > 0 ? Math.min(...times) : null;
}

/** A limit in words: `at least 6.00 mm`. */
export function limitWords(limit: Limit, quantity: QuantityKey): string {
  if (limit.kind === 'range') return `${formatSi(quantity, limit.low)} to ${formatSi(quantity, limit.high)}`;
  return `${limit.kind === 'max' ? 'at most' : 'at least'} ${formatSi(quantity, limit.value)}`;
}

/** What was accepted, in words. */
export function concessionWords({ title, value, limit, quantity }: Concession): string {
  return `${title}: ${formatSi(quantity, value)} accepted, the limit is ${limitWords(limit, quantity)}`;
}

/** Facts a signature covers of the concessions its gate rests on. */
export function concessionFacts(conceded: readonly Concession[]): CoveredFacts {
  return Object.fromEntries(conceded.map((one) => [`concessions.${one.id}`, concessionWords(one)]));
}

/** A wish to accept a value outside its limit, judged. */
export type ConcessionAnswer =
  | { readonly ok: true; readonly verdict: Extract<Verdict, { status: 'fail' }> }
  | {
      readonly ok: false;
      readonly code: 'wrong-role' | 'nothing-to-accept' | 'facts-moved' | 'already-accepted' | 'already-over';
      readonly detail: string;
    };

/** What somebody wishes to accept, and who is asking. */
export interface ConcessionWish {
  readonly id: string;
  readonly verdict: string;
  /** Digest of the verdict as it was looked at. */
  readonly seen: string;
  readonly expires: string | null;
  readonly held: readonly Role[];
}

/** Whether a value may be accepted now. Pure: the server asks it with a fresh evaluation. */
export function mayConcede(
  wish: ConcessionWish,
  given: { readonly verdicts: readonly Verdict[]; readonly concessions: readonly Concession[]; readonly now: number },
): ConcessionAnswer {
  const no = (code: Exclude<ConcessionAnswer, { ok: true }>['code'], detail: string): ConcessionAnswer => ({
    ok: false,
    code,
    detail,
  });
  if (!wish.held.includes('lead')) return no('wrong-role', `expected a lead, got ${wish.held.join(', ') || 'no role'}`);
  const verdict = given.verdicts.find(({ key }) => key === wish.verdict);
  if (!verdict) return no('nothing-to-accept', `there is no check "${wish.verdict}"`);
  if (verdict.status !== 'fail' || verdict.severity !== 'block')
    return no('nothing-to-accept', `expected a value outside a limit that holds a gate, got ${statusWords(verdict)}`);
  if (given.concessions.some(({ id }) => id === wish.id))
    return no('already-accepted', 'this request was taken before; nothing was written twice');
  const there = concessionViews(given.concessions, given.verdicts, given.now).find(
    ({ concession, standing }) => concession.verdict === wish.verdict && standing.standing === 'in-force',
  );
  if (there) return no('already-accepted', `concession ${there.concession.id} already covers it; end that one first`);
  if (verdict.digest !== wish.seen)
    return no('facts-moved', 'the value has changed since you looked; read it again before you accept it');
  if (wish.expires !== null && !(Date.parse(wish.expires) > given.now))
    return no('already-over', `expected an end after now, got ${wish.expires}`);
  return { ok: true, verdict };
}

function statusWords(verdict: Verdict): string {
  if (verdict.status === 'unknown') return 'one that is not known: an unknown cannot be accepted';
  return verdict.status === 'fail' ? 'advice' : `one that reads ${verdict.status}`;
}
