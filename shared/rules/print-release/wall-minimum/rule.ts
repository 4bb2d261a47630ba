import { measuredWall } from '../../../quantities/partFigures.ts';
import { piecesToPrint } from '../../../quantities/piecesToPrint.ts';
import type { Spec } from '../../../spec/spec.ts';
import { printFeatures } from '../../../trade/data/print-limits.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

const {
  band: [least],
  start: usual,
  source,
} = printFeatures.headerWall;

/** The thinnest wall of each printed piece. */
export const wallMinimum = defineRule({
  id: 'wall-minimum',
  gate: 'print-release',
  title: 'Require walls thick enough to print and to last',
  severity: 'block',
  adjustable: 'min',
  branches: ['pieces', 'route'],
  cost: 'measured',
  quantity: 'length',
  limit: 'thinnest wall >= 1.0 mm; below 1.2 mm caution',
  source,
  validity:
    'Walls up to 10 mm of a closed mesh, looked for every 3 mm of its surface. A wall of n facets reads thinner than the round one by cos(180 deg / n): 0.14 % of the radius at 60.',
  hazard: 'A thin wall prints with holes in it, burns through at the weld or splits at heat.',
  remedy: 'Thicken the wall where the witness points; 2.5 to 4 mm at the root of a flange.',
  messages: { thin: 'A hundredth of the wall is thinner than {p1}. A free wall needs {free} to print at all.' },
  since: 3,
  subjects: (spec: Spec): readonly RowSubject<'pieces'>[] =>
    piecesToPrint(spec).map((row) => ({ kind: 'piece', id: row.id, name: nameOf(row), row })),
  reads: (context, { row }) => ({ wall: measuredWall(context, row) }),
  evaluate: ({ wall: { smallest, p1, at } }) =>
    judge(smallest, {
      limit: { kind: 'min', value: least },
      advisory: { kind: 'min', value: usual },
      message: 'thin',
      data: { p1, free: printFeatures.freeWall.band[0] },
      ...(at && { witness: { at } }),
    }),
});
