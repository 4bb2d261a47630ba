import { piecesToPrint } from '../../../quantities/piecesToPrint.ts';
import type { Spec } from '../../../spec/spec.ts';
import { cuttingOff } from '../../../trade/data/print-limits.ts';
import { cutAllowance as leastAllowance } from '../../../trade/print/cut-allowance.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

const mm = 1e-3;
/** What a cut loses. Source: common practice, no source; widths of cut as in the table. */
const losses = {
  'wire-erosion': { kerf: cuttingOff.wireKerf.start, wander: 0.5 * mm, dressing: 0.5 * mm },
  'band-saw': { kerf: cuttingOff.sawKerf.start, wander: 1 * mm, dressing: 1 * mm },
} as const;
/** Where a check starts: the band of 4 to 5 mm of a saw is taken at its middle. Source: common practice, no source. */
const starts = { 'wire-erosion': cuttingOff.wireAllowance.start, 'band-saw': 4.5 * mm } as const;

/** Height of each printed piece above the plate against what the cut takes. */
export const cutAllowance = defineRule({
  id: 'cut-allowance',
  gate: 'print-release',
  title: 'Require height above the plate for the cut',
  severity: 'block',
  adjustable: false,
  branches: ['pieces', 'printer', 'route'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'height above the plate >= 3 mm cut by wire, >= 4.5 mm by band saw',
  source: cuttingOff.wireAllowance.source,
  validity: 'Lowest point of the piece over the plate; supports or a solid foot fill the height.',
  hazard: 'The cut runs into the piece: a flange loses its stock, a runner its end.',
  remedy: 'Lift the piece on the plate, or cut it off by wire.',
  messages: { loss: 'The cut itself takes {least}: width, wander and dressing.' },
  since: 3,
  subjects: (spec: Spec): readonly RowSubject<'pieces'>[] =>
    piecesToPrint(spec).map((row) => ({ kind: 'piece', id: row.id, name: nameOf(row), row })),
  reads: ({ spec: { printer } }, { row }) => {
    const separation = at('printer.separation', printer.separation);
    return {
      lift: at<number>(`pieces.${row.id}.lift`, row.lift),
      separation,
      least: derive({ separation }, (v) => leastAllowance.evaluate(losses[v.separation])),
    };
  },
  evaluate: ({ lift, separation, least }) =>
    judge(lift, { limit: { kind: 'min', value: starts[separation] }, message: 'loss', data: { least } }),
});
