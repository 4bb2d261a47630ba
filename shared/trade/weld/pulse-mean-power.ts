import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { pulsePower } from './pulse-power.ts';

/** True mean power of a pulsed arc, W: mean current times mean voltage misses a part of it. */
export const pulseMeanPower = defineFormula({
  id: 'pulse-mean-power',
  title: 'Mean power of a pulsed arc',
  inputs: {
    peak: { quantity: 'current', range: [0.5, 1000], help: 'I_p' },
    background: { quantity: 'current', range: [0, 1000], help: 'I_b' },
    peakVoltage: { quantity: 'voltage', range: [1, 60], help: 'U_p' },
    backgroundVoltage: { quantity: 'voltage', range: [1, 60], help: 'U_b' },
    duty: { quantity: 'share', range: [0, 1], help: 'D, share of the time at peak' },
  },
  output: { quantity: 'power', help: 'P = D U_p I_p + (1 - D) U_b I_b' },
  source: { document: 'own: definition of mean power', trust: 'own' },
  examples: [
    {
      inputs: { peak: 100, background: 20, peakVoltage: 12, backgroundVoltage: 9, duty: 0.4 },
      expected: 588,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '100 A at 12 V for 40 %, 20 A at 9 V', trust: 'own' },
    },
  ],
  compute: (pulse) => derive({ mean: pulsePower(pulse) }, ({ mean }) => mean.power),
});
