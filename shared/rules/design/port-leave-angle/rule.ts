import { portLeaveAngle as leaveAngle } from '../../../quantities/runnerEnds.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { runnerSubjects } from '../../subjects.ts';

const limit = (5 * Math.PI) / 180;

/** Angle between the axis of the port and the first leg of each runner. */
export const portLeaveAngle = defineRule({
  id: 'port-leave-angle',
  gate: 'design',
  title: 'Limit the kink between port and runner',
  severity: 'advise',
  adjustable: 'max',
  branches: ['runners', 'port'],
  cost: 'cheap',
  quantity: 'angle',
  limit: 'first leg within 5 deg of the port axis',
  source: { document: 'common practice, no source', trust: 'practice' },
  validity: 'All ports point alike. The loss of the kink itself is not in the pressure loss of the runner.',
  hazard:
    'Gas that has to turn at the head face strikes the runner wall there: a hot spot beside the flange weld, and loss.',
  remedy: 'Lead the first leg out along the port axis and bend after it.',
  messages: { kink: 'The first leg leaves the port at {angle}.' },
  since: 1,
  subjects: runnerSubjects,
  reads: (context, { runner }) => ({ angle: leaveAngle(context, runner) }),
  evaluate: ({ angle }) =>
    judge(angle, {
      limit: { kind: 'max', value: limit },
      guard: 0.05 * limit,
      message: 'kink',
      data: { angle },
    }),
});
