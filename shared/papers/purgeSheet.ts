import { CAUTION_DEFERS, cautionLine, cautionsOf } from '../gates/cautions.ts';
import { formatFact } from '../spec/covered.ts';
import { collections } from '../spec/fields.ts';
import type { Element } from '../spec/spec.ts';
import { formatSi } from '../units/format.ts';
import type { Block, Cell, Paper } from './block.ts';
import { type PaperFacts, paperHead, type VerdictLine, verdictLines } from './facts.ts';
import { codeBlocks } from './traveller.ts';

type Purge = Element<'purges'>;

const keys = ['volume', 'flow', 'target', 'residual', 'deadLegFactor', 'prePurge'] as const;

/** One sheet a purge volume: how long, at what flow, down to which oxygen; the caution about argon comes first. */
export function purgeSheet(facts: PaperFacts): Paper {
  const lines = verdictLines(facts).get('weld') ?? [];
  const sheets = facts.spec.purges.flatMap((row, i) => [
    ...(i > 0 ? [{ kind: 'page' } as const] : []),
    ...purgeBlocks(facts, row, lines),
  ]);
  const none: readonly Block[] = [argonFirst, { kind: 'text', text: 'The spec has no purge volumes.', tone: 'strong' }];
  return { ...paperHead(facts, 'Purge sheet'), blocks: sheets.length > 0 ? sheets : none };
}

/** The rest of what welding can do stands on the weld sheets; here is only what kills while nobody welds yet. */
const argon = cautionsOf('weld').filter(({ id }) => id === 'argon' || id === 'oxygen-alarm');

const argonFirst: Block = {
  kind: 'caution',
  title: 'CAUTION: argon',
  lines: [...argon.map(cautionLine), CAUTION_DEFERS],
};

function purgeBlocks(facts: PaperFacts, row: Purge, lines: readonly VerdictLine[]): readonly Block[] {
  const line = lines.find(({ verdict }) => verdict.rule === 'purge-time' && verdict.subject.id === row.id);
  return [
    argonFirst,
    { kind: 'heading', level: 1, text: `Purge volume ${row.name ?? row.id}` },
    ...codeBlocks(facts, 'weld'),
    {
      kind: 'table',
      columns: [
        { title: 'What', share: 3 },
        { title: 'Value', share: 4 },
      ],
      rows: [...statedRows(row), ...computedRows(row, line)],
      empty: '',
    },
    { kind: 'text', text: 'Feed low, vent high. The oxygen meter at the vent decides, not the clock.', tone: 'strong' },
    { kind: 'heading', level: 2, text: 'Dams' },
    {
      kind: 'blanks',
      labels: ['Dams put in: how many, where', 'Dams taken out: how many', 'In and out agree: name, date'],
    },
    { kind: 'heading', level: 2, text: 'Oxygen at the vent' },
    {
      kind: 'table',
      columns: ['Time', 'Oxygen, ppm', 'Flow', 'Name'].map((title) => ({ title, share: 1 })),
      rows: Array.from({ length: 8 }, () => ['', '', '', '']),
      empty: '',
      toWrite: true,
    },
  ];
}

function statedRows(row: Purge): readonly (readonly Cell[])[] {
  return keys.map((key) => [collections.purges[key].label, formatFact(`purges.${row.id}.${key}`, row[key] ?? null)]);
}

function computedRows(row: Purge, line: VerdictLine | undefined): readonly (readonly Cell[])[] {
  const { volume, flow, prePurge } = row;
  const oneVolume = volume !== undefined && flow !== undefined && flow > 0 ? volume / flow : null;
  const changes = oneVolume !== null && prePurge !== undefined ? formatSi('ratio', prePurge / oneVolume) : 'not known';
  return [
    ['Time it needs by computation', line?.measured || 'not known'],
    ['Changes of gas in the stated time', changes],
    [
      'Verdict',
      line ? { mark: line.mark, text: [line.label, line.why].filter((t) => t !== '').join('; ') } : 'not judged',
    ],
    ['Source', line?.source ?? ''],
  ];
}
