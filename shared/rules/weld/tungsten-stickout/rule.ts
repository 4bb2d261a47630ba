import type { Spec } from '../../../spec/spec.ts';
import { stickOutLimit } from '../../../trade/weld/stick-out-limit.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Stick-out in tungsten diameters: in general, and with a gas lens out of draughts. */
const general = 3;
const sheltered = 6;

/** How far the tungsten stands out of the cup, for each joint. */
export const tungstenStickout = defineRule({
  id: 'tungsten-stickout',
  gate: 'weld',
  title: 'Limit the tungsten stick-out',
  severity: 'block',
  adjustable: false,
  branches: ['joints'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'stick-out <= 3 x tungsten diameter; with a gas lens <= 6 x, caution above 3 x',
  source: { document: 'torch maker handbook page', trust: 'excerpt', note: '6 x only with a gas lens out of draughts' },
  validity: 'Argon, manual torch, tungstens of 0.5 to 6 mm. The draught in the shop is not looked at.',
  hazard: 'Beyond the shield of the cup the pool oxidises: titanium turns brittle, 625 and stainless crack from oxide.',
  remedy: 'Fit a gas lens or a slimmer cup, shorten the stick-out, or come at the joint from another side.',
  messages: { shielded: 'Tungsten {tungsten}; {times:ratio} diameters allowed with this cup.' },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'joints'>[] =>
    spec.joints.map((row) => ({ kind: 'joint', id: row.id, name: nameOf(row), row })),
  reads: (_context, { row }) => {
    const tungsten = at<number>(`joints.${row.id}.tungsten`, row.tungsten);
    return {
      tungsten,
      general: derive({ tungsten }, (v) => stickOutLimit.evaluate({ ...v, factor: general })),
      sheltered: derive({ tungsten }, (v) => stickOutLimit.evaluate({ ...v, factor: sheltered })),
      stickOut: at<number>(`joints.${row.id}.stickOut`, row.stickOut),
      cup: at(`joints.${row.id}.cup`, row.cup),
    };
  },
  evaluate: ({ stickOut, cup, tungsten, ...limits }) => {
    const lens = cup === 'gas-lens';
    return judge(stickOut, {
      limit: { kind: 'max', value: lens ? limits.sheltered : limits.general },
      ...(lens && { advisory: { kind: 'max', value: limits.general } }),
      message: 'shielded',
      data: { tungsten, times: lens ? sheltered : general },
    });
  },
});
