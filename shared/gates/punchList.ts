import { findRule } from '../rules/registry.ts';
import { blocks, type Verdict } from '../rules/verdict.ts';
import type { GateId } from '../spec/gateId.ts';
import type { ConcessionView, LapseReason } from './concession.ts';
import { gateRow } from './gates.ts';
import { type Plan, planOf } from './plan.ts';
import type { Blocker, GateView } from './readiness.ts';
import { type Role, roles } from './roles.ts';

/** A markup as far as the list needs it. */
export interface PunchThread {
  readonly id: string;
  readonly n: number;
  readonly by: string;
  readonly state: 'open' | 'resolved';
  readonly comments: readonly { readonly by: string; readonly text: string }[];
}

/** Where something is to be done; the web jumps there. */
export type PunchPlace =
  | { readonly kind: 'verdict'; readonly verdict: string }
  | { readonly kind: 'item'; readonly gate: GateId; readonly item: string }
  | { readonly kind: 'gate'; readonly gate: GateId }
  | { readonly kind: 'thread'; readonly thread: string }
  | { readonly kind: 'field'; readonly path: string };

/** Who must act: whoever holds one of these roles, one person, or anybody but one. */
export type PunchTurn =
  | { readonly kind: 'roles'; readonly roles: readonly Role[] }
  | { readonly kind: 'account'; readonly account: string }
  | { readonly kind: 'others'; readonly not: string };

/** One thing that somebody has to do. */
export interface PunchEntry {
  /** Stays the same while it is the same thing. */
  readonly key: string;
  readonly sort: 'fail' | 'unknown' | 'item' | 'signature' | 'stale' | 'markup' | 'concession';
  readonly turn: PunchTurn;
  /** null for markups. */
  readonly gate: GateId | null;
  readonly words: string;
  readonly place: PunchPlace;
}

/** What the list follows from. */
export interface PunchInputs {
  readonly views: readonly GateView[];
  readonly verdicts: Iterable<Verdict>;
  readonly plan: Plan;
  readonly concessions: readonly ConcessionView[];
  readonly threads: readonly PunchThread[];
}

/** Whose a value is that lies outside its limit (own: who draws, measures or makes the thing the gate's checks are about). */
const owners: Readonly<Record<GateId, Role>> = {
  scan: 'scanner',
  design: 'designer',
  'mock-up': 'designer',
  'print-release': 'printer',
  'cut-release': 'welder',
  'as-printed': 'printer',
  'fit-up': 'machinist',
  weld: 'welder',
  install: 'lead',
};

/** Checks that are another's than their gate's: joints are fitted by who welds them. */
const ownersByRule: Readonly<Record<string, Role>> = { 'joint-gap': 'welder', 'joint-step': 'welder' };

/** Who has to see to a verdict that holds its gate. */
export function ownerOf(verdict: Pick<Verdict, 'rule' | 'gate'>): Role {
  return ownersByRule[verdict.rule] ?? owners[verdict.gate];
}

const lapseWords: Readonly<Record<LapseReason, string>> = {
  ended: 'the concession for it was ended',
  replaced: 'the concession for it was replaced',
  expired: 'the concession for it has run out',
  worse: 'it is worse than the concession for it allows',
  'limit-moved': 'its limit is another one than the concession speaks of',
  unneeded: 'the concession for it is no longer needed',
};

const titleOf = (rule: string): string => findRule(rule)?.title ?? rule;

/** Everything that stops the job or waits for an answer, in the order of the work. Pure. */
export function punchList(inputs: PunchInputs): readonly PunchEntry[] {
  const verdicts = [...inputs.verdicts];
  const gates = inputs.views.flatMap((view) => [
    ...heldBy(view, verdicts),
    ...itemsOf(view, inputs.plan),
    ...signaturesOf(view),
  ]);
  return [...gates, ...inputs.concessions.flatMap(unneeded), ...inputs.threads.flatMap(markup)];
}

const blockersOf = ({ state }: GateView): readonly Blocker[] =>
  state.state === 'open' || state.state === 'stale' ? state.blockers : [];

/** Its turn has come: no gate before it holds it. What lies further on is not yet anybody's to do. */
const isNext = (view: GateView): boolean => blockersOf(view).every(({ kind }) => kind !== 'gate');

function heldBy(view: GateView, verdicts: readonly Verdict[]): readonly PunchEntry[] {
  if (view.state.state === 'not-in-force') return [];
  return blockersOf(view).flatMap((blocker): readonly PunchEntry[] => {
    if (blocker.kind !== 'rule' || (blocker.status === 'unknown' && !isNext(view))) return [];
    const verdict = verdicts.find(({ key }) => key === blocker.verdict);
    if (!verdict || !blocks(verdict)) return [mute(view.gate, blocker.verdict)];
    // What is being measured is nobody's to do.
    if (verdict.status === 'unknown' && verdict.why.reason === 'pending') return [];
    const because = blocker.lapsed ? `: ${lapseWords[blocker.lapsed.because]}` : '';
    const words = `${titleOf(verdict.rule)}: ${verdict.subject.name}${because}`;
    const turn: PunchTurn = { kind: 'roles', roles: [ownerOf(verdict)] };
    return [{ key: verdict.key, sort: blocker.status, turn, gate: view.gate, words, place: placeOf(verdict) }];
  });
}

