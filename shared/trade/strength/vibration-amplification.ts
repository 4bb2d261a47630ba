import { unknown } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';

/** Undamped amplification of a one-mass system; refused within 5 % of resonance, where damping decides. */
export const vibrationAmplification = defineFormula({
  id: 'vibration-amplification',
  title: 'Vibration amplification without damping',
  inputs: {
    frequencyRatio: { quantity: 'ratio', range: [0, 20], help: 'r, excitation frequency over natural frequency' },
  },
  output: { quantity: 'ratio', help: 'amplification = 1 / |1 - r^2|' },
  source: { document: 'one-mass oscillator without damping, any vibration text', trust: 'memory' },
  examples: [
    {
      inputs: { frequencyRatio: 0.7 },
      expected: 1.96,
      tolerance: 2e-3,
      source: { document: 'own arithmetic', clause: 'r = 0.7', trust: 'own' },
    },
  ],
  compute({ frequencyRatio }) {
    if (Math.abs(frequencyRatio - 1) < 0.05) {
      return unknown({
        reason: 'outOfValidity',
        input: 'vibration-amplification: frequencyRatio',
        value: frequencyRatio,
        range: frequencyRatio < 1 ? [0, 0.95] : [1.05, 20],
        unit: 'ratio',
      });
    }
    return 1 / Math.abs(1 - frequencyRatio ** 2);
  },
});
