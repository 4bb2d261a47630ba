import { CAUTION_DEFERS, cautionLine, cautionsOf, gateSteps, stepTitles } from '../gates/cautions.ts';
import { gateRow } from '../gates/gates.ts';
import { fieldPlaces } from '../gates/planField.ts';
import type { Blocker, GateView } from '../gates/readiness.ts';
import { formatFact } from '../spec/covered.ts';
import type { GateId } from '../spec/gateId.ts';
import { fieldAt } from '../spec/path.ts';
import type { Block, Box, Paper, SignLine } from './block.ts';
import {
  blockersOf,
  gatesInForce,
  nameOf,
  type PaperFacts,
  type PlannedGate,
  paperHead,
  staleOf,
  stateWords,
  type VerdictLine,
  verdictLines,
} from './facts.ts';

const letters = { hold: 'H', witness: 'W', review: 'R' } as const;

/** The sheet that goes round with the part: one block a gate, with its boxes, its signature lines and its code. */
export function traveller(facts: PaperFacts): Paper {
  const lines = verdictLines(facts);
  const gates = gatesInForce(facts);
  const blocks = gates.flatMap(({ view, planned }, i) => [
    ...(i > 0 ? [{ kind: 'page' } as const] : []),
    ...gateBlocks(facts, { view, planned, lines: lines.get(view.gate) ?? [] }),
  ]);
  const none: Block = { kind: 'text', text: 'No gate is in force: the job has nothing to check yet.', tone: 'strong' };
  return { ...paperHead(facts, 'Traveller'), blocks: [...opening(facts), ...(blocks.length > 0 ? blocks : [none])] };
}

function opening(facts: PaperFacts): readonly Block[] {
  const { car, event } = facts.spec.project;
  const about = [car, event && `event ${event}`].filter((part) => part).join(', ');
  return [
    ...(about ? [{ kind: 'text', text: about, tone: 'strong' } as const] : []),
    {
      kind: 'text',
      text: 'H hold: work stops here until it is signed. W witness: call the party, then go on. R review: records are read afterwards. A box with a cross was ticked before printing.',
      tone: 'quiet',
    },
    ...leftOut(facts.plan),
  ];
}

function leftOut(plan: readonly PlannedGate[]): readonly Block[] {
  const left = plan.filter((gate) => gate.left !== undefined);
  return left.map((gate) => ({ kind: 'text', text: `Left out of this job: ${gate.title}. Reason: ${gate.left}` }));
}

interface GateOnPaper {
  readonly view: GateView;
  readonly planned: PlannedGate;
  readonly lines: readonly VerdictLine[];
}

function gateBlocks(facts: PaperFacts, at: GateOnPaper): readonly Block[] {
  const { view, planned } = at;
  return [
    { kind: 'heading', level: 1, text: planned.title },
    { kind: 'text', text: stateWords(view), tone: 'strong' },
    ...codeBlocks(facts, view.gate),
    ...cautionBlocks(planned),
    { kind: 'heading', level: 2, text: 'Checklist' },
    { kind: 'boxes', items: planned.items.map((item) => boxOf(facts, planned, item)) },
    ...heldBlocks(at),
    { kind: 'heading', level: 2, text: 'Signatures' },
    { kind: 'signs', lines: planned.signs.map((role) => signLine(view, role)) },
  ];
}

/** The code that says whether what is printed of a gate is still so; nothing where the gate has none. */
export function codeBlocks(facts: PaperFacts, gate: GateId): readonly Block[] {
  const url = facts.links[gate];
  const digest = facts.gates.find((view) => view.gate === gate)?.digest;
  if (url === undefined || digest === undefined) return [];
  const text = [
    'Scan before you rely on this page: the answer is CURRENT or STALE.',
    'Without a code that says CURRENT this paper is uncontrolled.',
    `Facts of gate ${gateRow(gate).title}: ${digest.slice(0, 16)}`,
  ];
  return [{ kind: 'code', url, text }];
}

