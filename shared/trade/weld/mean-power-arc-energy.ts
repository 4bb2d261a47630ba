import { defineFormula } from '../formula.ts';
import { arcEnergyFromPower } from './pulse-power.ts';

/** Heat per length of a waveform-controlled arc from its mean power, J/m; no efficiency in it. */
export const meanPowerArcEnergy = defineFormula({
  id: 'mean-power-arc-energy',
  title: 'Arc energy from mean power',
  inputs: {
    power: { quantity: 'power', range: [0, 60000], help: 'P, mean' },
    time: { quantity: 'time', range: [0.1, 1e5], help: 't, arc on' },
    length: { quantity: 'length', range: [1e-3, 100], help: 'L, of the seam' },
  },
  output: { quantity: 'heatPerLength', help: 'E = P t / L' },
  source: { document: 'ASME BPVC IX QW-409.1(c)', clause: 'instantaneous power form', trust: 'memory' },
  examples: [
    {
      inputs: { power: 900, time: 60, length: 0.12 },
      expected: 450000,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '900 W for 60 s over 120 mm', trust: 'own' },
    },
  ],
  compute: ({ power, time, length }) => arcEnergyFromPower(power, time, length),
});
