import { runnerPressureLoss } from '../../../quantities/runnerFlow.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { runnerSubjects } from '../../subjects.ts';

/** Share of the absolute exhaust pressure a runner may lose. */
const lossShare = 0.05;

/** Total-pressure loss of each runner at peak power. */
export const runnerLoss = defineRule({
  id: 'runner-loss',
  gate: 'design',
  title: 'Limit the pressure lost in a runner',
  severity: 'block',
  adjustable: false,
  branches: ['runners', 'tube', 'engine'],
  cost: 'cheap',
  quantity: 'pressure',
  limit: 'total pressure loss at peak power <= 5 % of the absolute exhaust pressure',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: '5 % is also where constant-density pipe formulas stop holding; bend losses after Miller 1990',
  },
  validity:
    'Steady mean flow in a round bore, Reynolds number 1e4 to 1e6, bends of 0.75 to 5 bores radius. Close bends are summed, which may be low for S-shapes.',
  hazard: 'Pressure lost ahead of the turbine is drive the turbo never sees: slow spool and high back pressure.',
  remedy: 'Open the tightest bends first, then shorten the runner or take the next tube size up.',
  messages: { parts: 'Straights {straight}, bends {bends}.' },
  since: 1,
  subjects: runnerSubjects,
  reads: (context, { runner }) => ({
    loss: runnerPressureLoss(context, runner),
    pressure: at<number>('engine.exhaustPressure', context.spec.engine.exhaustPressure),
  }),
  evaluate: ({ loss, pressure }) =>
    judge(loss.total, {
      limit: { kind: 'max', value: lossShare * pressure },
      message: 'parts',
      data: { straight: loss.straight, bends: loss.bends },
    }),
});
