import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { pipeWall } from './pipe-wall.ts';

/** Wall of a straight pipe under pressure as it must be ordered, m; holds below a sixth of the diameter. */
export const orderedPipeWall = defineFormula({
  id: 'ordered-pipe-wall',
  title: 'Wall to order for a pipe',
  inputs: {
    pressure: { quantity: 'pressure', range: [0, 5e7], help: 'P, design, gauge' },
    outsideDiameter: { quantity: 'length', range: [5e-3, 2], help: 'D' },
    allowableStress: { quantity: 'stress', range: [1e5, 1e9], help: 'S, hot' },
    jointQuality: { quantity: 'ratio', range: [0.6, 1], help: 'E, 1 seamless, 0.80 to 0.85 single butt', fallback: 1 },
    weldStrength: { quantity: 'ratio', range: [0.5, 1], help: 'W, 1 up to 510 C', fallback: 1 },
    coefficient: { quantity: 'ratio', range: [0.4, 0.7], help: 'Y, 0.4 cold', fallback: 0.4 },
    allowance: { quantity: 'length', range: [0, 0.02], help: 'c, corrosion and machining' },
    millTolerance: { quantity: 'share', range: [0, 0.5], help: 'undertolerance as a share of the ordered wall' },
  },
  output: { quantity: 'length', help: 't = (P D / (2 (S E W + P Y)) + c) / (1 - mill tolerance)' },
  source: { document: 'ASME B31.3', clause: '304.1.2 eq. (3a)', trust: 'memory' },
  examples: [
    {
      inputs: {
        pressure: 2000000,
        outsideDiameter: 0.06,
        allowableStress: 50000000,
        jointQuality: 0.8,
        weldStrength: 0.8,
        coefficient: 0.4,
        allowance: 0.0005,
        millTolerance: 0.125,
      },
      expected: 0.002662020905923345,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '60.0 mm at 2 MPa, S 50 MPa', trust: 'own' },
    },
  ],
  compute: (pipe) => derive({ wall: pipeWall(pipe) }, ({ wall }) => wall.ordered),
});
