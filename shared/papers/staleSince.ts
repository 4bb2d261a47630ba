import type { Concession } from '../gates/concession.ts';
import { gateDigest, gateFacts } from '../gates/coverage.ts';
import type { Plan } from '../gates/plan.ts';
import { RULE_SET, rules } from '../rules/registry.ts';
import type { GateId } from '../spec/gateId.ts';
import { readSpec } from '../spec/reader.ts';

/** A change of one entry of the spec; undefined or null: it was not there. */
export interface EntryChanged {
  /** Number of its journal entry. */
  readonly seq: number;
  readonly path: string;
  readonly before: unknown;
  readonly after: unknown;
  /** Milliseconds since 1970-01-01T00:00Z; null when it was not kept. */
  readonly at: number | null;
}

/** What a code on a paper is held against. */
export interface PrintedCode {
  readonly gate: GateId;
  /** First 16 hex digits of the gate's digest as printed. */
  readonly digest: string;
  /** Entries of the spec as they are now. */
  readonly entries: ReadonlyMap<string, unknown>;
  /** Every change since it was printed, oldest first. */
  readonly changes: readonly EntryChanged[];
  readonly plan: Plan;
  readonly conceded: readonly Concession[];
}

/**
 * When the facts of a gate first differed from those of a paper, in milliseconds since 1970-01-01T00:00Z: takes all changes back, and
 * makes them again entry by entry until the digest is another. Null when that does not lead back to the paper (its plan or its concessions
 * were others, or not every change is at hand), or when the time was not kept.
 */
export function staleSince({ gate, digest, entries, changes, plan, conceded }: PrintedCode): number | null {
  const state = new Map(entries);
  for (const { path, before } of [...changes].reverse()) put(state, path, before);
  const holds = (): boolean =>
    gateDigest(gate, gateFacts(gate, readSpec(state), rules, { plan, conceded }), RULE_SET).startsWith(digest);
  if (!holds()) return null;
  for (const [i, { seq, path, after, at }] of changes.entries()) {
    put(state, path, after);
    if (changes[i + 1]?.seq !== seq && !holds()) return at;
  }
  return null;
}

function put(state: Map<string, unknown>, path: string, value: unknown): void {
  if (value === undefined || value === null) state.delete(path);
  else state.set(path, value);
}