/** The cautions of the work behind a gate, and the one of the gate table where there is no such work. */
export function cautionBlocks({ gate, caution }: Pick<PlannedGate, 'gate' | 'caution'>): readonly Block[] {
  const steps = gateSteps(gate);
  if (steps.length === 0) return [{ kind: 'caution', title: 'CAUTION', lines: [caution, CAUTION_DEFERS] }];
  return steps.map((step, i) => ({
    kind: 'caution',
    title: `CAUTION: ${stepTitles[step]}`,
    lines: [...cautionsOf(step).map(cautionLine), ...(i === steps.length - 1 ? [CAUTION_DEFERS] : [])],
  }));
}

function boxOf(facts: PaperFacts, { gate }: PlannedGate, item: PlannedGate['items'][number]): Box {
  const tick = facts.spec.ticks[`${gate}.${item.id}`];
  const by = tick?.done ? `ticked by ${nameOf(facts, tick.by)}` : '';
  const note = tick?.note ? `note: ${tick.note}` : '';
  return {
    ticked: tick?.done === true,
    letter: letters[item.point],
    text: item.text,
    by: [by, note, measuredWords(facts, item.field)].filter((part) => part !== '').join('; '),
  };
}

/** What was measured for an item, with a line to write on where nothing was. */
function measuredWords({ spec }: PaperFacts, field: string | undefined): string {
  if (field === undefined) return '';
  const places = fieldPlaces(field, spec).map(({ path, row, value }) => {
    const shown = value === null ? '________' : formatFact(path, value);
    return `${row ?? fieldAt(path)?.label ?? path}: ${shown}`;
  });
  return places.length > 0 ? `measured: ${places.join('; ')}` : 'measured: there is no row in the spec yet';
}

function heldBlocks({ view, lines }: GateOnPaper): readonly Block[] {
  // What is not ticked stands above as a box.
  const blockers = blockersOf(view).filter(({ kind }) => kind !== 'item');
  if (blockers.length === 0) return [];
  return [
    { kind: 'heading', level: 2, text: 'What keeps it shut' },
    {
      kind: 'table',
      columns: [
        { title: 'What', share: 5 },
        { title: 'State', share: 4 },
      ],
      rows: blockers.map((blocker) => blockerRow(blocker, lines)),
      empty: 'Nothing.',
    },
  ];
}

/** What keeps a gate shut as a row of two cells: what, and how it stands. */
function blockerRow(
  blocker: Blocker,
  lines: readonly VerdictLine[],
): readonly (string | { readonly mark: VerdictLine['mark']; readonly text: string })[] {
  switch (blocker.kind) {
    case 'rule': {
      const line = lines.find(({ verdict }) => verdict.key === blocker.verdict);
      if (line) return [`${line.title}: ${line.verdict.subject.name}`, { mark: line.mark, text: line.label }];
      return [blocker.verdict, { mark: 'unknown', text: 'NO DATA: nothing to judge' }];
    }
    case 'item':
      return [`Checklist: ${blocker.text}`, { mark: 'none', text: 'not ticked' }];
    case 'gate':
      return [`Gate before: ${gateRow(blocker.gate).title}`, { mark: 'none', text: 'not signed' }];
    default:
      return ['Something this version cannot name', { mark: 'unknown', text: 'look in the app' }];
  }
}

function signLine(view: GateView, role: string): SignLine {
  const { state } = view;
  const current = state.state === 'not-in-force' ? undefined : state.current.find((s) => s.role === role);
  const stale = staleOf(view).find((s) => s.signature.role === role)?.signature;
  const given = current ?? stale;
  if (!given) return { role, name: '', date: '', digest: '', state: 'not signed' };
  return {
    role,
    name: given.name,
    date: utcWords(given.at),
    digest: given.digest.slice(0, 16),
    state: current ? `${given.meaning}, current` : `${given.meaning}, STALE: the facts moved since`,
  };
}

/** An ISO time as people read it, UTC and said so: `2026-11-25 22:05 UTC`. */
export function utcWords(iso: string): string {
  return `${iso.slice(0, 10)} ${iso.slice(11, 16)} UTC`;
}
