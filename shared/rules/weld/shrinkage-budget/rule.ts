import type { Spec } from '../../../spec/spec.ts';
import { chainShrinkage } from '../../../trade/weld/chain-shrinkage.ts';
import { shrinkageHigh } from '../../../trade/weld/shrinkage-high.ts';
import { shrinkageLow } from '../../../trade/weld/shrinkage-low.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge, type Outcome } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Walls the handbook formula was tried on here, m. */
const walls: readonly [number, number] = [1e-3, 3e-3];

/** Summed transverse shrinkage of a chain of joints against the length that was added for it. */
export const shrinkageBudget = defineRule({
  id: 'shrinkage-budget',
  gate: 'weld',
  title: 'Require enough added length for weld shrinkage',
  severity: 'block',
  adjustable: false,
  branches: ['chains'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'joints x (0.20 x section / wall + 0.05 x root gap) <= slack of the chain',
  source: {
    document: 'welding handbook (Blodgett), transverse shrinkage, upper estimate',
    trust: 'memory',
    note: 'a widely copied metric form with 5.08 and 1.27 is wrong by 25.4; calibrate on a coupon',
  },
  validity: 'Butt welds alike in wall and bead, 1 to 3 mm, free to shrink. Across the seam only, no bending.',
  hazard: 'A chain that comes out short pulls the flanges together: studs and gasket carry it, or it will not fit.',
  remedy: 'Add half the shrinkage of a joint to each of its stubs, weld fewer joints, cut the last flange afterwards.',
  messages: { estimates: 'Low estimate {low}, high estimate {high} for {joints:count} joints.' },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'chains'>[] =>
    spec.chains.map((row) => ({ kind: 'reading', id: row.id, name: nameOf(row), row })),
  reads: (_context, { row }) => {
    const weldArea = at<number>(`chains.${row.id}.weldArea`, row.weldArea);
    const wall = at<number>(`chains.${row.id}.wall`, row.wall);
    const rootGap = at<number>(`chains.${row.id}.rootGap`, row.rootGap);
    const joints = at<number>(`chains.${row.id}.joints`, row.joints);
    const low = derive({ weldArea, wall }, (v) => shrinkageLow.evaluate(v));
    const high = derive({ weldArea, wall, rootGap }, (v) => shrinkageHigh.evaluate(v));
    return {
      wall,
      joints,
      low: derive({ joints, shrinkage: low }, (v) => chainShrinkage.evaluate(v)),
      high: derive({ joints, shrinkage: high }, (v) => chainShrinkage.evaluate(v)),
      slack: at<number>(`chains.${row.id}.slack`, row.slack),
    };
  },
  evaluate: ({ wall, joints, low, high, slack }): Outcome => {
    if (wall < walls[0] || wall > walls[1]) {
      const input = 'wall in the chain';
      return { status: 'unknown', why: { reason: 'outOfValidity', input, value: wall, range: walls, unit: 'length' } };
    }
    return judge(high, {
      limit: { kind: 'max', value: slack },
      // The formula is from memory: 5 % of what it gives.
      guard: 0.05 * high,
      message: 'estimates',
      data: { low, high, joints },
    });
  },
});
