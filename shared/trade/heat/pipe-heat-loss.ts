import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { outsideLoss } from './outside-loss.ts';

/** Heat a length of bare horizontal hot pipe gives off in still air, W. */
export const pipeHeatLoss = defineFormula({
  id: 'pipe-heat-loss',
  title: 'Heat lost by a bare pipe',
  inputs: {
    outsideDiameter: { quantity: 'length', range: [1e-3, 1], help: 'D' },
    emissivity: { quantity: 'ratio', range: [0, 1], help: 'e, grey skin' },
    surface: { quantity: 'temperature', range: [220, 1800], help: 'T, of the skin' },
    air: { quantity: 'temperature', range: [220, 800], help: 'T_a, still air' },
    walls: { quantity: 'temperature', range: [220, 800], help: 'T_w, of what stands around' },
    length: { quantity: 'length', range: [0, 20], help: 'L, of the pipe' },
  },
  output: { quantity: 'power', help: 'Q = L pi D (h (T - T_a) + e sigma (T^4 - T_w^4))' },
  source: {
    document: 'own sum of natural convection (Churchill and Chu 1975) and grey radiation',
    trust: 'own',
    note: 'still air at 101325 Pa; moving air takes more',
  },
  examples: [
    {
      inputs: { outsideDiameter: 0.1, emissivity: 0.85, surface: 438.15, air: 296.15, walls: 296.15, length: 1 },
      expected: 766,
      tolerance: 0.015,
      source: {
        document: 'Incropera, example 9.4',
        clause: 'steam pipe of 0.1 m at 165 C in air at 23 C',
        trust: 'memory',
      },
    },
  ],
  compute: ({ outsideDiameter, emissivity, surface, air, walls, length }) =>
    derive(
      { loss: outsideLoss({ outsideDiameter, emissivity, surface }, { air, walls }) },
      ({ loss }) => loss.heatPerLength * length,
    ),
});
