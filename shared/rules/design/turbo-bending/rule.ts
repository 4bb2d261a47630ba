import { metalProperty, yieldSource } from '../../../quantities/metal.ts';
import { cantileverBendingStress } from '../../../trade/strength/cantilever-bending-stress.ts';
import { tubeSectionModulus } from '../../../trade/strength/tube-section-modulus.ts';
import { at, derive, known } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

/** Factor on yield. */
const factor = 1.5;
/** Dead weight, in units of gravity, on top of the dynamic factor. */
const deadWeight = 1;

/** Bending stress at the runner roots that carry the turbo, against hot yield. */
export const turboBending = defineRule({
  id: 'turbo-bending',
  gate: 'design',
  title: 'Limit the bending stress the turbo puts on the runner roots',
  severity: 'block',
  adjustable: false,
  branches: ['runners', 'turbo', 'tube', 'materials'],
  cost: 'cheap',
  quantity: 'stress',
  limit: 'joint factor x bending stress at (dynamic factor + 1) g <= yield at wall temperature / 1.5',
  source: {
    document: 'factor 1.5 on yield: common practice, no source',
    trust: 'practice',
    note: 'dynamic factor 5 to 10 and joint factor 1.5 to 2 are common practice too; yield comes from the alloy table',
  },
  validity:
    'Runner roots of one tube size that share the load evenly, static beam theory. Fatigue, creep, resonance and thermal stress are not in it.',
  hazard:
    'An overloaded root cracks beside the flange weld; the turbo drops on hoses and lines with hot gas open to the bay.',
  remedy: 'Brace the turbo so that the header carries less, shorten the arm, or thicken the roots.',
  messages: { against: 'Yield {yield} at wall temperature; each root carries {mass:mass} at {arm:length}.' },
  since: 1,
  subjects: (spec): readonly Subject[] =>
    spec.runners.length === 0 ? [] : [{ kind: 'job', id: 'header', name: 'Runner roots under the turbo' }],
  reads: (context) => {
    const { tube, turbo } = context.spec;
    const temperature = at<number>('tube.wallTemperature', tube.wallTemperature);
    const outsideDiameter = at<number>('tube.outsideDiameter', tube.outsideDiameter);
    const wall = at<number>('tube.wall', tube.wall);
    return {
      limitNote: yieldSource(context, 'tube'),
      yieldStrength: metalProperty(context, 'tube', 'yield', temperature),
      sectionModulus: derive({ outsideDiameter, wall }, (v) => tubeSectionModulus.evaluate(v)),
      mass: at<number>('turbo.mass', turbo.mass),
      arm: at<number>('turbo.arm', turbo.arm),
      dynamicFactor: at<number>('turbo.dynamicFactor', turbo.dynamicFactor),
      unsupportedShare: at<number>('turbo.unsupportedShare', turbo.unsupportedShare),
      sharing: at<number>('turbo.sharingRunners', turbo.sharingRunners),
      runners: known(context.spec.runners.length),
      jointFactor: at<number>('turbo.jointFactor', turbo.jointFactor),
    };
  },
  evaluate: ({ limitNote, yieldStrength, mass, arm, dynamicFactor, sharing, runners, jointFactor, ...beam }) => {
    if (sharing > runners) {
      const detail = `expected at most the ${runners} runners there are to share the turbo, got ${sharing}`;
      return { status: 'unknown', why: { reason: 'inconsistent', detail, paths: ['turbo.sharingRunners'] } };
    }
    const each = mass / sharing;
    const nominal = cantileverBendingStress.evaluate({
      ...beam,
      mass: each,
      arm,
      dynamicFactor: dynamicFactor + deadWeight,
    });
    if (!nominal.known) return { status: 'unknown', why: nominal.why };
    return judge(jointFactor * nominal.value, {
      limit: { kind: 'max', value: yieldStrength / factor },
      message: 'against',
      data: { yield: yieldStrength, mass: each * beam.unsupportedShare, arm },
      limitNote,
    });
  },
});
