import { defineFormula } from '../formula.ts';

/** Transverse shrinkage of a thin full-penetration butt from its net heat, m, unrestrained. */
export const thermalShrinkage = defineFormula({
  id: 'thermal-shrinkage',
  title: 'Transverse shrinkage from heat',
  inputs: {
    expansion: { quantity: 'expansion', range: [0, 4e-5], help: 'alpha' },
    netHeat: { quantity: 'heatPerLength', range: [0, 5e6], help: 'Q, net heat per length' },
    density: { quantity: 'density', range: [1000, 2e4], help: 'rho' },
    heatCapacity: { quantity: 'specificGasConstant', range: [100, 2000], help: 'c, specific heat' },
    wall: { quantity: 'length', range: [5e-4, 0.01], help: 't, wall' },
  },
  output: { quantity: 'length', help: 'S = alpha Q / (rho c t)' },
  source: {
    document: 'Okerblom-type estimate, unit coefficient',
    trust: 'uncertain',
    note: 'literature coefficients 0.8 to 1.3',
  },
  examples: [
    {
      inputs: { expansion: 1.4e-5, netHeat: 0.216e6, density: 8440, heatCapacity: 530, wall: 1.6e-3 },
      expected: 0.42251e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: '625, 1.6 mm wall, 0.216 kJ/mm', trust: 'own' },
    },
  ],
  compute({ expansion, netHeat, density, heatCapacity, wall }) {
    return (expansion * netHeat) / (density * heatCapacity * wall);
  },
});
