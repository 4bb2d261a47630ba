import { preloadAfterLoss } from '../trade/clamp/preload-after-loss.ts';
import { preloadFromTorque } from '../trade/clamp/preload-from-torque.ts';
import { threads } from '../trade/data/threads.ts';
import { at, derive, type Known, known } from '../units/known.ts';
import type { FactContext } from './context.ts';

/** Force of one stud, N. */
export interface StudForces {
  /** Least: low end of the scatter, after loss. */
  readonly low: number;
  /** Greatest: high end of the scatter, just tightened. */
  readonly high: number;
}

/** Range of the force of one head stud, from torque, nut factor, scatter and loss. */
export function studForces(context: FactContext): Known<StudForces> {
  const { stud } = context.spec;
  const { thread, torque, nutFactor, preloadScatter, preloadLoss } = stud;
  return context.memo('stud-forces', [thread, torque, nutFactor, preloadScatter, preloadLoss], () =>
    derive(
      {
        nominal: derive(
          {
            thread: at('stud.thread', thread),
            torque: at<number>('stud.torque', torque),
            nutFactor: at<number>('stud.nutFactor', nutFactor),
          },
          (v) => preloadFromTorque.evaluate({ ...v, diameter: threads[v.thread].diameter }),
        ),
        scatter: at<number>('stud.preloadScatter', preloadScatter),
        loss: at<number>('stud.preloadLoss', preloadLoss),
      },
      ({ nominal, scatter, loss }) => {
        const low = preloadAfterLoss.evaluate({ preload: nominal * (1 - scatter), lostShare: loss });
        return derive({ low }, (v): Known<StudForces> => known({ low: v.low, high: nominal * (1 + scatter) }));
      },
    ),
  );
}
