import { measuredEnclosed } from '../../../quantities/partFigures.ts';
import { piecesToPrint } from '../../../quantities/piecesToPrint.ts';
import type { Spec } from '../../../spec/spec.ts';
import { printFeatures } from '../../../trade/data/print-limits.ts';
import { defineRule } from '../../define.ts';
import { judge, type Outcome } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

const {
  band: [closed],
  start: least,
  source,
} = printFeatures.powderExit;

/** The ways out for powder of what each printed piece closes in. */
export const powderExit = defineRule({
  id: 'powder-exit',
  gate: 'print-release',
  title: 'Require two ways out for powder',
  severity: 'block',
  adjustable: false,
  branches: ['pieces', 'route'],
  cost: 'measured',
  quantity: 'length',
  limit: 'second widest opening of every enclosed volume >= 4 mm across',
  source,
  validity:
    'Closed mesh, looked at in cubes of 0.5 mm or larger; a way out narrower than two cubes counts as none. Air open by more than 20 mm is not enclosed.',
  hazard: 'Powder that stays in sinters to a lump in the stress relief, or comes out hot through the turbine.',
  remedy: 'Open the volume at two ends, at least 4 mm wide; plugs are welded in afterwards.',
  messages: {
    worst:
      'Enclosed volumes: {count:count}. The hardest to empty holds {air:volume}; openings: {openings:count}. Below {closed} nothing comes out. Cubes of {edge}.',
  },
  since: 3,
  subjects: (spec: Spec): readonly RowSubject<'pieces'>[] =>
    piecesToPrint(spec).map((row) => ({ kind: 'piece', id: row.id, name: nameOf(row), row })),
  reads: (context, { row }) => ({ enclosed: measuredEnclosed(context, row) }),
  evaluate: ({ enclosed: { count, air, openings, second, at, edge } }): Outcome => {
    if (count === 0) return { status: 'notApplicable', because: 'it closes nothing in: all its air is open by 20 mm' };
    return judge(second, {
      limit: { kind: 'min', value: least },
      guard: edge / 2,
      message: 'worst',
      data: { count, air, openings, closed, edge },
      ...(at && { witness: { at } }),
    });
  },
});
