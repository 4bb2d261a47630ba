import { defineFormula } from '../formula.ts';

/** Heat input per length of seam, J/m: arc energy times the thermal efficiency of the process. */
export const heatInput = defineFormula({
  id: 'heat-input',
  title: 'Heat input',
  inputs: {
    arcEnergy: { quantity: 'heatPerLength', range: [0, 1e8], help: 'E, arc energy per length' },
    thermalEfficiency: {
      quantity: 'share',
      range: [0.1, 1],
      help: 'k, thermal efficiency; 0.6 for TIG',
      fallback: 0.6,
    },
  },
  output: { quantity: 'heatPerLength', help: 'Q = k E' },
  source: {
    document: 'EN 1011-1:2009',
    clause: 'table 1: k = 0.6 for TIG',
    trust: 'excerpt',
    note: 'measured TIG arc efficiency is nearer 0.67',
  },
  examples: [
    {
      inputs: { arcEnergy: 33e3 / 0.0254, thermalEfficiency: 0.6 },
      expected: 19.8e3 / 0.0254,
      tolerance: 1e-3,
      source: { document: 'public worked line for a TIG root', clause: 'vector WE-14b: 19.8 kJ/in', trust: 'excerpt' },
    },
  ],
  compute({ arcEnergy, thermalEfficiency }) {
    return thermalEfficiency * arcEnergy;
  },
});
