import { defineFormula } from '../formula.ts';
import { metricThread, threadFault } from './metric-thread.ts';

/** Torque that gives an assembly preload, N.m, from pitch and the two friction coefficients. */
export const vdiTighteningTorque = defineFormula({
  id: 'vdi-tightening-torque',
  title: 'Tightening torque from friction coefficients',
  inputs: {
    preload: { quantity: 'force', range: [0, 1e6], help: 'F_M, assembly preload' },
    diameter: { quantity: 'length', range: [1e-3, 0.1], help: 'd, nominal thread diameter' },
    pitch: { quantity: 'length', range: [1e-4, 1e-2], help: 'P, pitch' },
    threadFriction: { quantity: 'ratio', range: [0, 0.6], help: 'mu_G, friction in the thread' },
    headFriction: { quantity: 'ratio', range: [0, 0.6], help: 'mu_K, friction under head or nut' },
    bearingDiameter: { quantity: 'length', range: [1e-3, 0.2], help: 'D_Km, mean bearing diameter, (d_w + d_h) / 2' },
  },
  output: { quantity: 'torque', help: 'M_A = F_M (0.16 P + 0.58 d2 mu_G + D_Km mu_K / 2)' },
  source: { document: 'VDI 2230 sheet 1', trust: 'memory', note: 'meets a published fine-thread table within 1.5 %' },
  examples: [
    {
      inputs: {
        preload: 20.729525e3,
        diameter: 8e-3,
        pitch: 1e-3,
        threadFriction: 0.1,
        headFriction: 0.1,
        bearingDiameter: 10.315e-3,
      },
      expected: 22.8,
      tolerance: 1.5e-2,
      source: {
        document: 'VDI 2230 sheet 1, fine-thread table',
        clause: 'vector 2.8: M8x1 class 8.8, mu 0.10',
        trust: 'excerpt',
      },
    },
  ],
  compute({ preload, diameter, pitch, threadFriction, headFriction, bearingDiameter }) {
    const { pitchDiameter } = metricThread(diameter, pitch);
    const fault = threadFault('vdi-tightening-torque', diameter, pitch);
    if (fault) return fault;
    return preload * (0.16 * pitch + 0.58 * pitchDiameter * threadFriction + (bearingDiameter / 2) * headFriction);
  },
});
