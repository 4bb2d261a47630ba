import { jointReach } from '../../../quantities/access.ts';
import type { Spec } from '../../../spec/spec.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Share of each seam that the stated torch gets at. */
export const torchAccess = defineRule({
  id: 'torch-access',
  gate: 'weld',
  title: 'Require that the torch gets at every seam all round',
  severity: 'block',
  adjustable: false,
  branches: ['joints', 'tools', 'runners', 'tube', 'flange', 'pieces', 'route'],
  cost: 'measured',
  quantity: 'share',
  limit: '100 % of the seam within reach of the stated torch',
  source: { document: 'own: a seam that is not closed leaks', trust: 'own' },
  validity:
    'Round seams on a runner, off the car. Runners whose joints are numbered later are not there yet; without numbers all are. 28 places, 128 leans each; torch only, not the hand, the hose, the rod or the view.',
  hazard: 'A blind arc is welded by feel or not at all: it leaks, cracks first, and sugar grows on its root.',
  remedy:
    'Give this joint an earlier number than its neighbours, use a shorter cup or a small torch and state it, or part the tubes.',
  messages: { reached: 'Longest blind arc {blind:length}.' },
  since: 3,
  subjects: (spec: Spec): readonly RowSubject<'joints'>[] =>
    spec.joints.map((row) => ({ kind: 'joint', id: row.id, name: nameOf(row), row })),
  reads: (context, { row }) => ({ reach: jointReach(context, row) }),
  evaluate: ({ reach }) =>
    judge(reach.share, {
      limit: { kind: 'min', value: 1 },
      // Nothing is more than all of it: at the limit it is not close to failing.
      guard: 0,
      message: 'reached',
      data: { blind: reach.blind },
      ...(reach.at && { witness: { at: reach.at } }),
    }),
});
