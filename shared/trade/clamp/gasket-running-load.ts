import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { gasketLoads } from './gasket-loads.ts';

/** Bolt load of a flat ring gasket under pressure, N. */
export const gasketRunningLoad = defineFormula({
  id: 'gasket-running-load',
  title: 'Bolt load that keeps a gasket tight',
  inputs: {
    insideDiameter: { quantity: 'length', range: [5e-3, 1], help: 'ID' },
    outsideDiameter: { quantity: 'length', range: [5e-3, 1], help: 'OD' },
    factor: { quantity: 'ratio', range: [0, 10], help: 'm' },
    seatingStress: { quantity: 'stress', range: [0, 3e8], help: 'y' },
    pressure: { quantity: 'pressure', range: [0, 1e7], help: 'p, gauge' },
  },
  output: { quantity: 'force', help: 'W_m1 = pi/4 G^2 p + 2 b pi G m p' },
  source: {
    document: 'ASME BPVC VIII-1 appendix 2',
    trust: 'memory',
    note: 'made for pressure vessels: an exhaust joint is limited by seating and heat',
  },
  examples: [
    {
      inputs: { insideDiameter: 0.04, outsideDiameter: 0.056, factor: 3, seatingStress: 69000000, pressure: 200000 },
      expected: 1085.7344210806327,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '40 by 56 mm, m 3, 2 bar', trust: 'own' },
    },
  ],
  compute: (gasket) => derive({ loads: gasketLoads(gasket) }, ({ loads }) => loads.running),
});
