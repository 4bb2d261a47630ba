import { runnerBore } from '../../../quantities/tube.ts';
import { at, known } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

interface ProbeCheck extends RowSubject<'probes'> {
  readonly what: 'distance' | 'depth';
}

/** Nearest and farthest place of a probe from the head. */
const nearest = 0.0381;
const farthest = 0.2;
/** How far beyond the centre a tip may stand. */
const beyond = 3e-3;

/** Place of each gas temperature probe along its runner, and how deep its tip stands. */
export const egtPosition = defineRule({
  id: 'egt-position',
  gate: 'design',
  title: 'Require gas temperature probes where they read and last',
  severity: 'block',
  adjustable: false,
  branches: ['probes', 'tube'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'probe 38.1 to 200 mm from the head; tip from a third of the bore to 3 mm beyond its centre',
  source: {
    document: 'installation sheets of probe and instrument makers',
    clause: 'not nearer than 1.5 in to the head; 50 to 200 mm in an aircraft instrument manual',
    trust: 'excerpt',
    note: 'depth: centre of the tube, or a third across; 3 mm beyond the centre is common practice',
  },
  validity: 'Probes in a runner. A single probe ahead of the turbine is not judged by it.',
  hazard: 'Too near the head a probe burns off, and its tip goes through the turbine; too shallow or far it reads low.',
  remedy: 'Move the bung along the runner, or set the depth with another fitting.',
  messages: {
    distance: 'Place along the runner, from the head face.',
    depth: 'Tip from the inner wall; the centre is at {centre}.',
  },
  since: 1,
  subjects: ({ probes }): readonly ProbeCheck[] =>
    probes.flatMap((row) =>
      (['distance', 'depth'] as const).map((what) => ({
        kind: 'sensor' as const,
        id: `${row.id}~${what}`,
        name: `${nameOf(row)}, ${what}`,
        row,
        what,
      })),
    ),
  reads: (context, { row, what }) => {
    const path = `probes.${row.id}`;
    return what === 'distance'
      ? { value: at<number>(`${path}.distance`, row.distance), bore: known(0) }
      : { value: at<number>(`${path}.insertion`, row.insertion), bore: runnerBore(context) };
  },
  evaluate: ({ value, bore }, { what }) =>
    judge(
      value,
      what === 'distance'
        ? { limit: { kind: 'range', low: nearest, high: farthest }, message: 'distance' }
        : {
            limit: { kind: 'range', low: bore / 3, high: bore / 2 + beyond },
            message: 'depth',
            data: { centre: bore / 2 },
          },
    ),
});
