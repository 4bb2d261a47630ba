import { type ChecklistItem, gateRow } from '../gates/gates.ts';
import type { PunchEntry } from '../gates/punchList.ts';
import type { Blocker, GateView, StaleSignature } from '../gates/readiness.ts';
import type { Role } from '../gates/roles.ts';
import type { Thread } from '../markup/markup.ts';
import { findRule } from '../rules/registry.ts';
import type { Verdict } from '../rules/verdict.ts';
import { type VerdictWords, verdictWords } from '../rules/words.ts';
import { type GateId, gateIds } from '../spec/gateId.ts';
import type { Spec } from '../spec/spec.ts';
import { sourceLine } from '../trade/source.ts';
import type { Paper } from './block.ts';

/** A gate as the plan of the job has it. */
export interface PlannedGate {
  readonly gate: GateId;
  readonly title: string;
  readonly caution: string;
  readonly signs: readonly Role[];
  readonly items: readonly ChecklistItem[];
  /** Why the job leaves this gate out; undefined when it does not. */
  readonly left?: string;
}

/** A value accepted outside its limit. Times ISO 8601; `expires` null: without end. */
export interface PaperConcession {
  readonly id: string;
  /** Key of the verdict. */
  readonly verdict: string;
  /** Rule and subject in words. */
  readonly title: string;
  readonly value: string;
  readonly limit: string;
  readonly reason: string;
  readonly by: string;
  readonly at: string;
  readonly expires: string | null;
  /** `in force`, or why it is not. */
  readonly state: string;
}

/** A signature as the record has it. */
export interface PaperSignature {
  readonly seq: number;
  readonly gate: string;
  readonly role: string;
  readonly name: string;
  readonly meaning: string;
  readonly at: string;
  readonly digest: string;
  readonly hash: string;
}

/** Everything papers and tables are made from, as it stood at one moment. */
export interface PaperFacts {
  readonly project: { readonly id: string; readonly name: string };
  /** When it was printed, ISO 8601 in UTC. */
  readonly printed: string;
  /** Journal number. */
  readonly seq: number;
  readonly ruleSet: number;
  /** The newest named revision and its journal number; null while there is none. */
  readonly revision: { readonly letter: string; readonly seq: number } | null;
  /** Short head of the record; '' while nothing is signed. */
  readonly head: string;
  readonly spec: Spec;
  readonly verdicts: readonly Verdict[];
  readonly gates: readonly GateView[];
  readonly plan: readonly PlannedGate[];
  /** Names of people by account. */
  readonly names: Readonly<Record<string, string>>;
  readonly threads: readonly Thread[];
  readonly concessions: readonly PaperConcession[];
  readonly signatures: readonly PaperSignature[];
  /** What has to be done, as the app lists it. */
  readonly punch: readonly PunchEntry[];
  /** Address of the code of a gate, by gate. */
  readonly links: Readonly<Partial<Record<GateId, string>>>;
}

/** What every paper says of itself. */
export function paperHead(facts: PaperFacts, title: string): Omit<Paper, 'blocks'> {
  return {
    title,
    job: facts.project.name,
    printed: facts.printed,
    state: revisionWords(facts),
    head: facts.head,
  };
}

/** Which state of the job it is: `revision B, journal 41, rule set 9`; where it was edited since, that. */
export function revisionWords({ revision, seq, ruleSet }: PaperFacts): string {
  const named = revision && `${revision.seq === seq ? '' : 'edited since '}revision ${revision.letter}`;
  return `${named ?? 'no revision yet'}, journal ${seq}, rule set ${ruleSet}`;
}

/** Name of a person; of one who is not in the job any more, that. */
export function nameOf(facts: PaperFacts, account: string): string {
  return facts.names[account] ?? 'somebody who left the job';
}

/** A verdict with its words and what stands behind it. */
export interface VerdictLine extends VerdictWords {
  readonly verdict: Verdict;
  readonly title: string;
  readonly source: string;
  readonly remedy: string;
}

/** A verdict in words; null where no rule of this version has its id. */
export function verdictLine(verdict: Verdict): VerdictLine | null {
  const rule = findRule(verdict.rule);
  if (!rule) return null;
  return {
    ...verdictWords(verdict, rule),
    verdict,
    title: rule.title,
    source: sourceLine(rule.source),
    remedy: rule.remedy,
  };
}

/** Verdicts in words, by gate, each gate in the order they came. */
export function verdictLines(facts: PaperFacts): ReadonlyMap<GateId, readonly VerdictLine[]> {
  const out = new Map<GateId, VerdictLine[]>(gateIds.map((id) => [id, []]));
  for (const verdict of facts.verdicts) {
    const line = verdictLine(verdict);
    if (line) out.get(verdict.gate)?.push(line);
  }
  return out;
}

/** Gates that are in force, in the order of the work, with their plan. */
export function gatesInForce(facts: PaperFacts): readonly { readonly view: GateView; readonly planned: PlannedGate }[] {
  return facts.gates.flatMap((view) => {
    const planned = facts.plan.find((one) => one.gate === view.gate);
    return planned && planned.left === undefined && view.state.state !== 'not-in-force' ? [{ view, planned }] : [];
  });
}

/** The state of a gate in words. */
export function stateWords({ state }: GateView): string {
  switch (state.state) {
    case 'not-in-force':
      return notInForce(state);
    case 'open':
      return `SHUT: ${counted(state.blockers.length, 'point', 'points')} to settle`;
    case 'ready':
      return `READY TO SIGN: waits for ${state.awaiting.join(', ')}`;
    case 'signed':
      return 'SIGNED';
    case 'stale':
      return staleWords(state);
  }
}

function notInForce({ offRoute, left }: Extract<GateView['state'], { state: 'not-in-force' }>): string {
  if (left !== undefined) return `LEFT OUT of this job: ${left}`;
  return offRoute ? 'NOT IN FORCE: the header is not made this way' : 'NOT IN FORCE: no checks yet';
}

function staleWords({ stale, blockers, upstream }: Extract<GateView['state'], { state: 'stale' }>): string {
  const settle = blockers.length > 0 ? `; ${counted(blockers.length, 'point', 'points')} to settle` : '';
  if (stale.length > 0) return `STALE: signed for other facts${settle}`;
  return `STALE: rests on gates that are not signed now: ${upstream.map((id) => gateRow(id).title).join(', ')}${settle}`;
}

/** `1 point`, `3 points`. */
export function counted(n: number, one: string, more: string): string {
  return `${n} ${n === 1 ? one : more}`;
}

/** What keeps a gate shut; nothing where nothing does. */
export function blockersOf({ state }: GateView): readonly Blocker[] {
  return state.state === 'open' || state.state === 'stale' ? state.blockers : [];
}

/** Signatures of a gate that speak of other facts than the present ones. */
export function staleOf({ state }: GateView): readonly StaleSignature[] {
  return state.state === 'stale' ? state.stale : [];
}
