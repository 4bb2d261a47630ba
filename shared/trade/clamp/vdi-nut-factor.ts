import { defineFormula } from '../formula.ts';
import { metricThread, threadFault } from './metric-thread.ts';

/** Nut factor K that the friction coefficients stand for, dimensionless. */
export const vdiNutFactor = defineFormula({
  id: 'vdi-nut-factor',
  title: 'Nut factor from friction coefficients',
  inputs: {
    diameter: { quantity: 'length', range: [1e-3, 0.1], help: 'd, nominal thread diameter' },
    pitch: { quantity: 'length', range: [1e-4, 1e-2], help: 'P, pitch' },
    threadFriction: { quantity: 'ratio', range: [0, 0.6], help: 'mu_G, friction in the thread' },
    headFriction: { quantity: 'ratio', range: [0, 0.6], help: 'mu_K, friction under head or nut' },
    bearingDiameter: { quantity: 'length', range: [1e-3, 0.2], help: 'D_Km, mean bearing diameter' },
  },
  output: { quantity: 'ratio', help: 'K = (0.16 P + 0.58 d2 mu_G + D_Km mu_K / 2) / d' },
  source: { document: 'VDI 2230 sheet 1', trust: 'memory' },
  examples: [
    {
      inputs: { diameter: 8e-3, pitch: 1.25e-3, threadFriction: 0.12, headFriction: 0.12, bearingDiameter: 10.315e-3 },
      expected: 0.165,
      tolerance: 5e-3,
      source: { document: 'own arithmetic', clause: 'M8, mu 0.12', trust: 'own' },
    },
  ],
  compute({ diameter, pitch, threadFriction, headFriction, bearingDiameter }) {
    const { pitchDiameter } = metricThread(diameter, pitch);
    const fault = threadFault('vdi-nut-factor', diameter, pitch);
    if (fault) return fault;
    return (0.16 * pitch + 0.58 * pitchDiameter * threadFriction + (bearingDiameter / 2) * headFriction) / diameter;
  },
});
