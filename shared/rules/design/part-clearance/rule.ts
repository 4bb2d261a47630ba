import { distance, type Vec3 } from '../../../geometry/vector.ts';
import { partGap } from '../../../quantities/access.ts';
import { clearanceOf, hotGapLeft } from '../../../quantities/clearanceLeft.ts';
import { metalProperty } from '../../../quantities/metal.ts';
import { piecesOnCar } from '../../../quantities/piecesToPrint.ts';
import { portCentres } from '../../../quantities/portCentres.ts';
import type { BayComponent, Element } from '../../../spec/spec.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf } from '../../subjects.ts';
import type { Subject } from '../../verdict.ts';

interface PieceComponent extends Subject {
  readonly piece: Element<'pieces'>;
  readonly component: BayComponent;
}

/** Smallest gap of each piece to each bay component, less what moves or is not known. */
export const partClearance = defineRule({
  id: 'part-clearance',
  gate: 'design',
  title: 'Require clearance from every piece to every bay component',
  severity: 'block',
  adjustable: false,
  branches: ['pieces', 'components', 'datums', 'runners', 'tube', 'flange', 'engine', 'bay', 'materials', 'route'],
  fields: { engine: ['rock'] },
  cost: 'measured',
  quantity: 'length',
  limit:
    'gap - sampling - engine rock - hot growth - 1.65 x scan uncertainty >= clearance of the heat class (10 to 100 mm)',
  source: {
    document: 'table of heat classes: published distances from exhaust parts and common practice',
    trust: 'practice',
    note: 'each class names its own source; guard band 1.65 u after ISO 14253-1:2017, from memory',
  },
  validity:
    'Bare pieces as hot as the runners and of their alloy; growth is that of the straight way from the nearest port. Faces nearer to the head than the flange is thick are not measured. Where scan points lie in the box of a part whose mesh is open, nothing is said: it has no inside.',
  hazard:
    'A collector or a turbine housing is the hottest thing in the bay: what is too near to it burns, chafes or boils.',
  remedy: 'Move the piece or turn the housing, fit a shield and record a concession, or move the component.',
  messages: {
    made: 'Gap {gap} cold, less sampling of the scan {cover}, rock {rock}, hot growth {growth} and guard band {guard}.',
  },
  since: 3,
  subjects: (spec): readonly PieceComponent[] =>
    piecesOnCar(spec).flatMap((piece) =>
      spec.components.map((component) => ({
        kind: 'piece-component',
        id: `${piece.id}~${component.id}`,
        name: `${nameOf(piece)} x ${nameOf(component)}`,
        piece,
        component,
      })),
    ),
  reads: (context, { piece, component }) => {
    const { tube, engine, bay } = context.spec;
    const path = `components.${component.id}`;
    const temperature = at<number>('tube.wallTemperature', tube.wallTemperature);
    return {
      measurement: partGap(context, piece, component),
      ports: portCentres(context),
      heatClass: at(`${path}.heatClass`, component.heatClass),
      rock: at<number>('engine.rock', engine.rock),
      uncertainty: at<number>('bay.scanUncertainty', bay.scanUncertainty),
      temperature,
      expansion: metalProperty(context, 'tube', 'expansion', temperature),
    };
  },
  evaluate: ({ measurement, ports, heatClass, rock, uncertainty, temperature, expansion }) => {
    const { gap, cover, point, onPart } = measurement;
    const length = Math.min(...ports.map((port: Vec3) => distance(port, onPart)));
    const hot = hotGapLeft(gap, { cover, rock, uncertainty, length, temperature, expansion });
    if (!hot.known) return { status: 'unknown', why: hot.why };
    const { left, guard, growth } = hot.value;
    const { clearance, note } = clearanceOf(heatClass);
    return judge(left, {
      limit: { kind: 'min', value: clearance },
      message: 'made',
      data: { gap, cover, rock, growth, guard },
      witness: { at: point, to: onPart },
      limitNote: note,
    });
  },
});
