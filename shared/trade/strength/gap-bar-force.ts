import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { gapBar } from './gap-bar.ts';

/** Force of a bar on the rigid stop it grows against, N; 0 while the gap is open. */
export const gapBarForce = defineFormula({
  id: 'gap-bar-force',
  title: 'Force of a bar that closes its gap',
  inputs: {
    length: { quantity: 'length', range: [1e-3, 10], help: 'L, cold' },
    gap: { quantity: 'length', range: [0, 0.1], help: 'g, before it meets a rigid stop' },
    area: { quantity: 'area', range: [1e-8, 1], help: 'A' },
    modulus: { quantity: 'stress', range: [1e9, 3e11], help: 'E' },
    expansion: { quantity: 'expansion', range: [0, 4e-5], help: 'alpha' },
    temperature: { quantity: 'temperature', range: [200, 1500], help: 'T' },
    referenceTemperature: { quantity: 'temperature', range: [200, 1500], help: 'T0, without stress' },
  },
  output: { quantity: 'force', help: 'F = A E (alpha L (T - T0) - g) / L' },
  source: { document: 'Bhandari, machine design textbook', clause: 'example 4.22', trust: 'excerpt' },
  examples: [
    {
      inputs: {
        length: 0.2,
        gap: 0.0003,
        area: 0.0001,
        modulus: 200000000000,
        expansion: 1.2e-5,
        temperature: 493.15,
        referenceTemperature: 293.15,
      },
      expected: 18000.000000000007,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '200 mm bar of 100 mm2, 200 K, gap 0.3 mm', trust: 'own' },
    },
  ],
  compute: (bar) => derive({ load: gapBar(bar) }, ({ load }) => load.force),
});
