import { unknown } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';

/** Mean stress on a ring gasket, Pa. */
export const gasketMeanStress = defineFormula({
  id: 'gasket-mean-stress',
  title: 'Mean gasket stress',
  inputs: {
    clampForce: { quantity: 'force', range: [0, 1e6], help: 'F, sum of the stud forces' },
    insideDiameter: { quantity: 'length', range: [1e-3, 1], help: 'ID of the gasket ring' },
    outsideDiameter: { quantity: 'length', range: [1e-3, 1], help: 'OD of the gasket ring' },
  },
  output: { quantity: 'stress', help: 'sigma = F / (pi/4 (OD^2 - ID^2))' },
  source: { document: 'definition', trust: 'memory' },
  examples: [
    {
      inputs: { clampForce: 30e3, insideDiameter: 45e-3, outsideDiameter: 55e-3 },
      expected: 38.197186e6,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector 4.5: two studs at 15 kN', trust: 'own' },
    },
  ],
  compute({ clampForce, insideDiameter, outsideDiameter }) {
    if (outsideDiameter <= insideDiameter) {
      const detail = `gasket-mean-stress: expected an outside diameter above the inside one (${insideDiameter}), got ${outsideDiameter}`;
      return unknown({ reason: 'inconsistent', detail, paths: [] });
    }
    return clampForce / ((Math.PI / 4) * (outsideDiameter ** 2 - insideDiameter ** 2));
  },
});
