import type { ScanExtentsResult } from '../../../geometry/measurement.ts';
import { distance, type Vec3 } from '../../../geometry/vector.ts';
import { portPitch } from '../../../quantities/portPitch.ts';
import { measuredExtents } from '../../../quantities/scanFigures.ts';
import type { BayComponent, Spec } from '../../../spec/spec.ts';
import { derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge, type Limit } from '../../outcome.ts';
import { componentSubjects } from '../../subjects.ts';
import type { Subject } from '../../verdict.ts';

interface Scanned extends Subject {
  readonly components: readonly BayComponent[];
}

/** Diagonals in port pitches: a bay of 0.3 to 3.6 m over ports some 90 mm apart, and a part of one from 30 mm on. */
const bayWindow: Limit = { kind: 'range', low: 3, high: 40 };
const partWindow: Limit = { kind: 'range', low: 0.3, high: 40 };

/** Whether the scan is as large as it must be, in a unit that cannot be wrong: the distance between the ports. */
export const scanUnits = defineRule({
  id: 'scan-units',
  gate: 'scan',
  title: 'Require a scan of the size of an engine bay',
  severity: 'block',
  adjustable: false,
  branches: ['components', 'datums', 'runners'],
  uncovered: ['runners'],
  cost: 'measured',
  quantity: 'ratio',
  limit: 'diagonal / distance between neighbouring ports: 3 to 40 for the whole bay, 0.3 to 40 for one component',
  source: {
    document: 'own: bays of 0.3 to 3.6 m across over ports 80 to 110 mm apart',
    trust: 'own',
    note: 'units of a scan file cannot be read from it; 25.4, 10 and 1000 are the usual errors',
  },
  validity:
    'At least two runners, whose ports stand where those of the engine do. One component read in a unit ten times too small may still fit.',
  hazard: 'A scan in the wrong unit is too small or too large: everything reads as clear, or nothing does.',
  remedy: 'Bring the scan in again with its right unit; measure one distance on the car and in the scan.',
  messages: { size: 'Diagonal {diagonal:length}, ports {pitch:length} apart.' },
  since: 2,
  subjects: (spec: Spec): readonly Scanned[] => [
    ...(spec.components.length > 1
      ? [{ kind: 'job', id: 'bay', name: 'Whole scan', components: spec.components } as const]
      : []),
    ...componentSubjects(spec).map(({ component, ...subject }) => ({ ...subject, components: [component] })),
  ],
  reads: (context, { components }) => ({
    boxes: derive(Object.fromEntries(components.map((one) => [one.id, measuredExtents(context, one)])), (found) =>
      Object.values(found),
    ),
    pitch: portPitch(context),
  }),
  evaluate: ({ boxes, pitch }, { kind }) => {
    const diagonal = distance(corner(boxes, 'least', Math.min), corner(boxes, 'greatest', Math.max));
    return judge(diagonal / pitch, {
      limit: kind === 'job' ? bayWindow : partWindow,
      // Far from either end: what is near one is as good as wrong, but a single part may well be small.
      guard: 0,
      message: 'size',
      data: { diagonal, pitch },
    });
  },
});

function corner(
  boxes: readonly ScanExtentsResult[],
  which: 'least' | 'greatest',
  choose: (...values: number[]) => number,
): Vec3 {
  const along = (axis: 0 | 1 | 2): number => choose(...boxes.map((box) => box[which][axis]));
  return [along(0), along(1), along(2)];
}
