import { piecesToPrint } from '../../../quantities/piecesToPrint.ts';
import { buildDensity, printBuild } from '../../../quantities/printBuild.ts';
import type { Spec } from '../../../spec/spec.ts';
import { powderCharge } from '../../../trade/print/powder-charge.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge, type Outcome } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

/** Powder that the build has to be charged with, against what is in stock. */
export const powderDemand = defineRule({
  id: 'powder-demand',
  gate: 'print-release',
  title: 'Require powder in stock for the whole build',
  severity: 'block',
  adjustable: false,
  branches: ['pieces', 'printer', 'route'],
  cost: 'measured',
  quantity: 'mass',
  limit: 'powder to charge for the filled bed up to the tallest piece <= powder in stock of one lot',
  source: { document: 'own balance: dosing x density x (packing x (bed - solid) + solid)', trust: 'own' },
  validity:
    'Bed filled over its whole plate, one powder. 90 to 98 % of what is not melted comes back after sieving, but not during the build.',
  hazard: 'The build stops for powder: a seam across every piece, and often a second lot on top of it.',
  remedy: 'Lay the pieces flatter, use a smaller plate, or wait for powder of the same lot.',
  messages: {
    bed: 'The pieces and supports weigh {solid}, the loose powder around them {loose}, {height:length} high.',
  },
  since: 3,
  subjects: (spec: Spec): readonly Subject[] =>
    piecesToPrint(spec).length > 0 ? [{ kind: 'job', id: 'build', name: 'Build' }] : [],
  reads: (context) => {
    const { printer } = context.spec;
    return {
      build: printBuild(context),
      density: buildDensity(context.spec),
      bedLength: at<number>('printer.spaceX', printer.spaceX),
      bedWidth: at<number>('printer.spaceY', printer.spaceY),
      packing: at<number>('printer.packing', printer.packing),
      dosing: at<number>('printer.dosing', printer.dosing),
      stock: at<number>('printer.stock', printer.stock),
    };
  },
  evaluate: ({ build: { partVolume, supportVolume, height }, stock, ...bed }): Outcome => {
    const powder = powderCharge({ ...bed, height, solidVolume: partVolume + supportVolume });
    if (!powder.known) return { status: 'unknown', why: powder.why };
    const { charge, solid, loose } = powder.value;
    return judge(charge, {
      limit: { kind: 'max', value: stock },
      // Packing is known to 5 % and dosing to little better.
      guard: 0.1 * charge,
      message: 'bed',
      data: { solid, loose, height },
    });
  },
});
