import { unknown } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';

/** Axial stress of a closed thick tube, Pa. */
export const lameAxialStress = defineFormula({
  id: 'lame-axial-stress',
  title: 'Axial stress of a closed tube (thick wall)',
  inputs: {
    pressure: { quantity: 'pressure', range: [0, 1e8], help: 'p, pressure above the surroundings (gauge)' },
    innerRadius: { quantity: 'length', range: [1e-4, 2], help: 'r_i, inner radius' },
    outerRadius: { quantity: 'length', range: [1e-4, 2], help: 'r_o, outer radius' },
  },
  output: { quantity: 'stress', help: 'sigma = p r_i^2 / (r_o^2 - r_i^2)' },
  source: { document: 'Lame solution of the thick cylinder, any strength-of-materials text', trust: 'memory' },
  examples: [
    {
      inputs: { pressure: 0.3e6, innerRadius: 22.15e-3, outerRadius: 24.15e-3 },
      expected: 1.58949e6,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector 6.5: tube 48.3 x 2', trust: 'own' },
    },
  ],
  compute({ pressure, innerRadius, outerRadius }) {
    if (outerRadius <= innerRadius) {
      const detail = `lame-axial-stress: expected an outer radius above the inner one (${innerRadius}), got ${outerRadius}`;
      return unknown({ reason: 'inconsistent', detail, paths: [] });
    }
    return (pressure * innerRadius ** 2) / (outerRadius ** 2 - innerRadius ** 2);
  },
});