/** A check that found nothing to judge. */
function mute(gate: GateId, key: string): PunchEntry {
  const rule = key.split('/')[0] ?? key;
  const turn: PunchTurn = { kind: 'roles', roles: [ownerOf({ rule, gate })] };
  const words = `${titleOf(rule)}: the spec has nothing it could judge yet`;
  return { key, sort: 'unknown', turn, gate, words, place: { kind: 'gate', gate } };
}

function placeOf(verdict: Verdict): PunchPlace {
  const missing = verdict.status === 'unknown' && verdict.why.reason === 'missing' ? verdict.why.paths[0] : undefined;
  return missing === undefined ? { kind: 'verdict', verdict: verdict.key } : { kind: 'field', path: missing };
}

function itemsOf(view: GateView, plan: Plan): readonly PunchEntry[] {
  if (!isNext(view)) return [];
  const { signs } = planOf(plan, view.gate);
  return blockersOf(view).flatMap((blocker): readonly PunchEntry[] => {
    if (blocker.kind !== 'item') return [];
    const { item, text, unmeasured } = blocker;
    const [first] = unmeasured ?? [];
    const missing = first === undefined ? 'there is no row to measure' : 'not measured yet';
    return [
      {
        ...{ key: `${view.gate}.${item}`, sort: 'item', gate: view.gate },
        turn: { kind: 'roles', roles: signs },
        words: `${gateRow(view.gate).title}: ${text}${unmeasured ? ` (${missing})` : ''}`,
        place: { kind: 'item', gate: view.gate, item },
      },
    ];
  });
}

function signaturesOf(view: GateView): readonly PunchEntry[] {
  const { state, gate } = view;
  const title = gateRow(gate).title;
  const entry = (role: Role, sort: 'signature' | 'stale'): PunchEntry => ({
    ...{ key: `${gate} ${role} ${sort}`, sort, gate },
    turn: { kind: 'roles', roles: [role] },
    words: sort === 'stale' ? `${title}: the ${role} has to sign again, facts have moved` : `${title}: sign as ${role}`,
    place: { kind: 'gate', gate },
  });
  if (state.state === 'ready') return state.awaiting.map((role) => entry(role, 'signature'));
  if (state.state !== 'stale' || state.blockers.length > 0) return [];
  const done = new Set(state.current.map(({ role }) => role));
  const stale = new Set(state.stale.map(({ signature }) => signature.role));
  return view.signs
    .filter((role) => !done.has(role))
    .map((role) => entry(role, stale.has(role) ? 'stale' : 'signature'));
}

/** A concession that nothing needs any more stands in the record as if something were wrong. */
function unneeded({ concession, standing }: ConcessionView): readonly PunchEntry[] {
  if (standing.standing !== 'lapsed' || standing.because !== 'unneeded') return [];
  const { id, title, gate } = concession;
  return [
    {
      ...{ key: `concession ${id}`, sort: 'concession', gate },
      turn: { kind: 'roles', roles: ['lead'] },
      words: `Concession no longer needed, end it: ${title}`,
      place: { kind: 'gate', gate },
    },
  ];
}

/** Whoever did not have the last word: its author, or anybody else while nobody has answered him. */
function markup({ id, n, by, state, comments }: PunchThread): readonly PunchEntry[] {
  if (state !== 'open') return [];
  const last = comments.at(-1);
  const answered = last !== undefined && last.by !== by;
  return [
    {
      ...{ key: `markup ${id}`, sort: 'markup', gate: null },
      turn: answered ? { kind: 'account', account: by } : { kind: 'others', not: by },
      words: `Markup ${n}: ${answered ? 'somebody replied, close it out or go on' : 'nobody replied yet'}`,
      place: { kind: 'thread', thread: id },
    },
  ];
}

/** Who is looking. */
export interface PunchReader {
  readonly account: string;
  readonly roles: readonly Role[];
}

/** True when this person can do it. */
export function waitsFor({ turn }: PunchEntry, { account, roles: held }: PunchReader): boolean {
  if (turn.kind === 'roles') return turn.roles.some((role) => held.includes(role));
  return turn.kind === 'account' ? turn.account === account : turn.not !== account;
}

/** Entries of one role, or of nobody's role: markups. */
export interface PunchGroup {
  readonly role: Role | null;
  readonly entries: readonly PunchEntry[];
}

/** The list by who must act: what several roles may do stands under the first of them. Groups without entries are left out. */
export function punchGroups(entries: readonly PunchEntry[]): readonly PunchGroup[] {
  const roleOf = ({ turn }: PunchEntry): Role | null => (turn.kind === 'roles' ? (turn.roles[0] ?? null) : null);
  return [...roles, null]
    .map((role) => ({ role, entries: entries.filter((entry) => roleOf(entry) === role) }))
    .filter((group) => group.entries.length > 0);
}
