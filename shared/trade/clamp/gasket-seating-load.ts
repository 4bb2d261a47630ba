import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { gasketLoads } from './gasket-loads.ts';

/** Bolt load that seats a flat ring gasket, N. */
export const gasketSeatingLoad = defineFormula({
  id: 'gasket-seating-load',
  title: 'Bolt load that seats a gasket',
  inputs: {
    insideDiameter: { quantity: 'length', range: [5e-3, 1], help: 'ID' },
    outsideDiameter: { quantity: 'length', range: [5e-3, 1], help: 'OD' },
    factor: { quantity: 'ratio', range: [0, 10], help: 'm' },
    seatingStress: { quantity: 'stress', range: [0, 3e8], help: 'y' },
    pressure: { quantity: 'pressure', range: [0, 1e7], help: 'p, gauge' },
  },
  output: { quantity: 'force', help: 'W_m2 = pi b G y' },
  source: {
    document: 'ASME BPVC VIII-1 appendix 2',
    trust: 'memory',
    note: 'made for pressure vessels: an exhaust joint is limited by seating and heat',
  },
  examples: [
    {
      inputs: { insideDiameter: 0.04, outsideDiameter: 0.056, factor: 3, seatingStress: 69000000, pressure: 200000 },
      expected: 41619.81947475758,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '40 by 56 mm, y 69 MPa', trust: 'own' },
    },
  ],
  compute: (gasket) => derive({ loads: gasketLoads(gasket) }, ({ loads }) => loads.seating),
});
