import { isPrinted } from '../../../quantities/piecesToPrint.ts';
import type { Spec } from '../../../spec/spec.ts';
import { machiningStock as stockTable } from '../../../trade/data/print-limits.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

const bands = {
  'sealing-face': stockTable.sealingFace,
  'long-flange': stockTable.longFlangeFace,
  'supported-face': stockTable.supportedFace,
  hole: stockTable.hole,
} as const;

/** Metal left on each face that is machined after printing. */
export const machiningStock = defineRule({
  id: 'machining-stock',
  gate: 'print-release',
  title: 'Require stock on faces that are machined',
  severity: 'block',
  adjustable: false,
  branches: ['machinedFaces', 'route'],
  cost: 'cheap',
  quantity: 'length',
  limit:
    'sealing face 0.3 to 1 mm, flange from 150 mm and faces that were supported 1 to 2 mm, hole 1 to 2 mm on the diameter',
  source: stockTable.sealingFace.source,
  validity: 'Pieces printed in metal by laser in a powder bed, relieved of stress before they are cut from the plate.',
  hazard:
    'With too little stock the bow of the flange is still there after cutting and the gasket leaks; too much is paid twice.',
  remedy: 'Thicken the face in the model, or say which sort of face it is.',
  messages: { band: 'This sort of face takes {low} to {high}; {start} is usual.' },
  since: 3,
  subjects: (spec: Spec): readonly RowSubject<'machinedFaces'>[] =>
    isPrinted(spec) ? spec.machinedFaces.map((row) => ({ kind: 'reading', id: row.id, name: nameOf(row), row })) : [],
  reads: (_context, { row }) => ({
    kind: at(`machinedFaces.${row.id}.kind`, row.kind),
    stock: at<number>(`machinedFaces.${row.id}.stock`, row.stock),
  }),
  evaluate: ({ kind, stock }) => {
    const { band, start, source } = bands[kind];
    const [low, high] = band;
    return judge(stock, {
      limit: { kind: 'range', low, high },
      message: 'band',
      data: { low, high, start },
      ...(source.trust === 'practice' && { limitNote: `${source.document}: ${source.note ?? ''}` }),
    });
  },
});
