import { runnerLength } from '../../../quantities/centreline.ts';
import { metalProperty, yieldSource } from '../../../quantities/metal.ts';
import { runnerFreeGrowth, runnerSway, slipStroke } from '../../../quantities/runnerSway.ts';
import { guidedBendStress } from '../../../trade/strength/guided-bend-stress.ts';
import { at, known } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge, type Outcome } from '../../outcome.ts';
import { runnerSubjects } from '../../subjects.ts';

/** Uncertainty of the limit and of the simple model. */
const guard = 0.1;

/** A runner that slides is not pushed; one object, so that nothing moves between runs. */
const noSway = known({ sway: 0, reach: 0 });

/** Hot growth of a runner against what it can flex, or against the stroke of its slip joint. */
export const runnerGrowth = defineRule({
  id: 'runner-growth',
  gate: 'design',
  title: 'Limit the hot growth of a runner to what it can flex or slide',
  severity: 'block',
  adjustable: false,
  branches: ['runners', 'tube', 'flange', 'slipJoints', 'materials'],
  cost: 'cheap',
  quantity: 'share',
  limit:
    'without a slip joint sway stress / yield at wall temperature <= 100 %; with one free growth / stroke <= 100 %',
  source: {
    document: 'own: guided leg from beam theory, pushed by the difference of flange and runner growth',
    trust: 'own',
    note: 'staying below hot yield is the aim of the limit, no published one was found',
  },
  validity:
    'One wall temperature in all runners, collector free to move, the straight distance between the ends as flexing leg (bends make it softer). A runner hotter than its neighbours, and the sideways play of a slip joint, are not in it.',
  hazard:
    'A runner that cannot give yields at each heat and cracks at the port or collector weld after some tens of cycles.',
  remedy:
    'Give the runner a longer way across the flange direction, fit a slip joint, or cut the flange between ports.',
  messages: {
    flexes: 'Pushed {sway:length} sideways over {reach:length}: {stress:stress} if elastic, yield {yield:stress}.',
    slides: 'Grows {growth:length}, the slip joint has {stroke:length}.',
  },
  since: 1,
  subjects: runnerSubjects,
  reads: (context, { runner }) => {
    const { tube } = context.spec;
    const temperature = at<number>('tube.wallTemperature', tube.wallTemperature);
    const stroke = slipStroke(context, runner);
    const slides = stroke.known && stroke.value !== null;
    return {
      limitNote: yieldSource(context, 'tube'),
      stroke,
      outsideDiameter: slides ? known(0) : at<number>('tube.outsideDiameter', tube.outsideDiameter),
      modulus: metalProperty(context, 'tube', 'modulus', temperature),
      yieldStrength: metalProperty(context, 'tube', 'yield', temperature),
      sway: slides ? noSway : runnerSway(context, runner),
      growth: slides ? runnerFreeGrowth(context, runnerLength(context, runner)) : known(0),
    };
  },
  evaluate: ({ stroke, growth, ...flex }) => (stroke === null ? flexed(flex) : slid(growth, stroke)),
});

function slid(growth: number, stroke: number): Outcome {
  return judge(growth / stroke, {
    limit: { kind: 'max', value: 1 },
    guard,
    message: 'slides',
    data: { growth, stroke },
  });
}

interface Flex {
  readonly limitNote: string;
  readonly outsideDiameter: number;
  readonly modulus: number;
  readonly yieldStrength: number;
  readonly sway: { readonly sway: number; readonly reach: number };
}

function flexed({ limitNote, outsideDiameter, modulus, yieldStrength, sway: { sway, reach } }: Flex): Outcome {
  const stress = guidedBendStress.evaluate({ modulus, outsideDiameter, sway, length: reach });
  if (!stress.known) return { status: 'unknown', why: stress.why };
  return judge(stress.value / yieldStrength, {
    limit: { kind: 'max', value: 1 },
    guard,
    message: 'flexes',
    data: { sway, reach, stress: stress.value, yield: yieldStrength },
    limitNote,
  });
}
