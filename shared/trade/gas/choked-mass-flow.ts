import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { massFlowFunction } from './mass-flow-function.ts';

/** Most an area can pass, kg/s: ideal gas, no losses, Mach 1 in the area. */
export const chokedMassFlow = defineFormula({
  id: 'choked-mass-flow',
  title: 'Choked mass flow of an area',
  inputs: {
    area: { quantity: 'area', range: [1e-6, 0.1], help: 'A, flow area' },
    totalPressure: { quantity: 'pressure', range: [1e4, 2e6], help: 'p0, absolute total pressure upstream' },
    totalTemperature: { quantity: 'temperature', range: [200, 1800], help: 'T0, total temperature' },
    gamma: { quantity: 'ratio', range: [1.05, 1.67], help: 'gamma, ratio of specific heats' },
    gasConstant: { quantity: 'specificGasConstant', range: [50, 5000], help: 'R, specific gas constant' },
  },
  output: { quantity: 'massFlow', help: 'm = A p0 / sqrt(R T0) times the mass-flow function at Mach 1' },
  source: { document: 'one-dimensional isentropic flow, any gas dynamics text', trust: 'memory' },
  examples: [
    {
      inputs: { area: 1e-3, totalPressure: 300e3, totalTemperature: 1223.15, gamma: 1.3, gasConstant: 290 },
      expected: (0.03918e-3 * 300e3) / Math.sqrt(1223.15),
      tolerance: 2e-4,
      source: {
        document: 'own arithmetic',
        clause: 'choked value 0.03918 for gamma 1.3, R 290 J/(kg.K)',
        trust: 'own',
      },
    },
  ],
  compute({ area, totalPressure, totalTemperature, gamma, gasConstant }) {
    return derive(
      { choked: massFlowFunction.evaluate({ mach: 1, gamma }) },
      (v) => (v.choked * area * totalPressure) / Math.sqrt(gasConstant * totalTemperature),
    );
  },
});
