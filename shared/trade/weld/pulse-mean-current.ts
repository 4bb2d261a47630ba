import { defineFormula } from '../formula.ts';

/** Mean current of a rectangular pulse, A. */
export const pulseMeanCurrent = defineFormula({
  id: 'pulse-mean-current',
  title: 'Mean current of a pulsed arc',
  inputs: {
    peak: { quantity: 'current', range: [0.5, 1000], help: 'I_p, peak' },
    background: { quantity: 'current', range: [0, 1000], help: 'I_b, background' },
    duty: { quantity: 'share', range: [0, 1], help: 'D, share of the time at peak' },
  },
  output: { quantity: 'current', help: 'I_m = D I_p + (1 - D) I_b' },
  source: { document: 'definition', trust: 'memory', note: 'duty as printed in an equipment manual' },
  examples: [
    {
      inputs: { peak: 100, background: 25, duty: 0.4 },
      expected: 55,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '100 A peak, 25 A background, 40 % on', trust: 'own' },
    },
  ],
  compute({ peak, background, duty }) {
    return duty * peak + (1 - duty) * background;
  },
});
