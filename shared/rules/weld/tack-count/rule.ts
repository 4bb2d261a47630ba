import type { Spec } from '../../../spec/spec.ts';
import { tackCount as count } from '../../../trade/weld/tack-count.ts';
import { tackSpacing } from '../../../trade/weld/tack-spacing.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Greatest distance between tacks, m. */
const widest = 0.03;
/** Least number of tacks whatever the diameter. */
const least = 4;

/** Tacks of each joint, by the distance between them. */
export const tackCount = defineRule({
  id: 'tack-count',
  gate: 'weld',
  title: 'Require enough tacks round a joint',
  severity: 'block',
  adjustable: false,
  branches: ['joints'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'distance between tacks <= 30 mm, and at least 4 tacks',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: '20 to 30 mm or every 60 to 90 degrees; logic of spacing and order from a welding institute page',
  },
  validity: 'Round joints of thin wall, tacks of 2 to 4 mm evenly spaced and purged like the weld.',
  hazard: 'With too few tacks the gap opens or closes ahead of the pool, the runner walks, and the root is missed.',
  remedy: 'Add tacks on opposite sides in turn (1-3-2-4).',
  messages: { needed: '{needed:count} tacks are needed, {tacks:count} are stated.' },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'joints'>[] =>
    spec.joints.map((row) => ({ kind: 'joint', id: row.id, name: nameOf(row), row })),
  reads: (_context, { row }) => {
    const outsideDiameter = at<number>(`joints.${row.id}.outsideDiameter`, row.outsideDiameter);
    const tacks = at<number>(`joints.${row.id}.tacks`, row.tacks);
    return {
      tacks,
      spacing: derive({ outsideDiameter, tacks }, (v) => tackSpacing.evaluate(v)),
      // The distance that the least number leaves: on a small tube it is the stricter of the two.
      quarter: derive({ outsideDiameter }, (v) => tackSpacing.evaluate({ ...v, tacks: least })),
      needed: derive({ outsideDiameter }, (v) => count.evaluate({ ...v, spacing: widest, minimum: least })),
    };
  },
  evaluate: ({ spacing, quarter, needed, tacks }) =>
    judge(spacing, {
      limit: { kind: 'max', value: Math.min(widest, quarter) },
      // The number of tacks has no spread, the 30 mm have the 5 % of a limit from practice.
      guard: quarter < widest ? 0 : 0.05 * widest,
      message: 'needed',
      data: { needed, tacks },
    }),
});
