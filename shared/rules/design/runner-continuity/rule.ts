import { inletMiss } from '../../../quantities/runnerEnds.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { runnerSubjects } from '../../subjects.ts';

const offsetLimit = 0.5e-3;
const angleLimit = Math.PI / 180;

/** How much of what a runner's end may be off its collector inlet is used up. */
export const runnerContinuity = defineRule({
  id: 'runner-continuity',
  gate: 'design',
  title: 'Require each runner to end at its collector inlet',
  severity: 'block',
  adjustable: 'max',
  branches: ['runners', 'inlets'],
  cost: 'cheap',
  quantity: 'share',
  limit: 'centres within 0.5 mm and axes within 1 deg: the worse of both, as a share of what is allowed',
  source: {
    document: 'own limit: what a fitted butt joint of thin tube can take up',
    trust: 'own',
    note: '100 % is the edge of either limit',
  },
  validity: 'Drawn places, not made ones; one inlet for each cylinder with a runner.',
  hazard:
    'A runner that misses its inlet is pulled into place at the bench: the joint starts its life bent and cracks.',
  remedy: 'Move the last node onto the inlet and the one before it onto its axis.',
  messages: { miss: 'Centres {offset:length} apart, axes {angle:angle}.' },
  since: 1,
  subjects: runnerSubjects,
  reads: (context, { runner }) => ({ miss: inletMiss(context, runner) }),
  evaluate: ({ miss }) =>
    judge(Math.max(miss.offset / offsetLimit, miss.angle / angleLimit), {
      limit: { kind: 'max', value: 1 },
      message: 'miss',
      data: { offset: miss.offset, angle: miss.angle },
      witness: { at: miss.end, to: miss.inlet },
    }),
});
