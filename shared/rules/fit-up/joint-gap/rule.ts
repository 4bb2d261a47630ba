import type { Spec } from '../../../spec/spec.ts';
import { rootGapLimit } from '../../../trade/weld/root-gap-limit.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge, type Outcome } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Share of the wall a gap may have anywhere round the joint. */
const share = 0.25;
/** Thickest wall of this kind of work, m. */
const thickest = 4e-3;

/** Root gap of each joint as fitted. */
export const jointGap = defineRule({
  id: 'joint-gap',
  gate: 'fit-up',
  title: 'Limit the root gap of a joint',
  severity: 'block',
  adjustable: false,
  branches: ['joints'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'largest gap <= 0.25 x wall, at most 0.25 mm below 2.5 mm wall and 0.76 mm from there',
  source: {
    document: 'AWS D17.1:2017 annex A, a joint figure; 0.25 x wall is common practice',
    trust: 'uncertain',
    note: 'the figure was read by character recognition and its sign is inferred',
  },
  validity: 'Butt joints of tube, walls up to 4 mm, welded with filler. Without filler the gap has to be light-tight.',
  hazard: 'A wide gap burns through or is bridged with a thin, cold seam that cracks and leaks hot gas.',
  remedy: 'Fit the stub again or cut a new one; do not fill the gap with rod.',
  messages: { governs: '{share} by the wall, {figure} by the figure; the smaller governs.' },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'joints'>[] =>
    spec.joints.map((row) => ({ kind: 'joint', id: row.id, name: nameOf(row), row })),
  reads: (_context, { row }) => {
    const wall = at<number>(`joints.${row.id}.wall`, row.wall);
    return {
      wall,
      figure: derive({ wall }, (v) => rootGapLimit.evaluate(v)),
      gap: at<number>(`joints.${row.id}.rootGap`, row.rootGap),
    };
  },
  evaluate: ({ wall, figure, gap }): Outcome => {
    if (wall > thickest) {
      const range: readonly [number, number] = [0, thickest];
      const input = 'wall at the joint';
      return { status: 'unknown', why: { reason: 'outOfValidity', input, value: wall, range, unit: 'length' } };
    }
    const value = Math.min(share * wall, figure);
    // An uncertain limit: 10 %.
    return judge(gap, {
      limit: { kind: 'max', value },
      guard: 0.1 * value,
      message: 'governs',
      data: { share: share * wall, figure },
    });
  },
});
