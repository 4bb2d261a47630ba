import { fewestOfPlane, fewestOfRim, fittedPort, portPoints } from '../../../quantities/portFit.ts';
import type { Spec } from '../../../spec/spec.ts';
import { defineRule } from '../../define.ts';
import { inMicrometres } from '../../micrometres.ts';
import { judge, type Outcome } from '../../outcome.ts';
import { type RunnerSubject, runnerSubjects } from '../../subjects.ts';

/** Share of the rim below which a circle is poorly held, rad. */
const leastArc = Math.PI;

/** How well the points picked on each port lie on a plane and a circle. */
export const portFit = defineRule({
  id: 'port-fit',
  gate: 'scan',
  title: 'Limit the residual of the points picked on a port',
  severity: 'block',
  adjustable: 'max',
  branches: ['runners', 'portPoints'],
  uncovered: ['runners'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'RMS distance from the plane of the face, and from the circle of a round rim, each <= 0.2 mm',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'least squares on orthogonal distances, e.g. Shakarji, J. Res. NIST 103 (1998) 633',
  },
  validity:
    'At least 4 points on a port; at least 5 on the rim of a round one, over half a turn or more. Other shapes: points on the face alone.',
  hazard:
    'A port picked wrong puts the first leg of the runner off the hole: a step that catches gas, or a gasket that does not seal.',
  remedy: 'Pick the points again where the scan is clean: not on the chamfer, not on carbon, spread all around.',
  messages: {
    face: '{points:count} points on the face: plane {plane} RMS.',
    rim: '{points:count} points, {rimPoints:count} on the rim: plane {plane} RMS, circle {circle} RMS, diameter {diameter}.',
  },
  since: 2,
  subjects: (spec: Spec): readonly RunnerSubject[] =>
    runnerSubjects(spec).map((subject) => ({ ...subject, name: `Port of ${subject.name}` })),
  reads: (context, { runner }) => ({ picked: portPoints(context, runner) }),
  evaluate: ({ picked }): Outcome => {
    const rim = picked.filter((one) => one.rim).length;
    if (picked.length < fewestOfPlane) return few('points on the port', picked.length, fewestOfPlane);
    if (rim > 0 && rim < fewestOfRim) return few('points on the rim', rim, fewestOfRim);
    return judged(fittedPort(picked));
  },
});

function few(input: string, value: number, least: number): Outcome {
  return { status: 'unknown', why: { reason: 'outOfValidity', input, value, range: [least, 1000], unit: 'count' } };
}

function judged(fit: ReturnType<typeof fittedPort>): Outcome {
  if (!fit.known) return { status: 'unknown', why: fit.why };
  const { points, rimPoints, planeRms, circleRms, diameter, arc, middle } = fit.value;
  if (rimPoints > 0 && arc < leastArc) {
    const range: readonly [number, number] = [leastArc, 2 * Math.PI];
    return {
      status: 'unknown',
      why: { reason: 'outOfValidity', input: 'arc of the rim picked', value: arc, range, unit: 'angle' },
    };
  }
  return judge(Math.max(planeRms, circleRms), {
    limit: { kind: 'max', value: 0.2e-3 },
    message: rimPoints > 0 ? 'rim' : 'face',
    data: { points, rimPoints, plane: inMicrometres(planeRms), circle: inMicrometres(circleRms), diameter },
    witness: { at: middle },
  });
}
