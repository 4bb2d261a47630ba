import { measuredPose } from '../../../quantities/partFigures.ts';
import { piecesToPrint } from '../../../quantities/piecesToPrint.ts';
import type { Spec } from '../../../spec/spec.ts';
import { stairHeight } from '../../../trade/print/stair-height.ts';
import { stairRoughness } from '../../../trade/print/stair-roughness.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge, type Outcome } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Roughness that layers alone may make, Ra, m. */
const most = 25e-6;

/** How rough the steps of the layers leave the flatter slopes of each printed piece. */
export const layerStair = defineRule({
  id: 'layer-stair',
  gate: 'print-release',
  title: 'Limit the roughness that layer steps make',
  severity: 'advise',
  adjustable: 'max',
  branches: ['pieces', 'printer', 'route'],
  cost: 'measured',
  quantity: 'roughness',
  limit:
    'Ra of the layer steps, layer x cos(angle) / 4, where a tenth of the sloped surface is flatter, <= 25 um (caution only)',
  source: {
    document: 'own: steps alone should not be rougher than a printed channel is with its sintered powder',
    trust: 'own',
    note: 'a trade page, read, gives 15 to 25 um Ra for channels as built',
  },
  validity:
    'Ideal steps; sintered powder comes on top, more on downward faces. Faces within 3 degrees of level count as level.',
  hazard: 'A coarse bore costs pressure and cracks sooner: each step is a notch.',
  remedy: 'Print with a thinner layer, or stand the piece steeper.',
  messages: { steps: 'Steps of {height} at {slope:angle} from the plate with layers of {layer}.' },
  since: 3,
  subjects: (spec: Spec): readonly RowSubject<'pieces'>[] =>
    piecesToPrint(spec).map((row) => ({ kind: 'piece', id: row.id, name: nameOf(row), row })),
  reads: (context, { row }) => ({
    pose: measuredPose(context, row),
    layer: at<number>('printer.layer', context.spec.printer.layer),
  }),
  evaluate: ({ pose: { slope }, layer }): Outcome => {
    const steps = { layer, plateAngle: slope };
    const made = derive({ ra: stairRoughness.evaluate(steps), height: stairHeight.evaluate(steps) }, (v) => ({
      steps: v,
    }));
    if (!made.known) return { status: 'unknown', why: made.why };
    const { ra, height } = made.value.steps;
    return judge(ra, { limit: { kind: 'max', value: most }, message: 'steps', data: { height, slope, layer } });
  },
});
