import { runnerMach as meanMach, runnerVelocity } from '../../../quantities/runnerFlow.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { runnerSubjects } from '../../subjects.ts';

/** Mean Mach number of each runner at peak power. */
export const runnerMach = defineRule({
  id: 'runner-mach',
  gate: 'design',
  title: 'Limit the mean Mach number in a runner',
  severity: 'block',
  adjustable: 'max',
  branches: ['runners', 'tube', 'engine'],
  cost: 'cheap',
  quantity: 'ratio',
  limit: 'mean Mach at peak power <= 0.45, caution above 0.35',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'trade bands put turbo primaries at 0.08 to 0.20 and warn above 0.30; 0.30 is the usual limit of incompressible flow',
  },
  validity:
    'Mean over the cycle at peak power, gas at the stated port temperature; the blow-down pulse peaks at 2 to 3 times it.',
  hazard: 'A runner near choking holds exhaust back: the cylinder runs hot, knocks and loses power at the top.',
  remedy: 'Take the next tube size up, or thin the wall where strength allows.',
  messages: { speed: 'Mean gas velocity {velocity:velocity}.' },
  since: 1,
  subjects: runnerSubjects,
  reads: (context, { runner }) => ({
    mach: meanMach(context, runner),
    velocity: runnerVelocity(context, runner),
  }),
  evaluate: ({ mach, velocity }) =>
    judge(mach, {
      limit: { kind: 'max', value: 0.45 },
      advisory: { kind: 'max', value: 0.35 },
      message: 'speed',
      data: { velocity },
    }),
});
