import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { type HotBody, requiredGap } from './required-gap.ts';

/** Smallest gap at which a surface facing a hot pipe, insulated behind, stays at or below a temperature, m. */
export const gapForTemperature = defineFormula({
  id: 'gap-for-temperature',
  title: 'Gap to a pipe for a temperature limit',
  inputs: {
    radius: { quantity: 'length', range: [1e-3, 1], help: 'r, of the pipe' },
    pipeEmissivity: { quantity: 'ratio', range: [0, 1], help: 'e1, of the pipe' },
    pipeTemperature: { quantity: 'temperature', range: [220, 1800], help: 'T1' },
    shieldRatio: { quantity: 'ratio', range: [0, 1], help: 's, share a shield lets through', fallback: 1 },
    emissivity: { quantity: 'ratio', range: [0, 1], help: 'e2, of the neighbour' },
    coefficient: { quantity: 'heatTransfer', range: [1, 500], help: 'h, of the neighbour to the air' },
    air: { quantity: 'temperature', range: [220, 800], help: 'T_a' },
    limit: { quantity: 'temperature', range: [220, 1800], help: 'highest temperature of the neighbour' },
  },
  output: { quantity: 'length', help: 'gap, 1 mm to 2 m, from the wall of the pipe' },
  source: { document: 'own balance, solved by bracketing', trust: 'own' },
  examples: [
    {
      inputs: {
        radius: 0.0254,
        pipeEmissivity: 0.85,
        pipeTemperature: 973.15,
        shieldRatio: 1,
        emissivity: 0.9,
        coefficient: 15,
        air: 353.15,
        limit: 568.15,
      },
      expected: 0.1,
      tolerance: 0.01,
      source: {
        document: 'own arithmetic',
        clause: 'black plate, pipe of 50.8 mm at 700 C: 295 C at 100 mm',
        trust: 'own',
      },
    },
  ],
  compute({ radius, pipeEmissivity, pipeTemperature, shieldRatio, emissivity, coefficient, air, limit }) {
    const hot: HotBody = {
      pairing: 'surface-pipe',
      radius,
      emissivity: pipeEmissivity,
      temperature: pipeTemperature,
      shieldRatio,
    };
    const found = requiredGap(hot, { emissivity, faces: 1, coefficient }, air, { limit, margin: 0 });
    return derive({ found }, ({ found: { gap } }) => gap);
  },
});
