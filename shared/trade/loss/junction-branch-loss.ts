import { junctionFactors, junctionSource } from '../data/crane.ts';
import { defineFormula } from '../formula.ts';
import { interpolate } from '../interpolation.ts';

/** Loss coefficient from the branch into a converging junction, on the combined rho u^2/2; negative when the run drags the branch along. Steady flow, run and combined bore equal. */
export const junctionBranchLoss = defineFormula({
  id: 'junction-branch-loss',
  title: 'Loss of a converging branch, Crane',
  inputs: {
    flowRatio: { quantity: 'share', range: [0, 1], help: 'q, branch flow over combined flow' },
    areaRatio: { quantity: 'ratio', range: [0.05, 1], help: 'A_b/A_c, branch area over combined area' },
    angle: { quantity: 'angle', range: [Math.PI / 6, Math.PI / 2], help: 'between branch and run' },
  },
  output: { quantity: 'ratio', help: 'K = C (1 + (q/b)^2 - 2 (1-q)^2 - (F/b) q^2), b = A_b/A_c' },
  source: junctionSource,
  examples: [
    {
      inputs: { flowRatio: 0.25, areaRatio: 1, angle: Math.PI / 2 },
      expected: -0.0421875,
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
    const factor = interpolate(junctionFactors, angle) ?? Number.NaN;
    const bracket = 1 + (q / areaRatio) ** 2 - 2 * (1 - q) ** 2 - (factor / areaRatio) * q ** 2;
    return weight(q, areaRatio) * bracket;
  },
});

function weight(flowRatio: number, areaRatio: number): number {
  if (areaRatio <= 0.35) return 1;
  return flowRatio <= 0.4 ? 0.9 * (1 - flowRatio) : 0.55;
}
