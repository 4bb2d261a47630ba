import { defineFormula } from '../formula.ts';

/** Convection coefficient inside a bore, W/(m2.K), from the Nusselt number. */
export const boreHeatTransfer = defineFormula({
  id: 'bore-heat-transfer',
  title: 'Convection coefficient inside a bore',
  inputs: {
    nusselt: { quantity: 'ratio', range: [1, 1e5], help: 'Nu, Nusselt number of the bore' },
    conductivity: { quantity: 'conductivity', range: [0.005, 1], help: 'k, of the gas' },
    bore: { quantity: 'length', range: [1e-3, 1], help: 'D, inside diameter' },
  },
  output: { quantity: 'heatTransfer', help: 'h = Nu k / D' },
  source: { document: 'definition of the Nusselt number', trust: 'memory' },
  examples: [
    {
      inputs: { nusselt: 131.5, conductivity: 0.0846, bore: 0.0409 },
      expected: 272,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'wall balance, example E-26', trust: 'own' },
    },
  ],
  compute({ nusselt, conductivity, bore }) {
    return (nusselt * conductivity) / bore;
  },
});
