import { unknown } from '../../units/known.ts';
import { junctionFactors, junctionSource } from '../data/crane.ts';
import { defineFormula } from '../formula.ts';
import { interpolate } from '../interpolation.ts';

/** Loss coefficient along the run of a converging junction, on the combined rho u^2/2. Steady flow, run and combined bore equal. Angles between 60 and 90 degrees are not tabulated and have no answer. */
export const junctionRunLoss = defineFormula({
  id: 'junction-run-loss',
  title: 'Loss of a converging run, Crane',
  inputs: {
    flowRatio: { quantity: 'share', range: [0, 1], help: 'q, branch flow over combined flow' },
    areaRatio: { quantity: 'ratio', range: [0.05, 1], help: 'A_b/A_c, branch area over combined area' },
    angle: { quantity: 'angle', range: [Math.PI / 6, Math.PI / 2], help: 'between branch and run' },
  },
  output: { quantity: 'ratio', help: 'K = 1 - (1-q)^2 - (F/b) q^2 up to 60 degrees, 1.55 q - q^2 at 90, b = A_b/A_c' },
  source: junctionSource,
  examples: [
    {
      inputs: { flowRatio: 0.25, areaRatio: 1, angle: Math.PI / 2 },
      expected: 0.325,
      tolerance: 1e-9,
      source: {
        document: 'Crane TP-410 problem 7-35',
        clause: 'example E-14: 100 gal/min into 300 through a 4 in tee',
        trust: 'excerpt',
        note: 'restated in an open fluid mechanics library (fluids, MIT)',
      },
    },
  ],
  compute({ flowRatio: q, areaRatio, angle }) {
    if (Math.abs(angle - Math.PI / 2) < 1e-9) return 1.55 * q - q ** 2;
    const largest = Math.PI / 3 + 1e-9;
    if (angle > largest) {
      const range: readonly [number, number] = [Math.PI / 6, Math.PI / 3];
      return unknown({
        reason: 'outOfValidity',
        input: 'junction-run-loss: angle',
        value: angle,
        range,
        unit: 'angle',
      });
    }
    const factor = interpolate(junctionFactors, Math.min(angle, Math.PI / 3)) ?? Number.NaN;
    return 1 - (1 - q) ** 2 - (factor / areaRatio) * q ** 2;
  },
});
