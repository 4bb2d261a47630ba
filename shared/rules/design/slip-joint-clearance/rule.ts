import { metalProperty } from '../../../quantities/metal.ts';
import type { Spec } from '../../../spec/spec.ts';
import { slipJointHotClearance } from '../../../trade/strength/slip-joint-hot-clearance.ts';
import { slipJointLoss } from '../../../trade/strength/slip-joint-loss.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Temperature both tubes were measured at, K. */
const cold = 293.15;
/** Least working clearance on the diameter, m. */
const working = 0.05e-3;

/** Clearance left in a slip joint when the inner tube is hotter than the outer one. */
export const slipJointClearance = defineRule({
  id: 'slip-joint-clearance',
  gate: 'design',
  title: 'Require working clearance in a hot slip joint',
  severity: 'block',
  adjustable: 'min',
  branches: ['slipJoints', 'tube', 'materials'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'cold diametral clearance less what heat takes >= 0.05 mm',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: '0.05 to 0.15 mm of working clearance; the loss is arithmetic on mean expansion coefficients',
  },
  validity:
    'Both tubes of the runner alloy, round, each at one temperature. Scale, distortion and roundness are not in it.',
  hazard: 'A joint that closes up seizes; the next heat bends the runner or cracks the weld beside it.',
  remedy: 'Open the cold clearance, or move the joint to where the outer tube gets as hot as the inner one.',
  messages: { loses: 'Heat takes {loss} of {cold} cold clearance.' },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'slipJoints'>[] =>
    spec.slipJoints.map((row) => ({ kind: 'joint', id: row.id, name: nameOf(row), row })),
  reads: (context, { row }) => {
    const path = `slipJoints.${row.id}`;
    const maleTemperature = at<number>(`${path}.innerTemperature`, row.innerTemperature);
    const femaleTemperature = at<number>(`${path}.outerTemperature`, row.outerTemperature);
    const expansion = (temperature: typeof maleTemperature) => metalProperty(context, 'tube', 'expansion', temperature);
    return {
      coldClearance: at<number>(`${path}.clearance`, row.clearance),
      loss: derive(
        {
          diameter: at<number>(`${path}.diameter`, row.diameter),
          maleExpansion: expansion(maleTemperature),
          maleTemperature,
          femaleExpansion: expansion(femaleTemperature),
          femaleTemperature,
        },
        (v) => slipJointLoss.evaluate({ ...v, referenceTemperature: cold }),
      ),
    };
  },
  evaluate: ({ coldClearance, loss }) => {
    const hot = slipJointHotClearance.evaluate({ coldClearance, loss });
    if (!hot.known) return { status: 'unknown', why: hot.why };
    return judge(hot.value, {
      limit: { kind: 'min', value: working },
      // 5 % of a limit from practice, and 3 % of the loss for the expansion table.
      guard: 0.05 * working + 0.03 * Math.abs(loss),
      message: 'loses',
      data: { loss, cold: coldClearance },
    });
  },
});
