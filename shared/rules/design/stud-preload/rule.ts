import { studHotProofLoad } from '../../../trade/clamp/hot-proof-load.ts';
import { preloadFromTorque } from '../../../trade/clamp/preload-from-torque.ts';
import { threads } from '../../../trade/data/threads.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

/** Preload of the head studs against their hot proof load. */
export const studPreload = defineRule({
  id: 'stud-preload',
  gate: 'design',
  title: 'Require a stud preload between half and three quarters of the hot proof load',
  severity: 'block',
  adjustable: 'range',
  branches: ['stud'],
  cost: 'cheap',
  quantity: 'share',
  limit: 'preload / hot proof load 50 to 75 %',
  source: {
    document:
      '75 % of proof for joints to be reopened (machine design texts); 50 to 70 % of hot yield on exhaust studs is common practice',
    trust: 'practice',
  },
  validity:
    'Nominal torque and nut factor; real preload scatters by +-25 to 35 %. Relaxation, embedding and thermal preload change are not in it.',
  hazard:
    'Too little and the joint leaks or the nut backs off; too much and the hot stud yields, stretches and leaks after the first heat.',
  remedy: 'Change the torque, or the property class when the hot proof load is what is short.',
  messages: { loads: 'Preload {preload:force}, hot proof load {proof:force}.' },
  since: 1,
  subjects: (): readonly Subject[] => [{ kind: 'job', id: 'studs', name: 'Head studs' }],
  reads: (context) => {
    const { stud } = context.spec;
    const thread = at('stud.thread', stud.thread);
    return {
      preload: derive(
        {
          thread,
          torque: at<number>('stud.torque', stud.torque),
          nutFactor: at<number>('stud.nutFactor', stud.nutFactor),
        },
        (v) => preloadFromTorque.evaluate({ ...v, diameter: threads[v.thread].diameter }),
      ),
      proof: derive(
        {
          thread,
          propertyClass: at('stud.propertyClass', stud.propertyClass),
          temperature: at<number>('stud.temperature', stud.temperature),
        },
        (v) => studHotProofLoad(v.thread, v.propertyClass, v.temperature),
      ),
    };
  },
  evaluate: ({ preload, proof }) =>
    judge(preload / proof, {
      limit: { kind: 'range', low: 0.5, high: 0.75 },
      message: 'loads',
      data: { preload, proof },
    }),
});
