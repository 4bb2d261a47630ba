import { runnerOutletAngle } from '../../../quantities/runnerEnds.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { runnerSubjects } from '../../subjects.ts';

const degree = Math.PI / 180;
const advisory = 20 * degree;

/** Angle at which each runner's gas meets the outlet axis of the collector. */
export const mergeAngle = defineRule({
  id: 'merge-angle',
  gate: 'design',
  title: 'Limit the angle at which a runner merges',
  severity: 'block',
  adjustable: 'max',
  branches: ['runners', 'outlet'],
  cost: 'cheap',
  quantity: 'angle',
  limit: 'larger of last leg and collector half angle to the outlet axis <= 30 deg, caution above 20 deg',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'merge collectors are built with half angles of 7.5 to 10 deg',
  },
  validity: 'Collectors whose legs or cone meet round one outlet axis; log manifolds are not judged by it.',
  hazard:
    'Gas that arrives steeply strikes the far wall and blows into the other runners: energy lost before the turbine.',
  remedy: 'Turn the last leg towards the outlet axis, or make the collector longer.',
  messages: { angles: 'Last leg at {leg}, collector half angle {half}.' },
  since: 1,
  subjects: runnerSubjects,
  reads: (context, { runner }) => ({
    leg: runnerOutletAngle(context, runner),
    half: at<number>('outlet.halfAngle', context.spec.outlet.halfAngle),
  }),
  evaluate: ({ leg, half }) =>
    judge(Math.max(leg, half), {
      limit: { kind: 'max', value: 30 * degree },
      advisory: { kind: 'max', value: advisory },
      // Practice: 5 % of the stricter limit.
      guard: 0.05 * advisory,
      message: 'angles',
      data: { leg, half },
    }),
});
