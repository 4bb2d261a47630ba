import type { Spec } from '../../../spec/spec.ts';
import { currentWindow } from '../../../trade/weld/current-window.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge, type Outcome } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Walls of the thin-sheet tables the window was drawn from, m. */
const walls: readonly [number, number] = [0.8e-3, 3e-3];

/** Mean current of each joint against a window that grows with the wall. */
export const weldCurrent = defineRule({
  id: 'weld-current',
  gate: 'weld',
  title: 'Require a welding current that suits the wall',
  severity: 'block',
  adjustable: false,
  branches: ['joints'],
  cost: 'cheap',
  quantity: 'current',
  limit: 'mean current 0.65 to 1.0 x 39.4 A per mm of wall',
  source: {
    document: 'welding supplier reference chart (1 A per 0.001 in) and a public thin-sheet table',
    trust: 'excerpt',
    note: 'the lower share is own: the table has 0.68 of the chart for stainless, 0.76 for mild steel',
  },
  validity: 'Closed butt of stainless or 625, TIG, electrode negative, argon, walls of 0.8 to 3 mm.',
  hazard: 'Too little leaves the root open, and it cracks in service; too much burns through or sags into the bore.',
  remedy: 'Bring the current into the window; open the joint rather than force penetration in 625.',
  messages: { window: 'Start at {low} to {high} on a closed butt.' },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'joints'>[] =>
    spec.joints.map((row) => ({ kind: 'joint', id: row.id, name: nameOf(row), row })),
  reads: (_context, { row }) => ({
    wall: at<number>(`joints.${row.id}.wall`, row.wall),
    current: at<number>(`joints.${row.id}.current`, row.current),
  }),
  evaluate: ({ wall, current }): Outcome => {
    if (wall < walls[0] || wall > walls[1]) {
      const input = 'wall at the joint';
      return { status: 'unknown', why: { reason: 'outOfValidity', input, value: wall, range: walls, unit: 'length' } };
    }
    const window = currentWindow(wall);
    if (!window.known) return { status: 'unknown', why: window.why };
    const { low, high, top } = window.value;
    return judge(current, {
      limit: { kind: 'range', low, high: top },
      // Read in excerpts: 3 % of the limit itself, not of the width of the window.
      guard: 0.03 * low,
      message: 'window',
      data: { low, high },
    });
  },
});
