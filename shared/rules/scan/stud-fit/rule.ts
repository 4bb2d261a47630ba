import { fewestOfStud, fittedStud, studPoints } from '../../../quantities/studFit.ts';
import type { Spec } from '../../../spec/spec.ts';
import { defineRule } from '../../define.ts';
import { inMicrometres } from '../../micrometres.ts';
import { judge, type Outcome } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Share of the round below which a cylinder is poorly held, rad. */
const leastArc = Math.PI;

/** How well the points picked on each stud lie on a cylinder. */
export const studFit = defineRule({
  id: 'stud-fit',
  gate: 'scan',
  title: 'Limit the residual of the points picked on a stud',
  severity: 'block',
  adjustable: 'max',
  branches: ['holes', 'studPoints'],
  uncovered: ['holes'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'RMS distance from the cylinder <= 0.2 mm',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'least squares on orthogonal distances, e.g. Shakarji, J. Res. NIST 103 (1998) 633',
  },
  validity: 'At least 7 points on a stud, over half its round or more, at different heights.',
  hazard: 'A stud picked wrong puts its hole off the stud: a flange that does not go on, or nuts that bear on an edge.',
  remedy:
    'Pick the points again where the scan is clean: on the side of the stud, not its end, spread around and along it.',
  messages: {
    fit: '{points:count} points: cylinder {cylinder} RMS, diameter {diameter}, leaning {lean:angle} from square to the flange.',
  },
  since: 4,
  subjects: (spec: Spec): readonly RowSubject<'holes'>[] =>
    spec.holes
      .filter((row) => row.name !== undefined && spec.studPoints.some((point) => point.stud === row.name))
      .map((row) => ({ kind: 'hole', id: row.id, name: `Stud in ${nameOf(row)}`, row })),
  reads: (context, { row }) => ({ picked: studPoints(context, row) }),
  evaluate: ({ picked }): Outcome => {
    if (picked.length < fewestOfStud)
      return tooLittle('points on the stud', { value: picked.length, range: [fewestOfStud, 1000], unit: 'count' });
    const fit = fittedStud(picked);
    if (!fit.known) return { status: 'unknown', why: fit.why };
    const { arc, rms, points, diameter, lean, centre } = fit.value;
    if (arc < leastArc)
      return tooLittle('arc of the stud picked', { value: arc, range: [leastArc, 2 * Math.PI], unit: 'angle' });
    return judge(rms, {
      limit: { kind: 'max', value: 0.2e-3 },
      message: 'fit',
      data: { points, cylinder: inMicrometres(rms), diameter, lean },
      witness: { at: centre },
    });
  },
});

function tooLittle(
  input: string,
  had: { readonly value: number; readonly range: readonly [number, number]; readonly unit: 'count' | 'angle' },
): Outcome {
  return { status: 'unknown', why: { reason: 'outOfValidity', input, ...had } };
}
