import { threads } from '../../../trade/data/threads.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

/** Least engagement in thread diameters by the metal that is tapped. */
const least = { aluminium: 2, iron: 1.25 } as const;

/** Engaged length of the head studs in thread diameters. */
export const threadEngagement = defineRule({
  id: 'thread-engagement',
  gate: 'design',
  title: 'Require enough full threads of each stud in the head',
  severity: 'block',
  adjustable: false,
  branches: ['stud', 'head'],
  cost: 'cheap',
  quantity: 'ratio',
  limit: 'engaged length / thread diameter >= 2 in aluminium, 1.25 in iron',
  source: { document: 'engine maker manual: 2 d in aluminium, 1.25 d in steel or iron', trust: 'excerpt' },
  validity:
    'Full threads in sound metal at ordinary head temperature. Aluminium past about 200 C has lost a third of its strength: take 2.5 d or inserts. Worn threads are not in it.',
  hazard: 'Threads that strip let the flange lift: hot gas at the head, and a head that has to come off to be mended.',
  remedy: 'Take longer studs, tap deeper, or fit thread inserts and state their length.',
  messages: { needs: 'Needs {need:length} of full thread in {metal}.' },
  since: 1,
  subjects: (): readonly Subject[] => [{ kind: 'job', id: 'studs', name: 'Head studs' }],
  reads: ({ spec: { stud, head } }) => ({
    engagement: at<number>('stud.engagement', stud.engagement),
    diameter: derive({ thread: at('stud.thread', stud.thread) }, ({ thread }) => threads[thread].diameter),
    metal: at('head.metal', head.metal),
  }),
  evaluate: ({ engagement, diameter, metal }) =>
    judge(engagement / diameter, {
      limit: { kind: 'min', value: least[metal] },
      message: 'needs',
      data: { need: least[metal] * diameter, metal },
    }),
});
