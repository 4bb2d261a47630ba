import type { Spec } from '../../../spec/spec.ts';
import { hiLoLimit } from '../../../trade/weld/hi-lo-limit.ts';
import { weldQualityLimit } from '../../../trade/weld/weld-quality.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Step of the walls across each joint as fitted. */
export const jointStep = defineRule({
  id: 'joint-step',
  gate: 'fit-up',
  title: 'Limit the step of the walls across a joint',
  severity: 'block',
  adjustable: false,
  branches: ['joints'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'step <= 0.5 x wall, at most 2 mm (ISO 5817 level B, round joints); caution above min(0.2 x wall, 0.3 mm)',
  source: {
    document: 'ISO 5817, imperfection 507, circumferential, level B',
    trust: 'memory',
    note: 'the tighter limit is common practice: the standard is loose for a gas path',
  },
  validity: 'Round butt joints of tube. The tighter limit is for walls of 1 to 2 mm and is kept at 0.3 mm above.',
  hazard:
    'A step trips the gas and takes the heat: its edge burns, the root is missed behind it, and cracks start there.',
  remedy: 'Turn the tube to its best place, round the end or dress the high side in the bore.',
  messages: { own: 'For the gas path at most {own}; level B allows {standard}.' },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'joints'>[] =>
    spec.joints.map((row) => ({ kind: 'joint', id: row.id, name: nameOf(row), row })),
  reads: (_context, { row }) => {
    const wall = at<number>(`joints.${row.id}.wall`, row.wall);
    return {
      own: derive({ wall }, (v) => hiLoLimit.evaluate(v)),
      // The width of the bead has no part in a step.
      standard: derive({ wall }, (v) =>
        derive({ level: weldQualityLimit('step-round', 'B', { ...v, beadWidth: 0 }) }, ({ level }) => level.limit),
      ),
      step: at<number>(`joints.${row.id}.step`, row.step),
    };
  },
  evaluate: ({ own, standard, step }) =>
    judge(step, {
      limit: { kind: 'max', value: standard },
      advisory: { kind: 'max', value: own },
      guard: 0.05 * own,
      message: 'own',
      data: { own, standard },
    }),
});
