import { unknown } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';

/** Thin-wall hoop stress of a tube on its mean diameter, Pa. Above wall/OD = 0.1 the thin form is refused. */
export const hoopStress = defineFormula({
  id: 'hoop-stress',
  title: 'Hoop stress of a thin tube (mean diameter)',
  inputs: {
    pressure: { quantity: 'pressure', range: [0, 2e7], help: 'p, pressure above the surroundings (gauge)' },
    outsideDiameter: { quantity: 'length', range: [5e-3, 0.5], help: 'D, outside diameter' },
    wall: { quantity: 'length', range: [2e-4, 0.05], help: 't, wall thickness' },
  },
  output: { quantity: 'stress', help: 'sigma = p (D - t) / (2 t)' },
  source: {
    document: 'thin-cylinder theory, any strength-of-materials text',
    trust: 'memory',
    note: '0.2 % below the exact bore value at t/D 0.04',
  },
  examples: [
    {
      inputs: { pressure: 0.3e6, outsideDiameter: 48.3e-3, wall: 2e-3 },
      expected: 3.4725e6,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector 6.5: tube 48.3 x 2 at 0.3 MPa', trust: 'own' },
    },
  ],
  compute({ pressure, outsideDiameter, wall }) {
    const share = wall / outsideDiameter;
    if (share > 0.1) {
      return unknown({
        reason: 'outOfValidity',
        input: 'hoop-stress: wall / outsideDiameter',
        value: share,
        range: [0, 0.1],
        unit: 'ratio',
      });
    }
    return (pressure * (outsideDiameter - wall)) / (2 * wall);
  },
});
