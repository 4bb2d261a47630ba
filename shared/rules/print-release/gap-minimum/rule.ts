import { measuredInnerGap } from '../../../quantities/partFigures.ts';
import { piecesToPrint } from '../../../quantities/piecesToPrint.ts';
import type { Spec } from '../../../spec/spec.ts';
import { printFeatures } from '../../../trade/data/print-limits.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

const {
  band: [fused],
  start: least,
} = printFeatures.gap;

/** The narrowest gap of each printed piece. */
export const gapMinimum = defineRule({
  id: 'gap-minimum',
  gate: 'print-release',
  title: 'Require gaps that print open',
  severity: 'block',
  adjustable: 'min',
  branches: ['pieces', 'route'],
  cost: 'measured',
  quantity: 'length',
  limit: 'narrowest gap between faces of the piece >= 0.5 mm',
  source: {
    document: 'bureau guides by material',
    trust: 'memory',
    note: 'uncertain: no primary table found; 0.2 to 0.3 mm is where gaps begin to fuse',
  },
  validity:
    'Gaps up to 5 mm over air of a closed mesh, looked for every 3 mm of its surface. Two faces that meet at the root of a notch are no gap.',
  hazard: 'A narrow gap sinters shut: a slip joint that does not slip, a slot full of powder.',
  remedy: 'Widen the gap, or print it closed and cut it open afterwards.',
  messages: { fused: 'Below {fused} it fuses for certain. Gaps were looked for up to {limit}.' },
  since: 3,
  subjects: (spec: Spec): readonly RowSubject<'pieces'>[] =>
    piecesToPrint(spec).map((row) => ({ kind: 'piece', id: row.id, name: nameOf(row), row })),
  reads: (context, { row }) => ({ narrowest: measuredInnerGap(context, row) }),
  evaluate: ({ narrowest: { gap, at, to, limit } }) =>
    judge(gap, {
      limit: { kind: 'min', value: least },
      guard: 0.1 * least,
      message: 'fused',
      data: { fused, limit },
      ...(at && to && { witness: { at, to } }),
    }),
});
