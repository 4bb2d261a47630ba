import type { Vec3 } from '../../../geometry/vector.ts';
import { partGap } from '../../../quantities/access.ts';
import { gapLeft } from '../../../quantities/clearanceLeft.ts';
import type { FactContext } from '../../../quantities/context.ts';
import { piecesOnCar } from '../../../quantities/piecesToPrint.ts';
import { scanGap } from '../../../quantities/scanGap.ts';
import type { BayComponent, Element, Runner, Spec } from '../../../spec/spec.ts';
import { at, derive, type Known } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf } from '../../subjects.ts';
import type { Subject } from '../../verdict.ts';

/** Least gap to what closes over the header, m. */
const least = 0.02;

type Part = { readonly runner: Runner } | { readonly piece: Element<'pieces'> };
type UnderHood = Subject & Part & { readonly hood: BayComponent };

/** Each runner and piece against each component that closes over it. */
function pairsOf(spec: Spec): readonly UnderHood[] {
  const hoods = spec.components.filter(({ sits }) => sits === 'closes-over');
  return hoods.flatMap((hood): readonly UnderHood[] => [
    ...spec.runners.map((runner) => ({ ...named('runner-component', runner, hood), runner, hood })),
    ...piecesOnCar(spec).map((piece) => ({ ...named('piece-component', piece, hood), piece, hood })),
  ]);
}

function named(
  kind: 'runner-component' | 'piece-component',
  part: { readonly id: string; readonly name: string | undefined },
  hood: BayComponent,
): Subject {
  return { kind, id: `${part.id}~${hood.id}`, name: `${nameOf(part)} x ${nameOf(hood)}` };
}

interface HoodGap {
  readonly gap: number;
  readonly cover: number;
  readonly point: Vec3;
  readonly onPart: Vec3;
}

function hoodGap(context: FactContext, part: UnderHood): Known<HoodGap> {
  if ('piece' in part) return partGap(context, part.piece, part.hood);
  return derive({ found: scanGap(context, part.runner, part.hood) }, ({ found }) => ({
    ...found,
    onPart: found.onTube,
  }));
}

/** Smallest gap of each part of the header to a hood that is shut. */
export const hoodClearance = defineRule({
  id: 'hood-clearance',
  gate: 'design',
  title: 'Require clearance to the shut hood',
  severity: 'block',
  adjustable: 'min',
  branches: ['runners', 'pieces', 'components', 'datums', 'tube', 'flange', 'engine', 'bay', 'route'],
  fields: { engine: ['rock'] },
  cost: 'measured',
  quantity: 'length',
  limit: 'gap - sampling - engine rock - 1.65 x scan uncertainty >= 20 mm',
  source: { document: 'common practice, no source', trust: 'practice', note: 'what a hood bows and a mount gives' },
  validity:
    'Components that are said to close over, scanned or placed as shut. Heat is judged by bay-clearance and part-clearance.',
  hazard: 'A hood that touches the header does not shut, or opens at speed; its paint and its insulation burn.',
  remedy: 'Lower the part at the witness, or leave the hood off that corner by a scoop.',
  messages: { made: 'Gap {gap} cold, less sampling of the scan {cover}, rock {rock} and guard band {guard}.' },
  since: 3,
  subjects: pairsOf,
  reads: (context, part) => {
    const { engine, bay } = context.spec;
    return {
      measurement: hoodGap(context, part),
      rock: at<number>('engine.rock', engine.rock),
      uncertainty: at<number>('bay.scanUncertainty', bay.scanUncertainty),
    };
  },
  evaluate: ({ measurement, rock, uncertainty }) => {
    const { gap, cover, point, onPart } = measurement;
    const { left, guard } = gapLeft(gap, { cover, rock, growth: 0, uncertainty });
    return judge(left, {
      limit: { kind: 'min', value: least },
      message: 'made',
      data: { gap, cover, rock, guard },
      witness: { at: point, to: onPart },
    });
  },
});
