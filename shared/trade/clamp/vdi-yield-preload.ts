import { defineFormula } from '../formula.ts';
import { metricThread, threadFault } from './metric-thread.ts';

/** Assembly preload that loads the thread to a share of its yield under tension and torsion, N. */
export const vdiYieldPreload = defineFormula({
  id: 'vdi-yield-preload',
  title: 'Preload at 90 % of yield while tightening',
  inputs: {
    diameter: { quantity: 'length', range: [1e-3, 0.1], help: 'd, nominal thread diameter' },
    pitch: { quantity: 'length', range: [1e-4, 1e-2], help: 'P, pitch' },
    yieldStrength: { quantity: 'stress', range: [1e7, 2e9], help: 'Rp0.2 of the stud' },
    threadFriction: { quantity: 'ratio', range: [0, 0.6], help: 'mu_G, friction in the thread' },
    utilisation: { quantity: 'share', range: [0.1, 1], help: 'share of yield used while tightening', fallback: 0.9 },
  },
  output: { quantity: 'force', help: 'F = nu Rp0.2 As / sqrt(1 + 3 (1.5 d2/dS (P/(pi d2) + 1.155 mu_G))^2)' },
  source: { document: 'VDI 2230 sheet 1', trust: 'memory', note: 'meets a published fine-thread table within 0.5 %' },
  examples: [
    {
      inputs: { diameter: 8e-3, pitch: 1e-3, yieldStrength: 640e6, threadFriction: 0.1, utilisation: 0.9 },
      expected: 20.7e3,
      tolerance: 5e-3,
      source: {
        document: 'VDI 2230 sheet 1, fine-thread table',
        clause: 'vector 2.8: M8x1 class 8.8, mu 0.10',
        trust: 'excerpt',
      },
    },
    {
      inputs: { diameter: 12e-3, pitch: 1.75e-3, yieldStrength: 640e6, threadFriction: 0.14, utilisation: 0.9 },
      expected: 41.9e3,
      tolerance: 5e-3,
      source: { document: 'VDI 2230 sheet 1, coarse-thread page', clause: 'M12 class 8.8, mu 0.14', trust: 'excerpt' },
    },
  ],
  compute({ diameter, pitch, yieldStrength, threadFriction, utilisation }) {
    const { pitchDiameter, rootDiameter } = metricThread(diameter, pitch);
    const fault = threadFault('vdi-yield-preload', diameter, pitch);
    if (fault) return fault;
    const stressDiameter = (pitchDiameter + rootDiameter) / 2;
    const area = (Math.PI / 4) * stressDiameter ** 2;
    const lead = pitch / (Math.PI * pitchDiameter) + 1.155 * threadFriction;
    const torsion = 1.5 * (pitchDiameter / stressDiameter) * lead;
    return (utilisation * yieldStrength * area) / Math.sqrt(1 + 3 * torsion ** 2);
  },
});
