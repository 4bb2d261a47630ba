import { gateRow } from '../gates/gates.ts';
import { type PunchEntry, punchGroups } from '../gates/punchList.ts';
import { blocks as keepsShut } from '../rules/verdict.ts';
import type { Block, Cell, Paper } from './block.ts';
import {
  counted,
  nameOf,
  type PaperFacts,
  paperHead,
  revisionWords,
  stateWords,
  type VerdictLine,
  verdictLines,
} from './facts.ts';
import { utcWords } from './traveller.ts';

/** What a reviewer gets in hand: state, punch list, all verdicts, concessions, signatures, and the markups with their pictures. */
export function reviewPack(facts: PaperFacts, pictures: ReadonlyMap<string, number> = new Map()): Paper {
  const lines = verdictLines(facts);
  return {
    ...paperHead(facts, 'Review pack'),
    blocks: [
      ...cover(facts),
      ...punchList(facts, lines),
      ...verdictTables(facts, lines),
      ...concessionTable(facts),
      ...signatureTable(facts),
      ...markups(facts, pictures),
    ],
  };
}

type Lines = ReturnType<typeof verdictLines>;

function cover(facts: PaperFacts): readonly Block[] {
  const { car, event } = facts.spec.project;
  const bad = facts.verdicts.filter(keepsShut).length;
  return [
    { kind: 'heading', level: 1, text: 'Review pack' },
    { kind: 'text', text: [facts.project.name, car, event].filter((t) => t).join(', '), tone: 'strong' },
    {
      kind: 'table',
      columns: [
        { title: 'What', share: 2 },
        { title: 'State', share: 5 },
      ],
      rows: [
        ['Revision', revisionWords(facts)],
        ['Printed', utcWords(facts.printed)],
        ['Head of the record', facts.head || 'nothing has been signed yet'],
        ['Checks', `${counted(facts.verdicts.length, 'verdict', 'verdicts')}, ${bad} of them keep a gate shut`],
        ...facts.gates.map((view): readonly Cell[] => [`Gate ${gateRow(view.gate).title}`, stateWords(view)]),
      ],
      empty: '',
    },
    {
      kind: 'text',
      text: 'A verdict is a check, not an approval: qualified people and local codes decide.',
      tone: 'quiet',
    },
  ];
}

function punchList(facts: PaperFacts, lines: Lines): readonly Block[] {
  const groups = punchGroups(facts.punch).flatMap(({ role, entries }): readonly Block[] => [
    { kind: 'heading', level: 2, text: role === null ? 'Markups that wait for an answer' : `For the ${role}` },
    {
      kind: 'table',
      columns: [
        { title: 'Gate', share: 2 },
        { title: 'What', share: 6 },
        { title: 'State', share: 4 },
        { title: 'Done', share: 1 },
      ],
      rows: entries.map((entry) => punchRow(facts, entry, lines)),
      empty: '',
    },
  ]);
  const none: Block = { kind: 'text', text: 'Nothing is open.' };
  return [{ kind: 'heading', level: 1, text: 'Punch list' }, ...(groups.length > 0 ? groups : [none])];
}

const sorts: Readonly<Record<PunchEntry['sort'], string>> = {
  fail: 'FAIL',
  unknown: 'NO DATA',
  item: 'not ticked',
  signature: 'not signed',
  stale: 'STALE signature',
  markup: 'open',
  concession: 'concession to end',
};

function punchRow(facts: PaperFacts, entry: PunchEntry, lines: Lines): readonly Cell[] {
  const line = entry.gate === null ? undefined : lines.get(entry.gate)?.find((l) => l.verdict.key === entry.key);
  const state: Cell = line ? { mark: line.mark, text: line.label } : { mark: 'none', text: stateOf(facts, entry) };
  return [entry.gate === null ? '' : gateRow(entry.gate).title, entry.words, state, ''];
}

function stateOf(facts: PaperFacts, { sort, turn }: PunchEntry): string {
  if (turn.kind === 'account') return `${sorts[sort]}, waits for ${nameOf(facts, turn.account)}`;
  return turn.kind === 'others' ? `${sorts[sort]}, by ${nameOf(facts, turn.not)}` : sorts[sort];
}

