import { pulsePairing as pairing } from '../../../quantities/pulsePairing.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

const degree = Math.PI / 180;
/** Crank angle an exhaust stays open, roughly: nearer pulses of one entry run into each other. */
const clear = 240 * degree;

/** Smallest crank angle between two pulses that enter a divided turbine by the same entry. */
export const pulsePairing = defineRule({
  id: 'pulse-pairing',
  gate: 'design',
  title: 'Require pulses of one turbine entry to lie apart',
  severity: 'block',
  adjustable: false,
  branches: ['runners', 'engine', 'outlet'],
  cost: 'cheap',
  quantity: 'angle',
  limit: 'pulses of one entry >= 240 deg of crank apart, or as far as the best split of these cylinders allows',
  source: {
    document: 'pulse turbocharging text, three cylinders an entry as the classical ideal',
    trust: 'excerpt',
    note: 'exhausts are open for about 240 deg; cams of 250 to 290 deg still overlap a little at 240',
  },
  validity: 'A turbine inlet divided in two, one runner a cylinder, up to 12 cylinders; any firing intervals.',
  hazard:
    'A pulse that arrives in a cylinder still exhausting pushes hot gas back into it: knock, and boost comes late.',
  remedy: 'Swap runners between the entries towards the best split named.',
  messages: { split: 'Entries {split}; the best split is {bestSplit}, {best} apart.' },
  since: 1,
  subjects: ({ runners, outlet }): readonly Subject[] =>
    runners.length === 0 || outlet.entries === 1 ? [] : [{ kind: 'job', id: 'header', name: 'Turbine entries' }],
  reads: (context) => ({
    entries: at<number>('outlet.entries', context.spec.outlet.entries),
    pairing: pairing(context),
  }),
  evaluate: ({ pairing: { separation, best, split, bestSplit } }) =>
    judge(separation, {
      // Sums of intervals round differently for different splits: a hair below the best is the best.
      limit: { kind: 'min', value: Math.min(clear, best) - 1e-9 },
      message: 'split',
      data: { split, best, bestSplit },
    }),
});
