import { formatFact } from '../spec/covered.ts';
import { collections } from '../spec/fields.ts';
import type { Element } from '../spec/spec.ts';
import { findUnit, formatSi } from '../units/format.ts';
import { displayUnit } from '../units/quantities.ts';
import type { Block, Cell, Paper, Table } from './block.ts';
import { type PaperFacts, type PlannedGate, paperHead, type VerdictLine, verdictLines } from './facts.ts';
import { cautionBlocks, codeBlocks } from './traveller.ts';

type Joint = Element<'joints'>;
type JointKey = keyof typeof collections.joints;

/** Lines of the sheet: a field of the joint, and the rule that judges it; null where none does. */
const jointLines: readonly (readonly [JointKey, string | null])[] = [
  ['turn', null],
  ['cylinder', null],
  ['along', null],
  ['metalA', null],
  ['metalB', null],
  ['filler', 'filler-match'],
  ['wall', null],
  ['outsideDiameter', null],
  ['rootGap', 'joint-gap'],
  ['step', 'joint-step'],
  ['tacks', 'tack-count'],
  ['tungsten', null],
  ['cup', null],
  ['stickOut', 'tungsten-stickout'],
  ['current', 'weld-current'],
  ['voltage', null],
  ['travelSpeed', null],
  ['interpass', 'interpass-temperature'],
];

/** Rules whose value no field states: it follows from several. */
const derivedLines: readonly (readonly [string, string])[] = [
  ['Heat input', 'heat-input'],
  ['Torch gets at', 'torch-access'],
];

const millimetresPerMinute = findUnit('velocity', 'mm/min') ?? displayUnit('velocity');

const columns: Table['columns'] = [
  { title: 'What', share: 20 },
  { title: 'Stated', share: 15 },
  { title: 'Limit', share: 16 },
  { title: 'Verdict', share: 24 },
  { title: 'Source of the limit', share: 24 },
  { title: 'As run', share: 18 },
];

/** One sheet a joint: what is stated, how it is judged, and lines for what was really run. */
export function weldSheets(facts: PaperFacts): Paper {
  const lines = [...verdictLines(facts).values()].flat();
  const joints = [...facts.spec.joints].sort(
    (a, b) => (a.turn ?? Infinity) - (b.turn ?? Infinity) || a.order - b.order,
  );
  const sheets = joints.flatMap((joint, i) => [
    ...(i > 0 ? [{ kind: 'page' } as const] : []),
    ...jointBlocks(facts, joint, lines),
  ]);
  return { ...paperHead(facts, 'Weld process sheets'), blocks: sheets.length > 0 ? sheets : noJoints(facts) };
}

function noJoints(facts: PaperFacts): readonly Block[] {
  return [
    { kind: 'text', text: 'The spec has no joints: there is nothing to weld yet.', tone: 'strong' },
    ...cautionBlocks(weldGate(facts)),
  ];
}

function weldGate(facts: PaperFacts): Pick<PlannedGate, 'gate' | 'caution'> {
  return { gate: 'weld', caution: facts.plan.find((one) => one.gate === 'weld')?.caution ?? '' };
}

function jointBlocks(facts: PaperFacts, joint: Joint, lines: readonly VerdictLine[]): readonly Block[] {
  const own = lines.filter(({ verdict }) => verdict.subject.kind === 'joint' && verdict.subject.id === joint.id);
  return [
    { kind: 'heading', level: 1, text: `Joint ${joint.name ?? joint.id}` },
    {
      kind: 'text',
      text: 'TIG (GTAW), argon at the torch and argon behind the root. The gas and its flow as in the lines to write on.',
    },
    { kind: 'table', columns, rows: jointRows(joint, own), empty: '' },
    ...codeBlocks(facts, 'weld'),
    { kind: 'heading', level: 2, text: 'Purge' },
    purgeSummary(facts),
    { kind: 'heading', level: 2, text: 'Write down what was run' },
    {
      kind: 'blanks',
      labels: [
        'Welder, date',
        'Rod: heat or lot number',
        'Torch gas and flow',
        'Oxygen at the vent before the arc',
        'Passes, and temperature between them',
        'What went otherwise than planned',
      ],
    },
    ...cautionBlocks(weldGate(facts)),
  ];
}

function jointRows(joint: Joint, own: readonly VerdictLine[]): readonly (readonly Cell[])[] {
  const stated = jointLines.map(([key, rule]) =>
    judgedRow(collections.joints[key].label, statedWords(joint, key), ruleLine(own, rule)),
  );
  const derived = derivedLines.map(([title, rule]) => {
    const line = ruleLine(own, rule);
    return judgedRow(title, line?.measured || 'not known', line);
  });
  return [...stated, ...derived];
}

function statedWords(joint: Joint, key: JointKey): string {
  const value = joint[key];
  if (value === undefined) return 'not stated';
  // The unit of gas flows would round a travel speed to nothing.
  if (key === 'travelSpeed' && typeof value === 'number') return formatSi('velocity', value, millimetresPerMinute);
  return formatFact(`joints.${joint.id}.${key}`, value);
}

function ruleLine(lines: readonly VerdictLine[], rule: string | null): VerdictLine | undefined {
  return rule === null ? undefined : lines.find(({ verdict }) => verdict.rule === rule);
}

/** One line of a process sheet; the last cell is left to write in. */
function judgedRow(title: string, stated: string, line: VerdictLine | undefined): readonly Cell[] {
  if (!line) return [title, stated, '', '', '', ''];
  // A rank among rods and the distance of tacks are judged in another quantity than is stated: the rule's own words say it.
  const other = line.verdict.rule === 'filler-match' || line.verdict.rule === 'tack-count';
  const limit = other && line.message !== '' ? line.message : line.limit;
  const text = line.verdict.rule === 'filler-match' ? (line.label.split(',')[0] ?? '') : line.label;
  return [title, stated, limit, { mark: line.mark, text }, line.source, ''];
}

function purgeSummary({ spec }: PaperFacts): Block {
  return {
    kind: 'table',
    columns: [
      { title: 'Purge volume', share: 3 },
      { title: 'Target oxygen', share: 2 },
      { title: 'Pre-purge at least', share: 2 },
    ],
    rows: spec.purges.map((row) => [
      row.name ?? row.id,
      formatFact(`purges.${row.id}.target`, row.target ?? null),
      formatFact(`purges.${row.id}.prePurge`, row.prePurge ?? null),
    ]),
    empty: 'The spec states no purge volume.',
  };
}