function verdictTables(facts: PaperFacts, lines: Lines): readonly Block[] {
  return facts.gates.flatMap(({ gate }): readonly Block[] => {
    const own = lines.get(gate) ?? [];
    if (own.length === 0) return [];
    return [
      { kind: 'heading', level: 1, text: `Verdicts of ${gateRow(gate).title}` },
      {
        kind: 'table',
        columns: [
          { title: 'Check, subject', share: 26 },
          { title: 'Value', share: 12 },
          { title: 'Limit', share: 15 },
          { title: 'Verdict', share: 20 },
          { title: 'Source; what to do', share: 30 },
        ],
        rows: own.map((line) => verdictRow(facts, line)),
        empty: '',
      },
    ];
  });
}

function verdictRow({ concessions }: PaperFacts, line: VerdictLine): readonly Cell[] {
  const { verdict, jobLimit, ownMaterial, message, why } = line;
  const short = verdict.status === 'pass' || verdict.status === 'notApplicable';
  const accepted = concessions.find((c) => c.verdict === verdict.key && c.state === 'in force');
  const leave = accepted ? `ACCEPTED out of limits by ${accepted.by}: ${accepted.reason}` : '';
  const behind = [leave, line.source, why, message, jobLimit, ownMaterial, short ? '' : `To do: ${line.remedy}`];
  return [
    `${line.title}: ${verdict.subject.name}`,
    line.measured,
    line.limit,
    { mark: line.mark, text: line.label },
    behind.filter((part) => part !== '').join('. '),
  ];
}

function concessionTable({ concessions }: PaperFacts): readonly Block[] {
  return [
    { kind: 'heading', level: 1, text: 'Concessions' },
    {
      kind: 'table',
      columns: [
        { title: 'Verdict', share: 4 },
        { title: 'Accepted', share: 3 },
        { title: 'Reason', share: 6 },
        { title: 'By, when, until', share: 4 },
        { title: 'State', share: 2 },
      ],
      rows: concessions.map((c) => [
        c.title,
        `${c.value}, limit ${c.limit}`,
        c.reason,
        `${c.by}, ${utcWords(c.at)}, ${c.expires === null ? 'without end' : `until ${utcWords(c.expires)}`}`,
        c.state,
      ]),
      empty: 'Nothing is accepted out of its limits.',
    },
  ];
}

function signatureTable({ signatures }: PaperFacts): readonly Block[] {
  return [
    { kind: 'heading', level: 1, text: 'Signatures' },
    {
      kind: 'table',
      columns: [
        { title: 'No.', share: 1 },
        { title: 'Gate', share: 3 },
        { title: 'Role, meaning', share: 3 },
        { title: 'Name', share: 4 },
        { title: 'When', share: 3 },
        { title: 'Facts', share: 3 },
      ],
      rows: signatures.map((s) => [
        String(s.seq),
        s.gate,
        `${s.role}, ${s.meaning}`,
        s.name,
        utcWords(s.at),
        s.digest.slice(0, 16),
      ]),
      empty: 'Nothing has been signed yet.',
    },
  ];
}

const NO_PICTURE = 'No picture was sent with this pack. In the app the view can be taken along.';

function markups(facts: PaperFacts, pictures: ReadonlyMap<string, number>): readonly Block[] {
  const threads = facts.threads.flatMap((thread): readonly Block[] => [
    { kind: 'heading', level: 2, text: `Markup ${thread.n}, ${thread.state}` },
    ...thread.comments.map((c): Block => ({ kind: 'text', text: `${nameOf(facts, c.by)}: ${c.text}` })),
    {
      kind: 'picture',
      picture: pictures.get(thread.id) ?? null,
      caption: `View at the pin of markup ${thread.n}`,
      without: NO_PICTURE,
    },
  ]);
  const none: Block = { kind: 'text', text: 'Nobody has marked anything up.' };
  return [{ kind: 'heading', level: 1, text: 'Markups' }, ...(threads.length > 0 ? threads : [none])];
}
