import { metalName, serviceLimit } from '../../../quantities/metal.ts';
import { wallEstimate } from '../../../quantities/wallEstimate.ts';
import { grades } from '../../../trade/data/material-limits.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { runnerSubjects } from '../../subjects.ts';

/** How far the estimate can be off: half of what pulsation between 1 and 2.5 moves it by in the worked example, K. */
const estimateUncertainty = 45;

/** Estimated and stated wall temperature of each runner against the service limit of its alloy. */
export const wallTemperature = defineRule({
  id: 'wall-temperature',
  gate: 'design',
  title: 'Limit the wall temperature of a runner',
  severity: 'block',
  adjustable: false,
  branches: ['runners', 'tube', 'engine', 'heat', 'materials'],
  cost: 'cheap',
  quantity: 'temperature',
  limit:
    'hotter of estimated and stated wall <= service limit of the alloy (304 and 321 870 C, 625 982 C); caution when the estimate is above the stated one',
  source: {
    ...grades['321'].source,
    note: '304: trade data, from memory; 625: ASTM B446 grade 2, solution annealed; estimate: own heat balance, pulsation uncertain',
  },
  validity:
    'Bare tube in still air at steady full power: moving air cools it, wraps and shields heat it. Turbulent flow. Oxidation, not strength.',
  hazard:
    'Above its service limit the wall scales away from outside and creeps: it thins, sags and cracks near the welds.',
  remedy:
    'Choose a hotter alloy, richen or retard less, and state the estimated wall so that the strength checks see it.',
  messages: {
    estimate: 'Estimated {estimated}, stated {stated}.',
    understated: 'Estimated {estimated}, above the {stated} stated: strength and growth are checked too cold.',
  },
  since: 1,
  subjects: runnerSubjects,
  reads: (context, { runner }) => ({
    estimated: wallEstimate(context, runner),
    stated: at<number>('tube.wallTemperature', context.spec.tube.wallTemperature),
    limit: serviceLimit(context, 'tube'),
    alloy: metalName(context, 'tube'),
  }),
  evaluate: ({ estimated, stated, limit, alloy }) =>
    judge(Math.max(estimated, stated), {
      limit: { kind: 'max', value: limit },
      ...(estimated > stated && { advisory: { kind: 'max', value: stated } }),
      guard: estimateUncertainty,
      message: estimated > stated ? 'understated' : 'estimate',
      data: { estimated, stated },
      limitNote: `${alloy}: oxidation limit`,
    }),
});
