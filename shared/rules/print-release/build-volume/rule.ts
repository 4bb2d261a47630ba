import { measuredPose } from '../../../quantities/partFigures.ts';
import { piecesToPrint } from '../../../quantities/piecesToPrint.ts';
import type { Spec } from '../../../spec/spec.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Each printed piece, as it stands, against the usable space of the printer. */
export const buildVolume = defineRule({
  id: 'build-volume',
  gate: 'print-release',
  title: 'Require pieces that fit the printer as they stand',
  severity: 'block',
  adjustable: false,
  branches: ['pieces', 'printer', 'route'],
  cost: 'measured',
  quantity: 'length',
  limit:
    'smallest spare of the usable space over the piece in its pose >= 0: edge off each side, plate and lift off the height',
  source: {
    document: 'own: box in box; edge of 5 to 10 mm and plate of 25 to 45 mm from common practice',
    trust: 'own',
  },
  validity:
    'Rectangular plates; each piece by itself. Whether all pieces find room beside each other is not looked at.',
  hazard: 'The file is refused on the day of the build, or scaled by somebody until it fits.',
  remedy: 'Turn the piece on the plate, tilt it, or split it.',
  messages: { space: 'Stands {x} x {y} x {z} high with its lift, in {spaceX} x {spaceY} x {spaceZ} usable.' },
  since: 3,
  subjects: (spec: Spec): readonly RowSubject<'pieces'>[] =>
    piecesToPrint(spec).map((row) => ({ kind: 'piece', id: row.id, name: nameOf(row), row })),
  reads: (context, { row }) => {
    const { printer } = context.spec;
    return {
      pose: measuredPose(context, row),
      lift: at<number>(`pieces.${row.id}.lift`, row.lift),
      nominalX: at<number>('printer.spaceX', printer.spaceX),
      nominalY: at<number>('printer.spaceY', printer.spaceY),
      nominalZ: at<number>('printer.spaceZ', printer.spaceZ),
      edge: at<number>('printer.edge', printer.edge),
      plate: at<number>('printer.plate', printer.plate),
    };
  },
  evaluate: ({ pose, lift, nominalX, nominalY, nominalZ, edge, plate }) => {
    const [x, y, height] = pose.box;
    const z = height + lift;
    const [spaceX, spaceY] = [Math.max(0, nominalX - 2 * edge), Math.max(0, nominalY - 2 * edge)];
    const spaceZ = Math.max(0, nominalZ - plate);
    return judge(Math.min(spaceX - x, spaceY - y, spaceZ - z), {
      limit: { kind: 'min', value: 0 },
      // What the edge kept free differs by from one bureau to the next.
      guard: 0.005,
      message: 'space',
      data: { x, y, z, spaceX, spaceY, spaceZ },
    });
  },
});
